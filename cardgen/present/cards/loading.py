"""The loading card: how much more may go where, what is aboard, what the tanks do to the tongue."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.limits.compare import TOO_CLOSE
from cardgen.limits.room import rooms
from cardgen.model.advice import Room
from cardgen.model.results import CaseResult, Outcome
from cardgen.physics.effects import Effect, effects
from cardgen.present import drawings
from cardgen.present.asking import briefly
from cardgen.present.blocks import Align, Block, Card, Drawing, Face, Heading, Pair, Paragraph, Table
from cardgen.present.cards import pieces
from cardgen.present.cards.short import short
from cardgen.present.format import NOT_CHECKED, day_words
from cardgen.present.rig_view import RigView
from cardgen.units.show import NBSP, in_us

LETTERS = "ABCDEFGHJKLMN"
PLACES, THINGS, LOG, NEEDS, CASES, MORE = 7, 8, 3, 3, 3, 4
"""Most places, things aboard, readings of a scale, things to state and loading cases on the card [-]; the rest stands in the report.
Then the lines to write readings on where there is room."""
PER = {"us": 45.359237, "metric": 50.0}
"""Load whose effect on the tongue is told [kg]: 100 lb, 50 kg."""


def card(rig_view: RigView) -> Card:
    """Make the loading card: its front says what may go where, its back what tanks do."""
    return pieces.frame(rig_view, "loading-card", "Loading card", (_front(rig_view), _back(rig_view)))


def _front(rig_view: RigView) -> Face:
    found = [room for room in rooms(rig_view.assessment) if not room.key.startswith("tank.")]
    blocks: list[Block] = [*pieces.stop_line(rig_view)]
    view = drawings.side_view(rig_view, loads=False, places=_letters(found))
    if view is not None:
        blocks.append(Drawing(view, "", "side view of the rig with its places, tanks and cargo"))
    blocks.append(room_left(rig_view, found))
    blocks += [
        Heading("These do not add up", "Each figure is for one place alone."),
        Paragraph(
            "Two places: half of each. Three: a third of each. Heavy things low, near the axles, tied down."
        ),
    ]
    carried = cargo(rig_view)
    spare: list[Block] = [carried] if carried.rows else []
    spare.append(blank(4, "More aboard: write it here; its place loses that much room."))
    return Face((*blocks, *spare), spare=len(spare))


def telling(cases: tuple[CaseResult, ...]) -> list[CaseResult]:
    """The cases that tell most: with most and least on the coupling, and the heaviest trailer; in their order."""
    if len(cases) <= CASES:
        return list(cases)

    def weight(case: CaseResult, name: str) -> float:
        return (case.figures[name].value if name in case.figures else None) or 0.0

    chosen = {
        max(cases, key=lambda c: weight(c, "tongue_weight")).name,
        min(cases, key=lambda c: weight(c, "tongue_weight")).name,
        max(cases, key=lambda c: weight(c, "trailer_weight")).name,
    }
    return [case for case in cases if case.name in chosen]


def blank(columns: int, note: str = "") -> Table:
    """Lines to write on, with a remark below."""
    return Table("", (), ((NBSP,) * columns,) * 3, note=note)


def _letters(found: Sequence[Room]) -> tuple[tuple[str, Room], ...]:
    return tuple(zip(LETTERS, found[:PLACES], strict=False))


def room_left(rig_view: RigView, found: Sequence[Room]) -> Table:
    """How much more may go to each place, and the check that turns first."""
    per = PER["us" if in_us("mass", rig_view.formatter.system) else "metric"]
    rows = tuple(
        (
            letter,
            where(rig_view, room),
            amount(rig_view, room),
            "" if room.amount is None else first_turned(rig_view, room),
            _tips(rig_view, room, per),
        )
        for letter, room in _letters(found)
    )
    unit = rig_view.formatter.value(per, "mass")
    head = ("", "place", "add up to", "then", rig_view.say(f"{unit} there: {{on_tongue}}"))
    needs = {need.path: briefly(need) for room in found if room.amount is None for need in room.needs}
    asked = list(dict.fromkeys(needs.values()))
    more = f" and {len(asked) - NEEDS} more, in the report" if len(asked) > NEEDS else ""
    note = rig_view.say(f"Not checked: state first {', '.join(asked[:NEEDS])}{more}.") if asked else ""
    if asked and rig_view.rig.alone and rig_view.rig.gear.weight_distribution is not None:
        note = "Not checked: what bars move to the trailer's axles depends on the vehicle."
    first = "until another limit is close" if rig_view.near else "before anything is close to a limit"
    aside = f"{first}, in every loading case"
    widths = (0.2, 1.4, 0.6, 1.5, 0.8)
    align: tuple[Align, ...] = ("left", "left", "right", "left", "right")
    return Table("Room left here", head, rows, widths, align, note, aside=aside, key=2)


def where(rig_view: RigView, room: Room) -> str:
    """What a place or tank is called, with its distance behind the coupling."""
    if room.body == "vehicle" or room.arm is None:
        return rig_view.say(room.label)
    return f"{room.label}, {rig_view.formatter.value(room.arm, 'dimension')}"


def amount(rig_view: RigView, room: Room) -> str:
    """The most that may be added at a place, rounded down to what a bathroom scale shows."""
    if room.amount is None:
        return NOT_CHECKED
    unit = rig_view.formatter.value(1.0, "mass").rpartition(NBSP)[2]
    return f"{rounded(rig_view, room.amount)}{NBSP}{unit}"


def rounded(rig_view: RigView, mass: float) -> str:
    """An amount [kg] without its unit, down to tens of pounds or fives of kilograms; our choice."""
    step = 10.0 if in_us("mass", rig_view.formatter.system) else 5.0
    return f"{rig_view.formatter.display(mass, 'mass') // step * step:,.0f}"


def first_turned(rig_view: RigView, room: Room) -> str:
    """What turns first when more is added, or what is missing to tell."""
    if room.amount is None:
        return "state first: " + rig_view.say(briefly(room.needs[0])) if room.needs else NOT_CHECKED
    if room.full:
        return "may be full" if room.amount else "full"
    parts = [turned(rig_view, room)]
    if rounded(rig_view, room.amount) == "0":
        parts = [f"{_no_room(rig_view, room)}: {parts[0]}"]
    if room.helps and room.amount:
        parts.append("some here helps")
    if room.behind:
        parts.append(rig_view.say("last choice: {sways} sooner"))
    told = "; ".join(parts)
    return told[:1].upper() + told[1:]


def _no_room(rig_view: RigView, room: Room) -> str:
    """Why nothing may be added: what is over already, close whatever a scale says, or to be weighed."""
    finding = next((f for f in rig_view.assessment.findings if f.code == room.code), None)
    if finding is not None and finding.outcome is Outcome.OVER:
        return "over already"
    near = finding is not None and finding.outcome is Outcome.CLOSE and TOO_CLOSE not in finding.message
    return "close already" if near else "weigh first"


def turned(rig_view: RigView, room: Room) -> str:
    """The check that turns first when more is added, in words."""
    finding = next((f for f in rig_view.assessment.findings if f.code == room.code), None)
    name = rig_view.say(short(room.code, finding.title if finding else room.code))
    if room.code in ("tongue-share", "tongue-weight"):
        share = finding.demand if finding and room.code == "tongue-share" else None
        light = _tip(rig_view, room) < (share or 0.0)
        name = rig_view.say("{Coupling_load} too ") + ("light" if light else "heavy")
    return name


def _tip(rig_view: RigView, room: Room) -> float:
    """Part of a load at a place that the tongue carries [-]."""
    length = rig_view.rig.trailer.axles.ball_to_center
    return 0.0 if length is None or room.arm is None else 1.0 - room.arm / length.si


def _tips(rig_view: RigView, room: Room, per: float) -> str:
    if room.body == "vehicle" or room.arm is None or rig_view.rig.trailer.axles.ball_to_center is None:
        return ""
    return signed(rig_view, per * _tip(rig_view, room))


def cargo(rig_view: RigView) -> Table:
    """What is aboard now: weight of each thing, what of it is on the tongue, and in which cases it rides."""
    found = [e for e in effects(rig_view.rig) if e.sort == "cargo"]
    found = sorted(found, key=lambda e: -abs(e.tongue or 0.0))
    rows = tuple(
        (
            e.label,
            NOT_CHECKED if e.full is None else rig_view.formatter.value(e.full, "mass"),
            signed(rig_view, e.tongue),
            _aboard(rig_view, e),
        )
        for e in found[:THINGS]
    )
    head = ("thing", "weighs", rig_view.say("{on_tongue}"), "aboard")
    note = f"{len(found) - THINGS} more in the report." if len(found) > THINGS else ""
    return Table(
        "Aboard now",
        head,
        rows,
        (1.5, 0.8, 0.9, 1.2),
        note=note,
        aside="already counted in the figures above",
    )


def _aboard(rig_view: RigView, effect: Effect) -> str:
    cases = rig_view.assessment.computed.cases
    names = [c.name for c in cases if c.shares.get(effect.key)]
    if len(names) == len(cases):
        return "always" if len(cases) != 2 else "both cases"
    return ", ".join(names) or "left at home"


def _back(rig_view: RigView) -> Face:
    cases = telling(rig_view.assessment.computed.cases)
    wet = liquids(rig_view, cases)
    blocks: list[Block] = [wet] if wet.rows else []
    blocks += _charts(rig_view, cases)
    words = [Paragraph(rig_view.say(text)) for text in pieces.becoming(rig_view)[:2]]
    if words:
        blocks += [Heading("Together", "one tank may be fine, several not"), *words]
    if not wet.rows:
        blocks.append(pieces.cases(rig_view))
    spare: tuple[Block, ...] = (_log(rig_view), Table("", (), ((NBSP,) * 4,) * MORE))
    title = rig_view.say("What the tanks do" if wet.rows else "Weights by case")
    aside = f"{rig_view.rig.nickname}, loading card"
    return Face(
        (*blocks, *spare),
        title,
        aside,
        foot=(pieces.coded(rig_view, "l", "Move things about and see what it does"),),
        spare=len(spare),
    )


def liquids(rig_view: RigView, cases: Sequence[CaseResult]) -> Table:
    """Weight of each full tank and cylinder, what it does to the tongue, its filling in each case, and whether it may be full."""
    found = {room.key: room for room in rooms(rig_view.assessment)}
    rows: list[tuple[str, ...]] = []
    for effect in effects(rig_view.rig):
        if effect.sort not in ("fresh", "waste", "liquid", "gas"):
            continue
        full = NOT_CHECKED if effect.full is None else rig_view.formatter.value(effect.full, "mass")
        room = found.get(effect.key)
        more = "" if room is None else _more(rig_view, room)
        states = tuple(_state(effect.key, case) for case in cases)
        rows.append((effect.label, full, signed(rig_view, effect.tongue), *states, more))
    head = ("tank", "full, weighs", rig_view.say("{on_tongue}"), *(case.name for case in cases), "may take")
    widths = (1.35, 0.85, 0.85, *(0.8 for _ in cases), 1.0)
    note = "'+' loads the coupling, a minus lightens it; for one tank at a time, the others as in the case."
    return Table("", head, tuple(rows), widths, note=note)


def _more(rig_view: RigView, room: Room) -> str:
    if room.amount is None or room.full:
        return first_turned(rig_view, room) if room.full else NOT_CHECKED
    return f"{amount(rig_view, room)} more"


def _state(key: str, case: CaseResult) -> str:
    share = case.shares.get(key)
    if share is None:
        return NOT_CHECKED
    return {0.0: "empty", 1.0: "full"}.get(share, f"{100.0 * share:.0f}{NBSP}%")


def _charts(rig_view: RigView, cases: Sequence[CaseResult]) -> Iterator[Block]:
    """A chart for each case, two side by side."""
    names = [case.name for case in rig_view.assessment.computed.cases]
    found = [(case.name, drawings.filling_chart(rig_view, names.index(case.name))) for case in cases]
    drawn = [
        Drawing(chart, f"{rig_view.say('{Coupling_load}')}, {name}", chart_words(rig_view))
        for name, chart in found
        if chart is not None
    ][:2]
    if len(drawn) == 2:
        yield Pair(drawn[0], drawn[1], 0.5)
    else:
        yield from drawn


def chart_words(rig_view: RigView) -> str:
    """The chart in words, for people who cannot see it."""
    parts = [
        f"{e.label} full: {signed(rig_view, e.tongue)}"
        for e in effects(rig_view.rig)
        if e.tongue is not None and e.sort in ("fresh", "waste", "liquid")
    ]
    return rig_view.say("change of {coupling_load} by tank: ") + "; ".join(parts)


def _log(rig_view: RigView) -> Table:
    """What scales said last, with lines to write on."""
    show = rig_view.formatter
    rows = []
    for one in sorted(rig_view.assessment.computed.weighings, key=lambda w: w.date, reverse=True)[:LOG]:
        shown = [one.figures.get(name) for name in ("trailer_weight", "tongue_weight")]
        rows.append((day_words(one.date), one.case, *(show.figure(f) if f else "" for f in shown)))
    rows += [(NBSP,) * 4] * 2
    head = ("date", "case", "trailer", rig_view.say("{coupling_load}"))
    return Table(
        "Seen on the scale",
        head,
        tuple(rows),
        (1.0, 1.4, 1.0, 1.0),
        ("left", "left", "right", "right"),
        aside="write with a grease pencil",
    )


def signed(rig_view: RigView, value: float | None) -> str:
    """Write a change with its sign."""
    if value is None:
        return NOT_CHECKED
    shown = rig_view.formatter.value(abs(value), "mass")
    if shown.startswith(f"0{NBSP}"):
        return shown
    return f"{'+' if value >= 0 else '−'}{shown}"
