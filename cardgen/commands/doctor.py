"""``cardgen doctor``: does this installation have what it needs, and if not, the exact fix."""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from cardgen.commands.exits import Exit

HELP = "check the installation and say how to mend it"
NEWEST_OLD_PYTHON = (3, 11)


@dataclass(frozen=True, slots=True)
class Probe:
    """What came of one look.

    Args:
        name: what was looked at [-].
        state: good, missing, or none for what is not needed [-].
        words: what was found [-].
        fix: lines that say what to do, commands as they are typed [-].
    """

    name: str
    state: Literal["good", "MISSING", "none"]
    words: str
    fix: tuple[str, ...] = ()


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.add_argument(
        "--out", type=Path, default=Path("build"), metavar="FOLDER", help="output folder to try"
    )
    parser.add_argument(
        "--rigs-dir", type=Path, default=Path("rigs"), metavar="FOLDER", help="folder of the rigs"
    )


def run(args: argparse.Namespace) -> int:
    """Look at everything; fail when something that is needed is missing."""
    looks: tuple[Callable[[], Probe], ...] = (
        python, packages, engine, prints, fonts, templates, demos,
        lambda: folder("output folder", args.out, "--out"), lambda: rigs_folder(args.rigs_dir),
        terminal, browser,
    )  # fmt: skip
    good = True
    for look in looks:
        found = look()
        good = good and found.state != "MISSING"
        print(f"{found.state:<9}{found.name}: {found.words}")
        for line in found.fix:
            print(f"         {line}")
    print("all that is needed is here" if good else "mend what is MISSING, then run 'cardgen doctor' again")
    return Exit.FINE if good else Exit.ENVIRONMENT


def pip(*what: str) -> str:
    """The command that installs packages into the Python that runs this."""
    return f"{sys.executable} -m pip install {' '.join(what)}"


def python() -> Probe:
    """The Python version."""
    version = sys.version_info[:3]
    words = ".".join(map(str, version))
    if version >= NEWEST_OLD_PYTHON:
        return Probe("python", "good", words)
    fix = "install Python 3.11 or newer and make a new environment with it: python3.11 -m venv .venv"
    return Probe("python", "MISSING", f"{words}; 3.11 or newer is needed", (fix,))


def required() -> Iterator[str]:
    """Packages that cardgen itself asks for, without extras, as its metadata write them."""
    from importlib.metadata import PackageNotFoundError, requires

    try:
        wanted = requires("cardgen") or []
    except PackageNotFoundError:  # run from a checkout that was never installed
        wanted = []
    yield from (one for one in wanted if "extra ==" not in one)


def packages() -> Probe:
    """Whether every package of the requirements is installed."""
    import re
    from importlib.metadata import PackageNotFoundError, version

    missing = []
    for one in required():
        name = re.split(r"[^\w.-]", one, maxsplit=1)[0]
        try:
            version(name)
        except PackageNotFoundError:
            missing.append(f"'{one}'")
    if missing:
        return Probe("packages", "MISSING", ", ".join(missing), (pip(*missing),))
    return Probe("packages", "good", "all installed")


def engine(release: str | None = None) -> Probe:
    """Whether the printing engine and its libraries can be loaded.

    Args:
        release: text of /etc/os-release, read from the system when None [-].
    """
    from cardgen.render.engine import EngineMissingError, load
    from cardgen.render.fallback import find_browser, what_to_install

    try:
        module = load()
    except EngineMissingError as fault:
        why, *steps = what_to_install(str(fault), release)
        spare = find_browser()
        if spare is not None:
            steps.append(f"until then cards are printed by {spare.name}, without the check for clipped text")
        return Probe("print engine", "MISSING", why, tuple(step.strip() for step in steps))
    return Probe("print engine", "good", f"weasyprint {module.__version__}")


def prints() -> Probe:
    """Whether a page really comes out of the engine; its native libraries may fail only then."""
    from cardgen.render.engine import EngineMissingError, load

    page = '<!DOCTYPE html><html lang="en"><title>try</title><body>12 lb</body></html>'
    try:
        made = bytes(load().HTML(string=page).write_pdf())
    except EngineMissingError:
        return Probe("a printed page", "none", "not tried, the print engine is missing")
    except Exception as fault:  # whatever breaks in the native libraries is told, not raised
        words = f"the engine failed: {type(fault).__name__}: {fault}"
        return Probe("a printed page", "MISSING", words, (pip("--force-reinstall", "weasyprint"),))
    if not made.startswith(b"%PDF-"):
        words = "what came out is no PDF"
        return Probe("a printed page", "MISSING", words, (pip("--force-reinstall", "weasyprint"),))
    return Probe("a printed page", "good", "comes out as PDF")


def fonts() -> Probe:
    """Whether both weights of the card font are there."""
    from cardgen.render.fonts import FAMILY, FontMissingError, font_file

    try:
        there = font_file("regular").is_file() and font_file("bold").is_file()
    except FontMissingError:
        there = False
    if there:
        return Probe("font", "good", FAMILY)
    fix = pip("--force-reinstall", "fontpkg-ibm-plex-sans-condensed")
    return Probe("font", "MISSING", f"{FAMILY} is not installed", (fix,))


def templates() -> Probe:
    """Whether the templates of cards and reports are there."""
    from cardgen.render.env import TemplatesMissingError, templates_dir

    try:
        return Probe("templates", "good", str(templates_dir()))
    except TemplatesMissingError as fault:
        return Probe("templates", "MISSING", str(fault), (pip("--force-reinstall", "--no-deps", "cardgen"),))


def demos() -> Probe:
    """Whether the demo rigs are there; only 'cardgen new --from' needs them."""
    from cardgen.commands.demo import demo_rigs

    found = sorted(path.stem for path in demo_rigs().glob("*.yaml"))
    if found:
        return Probe("demo rigs", "good", ", ".join(found))
    fix = (pip("--force-reinstall", "--no-deps", "cardgen"),)
    return Probe("demo rigs", "MISSING", f"none in '{demo_rigs()}'", fix)


def folder(name: str, path: Path, flag: str) -> Probe:
    """Whether files can be written in a folder, or in the nearest one above it that exists."""
    place = path.absolute()
    while not place.exists() and place != place.parent:
        place = place.parent
    try:
        with tempfile.TemporaryFile(dir=place):
            pass
    except OSError as fault:
        words = f"'{place}' cannot be written: {fault.strerror}"
        return Probe(name, "MISSING", words, (f"give yourself write access, or choose another with {flag}",))
    made = "" if path.exists() else ", which will be made,"
    return Probe(name, "good", f"'{path}'{made} can be written")


def rigs_folder(path: Path) -> Probe:
    """Whether rigs are there and their revisions can be entered."""
    count = len(list(path.glob("*.yaml"))) if path.is_dir() else 0
    if count == 0:
        fix = ("write a first rig: cardgen new NAME",)
        return Probe("rigs", "none", f"no rig files in '{path}' yet", fix)
    found = folder("rigs", path, "--rigs-dir")
    if found.state == "MISSING":
        return Probe("rigs", "MISSING", f"{found.words}; revisions are kept there", found.fix)
    return Probe("rigs", "good", f"{count} in '{path}', where revisions can be entered")


def terminal() -> Probe:
    """Whether the terminal takes the letters that messages may hold."""
    encoding = getattr(sys.stdout, "encoding", None) or "unknown"
    try:
        "°−·″".encode(encoding)
    except (UnicodeEncodeError, LookupError):
        fix = ("set the environment variable PYTHONUTF8=1, or choose a UTF-8 locale",)
        return Probe("terminal", "none", f"its encoding {encoding} lacks some letters of messages", fix)
    return Probe("terminal", "good", encoding)


def browser() -> Probe:
    """An installed browser; only the fallback needs one."""
    from cardgen.render.fallback import SETTING, find_browser

    found = find_browser()
    if found is not None:
        return Probe("browser", "good", f"{found}, used only when the print engine is missing")
    words = f"not needed; with one (or {SETTING} set to its path) cards could be printed without the engine"
    return Probe("browser", "none", words)
