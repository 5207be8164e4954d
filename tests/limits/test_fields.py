"""What a check declares to ask for is what it asks for."""

from __future__ import annotations

from cardgen.commands.fieldpath import canonical, find
from cardgen.limits.registry import rules
from cardgen.physics.needs import need
from cardgen.tables import law
from tests.limits.bare import asked_of_all

DECLARED = {rule.code: set(rule.fields) for rule in rules()}
SECOND = {
    "law-brakes": {"trailer.brakes.kind", "trailer.brakes.braked_axles", "trailer.axles.count"},
    "law-breakaway": {"trailer.secondary_coupling", "vehicle.charge_display"},
    "law-chains": {"trailer.breakaway.fitted"},
    "law-mirrors": {"vehicle.mirrors.towing"},
    "law-size": {"trailer.dimensions.body_rear"},
}
"""Facts that rules of places ask for only when others are known, so that no bare rig is asked for them."""
KNOWN_TO_THE_WRITER = {
    "vehicle.seats", "vehicle.mirrors.towing", "trailer.cylinders", "trailer.axles.count", "trailer.spare.same",
    "preferences.planned_speed", "places",
}  # fmt: skip
"""Fields that need no word on where to read or measure them, and neither do those that take one of a few words."""


def test_declared_is_asked_and_asked_is_declared() -> None:
    """On bare rigs of every market, coupling and kind of brakes."""
    faults: list[str] = []
    for code, found in asked_of_all().items():
        asked = {canonical(path) for path in found}
        declared = {canonical(path) for path in DECLARED[code]}
        later = set(SECOND.get(code, ()))
        if code.startswith("law-"):
            later |= {
                "places",
                "trailer.cylinders",
            }  # asked when no rule speaks of such a trailer, or of its gas
        faults += [f"{code} asks for {path}, which it does not declare" for path in asked - declared]
        faults += [f"{code} declares {path}, which no rig is asked for" for path in declared - asked - later]
        faults += [f"{code}: {path} is asked for at once" for path in SECOND.get(code, set()) & asked]
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
    assert topics == {f"law-{topic.replace('_', '-')}" for topic in law.TOPICS}
