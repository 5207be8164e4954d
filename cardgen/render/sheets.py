"""Print sheets: finished card pages placed on letter or A4 paper, not laid out again.

Card pages become form objects (pikepdf), so a sheet costs milliseconds and looks exactly like
the card. Sheets are for printing only: the tags and links stay with the single cards.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from io import BytesIO
from typing import TYPE_CHECKING

from cardgen.render.marks import Marks, fold_mark, furniture, name_mark, tight_marks, unit_marks
from cardgen.render.outlines import POINT
from cardgen.render.places import PAPERS, Flip, Grid, SheetError, SheetPlace, behind, fits, grid

if TYPE_CHECKING:
    import pikepdf

MARGIN = 9.0  # mm between cards and paper edge, room for marks and ruler
GUTTER = 6.0  # mm between cards


@dataclass(frozen=True, slots=True)
class SheetOptions:
    """How cards are put on paper.

    Args:
        paper: ``letter`` or ``a4``.
        flip: edge about which the printer turns the paper for the back.
        nudge: how far the backs are moved right and up, for printers that are off [mm].
        copies: how often every card is printed [-].
        corners: whether to mark rounded corners.
        hole: whether to mark a punch hole at the top.
        one_rig_per_sheet: whether every group of cards begins a new sheet.
    """

    paper: str = "letter"
    flip: Flip = "long"
    nudge: tuple[float, float] = (0.0, 0.0)
    copies: int = 1
    corners: bool = False
    hole: bool = False
    one_rig_per_sheet: bool = True


@dataclass(frozen=True, slots=True)
class Sheets:
    """A print-ready set of sheets.

    Args:
        pdf: the document.
        pages: number of pages [-].
        notes: how to print and what to know.
    """

    pdf: bytes
    pages: int
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CardForms:
    """Front and back of one card as form objects, their size [mm], and the rig's name."""

    front: pikepdf.Object
    back: pikepdf.Object
    width: float
    height: float
    name: str = ""


@dataclass(slots=True)
class _Page:
    """A sheet under way: its grid, how to print it, form objects by name and content operators."""

    sheet: Grid
    advice: str
    forms: dict[str, pikepdf.Object] = field(default_factory=dict)
    content: list[str] = field(default_factory=list)

    def put(self, form: pikepdf.Object, place: SheetPlace) -> None:
        """Place a form object."""
        name = f"/C{len(self.forms)}"
        self.forms[name] = form
        x, y = place.x * POINT, place.y * POINT
        if place.turned:
            x, y = x + place.width * POINT, y + place.height * POINT
            self.content.append(f"q -1 0 0 -1 {x:.3f} {y:.3f} cm {name} Do Q")
        else:
            self.content.append(f"q 1 0 0 1 {x:.3f} {y:.3f} cm {name} Do Q")


def duplex_sheets(
    groups: Sequence[Sequence[bytes]], options: SheetOptions, names: Sequence[str] = ()
) -> Sheets:
    """Place cards side by side on sheets that are printed on both sides.

    Args:
        groups: cards (PDFs) of each rig.
        options: paper, flip edge and marks.
        names: of the rigs, for the margin that is cut off; none are printed when empty.

    Raises:
        SheetError: a card does not fit the paper, or the paper is unknown.
    """
    return _sheets(groups, options, names, fold=False)


def fold_sheets(
    groups: Sequence[Sequence[bytes]], options: SheetOptions, names: Sequence[str] = ()
) -> Sheets:
    """Place back and front of every card side by side, to be printed on one side and folded.

    The back stands at the left, the front at the right; the left half goes behind. Where two
    faces do not fit the paper side by side, each face stands alone.

    Args:
        groups: cards (PDFs) of each rig.
        options: paper and marks.
        names: of the rigs, for the margin that is cut off; none are printed when empty.

    Raises:
        SheetError: a face does not fit the paper, or the paper is unknown.
    """
    return _sheets(groups, options, names, fold=True)


def _sheets(
    groups: Sequence[Sequence[bytes]], options: SheetOptions, names: Sequence[str], fold: bool
) -> Sheets:
    import pikepdf

    if options.paper not in PAPERS:
        raise SheetError(f"unknown paper {options.paper!r}; write one of: {', '.join(PAPERS)}")
    out = pikepdf.Pdf.new()
    pages: list[_Page] = []
    for leaves in _runs(out, groups, options, names):
        pages += (
            _alone(leaves, options)
            if fold and not _folds(leaves[0], options)
            else _fill(leaves, options, fold)
        )
    for page in pages:
        _add(out, page)
    out.docinfo["/Title"] = "Print sheets: print at 100 %"
    buffer = BytesIO()
    out.save(buffer, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return Sheets(buffer.getvalue(), len(pages), _notes(pages))


def _runs(
    out: pikepdf.Pdf, groups: Sequence[Sequence[bytes]], options: SheetOptions, names: Sequence[str]
) -> Iterator[list[CardForms]]:
    """Yield runs of leaves that share sheets: equal size, and one rig where asked."""
    named = zip(groups, names or [""] * len(groups), strict=True)
    rigs = [[leaf for card in group for leaf in _leaves(out, card, options, name)] for group, name in named]
    if not options.one_rig_per_sheet:
        rigs = [[leaf for rig in rigs for leaf in rig]]
    for rig in rigs:
        sizes = dict.fromkeys((leaf.width, leaf.height) for leaf in rig)
        for size in sizes:
            yield [leaf for leaf in rig if (leaf.width, leaf.height) == size]


def _leaves(out: pikepdf.Pdf, card: bytes, options: SheetOptions, name: str) -> list[CardForms]:
    """Return the leaves of a card: two pages each, an odd last page with an empty back."""
    import pikepdf

    with pikepdf.open(BytesIO(card)) as source:
        forms = [out.copy_foreign(page.as_form_xobject()) for page in source.pages]
    for form in forms:
        if "/StructParents" in form:
            del form["/StructParents"]
    sizes = [tuple(float(v) / POINT for v in form["/BBox"])[2:] for form in forms]
    if len(forms) % 2:
        forms.append(out.make_stream(b"", Type=pikepdf.Name.XObject, Subtype=pikepdf.Name.Form))
        forms[-1]["/BBox"] = forms[0]["/BBox"]
    leaves = [
        CardForms(forms[n], forms[n + 1], round(sizes[n][0], 2), round(sizes[n][1], 2), name)
        for n in range(0, len(forms), 2)
    ]
    return leaves * options.copies


def _fill(leaves: list[CardForms], options: SheetOptions, fold: bool) -> list[_Page]:
    """Fill sheets with leaves of one size."""
    paper = PAPERS[options.paper]
    width, height = leaves[0].width, leaves[0].height
    sheet = grid(paper, (2 * width if fold else width, height), MARGIN, GUTTER)
    advice = _advice(sheet, options, fold)
    pages: list[_Page] = []
    for start in range(0, len(leaves), sheet.count):
        part = leaves[start : start + sheet.count]
        front, back = _Page(sheet, advice), _Page(sheet, advice)
        for n, leaf in enumerate(part):
            unit = sheet.place(n)
            if fold:
                front.put(leaf.back, SheetPlace(unit.x, unit.y, width, height))
                front.put(leaf.front, SheetPlace(unit.x + width, unit.y, width, height))
                front.content.append(fold_mark(unit))
            else:
                front.put(leaf.front, unit)
                back.put(leaf.back, _nudged(behind(unit, sheet, options.flip), options.nudge))
            marks = Marks(options.corners, options.hole, fold)
            front.content += [unit_marks(unit, sheet, marks), name_mark(unit, sheet, leaf.name)]
        if sheet.tight:
            front.content.append(tight_marks(sheet, fold))
        front.content.append(furniture(sheet, advice))
        pages += [front] if fold else [front, back]
    return pages


def _folds(leaf: CardForms, options: SheetOptions) -> bool:
    """Whether both faces of a card fit the paper side by side."""
    return fits(PAPERS[options.paper], (2 * leaf.width, leaf.height))


def _alone(leaves: list[CardForms], options: SheetOptions) -> list[_Page]:
    """Fill sheets with the faces of cards that cannot be folded, one after the other."""
    sheet = grid(PAPERS[options.paper], (leaves[0].width, leaves[0].height), MARGIN, GUTTER)
    faces = [(face, leaf.name) for leaf in leaves for face in (leaf.front, leaf.back)]
    pages: list[_Page] = []
    for start in range(0, len(faces), sheet.count):
        page = _Page(sheet, "Print at 100 %, one side.")
        for n, (face, name) in enumerate(faces[start : start + sheet.count]):
            unit = sheet.place(n)
            page.put(face, unit)
            page.content.append(unit_marks(unit, sheet, Marks(options.corners, options.hole, False)))
            page.content.append(name_mark(unit, sheet, name))
        if sheet.tight:
            page.content.append(tight_marks(sheet, False))
        page.content.append(furniture(sheet, page.advice))
        pages.append(page)
    return pages


def _nudged(place: SheetPlace, nudge: tuple[float, float]) -> SheetPlace:
    return SheetPlace(place.x + nudge[0], place.y + nudge[1], place.width, place.height, place.turned)


def _advice(sheet: Grid, options: SheetOptions, fold: bool) -> str:
    if fold:
        cut = "" if sheet.tight and sheet.count == 1 else " Cut,"
        return f"Print at 100 %, one side.{cut} {'then f' if cut else 'F'}old the left half behind."
    return f"Print at 100 %, both sides, flip on the {options.flip} edge."


def _add(out: pikepdf.Pdf, page: _Page) -> None:
    """Append a finished sheet to the document."""
    import pikepdf

    out.add_blank_page(page_size=(page.sheet.width * POINT, page.sheet.height * POINT))
    added = out.pages[-1]
    added.Contents = out.make_stream("\n".join(page.content).encode("ascii"))
    added.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(page.forms))


def _notes(pages: Sequence[_Page]) -> tuple[str, ...]:
    notes = [*dict.fromkeys(page.advice for page in pages)]
    if any(page.sheet.tight for page in pages):
        notes.append(
            "the cards fill the whole sheet: print without scaling and measure the 50 mm ruler; "
            "what a printer cannot reach at the paper edge is blank anyway"
        )
    return tuple(notes)


def goes_on(card: bytes, paper: str) -> bool:
    """Whether a card's faces go on a paper at 100 %.

    Args:
        card: the finished card (PDF).
        paper: ``letter`` or ``a4``.
    """
    import pikepdf

    with pikepdf.open(BytesIO(card)) as source:
        box = source.pages[0].mediabox
        size = float(box[2] - box[0]) / POINT, float(box[3] - box[1]) / POINT
    return fits(PAPERS[paper], size)
