"""The tire tag: goes by the wheel or the air pump."""

from __future__ import annotations

from cardgen.physics.dates import age_steps, age_words, tire_made
from cardgen.present.blocks import Block, Card, Face, KeyNumber, KeyNumbers, Note, Table
from cardgen.present.cards import pieces
from cardgen.present.format import NOT_CHECKED
from cardgen.present.rig_view import RigView

_NAMES = {"trailer": "Trailer", "spare": "Spare", "front": "Vehicle front", "rear": "Vehicle rear"}

COLD = (
    "Cold: parked three hours or driven under [us uk: a mile][ca eu au nz: 1.5 km], out of the sun. "
    "Never bleed a warm tire."
)


def card(rig_view: RigView) -> Card:
    """Make the tire tag: cold pressures, sizes, wheel nuts, ages, temperature strip."""
    numbers = tuple(
        KeyNumber(words, rig_view.shown(f"pressure_{position}"), "")
        for position, words in _NAMES.items()
        if position != "spare" or rig_view.tire("spare") is not None
    )
    front: list[Block] = [
        *pieces.stop(rig_view),
        KeyNumbers(rig_view.say("Tires, set cold"), numbers),
        Note(rig_view.say(COLD)),
        _wheels(rig_view),
        pieces.qr(rig_view, "t"),
    ]
    back: list[Block] = []
    strip = temperature(rig_view)
    if strip is not None:
        back.append(strip)
    back.append(_ages(rig_view))
    return pieces.frame(
        rig_view, "tire-tag", rig_view.say("Tire tag"), (Face(tuple(front)),), tuple(back), "Heat and age"
    )


def _wheels(rig_view: RigView) -> Table:
    rig, show = rig_view.rig, rig_view.formatter
    torque = rig.trailer.wheel_torque
    rows = [
        ("Trailer size", pieces.size_of(rig_view, "trailer")),
        ("Vehicle size", pieces.size_of(rig_view, "front")),
        ("Trailer wheel nuts", show.value(torque.si, "torque") if torque else "see trailer manual"),
    ]
    again = rig.preferences.retorque
    if again:
        rows.append(("Re-torque after", ", ".join(show.value(q.si, "distance") for q in again)))
    plan = rig_view.tire("trailer")
    if plan is not None and plan.wheel_load is not None and plan.capacity is not None:
        rows.append(
            (
                "Load of one wheel",
                f"{show.value(plan.wheel_load, 'mass')} of {show.value(plan.capacity, 'mass')}",
            )
        )
    return Table("", (), tuple((rig_view.say(a), b) for a, b in rows), (1.0, 1.2), ("left", "right"))


def temperature(rig_view: RigView) -> Table | None:
    """The temperature strip of the trailer's pressure; None when no pressure is known."""
    strip = rig_view.assessment.computed.strips.get("trailer")
    if strip is None or not strip.rows:
        return None
    show = rig_view.formatter
    rows = tuple(
        (show.value(r.temperature, "temperature"), show.value(r.reads, "pressure")) for r in strip.rows
    )
    note = (
        f"Set at {show.value(strip.reference, 'temperature')}: what the same air reads at other temperatures."
    )
    return Table(
        "Gauge against temperature", ("Air", "Gauge reads"), rows, (1.0, 1.0), ("left", "right"), note
    )


def _ages(rig_view: RigView) -> Table:
    """Week and year of making, and from when to look harder; no age, which would soon be wrong."""
    rig = rig_view.rig
    tires = (
        ("trailer", "Trailer tires", rig.trailer.tires),
        ("spare", "Trailer spare", rig.trailer.spare),
        ("front", "Vehicle front", rig.vehicle.tires.front),
        ("rear", "Vehicle rear", rig.vehicle.tires.rear),
    )
    rows = []
    for position, words, tire in tires:
        if tire is None:
            continue
        made = tire_made(tire.date_code) if tire.date_code else None
        if made is None or tire.date_code is None:
            rows.append((rig_view.say(words), NOT_CHECKED, "read the date code"))
            continue
        year = 2000 + int(tire.date_code[2:])
        advice = age_words(age_steps(rig, position), year)
        rows.append((rig_view.say(words), f"week {int(tire.date_code[:2])} of {year}", rig_view.say(advice)))
    note = "Guidance, no law: the tire maker's limit counts."
    return Table(
        "Made",
        ("", "made", "advice"),
        tuple(rows),
        (1.0, 1.0, 1.8),
        ("left", "left", "left"),
        rig_view.say(note),
    )
