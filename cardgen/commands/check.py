"""``cardgen check``: the verdict of each rig, what is over or close, and what to measure first."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from cardgen.commands import common
from cardgen.commands.exits import Exit

if TYPE_CHECKING:
    from rich.console import Console

    from cardgen.model.results import Finding
    from cardgen.present.rig_view import RigView

HELP = "check rigs against every limit: the verdict, what is over or close, what to measure first"


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    common.add_rigs(parser)
    common.add_day(parser)
    common.add_units(parser)
    parser.add_argument("--all", action="store_true", help="print every finding and everything to measure")


def run(args: argparse.Namespace) -> int:
    """Print findings; fail when a check is over or a file has faults."""
    from rich.console import Console

    from cardgen.model.results import Outcome

    paths, faults = common.rig_paths(args.rigs, args.rigs_dir)
    if common.refused(faults):
        return Exit.USAGE
    console = Console(soft_wrap=True, highlight=False)
    worst, told = Exit.FINE, False
    for _, result in common.read_rigs(paths):
        if result.rig is None:
            worst = Exit.FAULTS
            continue
        rig_view = common.view_of(result, args)
        if told:
            console.print()
        show(console, rig_view, args.all)
        told = True
        if rig_view.assessment.outcome() is Outcome.OVER and worst is Exit.FINE:
            worst = Exit.OVER
    return worst


def show(console: Console, rig_view: RigView, everything: bool) -> None:
    """Print one rig: the verdict, what is over or close, what is due, what to measure first, and a count."""
    from rich.markup import escape

    from cardgen.model.results import Outcome
    from cardgen.present.cards.pieces import NO_LOAD, banner

    style = STYLES[rig_view.assessment.outcome()]
    title = f"{escape(rig_view.rig.nickname)}: [{style}]{escape(rig_view.say(banner(rig_view, 1).title))}[/]"
    console.print(f"[bold]{title}[/bold]")
    counts = {o: len(rig_view.weighty(Outcome(o))) for o in OUTCOMES}
    advice = {o: len(rig_view.outcome(Outcome(o))) - counts[o] for o in OUTCOMES}
    told = [", ".join(f"{n} {o}" for o, n in found.items() if n) for found in (counts, advice)]
    console.print("; advice: ".join(filter(None, told)))
    if rig_view.assessment.computed.unloaded:
        console.print(NO_LOAD)
    listed = OUTCOMES if everything else OUTCOMES[:2]
    _findings(console, rig_view, [f for o in listed for f in rig_view.outcome(Outcome(o))])
    for due in rig_view.checklist.due:
        if due.state == "due":
            console.print(f"due  {escape(due.title)}: {escape(due.interval)}")
    if rig_view.left_out:
        console.print(rig_view.left_out)
    unknown = rig_view.outcome(Outcome.NOT_CHECKED)
    if unknown:
        _measure(console, rig_view, unknown, everything)


STYLES = {"over": "bold red", "close": "yellow", "not checked": "bold", "within": "green"}
"""How an outcome is written on a terminal that shows colour, what a person acts on first."""
OUTCOMES = tuple(STYLES)


def _findings(console: Console, rig_view: RigView, findings: Sequence[Finding]) -> None:
    from rich.markup import escape
    from rich.table import Table

    table = Table(box=None, padding=(0, 2, 0, 0), show_header=False)
    for whole in (True, True, False):  # an outcome or code that is cut or folded cannot be looked up
        table.add_column(no_wrap=whole, overflow="fold")
    for finding in findings:
        case = f" ({finding.case})" if finding.case else ""
        advice = finding.outcome == "close" and not finding.critical
        table.add_row(
            f"[{STYLES[finding.outcome]}]{'advice' if advice else finding.outcome.value}[/]",
            escape(finding.code),
            escape(rig_view.say(f"{finding.title}: {rig_view.formatter.told(finding)}") + case),
        )
    if table.row_count:
        console.print(table)


def _measure(console: Console, rig_view: RigView, unknown: Sequence[Finding], everything: bool) -> None:
    """Print what opens the most checks as field, place and number of checks, then one line for the rest."""
    from rich.markup import escape
    from rich.table import Table

    from cardgen.present.asking import FIRST, waiting

    listed = waiting(unknown, rig_view.rig)
    first = listed if everything else listed[:FIRST]
    table = Table(box=None, padding=(0, 2, 0, 0), header_style="bold")
    table.add_column("Measure these first", no_wrap=True, overflow="fold")
    table.add_column("Where", overflow="fold")
    table.add_column("Opens", justify="right", no_wrap=True)
    for need, findings in first:
        again = need.what.startswith("read it again")
        where = rig_view.say(need.where or (need.what if again else f"state it: {need.what}"))
        if need.path == "places":
            where = rig_view.say(f"{need.what}: {need.where}")
        table.add_row(escape(need.path), escape(where), str(len(findings)))
    if table.row_count:
        console.print(table)
    rest = len(listed) - len(first)
    more = f"{rest} more to measure, " if rest else ""
    made = f"{more}{len(unknown)} check{'s' if len(unknown) > 1 else ''} not made"
    console.print(f"{made}; {'see' if everything else 'see --all, and'} cardgen explain FIELD")
