"""Arithmetic of placards, cargo labels and legal classes, as the labels' own rules do it."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.model.equipment import LabelLine
from cardgen.model.needs import Need
from cardgen.model.results import CaseResult, Computed, Figure
from cardgen.model.rig import Rig
from cardgen.physics.aboard import FROM_PAPERS, PAPERS, empty_aboard
from cardgen.physics.loads import all_loads
from cardgen.physics.needs import need
from cardgen.tables import placard
from cardgen.tables.exact import POUND, US_GALLON
from cardgen.tables.lookup import OutOfTableError
from cardgen.tables.sources import source

LABEL_WATER_METRIC = 1000.0
"""Density of water as the same label reckons it in metric units [kg/m3], 1 kg/L; source: ``water-label``."""


PAYLOAD = "({trailer_rating} - {trailer_empty})"
"""What papers leave for payload [-]."""
PAPERS_SAY = "{trailer_payload} in the trailer's papers, else {trailer_rating} less {trailer_empty}; gas, water and batteries count as payload (common practice, no source)"
"""Where the figure of a market without cargo labels stands [-]."""


def placard_left(capacity: float, people: float) -> float:
    """Cargo left of a placard's figure, ``capacity - people`` [kg]; negative when people alone exceed it.

    The placard caps occupants and cargo together; tongue weight and coupling gear come
    out of what is left.

    Args:
        capacity: combined weight of occupants and cargo on the placard [kg].
        people: actual weight of everybody aboard [kg].

    Source: owner text of 49 CFR 575.6(a)(4), as owner's manuals reproduce it.
    """
    return capacity - people


def water_us(volume: float) -> float:
    """Mass of a full water tank as the US cargo label prints it [kg], whole pounds at 8.3 lb/US gal.

    Args:
        volume: tank capacity [m3], 0 or more.

    Raises:
        OutOfTableError: negative volume.

    Source: ``water-label`` (72 FR 68442).
    """
    if volume < 0:
        raise OutOfTableError("a tank cannot be smaller than nothing")
    return round(volume / US_GALLON * 8.3) * POUND


def water_metric(volume: float) -> float:
    """Mass of a full water tank as the same label prints it in metric units [kg], whole kilograms at 1 kg/L.

    Args:
        volume: tank capacity [m3], 0 or more.

    Raises:
        OutOfTableError: negative volume.

    Source: ``water-label`` (72 FR 68442).
    """
    if volume < 0:
        raise OutOfTableError("a tank cannot be smaller than nothing")
    return float(round(volume * LABEL_WATER_METRIC))


def real_capacity(gvwr: float, empty: float) -> float:
    """Cargo a trailer really has room for, ``GVWR - weight without cargo`` [kg].

    Args:
        gvwr: the trailer's GVWR [kg].
        empty: its weight without cargo, with full gas cylinders [kg].

    Source: 49 CFR 567.4(g)(3), quoted in NHTSA letter nht76-3.20 (GVWR covers empty weight and cargo).
    """
    return gvwr - empty


def room(rig: Rig) -> tuple[float | None, tuple[Need, ...]]:
    """What a trailer has room for by its real weight [kg], and what is missing to know it.

    In North America batteries and full gas cylinders belong to the trailer and are put back where they were
    away. Elsewhere they and the water are payload and are taken off where they were in a weight by scale; a weight of
    the papers holds only what the file says.

    Args:
        rig: the rig, its GVWR and empty weight [kg].

    Source: ``real_capacity``; elsewhere rating less weight without payload, common practice, no source.
    """
    trailer = rig.trailer
    given = (("trailer.gvwr", trailer.gvwr), ("trailer.empty.weight", trailer.empty.weight))
    missing = [need(path) for path, value in given if value is None]
    state, away = empty_aboard(rig), 0.0
    papers = rig.market in PAPERS
    for load in () if papers and trailer.empty.source in FROM_PAPERS else all_loads(rig):
        wet = load.body == "trailer" and load.sort in ("fresh", "waste", "liquid") and papers
        share, wanted = state.shares.get(load.key), 0.0 if papers else 1.0
        if (load.sort not in ("battery", "cylinder", "gas") and not wet) or share == wanted:
            continue
        if share is None or load.full is None:
            missing += state.needs.get(load.key, ()) if share is None else load.mass_needs
            continue
        away += load.full * (wanted - share)
    if missing or trailer.gvwr is None or trailer.empty.weight is None:
        return None, tuple(missing)
    return real_capacity(trailer.gvwr.si, trailer.empty.weight.si + away), ()


def payload(rig: Rig) -> float | None:
    """Payload of the label or papers; elsewhere than in North America, where none is stated, what is left by the rating [kg].

    Args:
        rig: the rig [kg].

    Source: the rig file; ``room``.
    """
    stated = rig.trailer.cargo_capacity
    if stated is not None:
        return stated.si
    return room(rig)[0] if rig.market in PAPERS and not rig.trailer.empty.includes.cargo else None


def load_of_label(rig: Rig, case: CaseResult) -> tuple[float, Figure] | None:
    """Payload of label or papers [kg], and what of a loading case counts for it; None where nothing states one.

    Args:
        rig: the rig.
        case: a loading case [kg].

    Returns:
        By the label's own era; where the trailer's year is not known, whichever reading counts more.

    Source: ``payload``; ``placard.label_meaning``.
    """
    limit, old, new = payload(rig), case.figures["label_cargo_old"], case.figures["label_cargo"]
    if limit is None:
        return None
    if rig.market in PAPERS:
        return limit, new
    if rig.trailer.year is None:
        return limit, max(new, old, key=lambda f: f.value or 0.0)
    era = placard.label_era(rig.trailer.year) or "after"
    return limit, new if placard.label_meaning(era).water_is_cargo else old


def lines(computed: Computed) -> tuple[LabelLine, ...]:
    """Figures of this rig's labels that its numbers allow; what is unknown is left out.

    Args:
        computed: with figures of the cases [kg].

    Source: see each line.
    """
    rig = computed.rig
    return (*_water(rig), *_cargo(computed), *_placard(computed), *_classes(computed))


def _water(rig: Rig) -> Sequence[LabelLine]:
    """The water caution of a North American cargo label: fresh water only."""
    tanks = [t for t in rig.trailer.tanks.values() if t.holds == "fresh"]
    if not tanks or rig.market in PAPERS or any(t.capacity is None for t in tanks):
        return ()
    volume = sum(t.capacity.si for t in tanks if t.capacity is not None)
    us, metric = water_us(volume), water_metric(volume)
    copied = f"{us / POUND:.0f} lb ({metric:.0f} kg)"
    words = source("water-label").words()
    return (
        LabelLine("label_water_us", "full fresh water as the US label reckons it", us, "mass", "V * 8.3 lb/US gal", words, copied),
        LabelLine("label_water_metric", "the same in metric units", metric, "mass", "V * 1 kg/L", words, copied),
    )  # fmt: skip


def _cargo(computed: Computed) -> Sequence[LabelLine]:
    """Cargo left under the label in the fullest case, and what a dealer may add."""
    trailer = computed.rig.trailer
    made = []
    era = placard.label_era(trailer.year) if trailer.year else None
    american = computed.rig.market not in PAPERS  # elsewhere the papers count water as load, of whatever year
    stated = payload(computed.rig)
    if stated is not None and (trailer.year is not None or not american):
        meaning = placard.label_meaning(era if american and era else "after")
        worst = computed.worst("label_cargo" if meaning.water_is_cargo else "label_cargo_old")
        if worst is not None:
            left, label = (
                stated - worst[1],
                "room left under the {cargo_label}" if american else "{trailer_payload} left",
            )
            formula = "label - cargo" + (" - water" if meaning.water_is_cargo else "")
            formula = formula if american else PAYLOAD + " - cargo - water - gas - batteries"
            made.append(
                LabelLine(
                    "label_cargo_left", f"{label}, {worst[0]}", left, "mass",
                    formula, source(meaning.source).words() if american else PAPERS_SAY,
                )
            )  # fmt: skip
    if trailer.gvwr is not None and trailer.gtm is not None:
        label = "{coupling_load} that the plate leaves, fully loaded and level"
        words = "{atm} is {gtm} and the load on the ball (ADR definitions, secondary copy)"
        left = trailer.gvwr.si - trailer.gtm.si
        made.append(LabelLine("label_ball_load", label, left, "mass", "{trailer_rating} - {gtm}", words))
    if trailer.gvwr is not None and trailer.gvwr.si > 0 and computed.rig.market == "us":
        limit = placard.dealer_added_limit(trailer.gvwr.si)
        made.append(
            LabelLine(
                "label_dealer_added", "weight a dealer may add before the label must be corrected",
                limit.value, "mass", "min(1.5 % of {trailer_rating}, 100 lb)", source(limit.source).words(),
            )
        )  # fmt: skip
    return made


def _placard(computed: Computed) -> Sequence[LabelLine]:
    """Placard less the people of the case with most aboard, and less gear and tongue."""
    capacity = computed.rig.vehicle.placard_capacity
    if capacity is None or capacity.kind != "mass":
        return ()
    words = (
        "[us: owner text of 49 CFR 575.6(a)(4), in owner's manuals (secondary copy); ]placard of the vehicle"
    )
    made = []
    people, used = computed.worst("occupant_weight"), computed.worst("placard_used")
    if people is not None:
        left = placard_left(capacity.si, people[1])
        label = f"placard less the people, {people[0]}: for cargo, gear and {{tongue_load}}"
        made.append(LabelLine("placard_cargo", label, left, "mass", "placard - people", words))
    if used is not None:
        label = f"placard less everything aboard, gear and {{tongue_load}}, {used[0]}"
        left = capacity.si - used[1]
        formula = "placard - people - cargo - gear - {tongue_load}"
        made.append(LabelLine("placard_left", label, left, "mass", formula, words))
    return made


def combination_rating(computed: Computed) -> float | None:
    """Weight that decides on commercial classes: of each unit its GVWR, or what it weighs if that is more [kg].

    Not the maker's GCWR, which is a capacity. The tongue weight is counted once, with the trailer.

    Args:
        computed: with figures of the cases [kg].

    Returns:
        None when a GVWR is unknown.

    Source: 79 FR 15245, 19 Mar 2014 (definition of GCWR in 49 CFR 383.5 and 390.5, secondary copy).
    """
    vehicle, trailer = computed.rig.vehicle.gvwr, computed.rig.trailer.gvwr
    if vehicle is None or trailer is None:
        return None
    alone, towed = computed.worst("vehicle_alone"), computed.worst("trailer_weight")
    return max(vehicle.si, alone[1] if alone else 0.0) + max(trailer.si, towed[1] if towed else 0.0)


def _classes(computed: Computed) -> Sequence[LabelLine]:
    total = combination_rating(computed)
    if computed.rig.market != "us" or total is None:
        return ()
    label = "both GVWRs together (of each unit its weight, if more), for commercial classes"
    words = source("cmv-10001").words()
    return (
        LabelLine("class_combination", label, total, "mass", "{vehicle_rating} + {trailer_rating}", words),
    )
