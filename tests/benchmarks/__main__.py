"""All benchmarks: ``python -m tests.benchmarks``; nothing runs them by default.

Takes some minutes. ``--full`` prints a fleet of 1,000 rigs for real, which takes the better
part of an hour. Results are medians with their spread; times are of the wall clock in
processes of their own unless a row says otherwise.
"""

from __future__ import annotations

import argparse
import os
import platform
import tempfile
from collections.abc import Callable
from pathlib import Path

from tests.benchmarks import measures, seen
from tests.benchmarks.harness import Table, snapshot


def main() -> None:
    """Measure everything."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--full", action="store_true", help="print a fleet of 1,000 rigs for real")
    parser.add_argument("--quick", action="store_true", help="few rounds and small fleets")
    parser.add_argument("--rigs", type=int, metavar="N", help="largest fleet (default: 1000; 100 when quick)")
    parser.add_argument("--json", type=Path, metavar="FILE", help="write all values as JSON")
    parser.add_argument("--only", action="append", default=[], metavar="WORD", help="part to run; may repeat")
    args = parser.parse_args()
    few, many = (2, 5) if args.quick else (5, 15)
    most = args.rigs or (100 if args.quick else 1000)
    sizes = (*(size for size in (10, 100) if size < most), most)
    fleet, jobs = (1000, (2,)) if args.full else (6 if args.quick else 24, (1, 2))
    table = Table()
    print(f"Python {platform.python_version()}, {platform.platform()}, {os.cpu_count()} processors")
    with tempfile.TemporaryDirectory(prefix="cardgen-bench-") as name:
        place = Path(name)
        for inner in ("edit", "loaded", "preview"):
            (place / inner).mkdir()
        snapshot(place / "code")
        parts: dict[str, Callable[[], None]] = {
            "start": lambda: measures.start_up(table, many),
            "assess": lambda: measures.assessments(table, many),
            "report": lambda: measures.one_report(table, few),
            "edit": lambda: measures.one_edit(table, place / "edit", few),
            "loaded": lambda: measures.loaded(table, place / "loaded", few),
            "reports": lambda: measures.reports(table, place, sizes),
            "growth": lambda: measures.growth(table, place, sizes, few),
            "browser": lambda: measures.against_a_browser(table, few),
            "all rigs": lambda: seen.all_rigs(table, place, many),
            "preview": lambda: seen.preview(table, place / "preview", many),
            "print": lambda: measures.printing(table, place / "print", fleet, jobs),
        }
        for part, run in parts.items():
            if not args.only or part in args.only:
                run()
    if args.json:
        table.write(args.json)


if __name__ == "__main__":
    main()
