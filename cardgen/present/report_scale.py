"""All fillings, weighings against computed, remedies, and loading cases compared by sway."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.model.advice import Remedy, SwayPair
from cardgen.model.figure import COVERAGE
from cardgen.model.ranges import Range, Setting
from cardgen.model.results import Outcome
from cardgen.model.weighed import WeighingResult
from cardgen.physics.fillings import waste_limit
from cardgen.present.blocks import Note, Table
from cardgen.present.format import NOT_CHECKED, day_words
from cardgen.present.page import Item, Items, PageBlock, View
from cardgen.present.report_cases import WEIGHTS, spread
from cardgen.present.report_checks import upper_first
from cardgen.present.report_drawings import filling
from cardgen.present.rig_view import RigView


def fill_in(rig_view: RigView, text: str, values: Mapping[str, tuple[float, str]]) -> str:
    """Put numbers into a sentence of ours, in the reader's units and words."""
    return rig_view.formatter.filled(rig_view.say(text), values)


def envelope(rig_view: RigView) -> View | None:
    """Show the least and the most of every weight over all fillings, and what causes them."""
    reach = rig_view.assessment.computed.envelope
    known = {
        n: r for n, r in reach.items() if not (r.low is None and rig_view.rig.lacks(x.path for x in r.needs))
    }
    rows = tuple(_reach(rig_view, known[name], words) for name, words in WEIGHTS if name in known)
    if not rows:
        return None
    becoming = tuple(
        f"{upper_first(rig_view.say(f.title))}: {fill_in(rig_view, f.can_become, f.values)}."
        for f in rig_view.findings
        if f.can_become
    )
    limited = waste_limit(rig_view.rig)
    waste = (
        ""
        if limited is None
        else (
            " Waste water is left out beyond what fresh tank and heater supply ({limit}), as the rig file declares; "
            "on a water hookup it can be more."
        )
    )
    intro = (
        f"Each tank anywhere between empty and full, each cylinder and each cargo set with or without.{waste} Cargo that "
        "is not listed is left out, and cargo without a set is always aboard. The loading cases are points in between."
    )
    intro = fill_in(rig_view, intro, {} if limited is None else {"limit": (limited, "volume")})
    chart = filling(rig_view)
    blocks: list[PageBlock] = [Items(tuple(map(Item, becoming)))] if becoming else []
    blocks += [*((chart,) if chart else ()), Items(rows, style="words"), Note(intro)]
    bears = [f for f in rig_view.findings if f.critical and not known.keys().isdisjoint(f.figures)]
    about = "no filling leaves a limit"
    if becoming:
        about = f"what could become: {len(becoming)}"
    elif any(f.outcome is Outcome.OVER for f in bears):
        about = "a limit is left already"
    elif any(f.outcome is Outcome.NOT_CHECKED for f in bears):
        about = "not every limit is known"
    return View("envelope", "All fillings", tuple(blocks), about, "The least and the most of every weight.")


def _reach(rig_view: RigView, found: Range, words: str) -> Item:
    label = rig_view.say(words)
    if found.low is None or found.high is None:
        return Item(label, rig_view.say(rig_view.formatter.needs(found.needs)), NOT_CHECKED)
    show = rig_view.formatter
    low, high = show.value(found.low, found.kind), show.value(found.high, found.kind)
    causes = f"Least with {_cause(found.low_filling)}. Most with {_cause(found.high_filling)}."
    return Item(label, causes, f"{low} to {high}")


def _cause(settings: tuple[Setting, ...]) -> str:
    """Say what is aboard in a filling, full things together; what is away goes without saying."""
    full: list[str] = []
    rest: list[str] = []
    for one in settings:
        if one.share <= 0.0 or one.key.startswith("cylinder."):
            continue
        if one.words.endswith(" full"):
            full.append(one.words.removesuffix(" full"))
        else:
            rest.append(one.words)
    parts = [f"{', '.join(full)} full"] if full else []
    return "; ".join((*parts, *dict.fromkeys(rest))) or "everything empty or left out"


def weighings(rig_view: RigView) -> View | None:
    """Set each visit to the scale beside what was computed for the same loading case."""
    found = rig_view.assessment.computed.weighings
    if not found:
        return None
    blocks: list[PageBlock] = []
    for one in found:
        table, remarks = visit(rig_view, one)
        blocks += [table, *map(Note, remarks)]
    about = f"{len(found)} visit{'s' if len(found) > 1 else ''} to a scale"
    return View("weighings", "Weighed against computed", tuple(blocks), about)


def visit(rig_view: RigView, one: WeighingResult) -> tuple[Table, list[str]]:
    """Set one visit to the scale beside what was computed, with what is to be said of it."""
    return _weighing(rig_view, one), _remarks(rig_view, one)


def _weighing(rig_view: RigView, one: WeighingResult) -> Table:
    show = rig_view.formatter
    rows = [
        (
            rig_view.say(c.label),
            show.value(c.measured, c.kind),
            show.value(c.computed, c.kind),
            f"{'+' if c.difference >= 0 else '−'} {show.value(abs(c.difference), c.kind)}",
            "agrees" if c.agrees else "differs",
        )
        for c in one.comparisons
    ]
    compared = {c.id for c in one.comparisons}
    rows += [
        (rig_view.say(f.label), spread(rig_view, f), "", "", "weighed only")
        for name, f in one.figures.items()
        if name not in compared and f.value is not None
    ]
    head = ("", "Weighed", "Computed", "Difference", "")
    title = f"{day_words(one.date)}, loaded as “{one.case}”"
    return Table(title, head, tuple(rows), (1.6, 1, 1, 1, 0.8), ("left", "right", "right", "right", "left"))


def _remarks(rig_view: RigView, one: WeighingResult) -> list[str]:
    show, made = rig_view.formatter, []
    if one.unexplained is not None:
        made.append(_unlisted(rig_view, one, one.unexplained))
    ways: dict[str, list[str]] = {}
    for d in one.disagreements:
        first = f"Not every way agrees on {d.label}: {show.value(d.first, d.kind)} by {d.first_way}"
        ways.setdefault(first, []).append(f"{show.value(d.second, d.kind)} by {d.second_way}")
    made += [f"{first}, but {'; '.join(others)}." for first, others in ways.items()]
    if one.anchors:
        made.append("Its figures stand in this loading case; the other loading cases are computed from them.")
    if one.missing:
        made.append("Would tell more: " + "; ".join(show.need(n) for n in one.missing) + ".")
    return [rig_view.say(text) for text in made]


def _unlisted(rig_view: RigView, one: WeighingResult, mass: float) -> str:
    """Say how the trailer on the scale differs from the file's, a mass [kg], and where that would sit."""
    show = rig_view.formatter
    if abs(mass) <= COVERAGE * (one.u_unexplained or 0.0):
        return "Loaded trailer: scale and file agree within their uncertainty."
    said = f"The scale found {show.value(abs(mass), 'mass')} {'more' if mass > 0 else 'less'} than the file lists"
    if one.unexplained_tongue is not None:
        change = one.unexplained_tongue
        said += f", with {show.value(abs(change), 'mass')} {'more' if change > 0 else 'less'} {{on_tongue}}"
    if one.implied_x is not None:
        said += f"; it would have to sit {show.value(one.implied_x, 'dimension')} behind the coupling"
    return f"{said}."


def remedies(rig_view: RigView) -> View | None:
    """List what would bring each close or exceeded limit in, the smallest change first."""
    found = rig_view.assessment.remedies
    rows: list[tuple[str, ...]] = []
    for finding in rig_view.findings:
        for one in found.get(finding.code, ()):
            text, title = _remedy(rig_view, one), rig_view.say(finding.title)
            rows.append(("" if title in text else f"for {title}", text, one.after or ""))
    if not rows:
        return None
    items = Items(tuple(Item(text, what, f"then {after}" if after else "") for what, text, after in rows))
    hint = "Each proposal was put into the computation again: it breaks no other limit."
    hint = hint if any(row[2] for row in rows) else ""
    many = f"{len(rows)} proposal{'s' if len(rows) > 1 else ''}, the smallest change first"
    return View("remedies", "What would help", (items,), many, hint)


def _remedy(rig_view: RigView, one: Remedy) -> str:
    text = fill_in(rig_view, one.text, one.values)
    cases = [case for case in one.cases if case not in text]
    text = f"{text} (loading case {', '.join(cases)})" if cases else text
    titles = {f.code: rig_view.say(f.title) for f in rig_view.findings}
    left = [titles.get(code, code) for code in one.left]
    return f"{text}. Still over with it: {'; '.join(left)}" if left else text


VERDICTS = {
    "first": "{first} resists {sway} better than {second}",
    "second": "{second} resists {sway} better than {first}",
    "same": "{first} and {second} are alike",
    "cannot tell": "{first} and {second}: cannot tell",
}


def sway(rig_view: RigView) -> View | None:
    """Compare the owner's loading cases by resistance to sway, in order only."""
    if not rig_view.assessment.sway:
        return None
    rows = tuple(_sway(rig_view, pair) for pair in rig_view.assessment.sway)
    table = Table("", ("Loading cases", "Why"), rows, (1.2, 2), ("left", "left"))
    note = "In order only: no speed is safe because of it. Wind, speed, tires and road decide as well."
    title = rig_view.say("{Sway}: the loading cases compared")
    return View("sway", title, (table, Note(rig_view.say(note))), "which resists it better")


def _sway(rig_view: RigView, pair: SwayPair) -> tuple[str, str]:
    verdict = rig_view.say(VERDICTS[pair.verdict]).format(first=f"“{pair.first}”", second=f"“{pair.second}”")
    return verdict, "; ".join(fill_in(rig_view, reason, pair.values) for reason in pair.reasons)
