"""``cardgen build``: cards and reports of all rigs, or of some."""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cardgen.commands import common
from cardgen.commands.exits import Exit

if TYPE_CHECKING:
    from cardgen.bundle.plan import Progress, Request
    from cardgen.bundle.work import Options
    from cardgen.bundle.workers import WorkerPool

HELP = "make cards and reports of all rigs, or of the rigs named"
_WORTH_PROCESSES = 6
"""Fewer rigs than this are made sooner without starting processes."""
_DAY = 86_400  # s


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    common.add_rigs(parser)
    common.add_day(parser)
    common.add_units(parser)
    add = parser.add_argument
    add("--out", type=Path, default=Path("build"), metavar="FOLDER", help="output folder (default: build)")
    add("--cards", type=names, default=(), metavar="ID,ID", help="cards to print (default: the rig's own)")
    add("--size", metavar="SIZE", help="card size (default: the rig's own)")
    add("--large-print", action="store_true", help="larger type on every card")
    add("--base-url", metavar="URL", help="address under which the output folder is served")
    add("--html-only", action="store_true", help="reports only, no PDFs")
    add("--one-file", action="store_true", help="every page with its style and script in it, none beside it")
    add("--jobs", type=_jobs, default=0, metavar="N", help="worker processes (default: one per processor)")
    add("--scheduler", metavar="ADDRESS", help="work on a Dask cluster (needs cardgen[cluster])")
    add("--wait", type=_seconds, default=10.0, metavar="SECONDS", help="wait for another build (default: 10)")
    add("--again", action="store_true", help="make everything, even what has not changed")
    add("--verify", action="store_true", help="compare the content of all output files, not only the size")
    add("--force", action="store_true", help="write over files in the way that cardgen did not write")
    add("--join-revisions", action="store_true", help="go on from two people's revisions of one number")
    add("--renamed", metavar="OLD", help="go on with the revisions of the old name of the one rig named")
    add("--recall", action="store_true", help="go on where another size, unit or type alone recalls cards")
    add("--summary-json", type=Path, metavar="FILE", help="write what was done as JSON ('-': stdout)")
    add("--quiet", action="store_true", help="print only what needs attention")


def names(text: str) -> tuple[str, ...]:
    """Read a list of names separated by commas."""
    return tuple(dict.fromkeys(name for part in text.split(",") if (name := part.strip())))


def _jobs(text: str) -> int:
    if not text.isdigit() or not 1 <= int(text) <= 512:
        raise argparse.ArgumentTypeError(f"'{text}' is not a number from 1 to 512")
    return int(text)


def _seconds(text: str) -> float:
    try:
        found = float(text)
    except ValueError:
        found = -1.0
    if not 0 <= found <= _DAY:
        raise argparse.ArgumentTypeError(f"'{text}' is not a number of seconds from 0 to {_DAY}")
    return found


def run(args: argparse.Namespace) -> int:
    """Build; the exit code says what needs attention most."""
    from cardgen.bundle.build import build
    from cardgen.bundle.errors import MissingError, OutputRefusedError
    from cardgen.commands.progress import progress
    from cardgen.commands.tell import exit_code, print_result, write_json
    from cardgen.commands.wishes import wish_faults

    began = time.monotonic()
    files, faults = common.rig_paths(args.rigs, args.rigs_dir)
    faults += wish_faults(args.cards, args.size, args.base_url)
    if args.renamed and len(files) != 1:
        faults.append("--renamed is about one rig: name its file")
    if common.refused(faults):
        return Exit.USAGE
    try:
        if not (args.recall or _agreed(args, files)):
            return Exit.USAGE
        with progress(quiet=args.quiet) as told:
            result = build(_request(args, files, told))
    except OutputRefusedError as problem:
        common.say(str(problem))
        return Exit.REFUSED
    except MissingError as problem:
        common.say(str(problem))
        return Exit.ENVIRONMENT
    code = exit_code(result)
    to_stdout = args.summary_json == Path("-")
    print_result(result, args.out, quiet=args.quiet, silent=to_stdout)
    if args.summary_json is not None:
        try:
            write_json(result, args.summary_json, code, time.monotonic() - began)
        except OSError as problem:
            common.say(f"'{args.summary_json}' cannot be written: {problem.strerror}")
            return Exit.REFUSED
    return code


def _agreed(args: argparse.Namespace, files: list[Path]) -> bool:
    """Whether no flag alone recalls cards, or the person wants it so."""
    found = _recalled(args, files)
    if not found:
        return True
    for name, titles in found.items():
        common.say(
            f"{name}: only as it was built with other flags before, these have to be printed again: {titles}"
        )
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        common.say("nothing was built; give the flags of the build before, or --recall to go on")
        return False
    print("Go on and recall them? [y/N] ", end="", file=sys.stderr, flush=True)
    return sys.stdin.readline().strip().lower() in ("y", "yes")


def _recalled(args: argparse.Namespace, files: list[Path]) -> dict[str, str]:
    """Cards that would be recalled only as units, size, type or the address differ from the build before."""
    from cardgen.bundle import plan
    from cardgen.bundle.inputs import Bytes
    from cardgen.bundle.make import standing
    from cardgen.bundle.manifest import read_manifest

    manifest, read = read_manifest(args.out), Bytes()
    request = _request(args, files, plan.Quiet())
    sources = {entry.source: entry for entry in manifest.rigs.values() if entry.number}
    found = {}
    for file in request.files:
        entry = sources.get(plan.relative(file, args.out))
        if entry is None or _alike(request.options.wishes, entry.wishes):
            continue
        keep: dict[str, Any] = {name: entry.wishes.get(name) for name in ("units", "size", "base_url")}
        before = replace(request.options, large_print=bool(entry.wishes.get("large_print")), **keep)
        asked, known = (
            standing(plan.order_of(replace(request, options=options), manifest, read, file))[1]
            for options in (request.options, before)
        )
        if asked is None or known is None or not asked.new:
            continue
        again = [
            card.title
            for name, card in asked.revision.cards.items()
            if card.since == asked.revision.number
            and name in known.revision.cards
            and known.revision.cards[name].since < asked.revision.number
        ]
        if again:
            found[asked.revision.nickname] = ", ".join(again)
    return found


def _alike(now: Mapping[str, Any], before: Mapping[str, Any]) -> bool:
    """Whether no wish differs that can change a print: another address does not, one or none does."""
    same = all(now.get(name) == before.get(name) for name in ("units", "size", "large_print"))
    return same and bool(now.get("base_url")) == bool(before.get("base_url"))


def _request(args: argparse.Namespace, files: list[Path], told: Progress) -> Request:
    from cardgen.bundle import plan
    from cardgen.bundle.inputs import absolute
    from cardgen.model.slug import slug

    return plan.Request(
        files=tuple({absolute(file): file for file in files}.values()),
        whole=not args.rigs,
        out=args.out,
        options=_options(args),
        pool=_pool(args, plan.MAKER),
        maker=plan.MAKER,
        wait=args.wait,
        force=args.force,
        again=args.again,
        verify=args.verify,
        join=args.join_revisions,
        renamed=slug(args.renamed) if args.renamed else "",
        progress=told,
    )


def _options(args: argparse.Namespace) -> Options:
    from cardgen.bundle.work import Options

    return Options(
        day=common.today(args),
        units=args.units,
        size=args.size,
        cards=args.cards,
        base_url=args.base_url,
        large_print=args.large_print,
        html_only=args.html_only,
        one_file=args.one_file,
        templates=own_templates(args.rigs_dir),
    )


def own_templates(rigs: Path) -> Path | None:
    """The workspace's own templates, in a folder beside that of the rigs; None when there are none."""
    own = rigs.parent / "templates"
    return own.resolve() if _is_own(own) else None


def _is_own(folder: Path) -> bool:
    """Whether a templates folder is the workspace's own and not the one cardgen comes with."""
    from cardgen.render.env import TemplatesMissingError, templates_dir

    try:
        return folder.is_dir() and not folder.samefile(templates_dir())
    except TemplatesMissingError:
        return folder.is_dir()


def _pool(args: argparse.Namespace, maker: str) -> Callable[[int, Callable[[], Path]], WorkerPool]:
    from cardgen.bundle.workers import WorkerPool, processes

    def choose(orders: int, scratch: Callable[[], Path]) -> WorkerPool:
        if args.scheduler and orders:
            from cardgen.bundle.workers import cluster

            return cluster(args.scheduler)
        jobs = args.jobs or (_processors() if orders >= _WORTH_PROCESSES else 1)
        return processes(min(jobs, orders), maker, scratch()) if min(jobs, orders) > 1 else WorkerPool()

    return choose


def _processors() -> int:
    """Processors this process may use [-]."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
