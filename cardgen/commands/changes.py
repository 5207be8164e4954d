"""``cardgen changes``: what changed between two revisions of a rig, and what to print again."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.commands import common
from cardgen.commands.exits import Exit

if TYPE_CHECKING:
    from cardgen.bundle.ledger import Ledger, RigRevision

HELP = "tell what changed between two revisions of a rig and which cards to print again"


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    common.add_rigs(parser, many=False)
    add = parser.add_argument
    add("--from", dest="old", type=int, metavar="N", help="revision you hold (default: the one before)")
    add("--to", dest="new", type=int, metavar="N", help="revision to compare with (default: the newest)")
    add("--all", action="store_true", help="every revision, newest first")


def run(args: argparse.Namespace) -> int:
    """Print the changes."""
    folder, fault = _folder(args.rigs[0], args.rigs_dir)
    if folder is None:
        common.say(fault)
        return Exit.USAGE
    from cardgen.bundle.ledger import read_ledger, rivalry

    ledger = read_ledger(folder)
    faults = (*ledger.faults, *(rivalry(ledger.rivals) if ledger.rivals else ()))
    for one in faults:
        common.say(str(one))
    if ledger.faults:
        return Exit.FAULTS
    if ledger.last is None:
        common.say(f"'{folder.name}' has no revisions yet; the first 'cardgen build' enters one")
        return Exit.USAGE
    code = _all(ledger) if args.all else _two(ledger, args.old, args.new)
    return Exit.FAULTS if faults else code


def _folder(name: str, rigs: Path) -> tuple[Path | None, str]:
    """Folder of a rig's revisions, for a rig file, a name in the rigs folder, a nickname or slug."""
    from cardgen.bundle.inputs import nickname_in
    from cardgen.bundle.ledger import FOLDER
    from cardgen.model.slug import slug

    paths, faults = common.rig_paths([name], rigs)
    if paths:
        try:
            nickname = nickname_in(paths[0].read_bytes())
        except OSError as problem:
            return None, f"'{paths[0]}' cannot be read: {problem.strerror}"
        return paths[0].parent / FOLDER / slug(nickname), ""
    folder = rigs / FOLDER / slug(name)
    return (folder, "") if folder.is_dir() else (None, faults[0])


def _all(ledger: Ledger) -> int:
    from cardgen.bundle.changes import history

    for told in history(ledger.revisions):
        titles = _titles(ledger)
        print(f"revision {told.number} of {told.day}")
        for words in told.words or ("first revision",):
            print(f"  {words}")
        print(f"  print again: {', '.join(titles.get(one, one) for one in told.reprint) or 'nothing'}")
    return Exit.FINE


def _two(ledger: Ledger, old: int | None, new: int | None) -> int:
    from cardgen.bundle.changes import change

    assert ledger.last is not None  # the caller looked
    later = ledger.last if new is None else _numbered(ledger, new)
    before = [one for one in ledger.revisions if later and one.number < later.number]
    earlier = (before[-1] if before else None) if old is None else _numbered(ledger, old)
    if later is None or (earlier is None and old is not None):
        known = ", ".join(str(one.number) for one in ledger.revisions)
        common.say(f"there is no such revision; there are: {known}")
        return Exit.USAGE
    if earlier is None:
        print(f"{later.nickname}: revision {later.number} of {later.day} is the first; print all cards")
        return Exit.FINE
    told = change(earlier, later)
    span = f"from revision {earlier.number} of {earlier.day} to revision {later.number} of {later.day}"
    print(f"{later.nickname}: {span}")
    for words in told.words or ("nothing that is printed changed",):
        print(f"  {words}")
    titles = _titles(ledger)
    print(f"print again: {', '.join(titles.get(one, one) for one in told.reprint) or 'nothing'}")
    current = [card.title for name, card in later.cards.items() if name not in told.reprint]
    if current:
        print(f"still current: {', '.join(current)}")
    if told.withdrawn:
        print(f"no longer made: {', '.join(titles.get(one, one) for one in told.withdrawn)}")
    return Exit.FINE


def _numbered(ledger: Ledger, number: int) -> RigRevision | None:
    return next((one for one in ledger.revisions if one.number == number), None)


def _titles(ledger: Ledger) -> dict[str, str]:
    return {name: card.title for one in ledger.revisions for name, card in one.cards.items()}
