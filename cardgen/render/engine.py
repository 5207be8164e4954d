"""The PDF engine, kept warm: the only module that imports WeasyPrint.

One font configuration and one parsed style sheet per process and workspace; a fetcher that
knows nothing but our two fonts and small ``data:`` pictures.
"""

from __future__ import annotations

import atexit
import gc
import logging
import shutil
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from copy import copy
from functools import lru_cache, wraps
from importlib import import_module
from operator import itemgetter
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from cardgen.render.artifacts import running_texts
from cardgen.render.env import environment, source_of
from cardgen.render.fonts import font_file
from cardgen.render.html import STYLES
from cardgen.render.ink import add_ink
from cardgen.render.problems import Problem

VARIANT = "pdf/ua-1"
DATA_LIMIT = 20_000  # characters of a data: address
BASE = "cardgen:"  # address of a page, to which nothing can be relative
CALM = (100_000, 5, 5)
"""Thresholds of the garbage collector of a process that prints [-]."""


class EngineMissingError(RuntimeError):
    """WeasyPrint or one of its native libraries cannot be loaded."""


class ScratchError(RuntimeError):
    """The system's folder for temporary files cannot take the fonts that the engine reads from there."""


def load() -> Any:
    """Import WeasyPrint.

    Raises:
        EngineMissingError: the package or a native library (Pango) is missing.
    """
    try:
        import weasyprint
    except (ImportError, OSError) as fault:
        raise EngineMissingError(str(fault).strip().splitlines()[0]) from fault
    return weasyprint


SHAPED = (
    "white_space", "font_size", "letter_spacing", "word_spacing", "overflow_wrap", "word_break", "hyphens",
    "hyphenate_limit_chars", "hyphenate_limit_zone", "hyphenate_character", "lang", "direction", "tab_size",
    "font_language_override", "font_family", "font_style", "font_stretch", "font_weight", "font_kerning",
    "font_variant_caps", "font_variant_ligatures", "font_variant_position", "font_variant_numeric",
    "font_variant_alternates", "font_variant_east_asian", "font_feature_settings", "font_variation_settings",
    "text_decoration_line",
)  # fmt: skip
"""All of an element's style that the engine looks at when it breaks off the first line of a text [-]."""
LINES = 8_000
"""Lines that are remembered [-]: those of a rig's cards and more."""


def _remembering(split: Callable[..., Any]) -> Callable[..., Any]:
    """Let the engine remember the lines it broke: it asks for each several times, and each face is laid out twice.

    What it gets holds nothing of an element or a layout; the object for drawing comes as a copy, as it is filled anew.

    Args:
        split: the engine's ``split_first_line``.
    """
    known: dict[Any, Any] = {}
    styled = itemgetter(*SHAPED)

    @wraps(split)
    def first_line(
        text: str,
        style: Any,
        context: Any,
        most: Any,
        spacing: Any,
        is_line_start: bool = True,
        minimum: bool = False,
    ) -> Any:
        key = (text, most, spacing, is_line_start, minimum, id(style.font_config), styled(style))
        try:
            found = known.get(key)
        except TypeError:  # a value of an own style sheet that cannot be a key
            return split(text, style, context, most, spacing, is_line_start, minimum)
        if found is None:
            if len(known) >= LINES:
                known.clear()
            found = known[key] = split(text, style, context, most, spacing, is_line_start, minimum)
        return (copy(found[0]), *found[1:])

    return first_line


class Fetcher:
    """Serves our fonts and small data pictures; everything else is refused and remembered."""

    _fail_on_errors = False  # the engine asks its fetcher for this name after a refusal

    def __init__(self) -> None:
        self.refused: list[str] = []
        self._urls: Any = None

    def __call__(self, url: str, *_: object, **__: object) -> Any:
        """Return the bytes behind an address.

        Raises:
            ValueError: the address is none of ours.
        """
        if self._urls is None:
            from weasyprint import urls

            self._urls = urls
        if url in ("font:regular", "font:bold"):
            body = font_file("bold" if url.endswith("bold") else "regular").read_bytes()
            return self._urls.URLFetcherResponse(url, body, {"Content-Type": "font/ttf"})
        if url.startswith("data:image/svg+xml,<svg") and len(url) <= DATA_LIMIT:
            return self._urls.URLFetcher(allowed_protocols=("data",)).fetch(url)
        self.refused.append(url)
        raise ValueError(f"refused to fetch {url[:80]}")


class _Listener(logging.Handler):
    """Keeps what the engine complains about."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Keep one line."""
        self.lines.append(record.getMessage())


@contextmanager
def _listening() -> Iterator[_Listener]:
    """Listen to what the engine says meanwhile."""
    listener = _Listener()
    logger = logging.getLogger("weasyprint")
    off, logger.disabled = logger.disabled, False  # whoever set up logging may have turned it off
    logger.addHandler(listener)
    try:
        yield listener
    finally:
        logger.removeHandler(listener)
        logger.disabled = off


# What the engine's own style sheet says about the elements that our templates use. Matching
# it costs a third of matching all of HTML's; pages with other elements get the engine's sheet.
PLAIN_STYLE = """
html, body, section, header, div, p, ul, li, h1, h2, h3, table { display: block }
head, title, meta, style { display: none }
li { display: list-item }
table { display: table; box-sizing: border-box }
colgroup { display: table-column-group }
col { display: table-column }
thead { display: table-header-group; vertical-align: middle }
tbody { display: table-row-group; vertical-align: middle }
tr { display: table-row; vertical-align: inherit }
td, th { display: table-cell; vertical-align: inherit }
b, th, h1, h2, h3 { font-weight: bold }
br:before { content: "\\A"; white-space: pre-line }
svg { overflow: hidden }
ul { break-before: avoid }
h1, h2, h3 { break-after: avoid; break-inside: avoid }
h1 { bookmark-level: 1; bookmark-label: content(text) }
h2 { bookmark-level: 2; bookmark-label: content(text) }
h3 { bookmark-level: 3; bookmark-label: content(text) }
"""
PLAIN = frozenset(
    {
        "html", "head", "title", "meta", "style", "body", "section", "header", "div", "p", "ul",
        "li", "h1", "h2", "h3", "table", "colgroup", "col", "thead", "tbody", "tr", "td", "th",
        "b", "br", "span", "a",
    }
)  # fmt: skip
SVG = "{http://www.w3.org/2000/svg}"


def _page_class(weasyprint: Any) -> Any:
    """Return the engine's page class with a faster way in for pages that are well-formed XML."""
    cssselect2 = import_module("cssselect2")
    plain = weasyprint.CSS(string=PLAIN_STYLE)

    class Page(weasyprint.HTML):  # type: ignore[misc]  # the package ships no types
        """A page from a parsed tree instead of HTML text; sets what the base class sets."""

        def __init__(self, root: Any, fetcher: Fetcher) -> None:
            self.base_url = BASE
            self.url_fetcher = fetcher
            self.media_type = "print"
            self.wrapper_element = cssselect2.ElementWrapper.from_html_root(root, content_language=None)
            self.etree_element = self.wrapper_element.etree_element
            tags = {str(element.tag) for element in root.iter()}
            self._plain = all(tag in PLAIN or tag.startswith(SVG) for tag in tags)

        def _ua_stylesheets(self, forms: bool = False) -> Any:
            return [plain] if self._plain else super()._ua_stylesheets(forms)

    return Page


class Press:
    """WeasyPrint with everything that cards share, for one workspace.

    Args:
        workspace: folder with own templates; None for ours.
    """

    def __init__(self, workspace: Path | None = None) -> None:
        self.weasyprint = load()
        for name in ("inline", "preferred"):
            module: Any = import_module(f"weasyprint.layout.{name}")
            if not hasattr(module.split_first_line, "__wrapped__"):
                module.split_first_line = _remembering(module.split_first_line)
        from weasyprint.css.counters import CounterStyle
        from weasyprint.text.fonts import FontConfiguration

        self.fetcher = Fetcher()
        self._page = _page_class(self.weasyprint)
        self.counters = CounterStyle()
        env = environment(workspace)
        sheet = "\n".join(source_of(env, name) for name in STYLES)
        with _own_temporary_folder(), _listening() as listener:
            self.fonts = FontConfiguration()
            self.css = self.weasyprint.CSS(
                string=sheet,
                font_config=self.fonts,
                counter_style=self.counters,
                url_fetcher=self.fetcher,
                base_url=BASE,
            )
        self.style_problems = self._problems(listener.lines)

    def _problems(self, lines: list[str]) -> tuple[Problem, ...]:
        """Turn refusals and complaints into problems, each told once."""
        refused = dict.fromkeys(self.fetcher.refused)
        self.fetcher.refused.clear()
        fetches = [
            Problem("fetch", f"the page asks for {url[:80]!r}, which is not part of cardgen")
            for url in refused
        ]
        others = [line for line in dict.fromkeys(lines) if not any(url in line for url in refused)]
        return (*fetches, *(Problem("engine", line) for line in others))

    def layout(self, page: str) -> tuple[Any, tuple[Problem, ...]]:
        """Lay a page out and return the engine's document with its complaints.

        Args:
            page: HTML text.
        """
        with _listening() as listener:
            document = self._parsed(page).render(
                stylesheets=[self.css],
                font_config=self.fonts,
                counter_style=self.counters,
                pdf_variant=VARIANT,
            )
        return document, self.style_problems + self._problems(listener.lines)

    def _parsed(self, page: str) -> Any:
        """Parse a page: as XML where it is well-formed (in C), as HTML otherwise."""
        try:
            root = ElementTree.fromstring(page)
        except ElementTree.ParseError:
            return self.weasyprint.HTML(string=page, url_fetcher=self.fetcher, base_url=BASE)
        return self._page(root, self.fetcher)

    def paint(self, document: Any, ink: Sequence[list[str]] = ()) -> tuple[bytes, tuple[Problem, ...]]:
        """Return the PDF of a laid-out document, tagged and with an identifier made of its content,
        and what the engine complained about.

        Args:
            document: what ``layout`` returned.
            ink: operators to put in front of the content of each page [-].
        """

        def finish(document: object, pdf: Any) -> None:
            running_texts(document, pdf)
            if ink:
                add_ink(pdf, ink)

        with _listening() as listener:
            pdf = document.write_pdf(finisher=finish, pdf_variant=VARIANT, pdf_identifier=True)
        return bytes(pdf), self._problems(listener.lines)


@lru_cache(maxsize=4)
def press(workspace: Path | None = None) -> Press:
    """Return the warm press of a workspace (templates are read once per process).

    From then on the process is one that prints: libraries, fonts and templates stay, so the
    garbage collector need not look at them, neither while cards are laid out nor at the end.
    It saves about an eighth of the processor time of one rig's cards.
    """
    made = Press(workspace)
    gc.freeze()
    gc.set_threshold(*CALM)
    return made


@contextmanager
def _own_temporary_folder() -> Iterator[None]:
    """Let the font configuration write below one folder that goes away with the process.

    Raises:
        ScratchError: that folder cannot be made or filled.
    """
    before = tempfile.tempdir
    try:
        folder = tempfile.mkdtemp(prefix="cardgen-")
        atexit.register(shutil.rmtree, folder, ignore_errors=True)
        tempfile.tempdir = folder
        yield
    except OSError as fault:
        reason = (fault.strerror or str(fault)).lower()
        raise ScratchError(
            f"the folder for temporary files cannot take the card fonts: {reason}; "
            "make room there, or set TMPDIR to another folder"
        ) from fault
    finally:
        tempfile.tempdir = before
