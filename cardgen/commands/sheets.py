"""``cardgen sheets``: finished cards placed on letter or A4 paper, ready for the printer."""

from __future__ import annotations

import argparse
import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.commands import build, common
from cardgen.commands.exits import Exit

if TYPE_CHECKING:
    from cardgen.bundle.manifest import CardOutput, RigOutput
    from cardgen.render.sheets import SheetOptions
    from cardgen.units.show import Base

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
    add("--since", type=_since, metavar="REVISION|DATE", help="only cards whose print changed after it")
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


def _since(text: str) -> int | dt.date:
    """Read a revision or a day."""
    try:
        return int(text) if text.isdigit() else dt.date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is no revision and no day such as 2026-11-25") from None


def run(args: argparse.Namespace) -> int:
    """Write one print-ready PDF of what lies in the output folder, per paper; what is not there is built first."""
    from cardgen.bundle.errors import OutputRefusedError
    from cardgen.commands.wishes import wish_faults

    if common.refused(wish_faults(args.cards)):
        return Exit.USAGE
    try:
        made = _build_missing(args)
        if made not in (Exit.FINE, Exit.OVER):
            return made
        entries = _entries(args)
    except OutputRefusedError as problem:
        common.say(str(problem))
        return Exit.REFUSED
    if not entries:
        common.say("no rig has been built; see the messages above")
        return Exit.USAGE
    over = Exit.OVER if any(entry.over for entry in entries.values()) else Exit.FINE
    return _write(args, entries) or over


def _build_missing(args: argparse.Namespace) -> int:
    """Build the rigs that do not lie in the output folder; tell of those that changed since they were built."""
    from cardgen.bundle.inputs import Bytes
    from cardgen.bundle.manifest import read_manifest
    from cardgen.bundle.plan import relative

    paths, faults = common.rig_paths(args.rigs, args.rigs_dir)
    if common.refused(faults):
        return Exit.USAGE
    known = {entry.source: entry for entry in read_manifest(args.out).rigs.values()}
    missing, read = [], Bytes()
    for path in paths:
        entry = known.get(relative(path, args.out))
        if entry is None or not entry.files:
            missing.append(str(path))
        elif any(read.mark(args.out / name) != sha for name, sha in entry.inputs.items()):
            common.say(f"{path}: changed since it was built; the sheets hold what lies in '{args.out}'")
    if not missing:
        return Exit.FINE
    parser = argparse.ArgumentParser()
    build.add(parser)
    words = [*missing, "--rigs-dir", str(args.rigs_dir), "--out", str(args.out), "--quiet"]
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
        asked = args.changed or args.since is not None
        why = ": nothing changed since" if asked else unmade
        common.say(f"no card to print{why}")
        return Exit.FINE
    papers = _papers(args, entries)
    code: int = Exit.FINE
    for paper in dict.fromkeys(papers[slug] for slug in found):
        group = {slug: cards for slug, cards in found.items() if papers[slug] == paper}
        names = {slug: entries[slug].nickname for slug in group}
        code = _print(args, paper, _fitting(group, paper), names) or code
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
        slug: "a4"
        if rig is not None and base_of(units_of(rig, _units(args, slug, entries))) == "metric"
        else "letter"
        for slug, rig in rigs.items()
    }


def _units(args: argparse.Namespace, slug: str, entries: dict[str, RigOutput]) -> Base | None:
    """Units asked for now, else those asked for when the rig was built."""
    units: Base | None = args.units or entries[slug].wishes.get("units")
    return units


def _is_since(card: CardOutput, since: int | dt.date | None) -> bool:
    """Whether a card's print changed after a revision or a day."""
    if since is None:
        return True
    return card.number > since if isinstance(since, int) else card.day > since.isoformat()


def _cards(args: argparse.Namespace, slug: str, entry: RigOutput) -> dict[Path, bytes]:
    """The finished cards of a rig that were asked for."""
    found = {}
    for card, one in entry.cards.items():
        path = args.out / slug / f"{card}.pdf"
        chosen = not args.cards or card in args.cards
        wanted = (not args.changed or one.number == entry.number) and _is_since(one, args.since)
        if chosen and wanted and path.is_file():
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


def _print(args: argparse.Namespace, paper: str, rigs: dict[str, list[bytes]], names: dict[str, str]) -> int:
    """Write the sheets of one paper."""
    from cardgen.render.sheets import duplex_sheets, fold_sheets

    if not rigs:
        common.say(f"no card goes on {paper} paper")
        return Exit.USAGE
    place = duplex_sheets if args.duplex else fold_sheets
    sheets = place(list(rigs.values()), _options(args, paper), [names[slug] for slug in rigs])
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
