"""The tire tag: goes by the wheel or the air pump. Pressures on its front, weather and ages on its back."""

from __future__ import annotations

from dataclasses import replace

from cardgen.model.tires import Tire
from cardgen.physics.dates import age_steps, tire_made
from cardgen.present.blocks import Block, Card, Face, KeyNumber, KeyNumbers, Note, Paragraph, Table
from cardgen.present.cards import pieces
from cardgen.present.cards.front import BLANK, pressure
from cardgen.present.cards.wallet import issue, tab
from cardgen.present.format import NOT_CHECKED
from cardgen.present.rig_view import RigView
from cardgen.units.show import NBSP

STEPS = 6
"""Temperatures on the tag at most [-]."""
LONG = 118
"""Characters of a paragraph that has room beside a code: four lines [-]."""


def card(rig_view: RigView) -> Card:
    """Make the tire tag: always two faces."""
    name = rig_view.say("Tire tag")
    return pieces.frame(rig_view, "tire-tag", name, (_front(rig_view), _back(rig_view)))


def _front(rig_view: RigView) -> Face:
    rig, show = rig_view.rig, rig_view.formatter
    spare = rig_view.tire("spare")
    same = (
        spare is not None
        and rig_view.shown("pressure_spare") == rig_view.shown("pressure_trailer") != NOT_CHECKED
    )
    main = pressure(rig_view, "trailer", "Trailer, all and spare" if same else "Trailer, all")
    size = pieces.size_of(rig_view, "trailer")
    doubt = main.note != size
    main = replace(main, label=f"Trailer: {main.note}" if doubt else main.label, note=size)
    torque = rig.trailer.wheel_torque
    again = pieces.again(rig_view)
    nuts = KeyNumber(
        "Wheel nuts",
        show.value(torque.si, "torque") if torque else BLANK,
        f"again {again}" if again and torque else "trailer manual",
    )
    places = [
        *(() if rig.alone else ("front", "rear")),
        *(["spare"] if rig.trailer.spare is not None and not same else []),
    ]
    rest = {
        place: pressure(rig_view, place, "Spare" if place == "spare" else f"Vehicle {place}")
        for place in places
    }
    rows = tuple((f"{one.label}{_doubt(one)}", one.value) for one in rest.values())
    word = "DO NOT TOW" if tab(rig_view) == "DO NOT TOW" else "COLD"
    large = KeyNumbers("", (main, nuts), large=True)
    lines = _apart(Table("", (), rows, (2.2, 1.0), key=1))
    told = Note(f"Cold: parked 3 h. {issue(rig_view)}")
    return Face((large, *lines), rig_view.rig.nickname, word, foot=(told,), spare=len(lines) - 2)


def _apart(table: Table) -> tuple[Table, ...]:
    """Set every row as a table of its own, so that the last can go where a face is full."""
    return tuple(
        replace(table, head=table.head if n == 0 else (), rows=(row,)) for n, row in enumerate(table.rows)
    )


def _doubt(number: KeyNumber) -> str:
    """Whether a pressure is only what the placard states, or still to be read [-]."""
    return f", {number.note}" if "not confirmed" in number.note or number.value == BLANK else ""


def _back(rig_view: RigView) -> Face:
    """Words beside the code, and below both what the gauge reads."""
    code, strip = pieces.qr(rig_view, "t"), temperature(rig_view)
    blocks: list[Block] = [code] if code.href else []  # without an address it holds what the front says
    bleed = rig_view.say("never bleed a warm tire")
    if strip is None:
        return Face((*blocks, Paragraph(_ages(rig_view))), rig_view.say("Weather and age"), bleed)
    told = f"N{bleed[1:]}. {strip.note}"
    blocks += [Paragraph(_ages(rig_view)), Paragraph(told), replace(strip, title="", note="")]
    return Face(tuple(blocks), strip.title, "add air, always")


def temperature(rig_view: RigView) -> Table | None:
    """What the gauge of the trailer's tires reads when it is colder or warmer; None when no pressure is set."""
    strip, plan = rig_view.assessment.computed.strips.get("trailer"), rig_view.tire("trailer")
    if strip is None or not strip.rows or plan is None or plan.pressure is None:
        return None
    show = rig_view.formatter.at("trailer")
    step = max(1, -(-len(strip.rows) // STEPS))
    rows = strip.rows[::step]
    head = tuple(show.value(r.temperature, "temperature") for r in rows)
    reads = tuple(show.bare(r.reads, "pressure") for r in rows)
    least = show.value(plan.pressure, "pressure")
    unit = least.rpartition(NBSP)[2]
    return Table(
        f"Cold, below {least}?",
        head, (reads,), (), tuple("center" for _ in rows),
        f"Set at {show.value(strip.reference, 'temperature')}, the air reads in {unit}:", (0,),
    )  # fmt: skip


def _ages(rig_view: RigView) -> str:
    """By when tires are to be replaced, and when they were made; no age, which would soon be wrong."""
    rig = rig_view.rig
    tires = {
        "trailer": ("Trailer", rig.trailer.tires),
        "spare": ("Spare", rig.trailer.spare),
        "front": ("Vehicle front", rig.vehicle.tires.front),
        "rear": ("Vehicle rear", rig.vehicle.tires.rear),
    }
    told: dict[tuple[str, str], list[str]] = {}
    for position, (place, tire) in tires.items():
        if tire is not None:
            told.setdefault(_made(rig_view, position, tire), []).append(place)
    own = rig.limits.tire_age
    whose = f"your limit, {own.si / 365.25 / 86400.0:g} years" if own is not None else "guidance, no law"
    brief = [f"{rig_view.say(_joined(names)).lower()} {last}" for (last, _), names in told.items()]
    full = [f"{one} ({made})" if made else one for one, (_, made) in zip(brief, told, strict=True)]
    said = [f"Replace by ({whose}): {', '.join(rows)}." for rows in (full, brief)]
    return said[len(said[0]) > LONG]


def _joined(names: list[str]) -> str:
    both = ["Vehicle front", "Vehicle rear"]
    if names[-2:] == both:
        names = [*names[:-2], "Vehicle"]
    return " and ".join((names[0], *(name.lower() for name in names[1:])))


def _made(rig_view: RigView, position: str, tire: Tire) -> tuple[str, str]:
    """The year by which a tire is to be replaced, by the owner's limit or guidance, and when it was made."""
    made = tire_made(tire.date_code) if tire.date_code else None
    if made is None or tire.date_code is None:
        return "(read its date code)", ""
    year, own = 2000 + int(tire.date_code[2:]), rig_view.rig.limits.tire_age
    last = age_steps(rig_view.rig, position)[1]
    years = own.si / 365.25 / 86400.0 if own is not None else float(last.years)
    return f"{int(year + years)}", f"made week {int(tire.date_code[:2])} of {year}"
