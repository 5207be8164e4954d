"""Print cards without WeasyPrint: by an installed Chromium-family browser, else say what to install.

The browser gets the very page that WeasyPrint would get. It runs headless, with a profile
that is thrown away, and reaches no network: the page's own policy forbids every fetch, and
every host name resolves to nothing. Its PDFs are right to look at, but neither byte-stable
nor checked for clipped text, which the notes say.
"""

from __future__ import annotations

import base64
import os
import platform
import shutil
import subprocess
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass, replace
from html import escape
from pathlib import Path

from cardgen.present.blocks import Card
from cardgen.render.codes import checked_codes
from cardgen.render.env import environment, source_of
from cardgen.render.fixed import plain, ruled
from cardgen.render.fonts import font_file
from cardgen.render.glyphs import clean_card
from cardgen.render.html import STYLES, CardTemplateError, PartSetting, Plan, card_html
from cardgen.render.sizes import Size, size_of

TIMEOUT = 60  # s for one card
SETTING = "CARDGEN_BROWSER"  # environment variable with the path of a browser
COMMANDS = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "microsoft-edge",
)
PROGRAMS = (
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    "C:/Program Files/Google/Chrome/Application/chrome.exe",
    "C:/Program Files (x86)/Microsoft/Edge/Application/msedge.exe",
)
FLAGS = (
    "--headless",
    "--disable-gpu",
    "--disable-quic",
    "--disable-extensions",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--no-default-browser-check",
    "--no-pdf-header-footer",
    "--host-resolver-rules=MAP * ~NOTFOUND",
)
BROWSER_STYLE = "styles/browser.css"
POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:"
# What WeasyPrint needs, by the ID of /etc/os-release or the name of the system.
INSTALL = {
    "debian": "sudo apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0",
    "fedora": "sudo dnf install pango harfbuzz",
    "arch": "sudo pacman -S pango",
    "macos": "brew install pango",
    "windows": "install MSYS2, run 'pacman -S mingw-w64-x86_64-pango' in it, and set "
    "WEASYPRINT_DLL_DIRECTORIES to C:\\msys64\\mingw64\\bin",
}
FAMILIES = {
    "ubuntu": "debian",
    "linuxmint": "debian",
    "raspbian": "debian",
    "rhel": "fedora",
    "centos": "fedora",
    "manjaro": "arch",
}


@dataclass(frozen=True, slots=True)
class Printed:
    """Outcome of printing a card.

    Args:
        pdf: the document; None when nothing here can print.
        notes: what the person should know [-].
        problems: why the card must not be handed out [-].
        missing: what to install, for this system [-].
    """

    pdf: bytes | None
    notes: tuple[str, ...] = ()
    problems: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()


class BrowserError(RuntimeError):
    """The browser did not print the page; the message says what it answered."""


def find_browser() -> Path | None:
    """Return an installed Chromium-family browser: the one set by name, else the first found."""
    wanted = os.environ.get(SETTING)
    if wanted:
        return Path(wanted) if Path(wanted).is_file() else None
    for command in COMMANDS:
        found = shutil.which(command)
        if found:
            return Path(found)
    return next((Path(name) for name in PROGRAMS if Path(name).is_file()), None)


def what_to_install(why: str, release: str | None = None) -> tuple[str, ...]:
    """Return what to do on this system so that cards can be printed.

    Args:
        why: why WeasyPrint cannot be loaded [-].
        release: text of /etc/os-release; read from the system when None [-].
    """
    system = _system(release)
    named = {
        "debian": "Debian, Ubuntu",
        "fedora": "Fedora",
        "arch": "Arch",
        "macos": "macOS",
        "windows": "Windows",
    }
    wanted = [system] if system in INSTALL else list(INSTALL)
    steps = [f"{named[name]}: {INSTALL[name]}" for name in wanted]
    return (
        f"PDFs cannot be printed: {why}",
        "install Pango, which draws the text:",
        *(f"  {step}" for step in steps),
        f"or install Chromium, or set {SETTING} to the path of a Chromium-family browser",
    )


def _system(release: str | None) -> str:
    """Name the system as ``INSTALL`` does; empty when it is none of those."""
    if release is None:
        kind = platform.system()
        if kind in ("Darwin", "Windows"):
            return {"Darwin": "macos", "Windows": "windows"}[kind]
        file = Path("/etc/os-release")
        release = file.read_text("utf-8", "replace") if file.is_file() else ""
    fields = dict(line.split("=", 1) for line in release.splitlines() if "=" in line)
    names = f"{fields.get('ID', '')} {fields.get('ID_LIKE', '')}".replace('"', "").split()
    for name in names:
        if FAMILIES.get(name, name) in INSTALL:
            return FAMILIES.get(name, name)
    return ""


def browser_page(card: Card, size: Size, plan: Plan, workspace: Path | None) -> str:
    """Return the card's page with style and fonts inside it and a policy that forbids fetches."""
    env = environment(workspace)
    sheet = "\n".join(source_of(env, name) for name in (*STYLES, BROWSER_STYLE))
    for weight in ("regular", "bold"):
        data = base64.b64encode(font_file(weight).read_bytes()).decode("ascii")
        sheet = sheet.replace(f"font:{weight}", f"data:font/ttf;base64,{data}")
    policy = f'<meta http-equiv="Content-Security-Policy" content="{escape(POLICY)}">'
    page = card_html(card, size, plan, workspace, pictures=True)
    start, found, rest = page.partition("<head>")
    if not found:
        raise CardTemplateError("template cards/card.html.j2: the page has no <head>")
    return f'{start}<head><meta charset="utf-8">{policy}<style>{sheet}</style>{rest}'


def print_page(browser: Path, page: str) -> bytes:
    """Print one page by a browser and return the PDF.

    Args:
        browser: the program.
        page: HTML text [-].

    Raises:
        BrowserError: the browser failed, took too long or wrote nothing.
    """
    with tempfile.TemporaryDirectory(prefix="cardgen-") as folder:
        source, target = Path(folder, "card.html"), Path(folder, "card.pdf")
        source.write_text(page, "utf-8")
        command = [
            str(browser),
            *FLAGS,
            *_root_flags(),
            f"--user-data-dir={Path(folder, 'profile')}",
            f"--print-to-pdf={target}",
            source.as_uri(),
        ]
        try:
            done = subprocess.run(command, capture_output=True, text=True, timeout=TIMEOUT, check=False)
        except (OSError, subprocess.TimeoutExpired) as fault:
            raise BrowserError(f"{browser.name} did not print: {fault}") from fault
        if done.returncode or not target.is_file():
            said = done.stderr.strip().splitlines()[-1:] or [f"exit code {done.returncode}"]
            raise BrowserError(f"{browser.name} did not print: {said[0]}")
        return target.read_bytes()


def _root_flags() -> Iterable[str]:
    """The browser's own sandbox refuses to run as root."""
    return ("--no-sandbox",) if getattr(os, "geteuid", lambda: 1)() == 0 else ()


def print_by_browser(
    card: Card, size: str, workspace: Path | None, why: str, large_print: bool = False
) -> Printed:
    """Print a card by an installed browser; without one, say what to install.

    Args:
        card: view model.
        size: name of the card size [-].
        workspace: folder with own templates; None for ours.
        why: why WeasyPrint cannot be loaded [-].
        large_print: whether to use the large type.
    """
    browser = find_browser()
    if browser is None:
        return Printed(None, missing=what_to_install(why))
    card, letters = clean_card(card)
    card, codes = checked_codes(card, size_of(size))
    try:
        paper = size_of(size)
        plan = plain(card, paper, large_print)
        pdf = print_page(browser, browser_page(card, paper, plan, workspace))
        if _count(pdf) % 2 and _count(pdf) != len(card.faces):
            plan = replace(plan, notes=PartSetting(plan.flow.pt, lines=ruled(paper)))
            pdf = print_page(browser, browser_page(card, paper, plan, workspace))
    except BrowserError as fault:
        return Printed(None, missing=(str(fault), *what_to_install(why)))
    pages = _count(pdf)
    notes = [f"{card.title}: printed by {browser.name}, without the check for clipped text"]
    if pages > max(2, len(card.faces)):
        notes.append(f"{card.title}: {pages} faces")
    notes += [problem.message for problem in letters]
    faults = [str(problem) for problem in codes]
    if pages % 2 and pages != len(card.faces):
        faults.append(f"{card.id}: {pages} faces, an odd number")
    return Printed(pdf, tuple(notes), tuple(faults))


def _count(pdf: bytes) -> int:
    """Number of pages of a PDF [-]."""
    from io import BytesIO

    import pikepdf

    with pikepdf.open(BytesIO(pdf)) as document:
        return len(document.pages)
