"""``cardgen cargo``: the cargo lists of a rig to a spreadsheet and back."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.commands import common
from cardgen.commands.exits import Exit

if TYPE_CHECKING:
    from cardgen.commands.sheet import Sheet
    from cardgen.model.rig import Rig
    from cardgen.source.parts import Loaded
    from cardgen.source.tree import Tree

HELP = "write the cargo lists as a spreadsheet (CSV), or read them from one"
_ABOUT = """\
Export writes one row per thing carried in trailer and vehicle. Import checks the sheet together with
the rig and prints the lists as lines for the rig file; it changes no file of yours."""


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    common.add_rigs(parser, many=False)
    parser.description = _ABOUT
    way = parser.add_mutually_exclusive_group(required=True)
    way.add_argument("--export", metavar="FILE", help="write the lists there ('-': stdout)")
    way.add_argument("--import", dest="sheet", type=Path, metavar="FILE", help="read the lists from there")
    parser.add_argument(
        "--separator",
        choices=("comma", "semicolon", "tab"),
        default="comma",
        help="between cells, for export; import finds out itself (default: comma)",
    )
    parser.add_argument(
        "--out", type=Path, metavar="FILE", help="new file for the imported lines (default: stdout)"
    )


def run(args: argparse.Namespace) -> int:
    """Export or import the lists of one rig."""
    paths, faults = common.rig_paths(args.rigs, args.rigs_dir)
    if common.refused(faults):
        return Exit.USAGE
    return _export(args, paths[0]) if args.sheet is None else _import(args, paths[0])


def _export(args: argparse.Namespace, path: Path) -> int:
    from cardgen.commands.sheet import SEPARATORS, write_sheet

    if args.out is not None:
        common.say("--out belongs to --import; give the file to --export itself")
        return Exit.USAGE
    _, read = next(iter(common.read_rigs([path])))
    if read.rig is None:
        return Exit.FAULTS
    rig, separator = read.rig, SEPARATORS[args.separator]
    lists = (rig.trailer.cargo, rig.vehicle.cargo)
    if args.export == "-":
        sys.stdout.write(write_sheet(*lists, separator, "\n"))
        return Exit.FINE
    # Spreadsheets take a file for UTF-8 only when it starts with a byte order mark.
    text = "\ufeff" + write_sheet(*lists, separator)
    return _write_new(Path(args.export), text)


def _write_new(path: Path, text: str) -> int:
    """Write a file that is not there yet."""
    trouble = common.write_new(path, text)
    if trouble is not None:
        common.say(trouble)
        return Exit.REFUSED
    print(path)
    return Exit.FINE


def _import(args: argparse.Namespace, path: Path) -> int:
    from cardgen.bundle.reading import FURTHER
    from cardgen.commands.sheet import read_sheet
    from cardgen.model.read import judge
    from cardgen.source.disk import Disk
    from cardgen.source.faults import shown
    from cardgen.source.limits import Bounds
    from cardgen.source.parts import load
    from cardgen.source.tree import plain_tree

    bounds = Bounds()
    try:
        raw = Disk().read_bytes(args.sheet, bounds.size)
    except OSError as problem:
        common.say(f"'{args.sheet}' cannot be read: {problem.strerror}")
        return Exit.USAGE
    name = shown(args.sheet)
    sheet = read_sheet(raw, name, bounds)
    loaded = load(path, Disk(), bounds)
    read = None
    if not sheet.faults or any(sheet.lists.values()):
        read = judge(_with_cargo(loaded, sheet, name), path, FURTHER)
    faults = [*sheet.faults, *(read.faults if read else loaded.faults)]
    for found in sorted(set(faults), key=lambda one: (one.file != name, one)):
        common.say(str(sheet.named(found) if found.file == name else found))
    if faults or read is None or read.rig is None or loaded.top is None:
        return Exit.FAULTS
    text = "".join(_lines(read.rig, plain_tree(loaded.top), shown(path), name))
    if args.out is not None:
        return _write_new(args.out, text)
    sys.stdout.write(text)
    return Exit.FINE


def _with_cargo(loaded: Loaded, sheet: Sheet, name: str) -> Loaded:
    """Put the lists of a sheet in the place of the rig's own."""
    from dataclasses import replace

    from cardgen.source.faults import Place
    from cardgen.source.tree import Keyed, branch

    top = loaded.top
    holes = set(loaded.holes)
    if top is None or not isinstance(top.value, dict):
        return loaded
    sides = dict(top.value)
    place = Place(name)
    for side, nodes in sheet.lists.items():
        entry = sides.get(side)
        if entry is None or not isinstance(entry.value.value, dict):
            continue
        lines = {**entry.value.value, "cargo": Keyed(place, branch(nodes, place))}
        sides[side] = Keyed(entry.key, branch(lines, entry.value.place))
        if side in sheet.torn:
            holes.add(f"{side}.cargo")
    return replace(loaded, top=branch(sides, top.place), holes=frozenset(holes))


def _lines(rig: Rig, tree: Tree, file: str, name: str) -> Iterator[str]:
    """The lists as lines of a rig file, with where they belong."""
    from cardgen.commands.sheet import OWN, SIDES
    from cardgen.source.write import quoted, scalar
    from cardgen.units.quantity import Quantity

    yield f"# Cargo of {quoted(rig.nickname)}, read from {name}.\n"
    for side in SIDES:
        mark = tree.marks.get((side, "cargo"))
        now = f"now in {mark.key.file}, line {mark.key.line}" if mark and mark.key else "in no file yet"
        yield f"# {side}.cargo: {now}\n"
    yield "# Put each list in the place of the old one (a part has no 'trailer:' or 'vehicle:' line),\n"
    yield f"# or both in {file}, where they win over those of a part.\n"
    for side in SIDES:
        loads = getattr(rig, side).cargo
        yield f"{side}:\n  cargo:{'' if loads else ' []'}\n"
        for load in loads:
            lead = "    - "
            for field in OWN[side]:
                value = getattr(load, field)
                if value is None or (field == "movable" and value):
                    continue
                text = value.text if isinstance(value, Quantity) else str(value)
                yield f"{lead}{field}: {'false' if value is False else scalar(text)}\n"
                lead = "      "
