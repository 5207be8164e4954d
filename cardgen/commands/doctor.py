"""``cardgen doctor``: does this installation have what it needs, and if not, the exact fix."""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Callable
from pathlib import Path

from cardgen.commands.exits import Exit

HELP = "check the installation and say how to mend it"
Check = tuple[str, bool, str]


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.add_argument(
        "--out", type=Path, default=Path("build"), metavar="FOLDER", help="output folder to try"
    )


def run(args: argparse.Namespace) -> int:
    """Run every check; fail when one does."""
    good = True
    checks: tuple[Callable[[], Check], ...] = (_python, _engine, _fonts, _templates, lambda: _write(args.out))
    for check in checks:
        name, fine, words = check()
        good = good and fine
        print(f"{'good' if fine else 'MISSING'}  {name}: {words}")
    browser = _browser()
    print(f"{'good' if browser[1] else 'none'}  {browser[0]}: {browser[2]}")
    return Exit.FINE if good else Exit.ENVIRONMENT


def _python() -> Check:
    import platform
    import sys

    return "python", sys.version_info >= (3, 11), f"{platform.python_version()} (3.11 or newer is needed)"


def _engine() -> Check:
    from cardgen.render.engine import EngineMissingError, load
    from cardgen.render.fallback import what_to_install

    try:
        module = load()
    except EngineMissingError as fault:
        return "print engine", False, "; ".join(what_to_install(str(fault)))
    return "print engine", True, f"weasyprint {module.__version__}"


def _fonts() -> Check:
    from cardgen.render.fonts import font_file

    fix = "pip install --force-reinstall fontpkg-ibm-plex-sans-condensed"
    try:
        good = font_file("regular").is_file() and font_file("bold").is_file()
    except (ImportError, OSError):
        good = False
    return "fonts", good, "card font found" if good else f"missing, run: {fix}"


def _templates() -> Check:
    from cardgen.render.env import TemplatesMissingError, templates_dir

    try:
        return "templates", True, str(templates_dir())
    except TemplatesMissingError as fault:
        return "templates", False, str(fault)


def _write(out: Path) -> Check:
    folder = out if out.is_dir() else out.absolute().parent
    try:
        with tempfile.TemporaryFile(dir=folder):
            pass
    except OSError as fault:
        return (
            "output folder",
            False,
            f"cannot write in '{folder}': {fault.strerror}; choose another with --out",
        )
    return "output folder", True, f"'{folder}' can be written"


def _browser() -> Check:
    from cardgen.render.fallback import find_browser

    found = find_browser()
    words = str(found) if found else "not needed; it would print cards if the print engine were missing"
    return "browser", found is not None, words
