"""What the commands share: which rigs, which day, where words go."""

from __future__ import annotations

import argparse
import datetime as dt
import re
import sys
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cardgen.model.read import ReadResult
    from cardgen.present.rig_view import RigView


_YEARS = range(1990, 2101)
"""Years in which a card may be made; due dates are reckoned from there."""


_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
"""The one form; the library reads week days and days without dashes as well."""


def add_rigs(parser: argparse.ArgumentParser, many: bool = True) -> None:
    """Add the arguments that choose rigs."""
    parser.add_argument(
        "rigs", nargs="*" if many else 1, metavar="RIG", help="rig file, or its name in the rigs folder"
    )
    parser.add_argument(
        "--rigs-dir", type=Path, default=Path("rigs"), metavar="FOLDER", help="folder of the rigs"
    )


def add_day(parser: argparse.ArgumentParser) -> None:
    """Add the build date."""
    parser.add_argument(
        "--date",
        type=day,
        default=None,
        metavar="YYYY-MM-DD",
        help="day for ages and due dates (default: today)",
    )


def add_units(parser: argparse.ArgumentParser) -> None:
    """Add the choice of units."""
    parser.add_argument("--units", choices=("us", "metric"), help="units on everything printed")


def day(text: str) -> dt.date:
    """Read a day from the command line."""
    try:
        found = dt.date.fromisoformat(text if _DAY.fullmatch(text) else "")
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is not a day written YYYY-MM-DD") from None
    if found.year not in _YEARS:
        raise argparse.ArgumentTypeError(f"'{text}' is far from now, check the year")
    return found


def today(args: argparse.Namespace) -> dt.date:
    """The day asked for, else today's; the only place where a command looks at the clock."""
    asked: dt.date | None = args.date
    return asked if asked is not None else dt.date.today()


def say(text: str) -> None:
    """Write a diagnostic to stderr; what would move the cursor or hide words, in a name say, is escaped."""
    print("".join(map(_plain, text)), file=sys.stderr)


def refused(faults: Iterable[str]) -> bool:
    """Tell what is wrong with a command line; whether there was anything."""
    told = list(faults)
    for fault in told:
        say(fault)
    return bool(told)


def _plain(one: str) -> str:
    kept = one.isprintable() or one in "\n\t\u200c\u200d\u200e\u200f" or unicodedata.category(one) == "Zs"
    return one if kept else one.encode("unicode_escape").decode("ascii")


def write_new(path: Path, text: str) -> str | None:
    """Write a text to a file that is not there yet; return what was in the way, None when it is done."""
    try:
        with path.open("x", encoding="utf-8", newline="") as stream:
            stream.write(text)
    except FileExistsError:
        return f"'{path}' exists already and is left as it is; name another file"
    except OSError as problem:
        return f"'{path}' cannot be written: {problem.strerror}"
    return None


def rig_paths(names: Iterable[str], folder: Path) -> tuple[list[Path], list[str]]:
    """Turn names into rig files; return the files and a sentence for each name that is none."""
    from cardgen.source.suggest import nearest

    found, faults = [], []
    known = sorted(p for p in folder.glob("*.yaml")) if _is(folder, Path.is_dir) else []
    asked = list(names)
    if not asked:
        if not known:
            faults.append(f"no rig files in '{folder}'; write one with: cardgen new NAME")
        return known, faults
    for name in asked:
        path = Path(name)
        inside = folder / f"{name}.yaml"
        if path.suffix in (".yaml", ".yml") and _is(path, Path.is_file):
            found.append(path)
        elif _is(inside, Path.is_file):
            found.append(inside)
        else:
            close = nearest(name, [p.stem for p in known])
            hint = f"did you mean '{close}'?" if close else f"known rigs: {', '.join(p.stem for p in known)}"
            faults.append(f"no rig '{name[:80]}' in '{folder}'; {hint}")
    return found, faults


def _is(path: Path, kind: Callable[[Path], bool]) -> bool:
    """Whether there is such a file or folder; no when the name is none that a system takes."""
    try:
        return kind(path)
    except OSError:
        return False


def read_rigs(paths: Iterable[Path]) -> Iterator[tuple[Path, ReadResult]]:
    """Read rig files, telling every fault on stderr."""
    from cardgen.bundle.reading import read_rig

    for path in paths:
        result = read_rig(path)
        for fault in result.faults:
            say(str(fault))
        yield path, result


def view_of(result: ReadResult, args: argparse.Namespace) -> RigView:
    """Assess a sound rig for the day and units of the command line."""
    from cardgen.present.prepare import prepare

    assert result.rig is not None  # callers look first
    return prepare(result.rig, today(args), None, args.units)
