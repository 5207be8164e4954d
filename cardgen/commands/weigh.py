"""``cardgen weigh``: what a visit to the scale tells, and the lines that keep it in the rig file."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.commands import common
from cardgen.commands.exits import Exit

if TYPE_CHECKING:
    from rich.console import Console

    from cardgen.model.read import ReadResult
    from cardgen.model.rig import Rig
    from cardgen.present.rig_view import RigView
    from cardgen.source.shapes import Shape

HELP = "take the readings of a visit to the scale, show what follows and print the lines for the rig file"
_ABOUT = """\
Without readings it asks for them on a terminal; every pass may be left out. On one line they follow --read,
each as FIELD=VALUE with its unit: --read slack.front='3,120 lb' slack.rear='3,300 lb' slack.trailer='3,860 lb'.
No file is changed: the lines to paste go to stdout."""
TYPED = "the readings"
"""What a message calls the place where a reading was typed."""
PASSES = (
    ("slack", "Was the rig weighed hitched, with no bars or with them slack?", ("front", "rear", "trailer")),
    ("engaged", "Was it weighed hitched with the bars engaged?", ("front", "rear", "trailer")),
    ("alone", "Was the vehicle weighed alone, with the same people, fuel and gear?", ("front", "rear")),
    (
        "",
        "Was the trailer weighed unhitched, or its {tongue} by itself?",
        ("trailer_alone", "coupler", "jack"),
    ),
)
"""Passes over a scale: field, question, and the readings of each."""


class NoReadingsError(Exception):
    """The input ended before all questions were answered."""


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    common.add_rigs(parser, many=False)
    parser.add_argument(
        "--read",
        nargs="+",
        default=[],
        metavar="FIELD=VALUE",
        help="readings, like slack.front='3,120 lb' slack.rear='3,300 lb'",
    )
    parser.add_argument("--case", metavar="NAME", help="loading case the rig was in (default: the only one)")
    parser.add_argument(
        "--date", type=common.day, metavar="YYYY-MM-DD", help="day of the visit (default: today)"
    )
    common.add_units(parser)
    parser.description = _ABOUT


def run(args: argparse.Namespace) -> int:
    """Take the readings, print what follows on stderr and the lines on stdout."""
    from cardgen.model.results import Outcome

    paths, faults = common.rig_paths(args.rigs, args.rigs_dir)
    if common.refused(faults):
        return Exit.USAGE
    path, before = next(iter(common.read_rigs(paths)))
    if before.rig is None:
        return Exit.FAULTS
    try:
        visit = _visit(args, before.rig)
    except NoReadingsError:
        common.say("\nnothing was taken")
        return Exit.USAGE
    if visit is None:
        return Exit.USAGE
    lines = "".join(_lines(visit))
    read = _with(path, lines)
    for one in read.faults:
        common.say(str(one))
    if read.rig is None:
        common.say("put right what is named above and give the readings again")
        return Exit.FAULTS
    rig_view = common.view_of(read, args)
    _show(rig_view)
    _where(path, before.rig)
    sys.stdout.write(lines if before.rig.weighings else f"weighings:\n{lines}")
    return Exit.OVER if rig_view.assessment.outcome() is Outcome.OVER else Exit.FINE


def _visit(args: argparse.Namespace, rig: Rig) -> dict[str, str] | None:
    """The fields of the visit, by path; None when something is wrong with them, which was said."""
    from cardgen.source.suggest import suggest

    asking = not args.read and sys.stdin.isatty() and sys.stderr.isatty()
    names = [case.name for case in rig.cases]
    case = args.case or (names[0] if len(names) == 1 else None)
    if case is None and asking:
        common.say(f"Loading cases: {', '.join(names)}")
        case = _ask("Which one was the rig in?", names[0])
    if case not in names:
        told = (
            f"no loading case is called '{case[:80]}'" if case else "it is not clear how the rig was loaded"
        )
        common.say(f"{told}; write --case NAME, {suggest(case or '', names)}")
        return None
    visit = {"date": common.today(args).isoformat(), "case": case}
    readings = _asked(rig) if asking else _given(args.read)
    if readings is None:
        return None
    if not readings:
        common.say(
            "no reading was given; write one like --read slack.front='3,120 lb' (see cardgen weigh --help)"
        )
        return None
    return visit | readings


def leaves() -> dict[str, Shape]:
    """Every reading of a visit by its path, with what it may hold; ``[]`` and ``<name>`` stand for any."""
    from cardgen.commands.fieldpath import fields

    every = {
        f.path.removeprefix("weighings[]."): f.shape for f in fields() if f.path.startswith("weighings[].")
    }
    return {
        path: shape
        for path, shape in every.items()
        if shape.form != "record" and path not in ("date", "case")
    }


def _given(words: list[str]) -> dict[str, str] | None:
    from cardgen.commands.fieldpath import canonical
    from cardgen.source.suggest import suggest

    known, found, sound = leaves(), dict[str, str](), True
    for word in words:
        name, equals, value = word.partition("=")
        name = name.strip()
        path = canonical(f"weighings[].{name}").removeprefix("weighings[].")
        base = path.removesuffix("[]").removesuffix(".<name>")
        if not equals:
            trouble: str | None = (
                f"'{word[:80]}' is no reading; write FIELD=VALUE, like slack.front='3,120 lb'"
            )
        elif base not in known or (known[base].form in ("list", "map") and path == base):
            trouble = f"no reading is called '{name[:80]}'; {suggest(name, map(_spelled, known.items()))}"
        elif name in found:
            trouble = f"'{name}' is given twice; keep one"
        else:
            trouble = _unsound(known[base], value)
            trouble = trouble and f"{name}: {trouble}"
        if trouble is not None:
            common.say(trouble)
            sound = False
        found[name] = value.strip()
    return found if sound else None


def _spelled(leaf: tuple[str, Shape]) -> str:
    """How a reading is written on the command line: the first of a list has the number 0, a wheel its name."""
    path, shape = leaf
    return path + {"list": "[0]", "map": ".left 1"}.get(shape.form, "")


def _unsound(shape: Shape, text: str) -> str | None:
    """What is wrong with a reading, and how to write it; None when it is sound."""
    from cardgen.units.field import Kind
    from cardgen.units.quantity import UnitError

    kind = next((mark for mark in (shape.item or shape).extra if isinstance(mark, Kind)), None)
    if kind is None:
        return None
    try:
        kind.read(text.strip())
    except UnitError as problem:
        return f"{problem.message}; {problem.hint}"
    return None


def _asked(rig: Rig) -> dict[str, str]:
    """Ask for each pass whether it was driven, then for its readings; an empty line leaves one out."""
    from cardgen.physics.needs import need
    from cardgen.tables.words import say

    known, found = leaves(), dict[str, str]()
    for name, question, readings in PASSES:
        if name == "engaged" and rig.gear.weight_distribution is None:
            continue
        if rig.alone and name != {"trailer": "", "vehicle": "alone"}[rig.alone]:
            continue  # the passes of what is not in the file
        if not _ask(f"{say(question, rig.market, rig.trailer.type)} yes, no", "no").lower().startswith("y"):
            continue
        for leaf in readings:
            path = f"{name}.{leaf}" if name else leaf
            words = say(need(f"weighings[].{path}").what, rig.market, rig.trailer.type)
            text = _reading(f"  {words}, with its unit", known[path])
            if text:
                found[path] = text
            if path == "jack" and text:
                place = say(need("weighings[].jack_behind_coupler").what, rig.market, rig.trailer.type)
                found["jack_behind_coupler"] = _reading(f"  {place}", known["jack_behind_coupler"])
    return {path: text for path, text in found.items() if text}


def _reading(question: str, shape: Shape) -> str:
    while text := _ask(question, ""):
        trouble = _unsound(shape, text)
        if trouble is None:
            return text
        common.say(f"  {trouble}")
    return ""


def _ask(question: str, usual: str) -> str:
    print(f"{question} [{usual or 'not read'}]: ", end="", file=sys.stderr, flush=True)
    line = sys.stdin.readline()
    if not line:
        raise NoReadingsError
    return line.strip() or usual


def _lines(visit: Mapping[str, str]) -> Iterator[str]:
    """The visit as one item of the list, in block style, so that no comma bites."""
    from cardgen.source.write import scalar

    lead, groups = "  - ", dict[str, list[tuple[str, str]]]()
    for path, text in visit.items():
        group, _, leaf = path.partition(".")
        groups.setdefault(group.partition("[")[0], []).append((leaf, text) if leaf else ("", text))
    for group, inner in groups.items():
        if inner[0][0] == "" and "[" not in group:
            yield f"{lead}{group}: {scalar(inner[0][1])}\n"
            lead = "    "
            continue
        yield f"{lead}{group}:\n"
        listed: dict[str, list[str]] = {}
        for leaf, text in inner:
            listed.setdefault(leaf.partition("[")[0], []).append(text) if "[" in leaf else None
            if "[" not in leaf:
                yield f"      {scalar(leaf)}: {scalar(text)}\n"
        for leaf, texts in listed.items():
            yield f"      {leaf}:\n" + "".join(f"        - {scalar(text)}\n" for text in texts)


def _with(path: Path, lines: str) -> ReadResult:
    """Read the rig with the visit added to its weighings."""
    from dataclasses import replace

    from cardgen.bundle.reading import FURTHER
    from cardgen.model.read import judge
    from cardgen.source.disk import Disk
    from cardgen.source.limits import Bounds
    from cardgen.source.nodes import read_nodes
    from cardgen.source.parts import load
    from cardgen.source.tree import Keyed, branch

    bounds = Bounds()
    loaded = load(path, Disk(), bounds)
    typed = read_nodes(f"weighings:\n{lines}", TYPED, bounds).top
    assert loaded.top is not None  # the rig was read before
    assert typed is not None
    assert isinstance(loaded.top.value, dict)
    assert isinstance(typed.value, dict)
    new, old = typed.value["weighings"], loaded.top.value.get("weighings")
    kept = old.value.value if old is not None and isinstance(old.value.value, list) else []
    assert isinstance(new.value.value, list)
    both = branch([*kept, *new.value.value], old.value.place if old and kept else new.value.place)
    top = branch({**loaded.top.value, "weighings": Keyed(new.key, both)}, loaded.top.place)
    return judge(replace(loaded, top=top), path, FURTHER)


def _show(rig_view: RigView) -> None:
    """Print what follows: the weighed figures beside the computed ones, and what contradicts."""
    from rich.console import Console
    from rich.markup import escape
    from rich.table import Table

    from cardgen.present.cards.pieces import banner
    from cardgen.present.report_scale import visit

    console: Console = Console(stderr=True, soft_wrap=True, highlight=False)
    shown, notes = visit(rig_view, rig_view.assessment.computed.weighings[-1])
    console.print(f"[bold]{escape(shown.title)}[/bold]")
    table = Table(box=None, padding=(0, 2, 0, 0), header_style="bold")
    for head, align in zip(shown.head, shown.align, strict=True):
        table.add_column(head, justify="right" if align == "right" else "left", overflow="fold")
    for row in shown.rows:
        table.add_row(*map(escape, row))
    console.print(table)
    for note in notes:
        console.print(escape(note), soft_wrap=False)
    title = rig_view.say(banner(rig_view, 1).title)
    console.print(f"[bold]{escape(rig_view.rig.nickname)} with it: {escape(title)}[/bold]")


def _where(path: Path, rig: Rig) -> None:
    """Say where the lines belong."""
    if rig.weighings:
        common.say(
            f"add these lines at the end of the list 'weighings:' in {path}, or of the part that holds it:"
        )
    else:
        common.say(f"add these lines to {path}, in the place of 'weighings:' where it stands there:")
