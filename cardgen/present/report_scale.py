"""All fillings, weighings against computed, remedies, and loading cases compared by sway."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.model.advice import Remedy, SwayPair
from cardgen.model.ranges import Range, Setting
from cardgen.model.weighed import WeighingResult
from cardgen.physics.fillings import waste_limit
from cardgen.present.blocks import Table
from cardgen.present.desk import Desk
from cardgen.present.format import NOT_CHECKED, day_words
from cardgen.present.report_cases import WEIGHTS, spread
from cardgen.present.report_checks import upper_first
from cardgen.present.report_drawings import filling
from cardgen.present.report_view import Envelope, ReachRow, SectionPart


def fill_in(desk: Desk, text: str, values: Mapping[str, tuple[float, str]]) -> str:
    """Put numbers into a sentence of ours, in the reader's units and words."""
    return desk.shower.filled(desk.say(text), values)


def envelope(desk: Desk) -> Envelope | None:
    """Show the least and the most of every weight over all fillings, and what causes them."""
    reach = desk.assessment.computed.envelope
    rows = tuple(_reach(desk, reach[name], words) for name, words in WEIGHTS if name in reach)
    if not rows:
        return None
    becoming = tuple(
        f"{upper_first(desk.say(f.title))}: {fill_in(desk, f.can_become, f.values)}."
        for f in desk.findings
        if f.can_become
    )
    limited = waste_limit(desk.rig)
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
    intro = fill_in(desk, intro, {} if limited is None else {"limit": (limited, "volume")})
    return Envelope(intro, becoming, rows, filling(desk))


def _reach(desk: Desk, found: Range, words: str) -> ReachRow:
    label = desk.say(words)
    if found.low is None or found.high is None:
        return ReachRow(label, NOT_CHECKED, (desk.say(desk.shower.needs(found.needs)),))
    show = desk.shower
    low, high = show.value(found.low, found.kind), show.value(found.high, found.kind)
    causes = f"least with {_cause(found.low_filling)}", f"most with {_cause(found.high_filling)}"
    return ReachRow(label, f"{low} to {high}", causes)


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


def weighings(desk: Desk) -> SectionPart | None:
    """Set each visit to the scale beside what was computed for the same loading case."""
    found = desk.assessment.computed.weighings
    if not found:
        return None
    tables: list[Table] = []
    notes: list[str] = []
    for one in found:
        tables.append(_weighing(desk, one))
        notes += _remarks(desk, one)
    return SectionPart("weighings", "Weighed against computed", (), tuple(tables), (), tuple(notes))


def _weighing(desk: Desk, one: WeighingResult) -> Table:
    show = desk.shower
    rows = [
        (
            desk.say(c.label),
            show.value(c.measured, c.kind),
            show.value(c.computed, c.kind),
            f"{'+' if c.difference >= 0 else '−'} {show.value(abs(c.difference), c.kind)}",
            "agrees" if c.agrees else "differs",
        )
        for c in one.comparisons
    ]
    compared = {c.id for c in one.comparisons}
    rows += [
        (desk.say(f.label), spread(desk, f), "", "", "weighed only")
        for name, f in one.figures.items()
        if name not in compared and f.value is not None
    ]
    head = ("", "Weighed", "Computed", "Difference", "")
    title = f"{day_words(one.date)}, loaded as “{one.case}”"
    return Table(title, head, tuple(rows), (1.6, 1, 1, 1, 0.8), ("left", "right", "right", "right", "left"))


def _remarks(desk: Desk, one: WeighingResult) -> list[str]:
    show, made = desk.shower, []
    if one.unexplained is not None:
        tongue = ""
        if one.unexplained_tongue is not None:
            tongue = f", {show.value(one.unexplained_tongue, 'mass')} of it {{on_tongue}}"
        place = (
            f"; it would have to sit {show.value(one.implied_x, 'dimension')} behind the coupling"
            if one.implied_x
            else ""
        )
        made.append(f"Not listed in the file: {show.value(one.unexplained, 'mass')}{tongue}{place}.")
    ways: dict[str, list[str]] = {}
    for d in one.disagreements:
        first = f"Not every way agrees on {d.label}: {show.value(d.first, d.kind)} by {d.first_way}"
        ways.setdefault(first, []).append(f"{show.value(d.second, d.kind)} by {d.second_way}")
    made += [f"{first}, but {'; '.join(others)}." for first, others in ways.items()]
    if one.anchors:
        made.append("Its figures stand in this loading case; the other loading cases are computed from them.")
    if one.missing:
        made.append("Would tell more: " + "; ".join(show.need(n) for n in one.missing) + ".")
    return [desk.say(text) for text in made]


def remedies(desk: Desk) -> SectionPart | None:
    """List what would bring each close or exceeded limit in, the smallest change first."""
    found = desk.assessment.remedies
    rows: list[tuple[str, ...]] = []
    for finding in desk.findings:
        for one in found.get(finding.code, ()):
            rows.append((desk.say(finding.title), _remedy(desk, one), one.after or ""))
    if not rows:
        return None
    title = "What would help"
    if not any(row[2] for row in rows):
        short = tuple(row[:2] for row in rows)
        return SectionPart(
            "remedies", title, (), (Table("", ("For", "Proposal"), short, (1, 2), ("left", "left")),)
        )
    intro = "Each proposal was put into the computation again: it breaks no other limit."
    head = ("For", "Proposal", "Then")
    table = Table("", head, tuple(rows), (1.2, 2.4, 0.6), ("left", "left", "left"))
    return SectionPart("remedies", title, (desk.say(intro),), (table,))


def _remedy(desk: Desk, one: Remedy) -> str:
    text = fill_in(desk, one.text, one.values)
    cases = [case for case in one.cases if case not in text]
    text = f"{text} (loading case {', '.join(cases)})" if cases else text
    titles = {f.code: desk.say(f.title) for f in desk.findings}
    left = [titles.get(code, code) for code in one.left]
    return f"{text}. Still over with it: {'; '.join(left)}" if left else text


VERDICTS = {
    "first": "{first} resists {sway} better than {second}",
    "second": "{second} resists {sway} better than {first}",
    "same": "{first} and {second} are alike",
    "cannot tell": "{first} and {second}: cannot tell",
}


def sway(desk: Desk) -> SectionPart | None:
    """Compare the owner's loading cases by resistance to sway, in order only."""
    if not desk.assessment.sway:
        return None
    rows = tuple(_sway(desk, pair) for pair in desk.assessment.sway)
    table = Table("", ("Loading cases", "Why"), rows, (1.2, 2), ("left", "left"))
    note = "In order only: no speed is safe because of it. Wind, speed, tires and road decide as well."
    return SectionPart(
        "sway", desk.say("{Sway}: the loading cases compared"), (), (table,), (), (desk.say(note),)
    )


def _sway(desk: Desk, pair: SwayPair) -> tuple[str, str]:
    verdict = desk.say(VERDICTS[pair.verdict]).format(first=f"“{pair.first}”", second=f"“{pair.second}”")
    return verdict, "; ".join(fill_in(desk, reason, pair.values) for reason in pair.reasons)
