"""The pages of rigs and the page of all rigs as HTML files.

What is kept or handed on is one self-contained file, which carries its own style and script and a
Content-Security-Policy that names them by their SHA-256, so that nothing else can run: no text of a rig
file, no address, no style attribute. *Check*, *workings* and the landing page take style and script from
``assets`` beside the rigs, which all rigs share; their policy names ``'self'``, as a browser opens no
file beside a page on a disk by its SHA-256. Data for the script travels as JSON in a block that is never executed.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from jinja2 import Environment
from markupsafe import Markup

from cardgen.present.blocks import Drawing
from cardgen.present.figures import LimitBar, SideView, TopView
from cardgen.present.index import IndexView
from cardgen.present.levels import Level
from cardgen.present.measure import MeasureView
from cardgen.present.page import Page
from cardgen.present.proof import ProofView
from cardgen.render import figures
from cardgen.render.env import TemplateFaultError, named_faults, source_of
from cardgen.render.figures.measuring import sketch_for
from cardgen.render.plug import plug_svg as plug_mark

NARROW, WIDE, ONE = 92.0, 176.0, 100.0
"""Widths at which drawings are made: for phones, for larger screens, and for both [mm]."""
LABEL_PT = 8.5
"""Type size of labels in drawings [pt]."""
BAR = (60.0, 2.8)
"""Width and height of a limit bar [mm]; the page scales it."""


class PageError(TemplateFaultError):
    """A template cannot be rendered; the message names the file and the line."""


@dataclass(frozen=True, slots=True)
class Asset:
    """A style sheet or script, and how the policy names it."""

    text: Markup
    token: str

    @property
    def name(self) -> str:
        """Name of a file with this text, without its ending: the same text, the same name [-]."""
        return hashlib.sha256(self.text.encode()).hexdigest()[:16]


def tight(text: str) -> str:
    """Drop indentation and the lines that hold nothing but a comment; strings stay as they are.

    Scripts and style sheets of pages must not use texts that run over several lines.
    """
    text = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
    lines = (line.strip() for line in text.splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//"))


def asset(text: str) -> Asset:
    """Take a style sheet or script into a page.

    Args:
        text: its text [-].

    Raises:
        PageError: the text would end its own element.
    """
    if re.search(r"</|<!--", text):
        raise PageError("a style sheet or script must not contain '</' or '<!--'")
    body = "\n" + tight(text) + "\n"
    digest = base64.b64encode(hashlib.sha256(body.encode()).digest()).decode()
    return Asset(Markup(body), f"'sha256-{digest}'")


def policy(style: Asset, script: Asset | None, beside: Container[str] = ()) -> Markup:
    """Return the Content-Security-Policy of a page [-].

    Args:
        style, script: what the page uses.
        beside: ``css``, ``js``: which of them is a file beside the page [-].
    """
    scripts = "'self'" if "js" in beside else script.token if script is not None else "'none'"
    styles = "'self'" if "css" in beside else style.token
    return Markup(
        f"default-src 'none'; script-src {scripts}; style-src {styles}; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )


_HEAD = re.compile(
    r'\s*<!DOCTYPE html>\s*<html [^<>]*>\s*<head>\s*<meta charset="utf-8">\s*'
    r'<meta http-equiv="Content-Security-Policy" content="([^"<>]*)">'
)


def guarded(page: str, rules: str) -> bytes:
    """Return a page whose policy stands first in its head, where it holds for all that follows.

    Args:
        page: HTML text.
        rules: its policy.

    Raises:
        PageError: a template has dropped, changed or moved it.
    """
    found = _HEAD.match(page)
    if found is None or found[1] != rules:
        raise PageError(
            "a template has dropped the page's policy, without which it could fetch or run anything: "
            "extend cardgen/report/base.html.j2, which begins with it"
        )
    return page.encode()


def data_block(value: Mapping[str, Any]) -> Markup:
    """Write JSON that is safe inside a script element."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    for char in "<>&\u2028\u2029":
        text = text.replace(char, f"\\u{ord(char):04x}")
    return Markup(text)


DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789!#$%()*+,-./:;=?@[]_{|}"
"""Digits of a place or length in a packed text."""
_LEAST, _TRIED = 6, 16
"""Characters from which a repetition is worth its mark, and earlier places that are tried [-]."""


def packed(value: Mapping[str, Any]) -> Markup:
    """Write data as one text in which what stood before is named by its place: ``~``, three digits, and its length.

    Quotation marks are written ``^``. The page's script undoes both (``templates/scripts/measure.js``).
    """
    text = json.dumps(value, separators=(",", ":"), allow_nan=False)
    for char in "<>&~^":
        text = text.replace(char, f"\\u{ord(char):04x}")
    text = text.replace('"', "^")
    base, made, seen = len(DIGITS), [], dict[str, list[int]]()
    at = known = 0
    while at < len(text):
        while known <= at - _LEAST and known < base**3:
            seen.setdefault(text[known : known + _LEAST], []).append(known)
            known += 1
        best, place = 0, 0
        for start in seen.get(text[at : at + _LEAST], ())[-_TRIED:]:
            size, most = _LEAST, min(at - start, _LEAST + base - 1, len(text) - at)
            while size < most and text[start + size] == text[at + size]:
                size += 1
            best, place = max((best, place), (size, start))
        if best:
            digits = (place // base // base, place // base % base, place % base, best - _LEAST)
            made.append("~" + "".join(DIGITS[digit] for digit in digits))
        else:
            made.append(text[at])
        at += best or 1
    return Markup(json.dumps("".join(made)))


@lru_cache(maxsize=512)
def drawn(drawing: Drawing, width: float) -> Markup | None:
    """Draw a figure for a width [mm]; None when there is no drawing of its kind."""
    try:
        made = figures.draw(drawing.figure, width, LABEL_PT, "")
    except NotImplementedError:
        return None
    return Markup(plain_svg(made.svg))


def plain_svg(svg: str) -> str:
    """Make a drawing part of the page: no title, size or font of its own, hundredths of a millimetre.

    The page names the drawing itself and sets font and line joins in its style sheet.
    """
    svg = re.sub(r"<title>.*?</title>", "", svg, count=1, flags=re.DOTALL)
    head, rest = svg.split(">", 1)
    head = re.sub(r' (width|height|xmlns|font-family)="[^"]*"', "", head)
    rest = rest.replace(' stroke-linejoin="round"', "")
    parts = re.split(r"(<[^>]*>)", rest)
    parts = [_LONG.sub(_short, part) if part.startswith("<") else part for part in parts]
    for paint, name in _PAINTS:
        parts = [part.replace(paint, f' class="{name}"') if part.startswith("<") else part for part in parts]
    return f'{head} aria-hidden="true" focusable="false">{"".join(parts)}'


_PAINTS = tuple(
    (f' fill="{fill}" stroke="#000"', name) for fill, name in (("none", "k"), ("#fff", "w"), ("#000", "b"))
)
"""Paints that the page's style sheet knows by a class, so that they follow light and dark."""
_LONG = re.compile(r"(?<![\d.])-?\d*\.\d{3,}")


def _short(found: re.Match[str]) -> str:
    return f"{round(float(found[0]), 2):g}"


def bar(share: float | None, level: Level) -> Markup:
    """Draw a limit bar; the words beside it say the same."""
    made = figures.limit_bar(LimitBar(share, level), BAR[0], BAR[1], "")
    return Markup(plain_svg(made.svg))


MORE = {
    "check": ("check.css", "whatif.js"),
    "workings": ("check.css", "workings.js"),
    "borrower": ("borrower.css", "borrower.js"),
    "index": ("index.css", "index.js"),
}
"""Style and script of pages besides those of every page [-]."""


ASSETS = "assets"
"""Folder beside those of the rigs with the style sheets and scripts that they share [-]."""
BESIDE = {"check": ("css", "js"), "workings": ("css", "js"), "landing": ("css",)}
"""What a page takes from there. What is kept or handed on by itself takes nothing, nor does the script that sends on [-]."""
LANDING = ("report.css", "landing.js")


def _used(name: str) -> tuple[str, ...]:
    """Style and script of a page of a rig. What keeps its source needs it as it came, before another script."""
    source = () if "js" in BESIDE.get(name, ()) else ("source.js",)
    return ("report.css", *source, "notice.js", "page.js", *MORE.get(name, ()))


def rig_page(view: Page, env: Environment, *, whole: bool = False) -> bytes:
    """Write one page of a rig.

    Args:
        view: what is on it.
        env: template environment.
        whole: whether it carries style and script itself, whichever page it is.
    """
    return _page(
        env,
        "report/report.html.j2",
        _used(view.name),
        () if whole else BESIDE.get(view.name, ()),
        view=view,
        title=f"{view.nickname}: {view.what.lower()}",
        language=view.language,
        here=f"{view.name}.html",
    )


def landing_page(pages: Sequence[Page], env: Environment, *, whole: bool = False) -> bytes:
    """Write the page behind the address that printed cards carry, which sends on to the others.

    Args:
        pages: those of the rig.
        env: template environment.
        whole: whether it carries its style itself.
    """
    use = next(one for one in pages if one.name == "use")
    home = use.section("home")
    return _page(
        env,
        "report/landing.html.j2",
        LANDING,
        () if whole else BESIDE["landing"],
        view=use,
        verdict=home.blocks[0] if home else None,
        title=use.nickname,
        language=use.language,
        moved=moved(pages),
    )


def asset_files(env: Environment) -> dict[str, bytes]:
    """Make the style sheets and scripts that the pages of all rigs share, by name below the output folder."""
    made: dict[str, bytes] = {}
    for name, kinds in BESIDE.items():
        style, code = styled(env, LANDING if name == "landing" else _used(name))
        made |= {
            _beside(one, kind): one.text.encode()
            for one, kind in ((style, "css"), (code, "js"))
            if one and kind in kinds
        }
    return made


def _beside(one: Asset, kind: str) -> str:
    return f"{ASSETS}/{one.name}.{kind}"


def moved(pages: Sequence[Page]) -> dict[str, dict[str, str]]:
    """Where the names of the one page of old stand now: by a card's letter, by name, by the start of a name."""
    names = {section.id: f"{one.name}.html" for one in reversed(pages) for section in one.sections}
    return {
        "letters": {"b": "borrower.html", "i": "borrower.html"},
        "names": {**names, "checklist": "use.html#departure", "labels": "workings.html"},
        "starts": {"check-": "workings.html", "w=": "check.html", "revision-": "workings.html"},
    }


def index_page(view: IndexView, env: Environment) -> bytes:
    """Write the page of all rigs as one HTML file."""
    assets = ("report.css", *MORE["index"])
    return _page(env, "report/index.html.j2", assets, view=view, title=view.title, language=view.language)


def moved_page(old: str, new: str, href: str, env: Environment) -> bytes:
    """Write the page at the old address of a rig that has another name now.

    Args:
        old, new: nicknames [-].
        href: address of its page, relative to the old one [-].
        env: template environment.
    """
    names = {"old": old, "new": new, "href": href, "title": f"{old}: now called {new}", "language": "en"}
    return _page(env, "report/moved.html.j2", ("report.css", "moved.js"), **names)


_PARTS = re.compile(' data-f="[^"]*"')


def measure_page(view: MeasureView, market: str, env: Environment) -> bytes:
    """Write the measuring page of one rig as one HTML file; each drawing that a question needs once."""
    data = dict(view.data)
    used: dict[str, dict[str, Any]] = {}
    rows = []
    for one, row in zip(view.questions, data["questions"], strict=True):
        sketch = sketch_for(one.bare, market)
        if sketch is not None:
            used[sketch.name] = {"name": sketch.name, "drawn": Markup(_PARTS.sub("", sketch.svg))}
        rows.append([*row[:12], (sketch.name, sketch.parts(one.bare)) if sketch else 0, *row[13:]])
    return _page(
        env,
        "measure/page.html.j2",
        ("measure.css", "measure.js"),
        view=view,
        packed=packed({**data, "questions": rows}),
        drawings=tuple(used.values()),
        title=f"{view.nickname}: measuring page",
        language=view.language,
    )


def proof_page(view: ProofView, env: Environment) -> bytes:
    """Write the page of proof as one HTML file without any script."""
    return _page(
        env, "report/proof.html.j2", ("report.css",), view=view, title="Proof", language=view.language
    )


@lru_cache(maxsize=32)
def styled(env: Environment, names: tuple[str, ...]) -> tuple[Asset, Asset | None]:
    """Put style sheets and scripts of some names together to one of each; no script when none is named."""
    styles = [source_of(env, f"styles/{name}") for name in names if name.endswith(".css")]
    scripts = [source_of(env, f"scripts/{name}") for name in names if name.endswith(".js")]
    return asset(_SPACE.sub(r"\1", tight("\n".join(styles)))), asset("\n".join(scripts)) if scripts else None


_EMPTY = re.compile(r"\n{2,}")
"""Lines between elements; styles, scripts and data hold none."""
_SPACE = re.compile(r"\s*([{};,])\s*|(?<=:) ")
"""Space in a style sheet that says nothing; our own hold none in strings."""


def _page(
    env: Environment, template: str, assets: tuple[str, ...], beside: Container[str] = (), **names: Any
) -> bytes:
    with named_faults(template, PageError):
        style, code = styled(env, assets)
        rules = policy(style, code, beside)
        text = env.get_template(template).render(
            csp=rules,
            style=style.text,
            style_file=_beside(style, "css") if "css" in beside else None,
            script=code.text if code else None,
            script_file=_beside(code, "js") if code and "js" in beside else None,
            drawn=drawn,
            bar=bar,
            plug_svg=lambda plug: Markup(plug_mark(plug)),
            data_block=data_block,
            narrow=NARROW,
            wide=WIDE,
            one=ONE,
            twice=lambda drawing: isinstance(drawing.figure, SideView | TopView),
            **names,
        )
    return guarded(_EMPTY.sub("\n", text), rules)
