"""``cardgen match``: a rig's trailer behind every vehicle, and its vehicle with every trailer."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from cardgen.commands import common
from cardgen.commands.exits import Exit

if TYPE_CHECKING:
    from rich.console import Console

    from cardgen.present.matrix import Cell

HELP = "check a rig's trailer behind every shared vehicle, and its vehicle with every shared trailer"
_ABOUT = """\
Prints the table that the page of all rigs shows, for one rig. Vehicles and trailers that can be matched are
files of their own in parts/vehicles and parts/trailers beside the rig. What is found for a pair that is no rig
does not change the exit code."""


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    common.add_rigs(parser, many=False)
    common.add_day(parser)
    parser.description = _ABOUT


def run(args: argparse.Namespace) -> int:
    """Print both lists."""
    import textwrap

    from rich.console import Console

    from cardgen.bundle.pages import matches_of

    paths, faults = common.rig_paths(args.rigs, args.rigs_dir)
    if common.refused(faults):
        return Exit.USAGE
    path, read = next(iter(common.read_rigs(paths)))
    if read.rig is None:
        return Exit.FAULTS
    files = {*path.parent.glob("*.yaml"), path}
    found = matches_of(path, sorted(files), common.today(args))
    if not found:
        common.say(
            f"'{path}' describes {read.rig.alone or 'vehicle and trailer'} in the file itself; to match one of them, move its lines "
            "to parts/vehicles/NAME.yaml or parts/trailers/NAME.yaml and write 'part: vehicles/NAME' or "
            "'part: trailers/NAME' in their place"
        )
        return Exit.USAGE
    console = Console(soft_wrap=True, highlight=False)
    for matrix in found:
        if len(matrix.rows) == 1:
            rows = list(zip(matrix.trailers, matrix.rows[0][1], strict=True))
            _print(console, f"{matrix.rows[0][0]} with each trailer", rows)
        elif matrix.rows:
            rows = [(name, cells[0]) for name, cells in matrix.rows]
            _print(console, f"{matrix.trailers[0]} behind each vehicle", rows)
    for note in dict.fromkeys(note for matrix in found for note in matrix.notes):
        print(textwrap.fill(note, 80))
    return Exit.FINE


def _print(console: Console, title: str, rows: list[tuple[str, Cell]]) -> None:
    from rich.markup import escape
    from rich.table import Table

    styles = {"over": "bold red", "close": "yellow", "unknown": "bold", "within": "green"}
    console.print(f"[bold]{escape(title)}[/bold]")
    table = Table(box=None, padding=(0, 2, 0, 0), show_header=False)
    for whole in (False, True, False):
        table.add_column(no_wrap=whole, overflow="fold")
    for name, cell in rows:
        own = f" (rig {cell.own})" if cell.own else ""
        table.add_row(escape(name), f"[{styles[cell.level]}]{cell.word}[/]", escape(cell.limit + own))
    console.print(table)
    console.print()
