"""``cardgen changes``: what the rig files print otherwise than the cards handed out, and what to print again."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.commands import common
from cardgen.commands.exits import Exit

if TYPE_CHECKING:
    from cardgen.bundle.ledger import Ledger, RigRevision

HELP = "tell what changed since a revision and which cards to print again"


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    common.add_rigs(parser)
    common.add_day(parser)
    add = parser.add_argument
    add(
        "--from",
        dest="old",
        type=int,
        metavar="N",
        help="revision you hold (default: the newest that differs)",
    )
    add(
        "--to",
        dest="new",
        type=int,
        metavar="N",
        help="revision to compare with (default: the file as it stands)",
    )
    add("--all", action="store_true", help="every revision, newest first")
    add("--out", type=Path, default=Path("build"), metavar="FOLDER", help="output folder (default: build)")


def run(args: argparse.Namespace) -> int:
    """Print the changes of every rig asked for."""
    from cardgen.bundle.errors import MissingError, OutputRefusedError

    names = args.rigs or [str(path) for path in common.rig_paths([], args.rigs_dir)[0]]
    if not names:
        common.say(f"there is no rig file in '{args.rigs_dir}'")
        return Exit.USAGE
    code: int = Exit.FINE
    try:
        for name in names:
            code = max(code, _rig(args, name, alone=bool(args.rigs)))
    except OutputRefusedError as problem:
        common.say(str(problem))
        return Exit.REFUSED
    except MissingError as problem:
        common.say(str(problem))
        return Exit.ENVIRONMENT
    return code


def _rig(args: argparse.Namespace, name: str, *, alone: bool) -> int:
    """Print the changes of one rig."""
    from cardgen.bundle.ledger import read_ledger, rivalry

    folder, file, fault = _folder(name, args.rigs_dir)
    if folder is None:
        common.say(fault)
        return Exit.USAGE
    ledger = read_ledger(folder)
    faults = (*ledger.faults, *(rivalry(ledger.rivals) if ledger.rivals else ()))
    for one in faults:
        common.say(str(one))
    if ledger.faults:
        return Exit.FAULTS
    if ledger.last is None:
        common.say(f"'{folder.name}' has no revisions yet; the first 'cardgen build' enters one")
        return Exit.USAGE if alone else Exit.FINE
    if args.all:
        code: int = _all(ledger)
    else:
        now, code = (None, Exit.FINE) if file is None or ledger.rivals or args.new else _standing(args, file)
        code = code or _two(ledger, now, args.old, args.new)
    return Exit.FAULTS if faults else code


def _folder(name: str, rigs: Path) -> tuple[Path | None, Path | None, str]:
    """Folder of a rig's revisions, and its file, for a rig file, a name in the rigs folder, a nickname or slug."""
    from cardgen.bundle.ledger import FOLDER
    from cardgen.bundle.reading import read_rig
    from cardgen.model.slug import slug

    paths, faults = common.rig_paths([name], rigs)
    if paths:
        from cardgen.bundle.inputs import nickname_in

        rig = read_rig(paths[0]).rig
        try:
            nickname = rig.nickname if rig else nickname_in(paths[0].read_bytes())
        except OSError as problem:
            return None, None, f"'{paths[0]}' cannot be read: {problem.strerror}"
        return paths[0].parent / FOLDER / slug(nickname), paths[0], ""
    folder = rigs / FOLDER / slug(name)
    return (folder, None, "") if folder.is_dir() else (None, None, faults[0])


def _standing(args: argparse.Namespace, file: Path) -> tuple[RigRevision | None, int]:
    """The rig as its file stands, built as it was built last; None where it prints the newest revision."""
    from cardgen.bundle import plan
    from cardgen.bundle.inputs import Bytes
    from cardgen.bundle.make import standing
    from cardgen.bundle.manifest import read_manifest
    from cardgen.bundle.work import Options
    from cardgen.commands.build import own_templates

    manifest = read_manifest(args.out)
    options = Options(day=common.today(args), templates=own_templates(args.rigs_dir))
    entry = next((one for one in manifest.rigs.values() if one.source == plan.relative(file, args.out)), None)
    if entry is not None:
        options = replace(options.like(entry.wishes), html_only=False)
    request = plan.Request(files=(file,), whole=False, out=args.out, options=options, maker=plan.MAKER)
    rig, decision = standing(plan.order_of(request, manifest, Bytes(), file))
    if rig.status == "misdirected":
        rig, decision = standing(plan.order_of(request, manifest, Bytes(), file, rig.slug))
    for words in (*map(str, rig.faults), *(f"{file}: {problem}" for problem in rig.problems)):
        common.say(words)
    if decision is None:
        return None, Exit.FAULTS
    return (decision.revision if decision.new else None), Exit.FINE


def _all(ledger: Ledger) -> int:
    from cardgen.bundle.changes import history

    for told in history(ledger.revisions):
        titles = _titles(ledger)
        print(f"revision {told.number} of {told.day}")
        for words in told.words or ("first revision",):
            print(f"  {words}")
        print(f"  print again: {', '.join(titles.get(one, one) for one in told.reprint) or 'nothing'}")
    return Exit.FINE


def _two(ledger: Ledger, now: RigRevision | None, old: int | None, new: int | None) -> int:
    """Tell what is different between a revision and the rig as it stands, or another revision."""
    from cardgen.bundle.changes import change

    later = now or ledger.last if new is None else _numbered(ledger, new)
    assert ledger.last is not None  # the caller looked
    before = [one for one in ledger.revisions if later and one.number < later.number]
    earlier = (before[-1] if before else None) if old is None else _numbered(ledger, old)
    if later is None or (earlier is None and old is not None):
        known = ", ".join(str(one.number) for one in ledger.revisions)
        common.say(f"there is no such revision; there are: {known}")
        return Exit.USAGE
    name = (
        "the rig file as it stands, not built yet"
        if later is now
        else f"revision {later.number} of {later.day}"
    )
    if earlier is None or earlier == later:
        print(f"{later.nickname}: {name}; nothing prints otherwise since")
        _current(later)
        return Exit.FINE
    told = change(earlier, later)
    print(f"{later.nickname}: from revision {earlier.number} of {earlier.day} to {name}")
    for words in told.words or ("nothing that is printed changed",):
        print(f"  {words}")
    titles = {name: card.title for one in (*ledger.revisions, later) for name, card in one.cards.items()}
    again = [f"{titles[one]} (can wait)" if one in told.waits else titles[one] for one in told.reprint]
    print(f"print again: {', '.join(again) or 'nothing'}")
    if told.withdrawn:
        print(f"no longer made: {', '.join(titles.get(one, one) for one in told.withdrawn)}")
    _current(later)
    return Exit.FINE


def _current(revision: RigRevision) -> None:
    """Tell of each card from which revision on it holds."""
    since: dict[int, list[str]] = {}
    for card in revision.cards.values():
        since.setdefault(card.since, []).append(card.title)
    for number, titles in sorted(since.items()):
        print(f"current from revision {number} on: {', '.join(titles)}")


def _numbered(ledger: Ledger, number: int) -> RigRevision | None:
    return next((one for one in ledger.revisions if one.number == number), None)


def _titles(ledger: Ledger) -> dict[str, str]:
    return {name: card.title for one in ledger.revisions for name, card in one.cards.items()}
