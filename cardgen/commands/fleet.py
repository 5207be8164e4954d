"""``cardgen fleet-demo``: many varied, valid rigs to try and to measure with."""

from __future__ import annotations

import argparse
from pathlib import Path

from cardgen.commands import common
from cardgen.commands.exits import Exit

HELP = "write many varied demo rigs, for trying fleets and for benchmarks"


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.add_argument("count", type=_count, metavar="N", help="number of rigs, 1 to 100000")
    parser.add_argument(
        "--out", type=Path, default=Path("rigs"), metavar="FOLDER", help="new or empty folder (default: rigs)"
    )
    parser.add_argument(
        "--seed", type=int, default=1, metavar="N", help="other seed, other rigs (default: 1)"
    )


def _count(text: str) -> int:
    if not text.isdigit() or not 1 <= int(text) <= 100_000:
        raise argparse.ArgumentTypeError(f"'{text}' is not a number from 1 to 100000")
    return int(text)


def run(args: argparse.Namespace) -> int:
    """Write the rigs."""
    from cardgen.bundle.fleet import fleet
    from cardgen.commands.demo import demo_rigs

    out: Path = args.out
    try:
        if out.exists() and (not out.is_dir() or any(out.iterdir())):
            common.say(f"'{out}' is not empty; choose a new folder with --out")
            return Exit.REFUSED
        for name, text in fleet(args.count, args.seed, demo_rigs()):
            path = out / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
    except OSError as problem:
        common.say(f"'{out}' cannot be written: {problem.strerror}")
        return Exit.REFUSED
    print(f"{args.count} rigs in {out}; build them with: cardgen build --rigs-dir {out}")
    return Exit.FINE
