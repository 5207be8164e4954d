"""The command line: maps words to commands and imports a command only when it runs."""

from __future__ import annotations

import argparse
import contextlib
import gc
import importlib
import signal
import sys
import traceback
from collections.abc import Iterator, Sequence

from cardgen import __version__
from cardgen.commands.exits import MEANINGS, Exit
from cardgen.commands.streams import LostOutputError, any_terminal, closed, silence

COMMANDS: dict[str, str] = {
    "build": "cardgen.commands.build",
    "preview": "cardgen.commands.preview",
    "check": "cardgen.commands.check",
    "results": "cardgen.commands.results",
    "changes": "cardgen.commands.changes",
    "match": "cardgen.commands.match",
    "weigh": "cardgen.commands.weigh",
    "take": "cardgen.commands.take",
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
    lost = closed()
    gc.set_threshold(100_000, 5, 5)  # a command leaves few circles; looking for them takes a twentieth
    with any_terminal(), ended_by_signals():
        try:
            if lost:
                raise LostOutputError(lost)
            args = parser().parse_args(argv)
            code = int(args.run(args))
            sys.stdout.flush()
            return code
        except KeyboardInterrupt:
            print("\ninterrupted", file=sys.stderr)
            return Exit.INTERRUPTED
        except BrokenPipeError:
            silence()  # whoever read our output has gone
            return Exit.FINE
        except LostOutputError as problem:
            with contextlib.suppress(LostOutputError):
                print(problem, file=sys.stderr)
            silence()
            return Exit.REFUSED
        except Exception:
            traceback.print_exc()
            print("this is a bug in cardgen; please report the lines above", file=sys.stderr)
            return Exit.BUG


@contextlib.contextmanager
def ended_by_signals() -> Iterator[None]:
    """Let a request of the system to end clean up as Ctrl-C does; one that is ignored stays ignored."""

    def stop(_number: int, _frame: object) -> None:
        raise KeyboardInterrupt

    wanted = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    ours: list[signal.Signals] = []
    with contextlib.suppress(ValueError):  # only a program's first thread can do that
        for one in wanted:
            if signal.getsignal(one) is signal.SIG_DFL:
                signal.signal(one, stop)
                ours.append(one)
    try:
        yield
    finally:
        for one in ours:
            signal.signal(one, signal.SIG_DFL)
