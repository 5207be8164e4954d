"""The command line: maps words to commands and imports a command only when it runs."""

from __future__ import annotations

import argparse
import contextlib
import importlib
import os
import sys
import traceback
from collections.abc import Sequence

from cardgen import __version__
from cardgen.commands.exits import MEANINGS, Exit
from cardgen.commands.streams import any_terminal

COMMANDS: dict[str, str] = {
    "build": "cardgen.commands.build",
    "preview": "cardgen.commands.preview",
    "check": "cardgen.commands.check",
    "results": "cardgen.commands.results",
    "changes": "cardgen.commands.changes",
    "match": "cardgen.commands.match",
    "weigh": "cardgen.commands.weigh",
    "sheets": "cardgen.commands.sheets",
    "new": "cardgen.commands.new",
    "cargo": "cardgen.commands.cargo",
    "explain": "cardgen.commands.explain",
    "schema": "cardgen.commands.schema",
    "doctor": "cardgen.commands.doctor",
    "completion": "cardgen.commands.completion",
}
"""Command and its module, which has HELP, ``add(parser)`` and ``run(args) -> int``.

These modules import nothing heavy when they are loaded, only inside ``run``.
"""


def parser() -> argparse.ArgumentParser:
    """Make the parser of all commands."""
    codes = "\n".join(f"  {code.value:>3}  {words}" for code, words in MEANINGS.items())
    top = argparse.ArgumentParser(
        prog="cardgen",
        description="One rig file in; checked, laminated-card PDFs and an offline report out.",
        epilog=f"exit codes:\n{codes}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action="version", version=f"cardgen {__version__}")
    top.set_defaults(top=top)  # for the command that writes what a shell completes
    commands = top.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name, module_name in COMMANDS.items():
        module = importlib.import_module(module_name)
        one = commands.add_parser(name, help=module.HELP, description=module.HELP)
        module.add(one)
        one.set_defaults(run=module.run)
    return top


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    any_terminal()
    args = parser().parse_args(argv)
    try:
        code = int(args.run(args))
        sys.stdout.flush()
        return code
    except KeyboardInterrupt:
        print("\ninterrupted", file=sys.stderr)
        return Exit.INTERRUPTED
    except BrokenPipeError:
        # Whoever read our output has gone; keep Python from complaining when it ends.
        with contextlib.suppress(OSError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return Exit.FINE
    except Exception:
        traceback.print_exc()
        print("this is a bug in cardgen; please report the lines above", file=sys.stderr)
        return Exit.BUG
