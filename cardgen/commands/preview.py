"""``cardgen preview``: see the pages while the rig files are being written."""

from __future__ import annotations

import argparse
import sys
import threading
import time
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import zip_longest
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from cardgen.commands import common
from cardgen.commands.exits import Exit

if TYPE_CHECKING:
    from cardgen.bundle.work import Options
    from cardgen.commands.preview_server import Server
    from cardgen.commands.preview_site import PreviewSite, Snapshot

HELP = "show reports in the browser and load them anew when a rig, part or template changes"
PORT = 8731
PAUSE = 0.05
"""Time without a change after which whoever writes has finished [s]."""
BLOCKS = " \u2584\u2580\u2588"
"""Neither, lower, upper and both halves of a letter's place."""
END = 10.0
"""How long the server may take to end [s]; it ends with the program in any case."""
NOTICE = (
    "Everybody on this local network can now read these pages, names and phone numbers included; "
    "there is no password. Stop with Ctrl-C."
)


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    common.add_rigs(parser)
    common.add_day(parser)
    common.add_units(parser)
    add = parser.add_argument
    add("--port", type=port, default=PORT, metavar="N", help=f"port (default: {PORT}; 0: any free one)")
    add("--lan", action="store_true", help="also for other machines on the local network; cards lead here")
    add("--size", metavar="SIZE", help="card size (default: the rig's own)")
    add("--large-print", action="store_true", help="larger type on every card")


def port(text: str) -> int:
    """Read a port."""
    if not text.isdigit() or int(text) > 65535:
        raise argparse.ArgumentTypeError(f"'{text}' is not a port from 0 to 65535")
    return int(text)


def run(args: argparse.Namespace) -> int:
    """Serve until Ctrl-C."""
    from cardgen.commands.preview_site import PreviewSite, snapshot
    from cardgen.commands.wishes import wish_faults

    files, faults = common.rig_paths(args.rigs, args.rigs_dir)
    faults += wish_faults(size=args.size)
    if common.refused(faults):
        return Exit.USAGE
    site = PreviewSite(tuple(files) if args.rigs else None, args.rigs_dir, _options(args))
    try:
        server = open_server(site, args.port, lan=args.lan)
    except OSError as problem:
        common.say(f"port {args.port} cannot be used: {problem.strerror}; choose another with --port N")
        return Exit.REFUSED
    folders = watched((args.rigs_dir, *(file.parent for file in files)), site.options.templates)
    if args.lan:
        common.say(NOTICE)
    seen = snapshot(folders)
    for line in site.refresh(seen):
        common.say(line)
    print(f"preview at {address(server)}", flush=True)
    if args.lan:
        print("\n".join(("To open it on a phone, scan:", *code(address(server), sys.stdout))), flush=True)
    return serve(server, folders, seen)


def _options(args: argparse.Namespace) -> Options:
    from cardgen.bundle.work import Options
    from cardgen.commands.build import own_templates

    return Options(
        day=common.today(args),
        units=args.units,
        size=args.size,
        large_print=args.large_print,
        templates=own_templates(args.rigs_dir),
    )


def open_server(site: PreviewSite, port: int, *, lan: bool) -> Server:
    """Bind the server and, on the local network, make cards lead to it.

    Raises:
        OSError: the port cannot be used.
    """
    from cardgen.commands.preview_server import Server, lan_address

    own = lan_address() if lan else "127.0.0.1"
    names = frozenset({own, "localhost", "127.0.0.1"})
    server = Server(("0.0.0.0" if lan else "127.0.0.1", port), site, names)
    if lan:
        site.options = replace(site.options, base_url=f"http://{own}:{server.server_port}")
    return server


def address(server: Server) -> str:
    """Address to open."""
    base = server.site.options.base_url
    return f"{base}/" if base else f"http://127.0.0.1:{server.server_port}/"


def code(text: str, out: TextIO) -> Iterator[str]:
    """Draw a QR code in letters, two rows of it in a line where the terminal has half blocks.

    Args:
        text: what it says.
        out: where it will be printed; a terminal is told black and white, whatever its own colours are.
    """
    from cardgen.render.qr import QUIET, matrix

    begin, end = ("\x1b[30;107m", "\x1b[0m") if out.isatty() else ("", "")
    cells = matrix(text, "M")
    side = len(cells) + 2 * QUIET
    edge, none = (False,) * QUIET, [(False,) * side] * QUIET
    rows = [*none, *((*edge, *row, *edge) for row in cells), *none]
    try:
        BLOCKS.encode(out.encoding or "ascii")
    except UnicodeEncodeError:
        yield from (begin + "".join("##" if dark else "  " for dark in row) + end for row in rows)
        return
    for upper, lower in zip_longest(rows[::2], rows[1::2], fillvalue=none[0]):
        yield begin + "".join(BLOCKS[2 * a + b] for a, b in zip(upper, lower, strict=True)) + end


def watched(rigs: Iterable[Path], templates: Path | None) -> tuple[Path, ...]:
    """Folders whose files are watched: rigs with their parts, own templates, ours."""
    from cardgen.render.env import templates_dir

    found = [*rigs, *([templates] if templates is not None else []), templates_dir()]
    return tuple({folder.resolve(): folder for folder in found})


def serve(server: Server, folders: tuple[Path, ...], seen: Snapshot) -> int:
    """Serve in the background and watch the files until Ctrl-C.

    Args:
        server: bound, not yet serving.
        folders: to be watched.
        seen: what the pages were made from.
    """
    from cardgen.commands.preview_site import snapshot
    from cardgen.commands.preview_watch import FolderWatch

    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True)
    try:
        thread.start()
        with FolderWatch(folders) as watch:
            watch.changed.set()  # something may have changed since the pages were made
            while True:
                # With an end, or Ctrl-C is not seen on every system.
                while not watch.changed.wait(1.0) and not watch.blind:
                    pass
                while watch.changed.is_set():
                    watch.changed.clear()
                    time.sleep(PAUSE)
                try:
                    watch.renew()
                    now = snapshot(folders)
                    told = server.site.refresh(now) if now != seen else []
                except OSError as problem:  # out of descriptors, or a folder that goes: the pages stay
                    watch.blind = True
                    common.say(f"the files cannot be looked at just now: {problem.strerror or problem}")
                    continue
                seen = now
                for line in told:
                    common.say(line)
    except KeyboardInterrupt:
        print("preview ended", flush=True)
    finally:
        if thread.is_alive():
            server.shutdown()
            thread.join(END)
        server.server_close()
    return Exit.FINE
