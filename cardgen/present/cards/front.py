"""The front of the glovebox card: verdict, the numbers needed at the hitch and the pump, room left, whom to call.

Three shapes: what is within or close, what is over, and what little is known of. Nothing on it needs more
than one line; what does not fit stands in the report.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from cardgen.limits.legal import on_route
from cardgen.limits.room import least, rooms
from cardgen.limits.tires import label_too_low
from cardgen.model.advice import Room
from cardgen.model.results import CaseResult, Finding, Outcome
from cardgen.physics.allowances import OWN_RATING, lowest
from cardgen.present.asking import briefly, once, waiting
from cardgen.present.blocks import (
    Banner,
    Bar,
    Bars,
    Block,
    Call,
    Caution,
    Cautions,
    Face,
    Gauge,
    Gauges,
    KeyNumber,
    KeyNumbers,
    Pair,
    Paragraph,
    Qr,
    Steps,
    Table,
)
from cardgen.present.cards import pieces
from cardgen.present.cards.cures import LEAST_REASONS, REASONS, cap, cures, steps, why
from cardgen.present.cards.loading import amount, telling, turned
from cardgen.present.cards.short import short
from cardgen.present.format import NOT_CHECKED, day_words
from cardgen.present.rig_view import LEVELS, RigView, unique
from cardgen.tables.law import known_places, place_words
from cardgen.tables.letters import metrics
from cardgen.units.show import NBSP

BLANK = "_____"
"""A value that is to be written in [-]."""
TABS = {"within": "WITHIN", "close": "CLOSE", "unknown": "NOT KNOWN"}
NEEDS, ROOM, STOPS = 6, 4, 5
"""Most rows of each part of the front [-]."""


VERDICT = 26.8
"""Width of a line beside the tab of the verdict [em of its small print]: 91 mm at 9.5 pt on the narrowest wide card."""
DUE = 48
"""Letters of what is due that a line takes, besides the count of the rest [-]."""


def front(rig_view: RigView) -> Face:
    """Make the front in the shape that the verdict asks for."""
    foot = (call(rig_view),)
    if rig_view.outcome(Outcome.OVER):
        return _over(rig_view, foot)
    if little_known(rig_view):
        return Face(tuple(_unknown(rig_view)), foot=foot)
    return Face(tuple(_usual(rig_view)), foot=foot)


def little_known(rig_view: RigView) -> bool:
    """Whether the weights themselves are not known, so that no number of a usual front could be printed."""
    figures = (rig_view.figure("trailer_weight_max"), rig_view.figure("tongue_weight_max"))
    return any(f is None or f.value is None for f in figures)


def _usual(rig_view: RigView) -> list[Block]:
    return [
        verdict(rig_view),
        gauges(rig_view),
        pump(rig_view),
        *_side_by_side(coupling(rig_view), road(rig_view)),
        *room(rig_view),
        Pair(stop_if(rig_view), code(rig_view), 0.775),
        *own_lines(rig_view),
    ]


def _over(rig_view: RigView, foot: tuple[Block, ...]) -> Face:
    """The front of a rig that must not be towed as described, with fewer reasons where the paper takes no more."""
    over = rig_view.outcome(Outcome.OVER)
    found, made = cures(rig_view, over), None
    for reasons in range(LEAST_REASONS, REASONS + 1):
        if made is None or reasons <= len(over):
            blocks = tuple(_stopped(rig_view, over, found, reasons))
            last = blocks[-1]
            due = isinstance(last, Paragraph) and last.passing  # what is due can wait for the report
            made = Face(blocks, foot=foot, spare=int(due), less=made)
    assert made is not None
    return made


def _stopped(
    rig_view: RigView, over: Sequence[Finding], found: Sequence[tuple[str, set[str]]], reasons: int
) -> list[Block]:
    """Why a rig must not be towed as described, what to do, what holds all the same."""
    cases = {f.case for f in over if f.case}
    count = "1 limit is over" if len(over) == 1 else f"{len(over)} limits are over"
    told = f'"{next(iter(cases))}": {count}.' if len(cases) == 1 else f"{count[0].upper()}{count[1:]}."
    empty = " Nothing loaded is listed." if rig_view.assessment.computed.unloaded else ""
    made: list[Block] = [
        Banner("over", pieces.STOP, (f"{told} {rig_view.reckoned()}{empty}",)),
        why(rig_view, over, found, reasons),
    ]
    if found:
        made.append(Steps("What to do", steps(found, len(over)), "then describe it, and print anew"))
    rows = tuple((f"{n.label} ({n.note})" if n.note else n.label, n.value) for n in _known(rig_view))
    least, sure = (
        lowest(rig_view.assessment.computed.allowances),
        rig_view.shown("allowed_trailer") != NOT_CHECKED,
    )
    by_load = sure and least is not None and least.formula != OWN_RATING
    holds = Table(
        "These hold all the same",
        (),
        rows,
        (1.7, 1.0),
        ("left", "right"),
        strong=tuple(range(len(rows))),
        aside="at the loads described" if by_load else "for any load",
    )
    made += [Pair(holds, code(rig_view), 0.775), *own_lines(rig_view)]
    return made


def _known(rig_view: RigView) -> tuple[KeyNumber, ...]:
    """Four numbers that hold for any load, each with whose it is."""
    rig, show, allowed = rig_view.rig, rig_view.formatter, rig_view.figure("allowed_trailer")
    plated = rig.trailer.gvwr is not None  # no other part says what this trailer may weigh
    made_of = rig_view.assessment.computed.allowances if plated else ()
    sure = allowed is not None and allowed.value is not None
    least = lowest(made_of if sure else [a for a in made_of if a.formula == OWN_RATING])
    torque = rig.trailer.wheel_torque
    made = [
        KeyNumber("Trailer, at most", BLANK, rig_view.say("not checked: read its {trailer_rating}"))
        if least is None or least.trailer is None
        else KeyNumber(
            "Trailer, at most",
            show.bound(least.trailer, "mass", "upper"),
            rig_view.say(least.part) + ("" if sure else "; others may allow less"),
        ),
        pressure(rig_view, "trailer", "Trailer tires, cold"),
    ]
    if rig.trailer.type != "fifth_wheel":
        size = rig.trailer.coupler.ball or (rig.gear.ball.diameter if rig.gear.ball else None)
        made.append(
            KeyNumber(
                "Ball stamp",
                show.ball(size.si) if size else BLANK,
                f"plug {rig_view.plug(rig.trailer.connector, BLANK)}",
            )
        )
    else:
        made.append(KeyNumber("Plug", rig_view.plug(rig.trailer.connector, BLANK)))
    made.append(
        KeyNumber(
            "Wheel nuts",
            show.value(torque.si, "torque") if torque else BLANK,
            "" if torque else "trailer manual",
        )
    )
    return tuple(made)


def _unknown(rig_view: RigView) -> list[Block]:
    """The front of a rig of which little is known: what is known, and what to measure next."""
    unknown = rig_view.weighty(Outcome.NOT_CHECKED)
    made = [f for f in rig_view.assessment.findings if f.critical and f.outcome is not Outcome.NOT_CHECKED]
    many = len(unknown)
    told = f"All {many} checks wait for a number" if many > 1 else "The one check waits for a number"
    if made:
        rest = f"none of the {len(made)} made is" if len(made) > 1 else "the one made is not"
        told = f"{many} of {many + len(made)} checks wait{'s' * (many == 1)} for a number; {rest} over"
    listed = once(waiting(unknown, rig_view.rig))[:NEEDS]
    rows = tuple(
        (
            cap(rig_view.say(briefly(need))),
            _brief(rig_view.say(need.where or "rig file")),
            str(len(found)),
            "",
        )
        for need, found in listed
    )
    known = _known(rig_view)
    most = f"within {known[0].value} and every rating".replace(f"{BLANK} and ", "")
    compare = (
        ("Trailer, loaded and weighed", most, "", "yes / no"),
        (rig_view.say("{Coupling_load}, weighed"), "in its band, below every rating", "", "yes / no"),
    )
    return [
        Banner("unknown", "Nobody can say yet if this may be towed", (told,), TABS["unknown"]),
        KeyNumbers("Known", known, "read off the trailer, the vehicle or its papers"),
        *_side_by_side(_filled(coupling(rig_view)), _filled(road(rig_view))),
        Table(
            f"Measure these {_count_word(len(rows))}next",
            ("what", "where", "opens", "write here"),
            (*rows, *compare),
            (1.9, 1.5, 0.5, 1.0),
            ("left", "left", "right", "right"),
            aside="in this order; the number says how many checks it opens",
            write=True,
        ),
        Pair(stop_if(rig_view), code(rig_view), 0.775),
        *own_lines(rig_view),
    ]


def _brief(text: str, most: int = 44) -> str:
    """Where to look, in as many whole clauses as two lines of its column hold; at least the first."""
    first = re.split(r"[;:(]", text, maxsplit=1)[0].strip()
    clauses = first.split(", ")
    fit = next((n for n in range(len(clauses), 1, -1) if len(", ".join(clauses[:n])) <= most), 1)
    return ", ".join(clauses[:fit])


def _side_by_side(left: Table, right: Table) -> tuple[Pair | Table, ...]:
    """Two tables beside each other; one that has no row gives its place to the other."""
    found = tuple(table for table in (left, right) if table.rows)
    return (Pair(left, right, 0.5),) if len(found) == 2 else found


def _filled(table: Table) -> Table:
    """The rows that have a value, at most three."""
    rows = tuple(row for row in table.rows if row[1] != BLANK)[:3]
    return replace(table, rows=rows, strong=tuple(range(len(rows))))


def _count_word(count: int) -> str:
    return {2: "two ", 3: "three ", 4: "four ", 5: "five ", 6: "six "}.get(count, "")


def verdict(rig_view: RigView) -> Banner:
    """The verdict with its tab: what is met, whether computed or weighed, what was not checked."""
    told = pieces.banner(rig_view, 2)
    close = rig_view.weighty(Outcome.CLOSE)
    unknown = rig_view.weighty(Outcome.NOT_CHECKED) or rig_view.outcome(Outcome.NOT_CHECKED)
    open_ = _open(rig_view, unknown)
    left_out = f" {rig_view.left_out}." if rig_view.left_out else ""
    reckoned, empty = rig_view.reckoned(), rig_view.assessment.computed.unloaded
    lines = [reckoned + left_out + (" Nothing loaded is listed." if empty else ""), open_]
    if told.level == "close":
        first = close[0]
        why = f"{cap(short(first.code, first.title))}: {rig_view.formatter.told(first).split(';')[0]}"
        if first.code.startswith("weighing-self-"):
            why = "Read the {scale_ticket} again or weigh anew; it clears nothing."
        reckoned = "Nothing loaded is listed." if empty else reckoned  # that it is not weighed stands below
        # what waits for a vehicle before what is only looked up
        rest = left_out or f" {_open(rig_view, unknown, reckoned)}"
        lines = [rig_view.say(why), reckoned + rest]
    return Banner(told.level, told.title, tuple(filter(None, lines)), TABS[told.level])


def _open(rig_view: RigView, unknown: Sequence[Finding], before: str = "") -> str:
    """What was not checked, in a line behind some words: rules of places by the place, other checks by their short names."""
    laws = {
        f.code: place
        for f in unknown
        for place in rig_view.rig.places
        if place in known_places() and f.code.startswith("law-") and f.code.endswith(place)
    }
    names = [cap(rig_view.say(short(f.code, f.title))) for f in unknown if f.code not in laws]
    places = [place_words(place) for place in unique(laws.values())]
    if places:
        names.append(f"some rules of {' and '.join(places[:2])}{' and others' if len(places) > 2 else ''}")
    names = list(unique(names))
    if not names:
        return ""
    told = [
        f"Not checked: {'; '.join(names[:n])}{f' and {len(names) - n} more' if len(names) > n else ''}"
        for n in range(len(names), 0, -1)
    ]
    width = metrics("regular").width
    return next(
        (one for one in told if width(f"{before} {one}") <= VERDICT),
        f"Not checked: {len(names)}, in the report",
    )


def gauges(rig_view: RigView) -> Gauges:
    """Weight on the coupling of each loading case between its ends, at most three cases."""
    computed = rig_view.assessment.computed
    rows = tuple(_gauge(rig_view, case) for case in telling(computed.cases))
    allowed = rig_view.figure("allowed_trailer")
    limit = ("", "", "")
    if allowed is not None and allowed.value is not None:
        limit = ("Trailer, at most", rig_view.formatter.figure(allowed), _whose(rig_view, allowed.value))
    title = rig_view.say("{Coupling_load_in_full}")
    if rig_view.rig.gear.weight_distribution is not None:
        title += ", bars slack"
    return Gauges(
        title,
        "share of the trailer, and below every rating",
        ("loading case", rig_view.trailer.lower(), rig_view.say("weight now"), "at least", "at most"),
        rows,
        _unit(rig_view),
        limit,
    )


def _whose(rig_view: RigView, allowed: float) -> str:
    """Which rating the largest trailer [kg] stands on, and which of the coupling is full before, as loaded now."""
    made = rig_view.assessment.computed.allowances
    least, full = lowest(made), lowest(made, as_loaded=True)
    words = "" if least is None else f"lowest limit: {least.part}"
    if full is not None and full.trailer is not None and full.trailer < allowed:
        words = f"loaded as now: {rig_view.formatter.bound(full.trailer, 'mass', 'upper')} ({full.part})"
    return rig_view.say(words)


def _unit(rig_view: RigView) -> str:
    return rig_view.formatter.value(1.0, "mass").rpartition(NBSP)[2]


def _gauge(rig_view: RigView, case: CaseResult) -> Gauge:
    """A loading case: its ends rounded inward to what a bathroom scale shows."""
    show = rig_view.formatter
    trailer, now = case.figures.get("trailer_weight"), case.figures.get("tongue_weight")
    low, high = (
        figure.value if (figure := case.figures.get(name)) else None for name in ("band_low", "band_high")
    )
    value = now.value if now else None
    at = None
    if value is not None and low is not None and high is not None and high > low:
        at = (value - low) / (high - low)
    least, most = show.ends(low, high)
    return Gauge(
        case.name,
        "" if trailer is None or trailer.value is None else show.value(trailer.value, "mass"),
        "" if value is None else show.bare(value, "mass"),
        least,
        most,
        at,
    )


def pump(rig_view: RigView) -> KeyNumbers:
    """Pressures and wheel nuts, as large as they are needed at the pump."""
    rig, show = rig_view.rig, rig_view.formatter
    spare = rig_view.tire("spare")
    spare_note = "no spare stated"
    if rig.trailer.spare is not None:
        shown = rig_view.shown("pressure_spare") if spare is not None else NOT_CHECKED
        spare_note = f"spare {shown}" if shown != NOT_CHECKED else "spare: read its sidewall"
    count = {1: "both", 2: "all four", 3: "all six"}.get(rig.trailer.axles.count, "all")
    torque = rig.trailer.wheel_torque
    again = pieces.again(rig_view)
    vehicle = () if rig.alone else (("front", "Vehicle front"), ("rear", "Vehicle rear"))
    return KeyNumbers(
        "At the pump",
        (
            pressure(rig_view, "trailer", f"Trailer, {count}", spare_note),
            *(pressure(rig_view, position, label) for position, label in vehicle),
            KeyNumber(
                "Wheel nuts",
                show.value(torque.si, "torque") if torque else BLANK,
                f"again {again}" if again and torque else "trailer manual",
            ),
        ),
        rig_view.say("cold: parked three hours; never bleed a warm tire"),
    )


def pressure(rig_view: RigView, position: str, label: str, note: str = "") -> KeyNumber:
    """A pressure to set; where the check lacks data, what label or placard state, and that it is not confirmed."""
    shown = rig_view.shown(f"pressure_{position}")
    if shown != NOT_CHECKED:
        plan = rig_view.tire(position)
        low = None if plan is None else label_too_low(rig_view.rig, plan)
        doubt = "" if plan is None or not plan.needs else "perhaps "
        note = (
            note
            if low is None
            else f"label {rig_view.formatter.at(position).value(low.si, 'pressure')}: {doubt}too little"
        )
        return KeyNumber(rig_view.say(label), shown, note or pieces.size_of(rig_view, position))
    stated = rig_view.texts.get(f"pressure_{position}")
    word = "label" if position == "trailer" else "placard"
    if stated:
        return KeyNumber(rig_view.say(label), stated, f"{word}, not confirmed")
    past = any(f.code == f"tire-pressure-{position}" for f in rig_view.outcome(Outcome.OVER))
    return KeyNumber(rig_view.say(label), BLANK, "no pressure is right" if past else f"read the {word}")


def coupling(rig_view: RigView) -> Table:
    """What is needed at the coupling, at most six rows."""
    rig, show = rig_view.rig, rig_view.formatter
    rows: list[tuple[str, str]] = []
    ball, mount, coupler = rig.gear.ball, rig.gear.mount, rig.trailer.coupler
    if rig.trailer.type != "fifth_wheel":
        size = coupler.ball or (ball.diameter if ball else None)
        rows.append(("Ball, as stamped", show.ball(size.si) if size else BLANK))
        if mount is not None and mount.drop is not None and rig.trailer.type == "ball":
            word = "drop" if mount.drop.si >= 0 else "rise"
            shank = f", {show.value(mount.shank.si, 'ball')}" if mount.shank else ""
            rows.append(
                (
                    f"Mount: {word}{', shank' if shank else ''}",
                    f"{show.value(abs(mount.drop.si), 'height')}{shank}",
                )
            )
    if coupler.height is not None:
        rows.append(("{Coupler}, level", show.value(coupler.height.si, "height")))
    if rig.gear.weight_distribution is not None:
        rows.append(("Bars", rig.gear.weight_distribution.links or BLANK))
    rows.append(("Plug", rig_view.plug(rig.trailer.connector, BLANK)))
    if rig.trailer.type != "fifth_wheel" and ball is not None and ball.torque is not None:
        rows.append(("Ball nut", show.value(ball.torque.si, "torque")))
    said = tuple((rig_view.say(a), rig_view.say(b)) for a, b in rows[:6])
    return Table("At the coupling", (), said, (1.0, 1.1), ("left", "right"), strong=tuple(range(len(said))))


def road(rig_view: RigView) -> Table:
    """What is needed on the road, at most six rows."""
    known, alone = rig_view.texts, rig_view.rig.alone is not None
    speed = known.get("max_speed")
    size = rig_view.rig.trailer.dimensions.length
    own = rig_view.formatter.value(size.si, "dimension") if size else None
    whole = ("Length, trailer", own) if alone else ("Length, whole rig", known.get("rig_length"))
    rows = [
        ("Height, trailer" if alone else "Height", known.get("rig_height") or BLANK),
        (whole[0], whole[1] or BLANK),
        ("Width", known.get("rig_width") or BLANK),
        ("Speed, at most", speed.split(" (")[0] if speed else "posted limit"),
    ]
    if not alone and rig_view.rig.trailer.brakes.kind in (None, "electric", "electric_hydraulic"):
        rows.append(("Gain, as tested", known.get("brake_gain") or BLANK))
    if first := known.get("first_stop"):
        rows.append(("First stop after", first))
    said = tuple((a, rig_view.say(b)) for a, b in rows[:6])
    return Table("On the road", (), said, (1.0, 1.0), ("left", "right"), strong=tuple(range(len(said))))


def room(rig_view: RigView) -> tuple[Bars | Paragraph, ...]:
    """The places and tanks with the least room, as the loading card has them; what to state first while none is known."""
    found = rooms(rig_view.assessment)
    rows = tuple(_room_row(rig_view, one) for one in least(found)[:ROOM])
    needs = [need for one in found for need in one.needs]
    if needs and not rows:
        return (
            Paragraph(rig_view.say(f"{NOT_CHECKED}; state first: {briefly(needs[0])}"), "Least room left"),
        )
    aside = "add there at most, in every loading case; what turns first"
    return (Bars("Least room left", rows, aside=aside),) if rows else ()


def _room_row(rig_view: RigView, one: Room) -> Bar:
    finding = next((f for f in rig_view.assessment.findings if f.code == one.code), None)
    used, level = (finding.used, LEVELS[finding.outcome]) if finding else (None, LEVELS[Outcome.WITHIN])
    label = "In the vehicle" if one.body == "vehicle" else rig_view.say(one.label)
    return Bar(cap(label), amount(rig_view, one), cap(turned(rig_view, one)), used, "", level)


def stop_if(rig_view: RigView) -> Cautions:
    """When to stop: a line that cannot be ticked, and what this rig in particular must not meet."""
    rows = ["A line overleaf cannot be ticked"]
    rows += [rig_view.say(f.title) for f in rig_view.outcome(Outcome.CLOSE) if on_route(f)]
    allowed = rig_view.figure("allowed_trailer")
    if allowed is not None and allowed.value is not None:
        rows.append(f"Trailer above {rig_view.formatter.figure(allowed)}")
    rows.append("{Coupling_load} outside its ends" if not little_known(rig_view) else "")
    rows += list(pieces.becoming(rig_view))
    wind = rig_view.texts.get("wind_limit")
    rows.append(f"Forecast: {wind}" if wind else "Strong crosswind is forecast")
    if little_known(rig_view):
        rows.insert(1, "Loaded, before the boxes are filled in")
    made = tuple(Caution("", rig_view.say(row.rstrip("."))) for row in rows if 0 < len(row) <= 50)
    return Cautions("Stop if", made[:STOPS])


def code(rig_view: RigView) -> Qr:
    """The report's code, or the key numbers as text; what it holds is told beside the telephone."""
    return pieces.qr(rig_view, "g")


def own_lines(rig_view: RigView) -> list[Block]:
    """The owner's note, and what is due by the calendar: a line each."""
    made: list[Block] = []
    if rig_view.rig.note:
        made.append(Paragraph(rig_view.rig.note, "Note"))
    due = [
        f"{d.title.lower()}{f' ({day_words(d.since)})' if d.since else ''}"
        for d in rig_view.checklist.due
        if d.state == "due"
    ]
    fit = next((n for n in range(len(due), 1, -1) if len("; ".join(due[:n])) <= DUE), 1)
    if due:
        more = f"; {len(due) - fit} more in the report" if len(due) > fit else ""
        told, day = rig_view.say("; ".join(due[:fit]) + more), day_words(rig_view.assessment.day)
        made.append(Paragraph(told, f"Due, {day}", passing=True))
    return made


def call(rig_view: RigView) -> Call:
    """Address of the report, and the first number to call."""
    block = code(rig_view)
    who = rig_view.rig.contacts[0] if rig_view.rig.contacts else None
    note = "Open once at home and keep it there" if block.href else "The code holds the key numbers as text"
    return Call(
        block.url_text.partition("?")[0] if block.href else "No report address",
        note,
        f"Call {who.who}" if who else "Call ______________",
        who.phone if who else "",
    )
