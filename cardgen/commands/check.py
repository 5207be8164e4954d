"""``cardgen check``: every finding of the rigs in the terminal."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from cardgen.commands import common
from cardgen.commands.exits import Exit

if TYPE_CHECKING:
    from rich.console import Console

    from cardgen.present.rig_view import RigView

HELP = "check rigs against every limit and print the findings"


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    common.add_rigs(parser)
    common.add_day(parser)
    common.add_units(parser)
    parser.add_argument("--all", action="store_true", help="also print what is within")


def run(args: argparse.Namespace) -> int:
    """Print findings; fail when a check is over or a file has faults."""
    from rich.console import Console

    from cardgen.model.results import Outcome

    paths, faults = common.rig_paths(args.rigs, args.rigs_dir)
    for fault in faults:
        common.say(fault)
    if faults:
        return Exit.USAGE
    console = Console(soft_wrap=True, highlight=False)
    worst = Exit.FINE
    for _, result in common.read_rigs(paths):
        if result.rig is None:
            worst = Exit.FAULTS
            continue
        rig_view = common.view_of(result, args)
        show(console, rig_view, args.all)
        if rig_view.assessment.outcome() is Outcome.OVER and worst is Exit.FINE:
            worst = Exit.OVER
    return worst


def show(console: Console, rig_view: RigView, everything: bool) -> None:
    """Print the findings of one rig, worst first."""
    from rich.markup import escape
    from rich.table import Table

    from cardgen.model.results import Outcome

    styles = {
        Outcome.OVER: "bold red",
        Outcome.NOT_CHECKED: "bold",
        Outcome.CLOSE: "yellow",
        Outcome.WITHIN: "green",
    }
    counts = {o: len(rig_view.outcome(o)) for o in styles}
    words = ", ".join(f"{n} {o.value}" for o, n in counts.items() if n)
    console.print(f"[bold]{escape(rig_view.rig.nickname)}[/bold]: {words}")
    table = Table(box=None, padding=(0, 2, 0, 0), show_header=False)
    for whole in (True, True, False):  # an outcome or code that is cut or folded cannot be looked up
        table.add_column(no_wrap=whole, overflow="fold")
    for finding in rig_view.findings:
        if finding.outcome is Outcome.WITHIN and not everything:
            continue
        case = f" ({finding.case})" if finding.case else ""
        table.add_row(
            f"[{styles[finding.outcome]}]{finding.outcome.value}[/]",
            escape(finding.code),
            escape(rig_view.say(f"{finding.title}: {rig_view.formatter.told(finding)}") + case),
        )
    if table.row_count:
        console.print(table)
    for due in rig_view.checklist.due:
        if due.state == "due":
            console.print(f"due  {escape(due.title)}: {escape(due.interval)}")
