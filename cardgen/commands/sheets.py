"""``cardgen sheets``: finished cards placed on letter or A4 paper, ready for the printer."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.commands import build, common
from cardgen.commands.exits import Exit

if TYPE_CHECKING:
    from cardgen.bundle.manifest import RigOutput
    from cardgen.render.sheets import SheetOptions

HELP = "put finished cards on sheets for printing"
FOLDER = "sheets"


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    common.add_rigs(parser)
    common.add_day(parser)
    common.add_units(parser)
    add = parser.add_argument
    add("--out", type=Path, default=Path("build"), metavar="FOLDER", help="output folder (default: build)")
    add(
        "--cards", type=build.names, default=(), metavar="ID,ID", help="cards to put on sheets (default: all)"
    )
    add("--changed", action="store_true", help="only cards whose print changed in the newest revision")
    add("--paper", choices=("letter", "a4"), help="paper (default: letter in US units, else A4)")
    add(
        "--duplex",
        choices=("long", "short"),
        help="both sides, turned about this edge (default: fold sheets)",
    )
    add("--nudge", type=_nudge, default=(0.0, 0.0), metavar="X,Y", help="move the backs by X,Y mm")
    add("--copies", type=int, choices=range(1, 51), default=1, metavar="N", help="copies of every card")
    add("--corners", action="store_true", help="mark rounded corners")
    add("--hole", action="store_true", help="mark a punch hole")
    add("--mixed", action="store_true", help="let cards of several rigs share a sheet")


def _nudge(text: str) -> tuple[float, float]:
    try:
        x, y = (float(part) for part in text.split(","))
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is not two numbers in mm, such as 0.5,-1") from None
    if max(abs(x), abs(y)) > 10:
        raise argparse.ArgumentTypeError("a nudge of more than 10 mm is a slip of the pen")
    return x, y


def run(args: argparse.Namespace) -> int:
    """Build what is missing, then write one print-ready PDF for all rigs asked for, per paper."""
    from cardgen.commands.wishes import wish_faults

    faults = wish_faults(args.cards)
    if common.refused(faults):
        return Exit.USAGE
    made = _build(args)
    if made not in (Exit.FINE, Exit.OVER):
        return made
    entries = _entries(args)
    if not entries:
        common.say("no rig has been built; see the messages above")
        return Exit.USAGE
    return _write(args, entries) or made


def _build(args: argparse.Namespace) -> int:
    parser = argparse.ArgumentParser()
    build.add(parser)
    words = [*args.rigs, "--rigs-dir", str(args.rigs_dir), "--out", str(args.out), "--quiet"]
    words += ["--date", args.date.isoformat()] if args.date else []
    words += ["--units", args.units] if args.units else []
    return build.run(parser.parse_args(words))


def _entries(args: argparse.Namespace) -> dict[str, RigOutput]:
    """Entries of the rigs asked for, by folder name."""
    from cardgen.bundle.manifest import read_manifest
    from cardgen.bundle.plan import relative

    manifest = read_manifest(args.out)
    paths, _ = common.rig_paths(args.rigs, args.rigs_dir)
    wanted = {relative(path, args.out) for path in paths}
    return {slug: entry for slug, entry in manifest.rigs.items() if entry.source in wanted}


def _write(args: argparse.Namespace, entries: dict[str, RigOutput]) -> int:
    found = {slug: cards for slug, entry in entries.items() if (cards := _cards(args, slug, entry))}
    if not found:
        unmade = f": no rig makes {', '.join(args.cards)}; name it in preferences.cards" if args.cards else ""
        why = ": nothing changed in the newest revisions" if args.changed else unmade
        common.say(f"no card to print{why}")
        return Exit.FINE
    papers = _papers(args, entries)
    code: int = Exit.FINE
    for paper in dict.fromkeys(papers[slug] for slug in found):
        group = {slug: cards for slug, cards in found.items() if papers[slug] == paper}
        code = _print(args, paper, _fitting(group, paper)) or code
    return code


def _papers(args: argparse.Namespace, entries: dict[str, RigOutput]) -> dict[str, str]:
    """The paper of each rig: the one asked for, else A4 when it is printed in metric units."""
    if args.paper:
        return dict.fromkeys(entries, args.paper)
    from cardgen.bundle.plan import relative
    from cardgen.model.written import units_of
    from cardgen.units import base_of

    paths, _ = common.rig_paths(args.rigs, args.rigs_dir)
    read = {relative(path, args.out): result.rig for path, result in common.read_rigs(paths)}
    rigs = {slug: read.get(entry.source) for slug, entry in entries.items()}
    return {
        slug: "a4" if rig is not None and base_of(units_of(rig, args.units)) == "metric" else "letter"
        for slug, rig in rigs.items()
    }


def _cards(args: argparse.Namespace, slug: str, entry: RigOutput) -> dict[Path, bytes]:
    """The finished cards of a rig that were asked for."""
    found = {}
    for card, one in entry.cards.items():
        path = args.out / slug / f"{card}.pdf"
        chosen = not args.cards or card in args.cards
        if chosen and (not args.changed or one.number == entry.number) and path.is_file():
            found[path] = path.read_bytes()
    return found


def _fitting(rigs: dict[str, dict[Path, bytes]], paper: str) -> dict[str, list[bytes]]:
    """The cards that go on the paper; the others are named."""
    from cardgen.render.sheets import goes_on

    kept: dict[str, list[bytes]] = {}
    for slug, cards in rigs.items():
        for path, card in cards.items():
            if goes_on(card, paper):
                kept.setdefault(slug, []).append(card)
            else:
                common.say(f"left out: '{path}' is larger than {paper} paper; print it as it is on its own")
    return kept


def _print(args: argparse.Namespace, paper: str, rigs: dict[str, list[bytes]]) -> int:
    """Write the sheets of one paper."""
    from cardgen.render.sheets import duplex_sheets, fold_sheets

    if not rigs:
        common.say(f"no card goes on {paper} paper")
        return Exit.USAGE
    place = duplex_sheets if args.duplex else fold_sheets
    sheets = place(list(rigs.values()), _options(args, paper))
    who = next(iter(rigs)) if len(rigs) == 1 else "all-rigs"
    target = args.out / FOLDER / f"{who}-{paper}-{f'duplex-{args.duplex}' if args.duplex else 'fold'}.pdf"
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        aside = target.with_suffix(".part")
        aside.write_bytes(sheets.pdf)
        aside.replace(target)
    except OSError as problem:
        common.say(f"cannot write '{target}': {problem.strerror}")
        return Exit.REFUSED
    for note in sheets.notes:
        common.say(f"note: {note}")
    print(f"{target} ({sheets.pages} pages)")
    return Exit.FINE


def _options(args: argparse.Namespace, paper: str) -> SheetOptions:
    from cardgen.render.sheets import SheetOptions

    return SheetOptions(
        paper=paper,
        flip=args.duplex or "long",
        nudge=args.nudge,
        copies=args.copies,
        corners=args.corners,
        hole=args.hole,
        one_rig_per_sheet=not args.mixed,
    )
