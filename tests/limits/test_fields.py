"""What a check declares to ask for is what it asks for."""

from __future__ import annotations

from cardgen.commands.fieldpath import find
from cardgen.limits.facts import FIGURES
from cardgen.limits.registry import rules
from cardgen.physics.needs import need
from cardgen.tables import law
from tests.limits.bare import asked_of_bare, asked_of_gaps

DECLARED = {rule.code: set(rule.fields) for rule in rules()}
UNLINKED = "only for axles that no link joins and of which neither scale nor maker told the stiffness"
UNLINKED_TONGUE = "only for axles that no link joins and of which the maker told the stiffness"
SELDOM = {
    "s-value": {"trailer.axles.spacing": UNLINKED_TONGUE},
    "law-brakes": {"trailer.axles.count": "the reader counts one axle where the file counts none"},
    "law-breakaway": {"vehicle.charge_display": "asked for in one state, for heavy trailers only"},
    "law-chains": {
        "trailer.chains.link": "asked for in one market, for a narrow range of weights only",
        "trailer.chains.grade": "asked for in one market, for heavy trailers only",
    },
    "law-secondary-coupling": {
        "trailer.secondary_coupling": "only once the year of the trailer is known",
        "trailer.chains.count": "only once the year of the trailer is known",
        "places": "only where no rule of the place speaks of such a trailer",
    },
    "law-unbraked": {
        "trailer.axles.count": "the reader counts one axle where the file counts none",
        "trailer.gtm": "asked for in one market, of trailers without brakes only",
        "places": "only where no rule of the place speaks of such a trailer",
    },
    "law-surge": {
        "trailer.axles.count": "the reader counts one axle where the file counts none",
        "places": "only where no rule of the place speaks of such a trailer",
    },
    "law-speed": {"vehicle.tow_rating.braked": "only faster than 80 km/h, with a trailer that is no caravan"},
    "law-tow-limit": {
        "vehicle.unladen_for_law": "only where the maker is known to state no limit",
        "trailer.brakes.kind": "only where a default hangs on brakes worked from the seat",
        "places": "only where no rule of the place speaks of such a trailer",
    },
    "law-chocks": {
        "trailer.axles.count": "the reader counts one axle where the file counts none",
        "places": "only where no rule of the place speaks of such a trailer",
    },
    "trailer-cargo-label": {
        "trailer.empty.includes.cylinders.<name>": "only where the payload is past what is left by as much as it holds",
    },
    "mount-height": {
        "vehicle.receiver.ball_height": "only without a height measured with the trailer coupled",
        "gear.weight_distribution.restoration": "only where the squat comes from axle rates and bars are fitted",
        "trailer.axles.spacing": UNLINKED_TONGUE,
    },
    "tire-ceiling": {"trailer.tires.max_pressure": "only when the trailer's label vouches and no rating is known"},
    "coupling-class": dict.fromkeys(
        ("gear.weight_distribution.ratings.trailer", "vehicle.receiver.weight_distributing.trailer"),
        "only with a class 1 to 4 trailer whose ball is large enough",
    ),
    "tire-load": {
        "vehicle.tires.rear_count": "only where four tires would carry what two cannot",
        "trailer.axles.tires_per_axle": "only where four tires would carry what two cannot",
        "trailer.axles.gawr": UNLINKED,
    },
    "tire-axle": dict.fromkeys(
        ("vehicle.tires.rear_count", "trailer.axles.tires_per_axle"),
        "only where four tires would cover what two do not",
    ),
    "tire-spare": {
        "trailer.spare.load_index": "only for a metric spare of the others' type and size",
        "trailer.axles.suspension": "only where the load on the tires is not asked for what holds it first",
        "trailer.axles.spacing": UNLINKED_TONGUE,
        "trailer.empty.source": "only where a battery may be in the weight of papers",
    },
    "tire-pressure": {
        "trailer.axles.gawr": UNLINKED,
        "vehicle.tires.rear_count": "only where four tires would carry what two cannot",
        "trailer.axles.tires_per_axle": "only where four tires would carry what two cannot",
        "trailer.tires.table": "only where rim or valve end below the sidewall's own pressure",
        "trailer.spare.max_pressure": "only above what a passenger tire's class tells",
        "vehicle.tires.front.max_pressure": "only above what a passenger tire's class tells",
        "vehicle.tires.rear.max_pressure": "only above what a passenger tire's class tells",
        "vehicle.tires.placard_load.front": "only with a maker's table for another size",
        "vehicle.tires.placard_load.rear": "only with a maker's table for another size",
    },
} | {code: {"places": "only where no rule of the place speaks of such a trailer"} for code in (
    "law-tow-ratio", "law-size", "law-lp-tunnel", "law-lp-ferry", "law-parking-brake", "law-rear-frame",
)} | {"trailer-registered": dict.fromkeys(DECLARED["trailer-registered"], "only where papers state a weight")}  # fmt: skip
"""Declared fields that none of the rigs tried is asked for, by check, each with the reason."""
WEIGHTS = {path for _, fields in FIGURES.values() for path in fields}
"""What the weights behind a fact rest on: that each is asked for the checks of these weights show."""
KNOWN_TO_THE_WRITER = {
    "vehicle.seats", "vehicle.seats.<name>", "occupants[].seat", "vehicle.mirrors.towing", "trailer.cylinders",
    "trailer.axles.count", "trailer.spare.same", "preferences.planned_speed", "places", "cases[].tanks.<name>",
    "cases[].cylinders.<name>", "trailer.empty.includes.tanks.<name>", "trailer.empty.includes.cylinders.<name>",
    "trailer.tires", "vehicle.tires.front", "vehicle.tires.rear", "vehicle.fuel",
}  # fmt: skip
"""Fields that need no word on where to read or measure them: choices, fillings, whole groups. Those that take
one of a few words need none either."""


def test_declared_is_asked_and_asked_is_declared() -> None:
    """On bare rigs of every market, coupling and kind of brakes, and on whole rigs less any one thing."""
    bare, gaps = asked_of_bare(), asked_of_gaps()
    faults: list[str] = []
    for code, declared in DECLARED.items():
        asked, seldom = bare[code] | gaps[code], set(SELDOM.get(code, ()))
        rest = WEIGHTS if code.startswith("law-") else set()
        faults += [f"{code} asks for {path}, which it does not declare" for path in asked - declared]
        faults += [
            f"{code} declares {path}, which no rig is asked for" for path in declared - asked - seldom - rest
        ]
        faults += [f"{code} is asked for {path}, told to be seldom" for path in seldom & asked]
        faults += [f"{code} does not declare {path}, told to be seldom" for path in seldom - declared]
    assert faults == []


def test_every_declared_field_is_a_field_and_says_where_to_find_it() -> None:
    faults: list[str] = []
    for code, declared in DECLARED.items():
        for path in declared:
            field = find(path)
            if field is None or field.path != path:
                faults.append(f"{code}: {path} is no field as the schema writes it")
            elif not need(path).what:
                faults.append(f"{code}: {path} has no words")
            elif not need(path).where and not field.shape.choices and path not in KNOWN_TO_THE_WRITER:
                faults.append(f"{code}: {path} does not say where to read or measure it")
    assert faults == []


def test_rules_of_places_declare_what_the_table_asks() -> None:
    """A topic nobody has rules on would declare nothing but the places."""
    topics = {code for code, declared in DECLARED.items() if code.startswith("law-") and len(declared) > 1}
    nothing = {"law-standing"}  # where a trailer will stand is no fact of a rig
    assert topics == {f"law-{topic.replace('_', '-')}" for topic in law.TOPICS} - nothing
