"""Print the measuring sheet: two columns on letter or A4, three pages at most."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path

from markupsafe import Markup

from cardgen.model.starter_fields import EUROPE
from cardgen.present.measuring_sheet import MeasuringSheet
from cardgen.render.engine import press
from cardgen.render.env import environment, named_faults
from cardgen.render.figures.measuring import US_LABELS, sketch_for
from cardgen.render.fonts import FAMILY
from cardgen.render.glyphs import cleaned
from cardgen.render.html import CardTemplateError
from cardgen.render.sizes import size_of
from cardgen.tables.words import say

PAGES = 3
"""Most pages of a measuring sheet [-]."""
ROOM = ((62, 8), (46, 9), (0, 5))
"""Width of the drawings [mm] and lines of the last table, tried until the sheet keeps to its pages; 0: no drawings."""
MANY = 110
"""Questions from which the first of these is not tried [-]."""
_INK = (
    "<style>path,rect,circle{fill:none;stroke:#000;stroke-width:1}text{font:13.5px "
    + FAMILY
    + ";text-anchor:middle}"
    ".start{text-anchor:start}.end{text-anchor:end}.fill{fill:#000}.bare{fill:#fff}</style>"
)


@dataclass(frozen=True, slots=True)
class PrintedSheet:
    """A printed measuring sheet.

    Args:
        pdf: the document.
        pages: number of pages [-].
        problems: what the engine complained about.
        notes: letters that were replaced [-].
    """

    pdf: bytes
    pages: int
    problems: tuple[str, ...]
    notes: tuple[str, ...] = ()


def print_sheet(
    sheet: MeasuringSheet, market: str, word: str, size: str, workspace: Path | None
) -> PrintedSheet:
    """Print the measuring sheet of a rig.

    Args:
        sheet: what it says.
        market: key of the market [-].
        word: what the load on the coupling is called [-].
        size: ``letter`` or ``a4`` [-].
        workspace: folder with own templates; None for ours.

    Raises:
        EngineMissingError: WeasyPrint or a native library is missing.
        CardTemplateError: a template cannot be rendered.
    """
    sheet, letters = cleaned(sheet, "measuring sheet")
    machine = press(workspace)
    for wide, lines in ROOM[len(sheet.drawn) > MANY :]:
        page = _page(sheet, market, word, size, workspace, wide, lines)
        document, complaints = machine.layout(page)
        if len(document.pages) <= PAGES:
            break
    pdf, more = machine.paint(document)
    problems = tuple(one.message for one in (*complaints, *more))
    return PrintedSheet(pdf, len(document.pages), problems, tuple(one.message for one in letters))


def _page(
    sheet: MeasuringSheet, market: str, word: str, size: str, workspace: Path | None, wide: int, lines: int
) -> str:
    name = "measure/sheet.html.j2"
    with named_faults(name, CardTemplateError):
        return (
            environment(workspace)
            .get_template(name)
            .render(
                sheet=sheet, size=size_of(size), family=FAMILY, word=word[:1].upper() + word[1:], lines=lines,
                wide=wide, sketches=_sketches(sheet, market if wide else ""), say=partial(say, market=market),
                bars=market not in EUROPE, alone=3 if market not in EUROPE else 2,
            )
        )  # fmt: skip


def _sketches(sheet: MeasuringSheet, market: str) -> dict[str, list[Markup]]:
    """Drawings of each place, each once, at the first place that needs it."""
    made: dict[str, list[Markup]] = {place.key: [] for place in sheet.places}
    used: set[str] = set()
    for field, stand in sheet.drawn if market else ():
        sketch = sketch_for(field, market)
        if sketch is None or sketch.name in US_LABELS or sketch.name in used or stand not in made:
            continue
        used.add(sketch.name)
        head, rest = sketch.svg.split(">", 1)
        made[stand].append(Markup(f'{head} xmlns="http://www.w3.org/2000/svg">{_INK}{rest}'))
    return made
