"""A card as one HTML page: the same page goes to the PDF engine and to a browser."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from jinja2 import TemplateError
from markupsafe import Markup

from cardgen.present.blocks import Bar, Block, Card, Drawing, Pair, Qr
from cardgen.present.figures import LimitBar
from cardgen.render import figures, qr
from cardgen.render.env import environment
from cardgen.render.fonts import FAMILY
from cardgen.render.scale import Scale
from cardgen.render.sizes import Size

PT = 25.4 / 72  # mm
PAIR_GAP = 4.0  # % of the width
STYLES = ("styles/card.css", "styles/extra.css")


class CardTemplateError(RuntimeError):
    """A template cannot be rendered; the message names the file and the line."""


@dataclass(frozen=True, slots=True)
class DrawnQr:
    """A QR code ready for the page: markup and printed side [mm]."""

    svg: Markup
    side: float


@dataclass(frozen=True, slots=True)
class Pen:
    """What templates may ask for: sizes of the place they fill, and drawings for it.

    Args:
        size: card size.
        pt: type size of checklist items [pt].
        width: width of the place [mm].
    """

    size: Size
    pt: float
    width: float

    @property
    def wide(self) -> bool:
        """Whether there is room for blocks side by side."""
        return self.size.wide and self.width > 0.75 * self.size.text_width

    @property
    def keys(self) -> int:
        """Key numbers side by side [-]."""
        return max(1, round(self.size.keys * self.width / self.size.text_width))

    @property
    def key_percent(self) -> float:
        """Width of one key number [% of the place]."""
        return 100 / self.keys

    @property
    def label_pt(self) -> float:
        """Type size of labels in drawings, that of table text [pt]."""
        return Scale(self.pt).table

    def qr(self, block: Qr) -> DrawnQr:
        """Draw a QR code."""
        code = qr.draw(block.payload, self.size.qr, block.caption)
        return DrawnQr(Markup(code.svg), code.side)

    def bar(self, row: Bar, share: float) -> Markup:
        """Draw a limit bar that fills ``share`` of the width [-]."""
        bar = LimitBar(row.share, row.state)
        return Markup(figures.limit_bar(bar, self.width * share, self.pt * PT * 0.72, row.word))

    def figure(self, block: Drawing) -> Markup:
        """Draw a figure over the whole width."""
        return Markup(figures.draw(block.figure, self.width, self.label_pt, block.alt))

    def left_percent(self, pair: Pair) -> float:
        """Width of the left block of a pair [%]."""
        return (100 - PAIR_GAP) * pair.share

    def right_percent(self, pair: Pair) -> float:
        """Width of the right block of a pair [%]."""
        return (100 - PAIR_GAP) * (1 - pair.share)

    def part(self, pair: Pair, which: int) -> Pen:
        """Return the pen for the left (0) or right (1) block of a pair."""
        percent = self.right_percent(pair) if which else self.left_percent(pair)
        return replace(self, width=self.width * percent / 100)


@dataclass(frozen=True, slots=True)
class Section:
    """A fixed face or the flowing part, as the template sees it.

    Args:
        id: ``face1``, ``face2``... or ``flow``; also the name of its pages.
        title: running head.
        blocks: what is printed.
        pt: type size of checklist items [pt].
        pen: drawing helper.
        first: whether the card's header stands on it.
        lines: ruled lines at its end [-].
    """

    id: str
    title: str
    blocks: tuple[Block, ...]
    pt: float
    pen: Pen
    first: bool
    lines: int = 0

    @property
    def scale(self) -> Scale:
        """Type sizes of every class of text."""
        return Scale(self.pt, self.pen.size.id == "wallet")


def sections_of(card: Card, size: Size, plan: Plan) -> tuple[Section, ...]:
    """Return the parts of a card in print order, with the type sizes of the plan."""
    parts: list[tuple[str, str, tuple[Block, ...], float, int]] = [
        (f"face{n}", face.title or card.title, face.blocks, pt, 0)
        for n, (face, pt) in enumerate(zip(card.faces, plan.faces, strict=True), 1)
    ]
    if card.flow:
        parts.append(("flow", card.flow_title or card.title, card.flow, plan.flow, plan.lines))
    if plan.notes:
        parts.append(("notes", card.words.notes, (), plan.flow, plan.notes))
    return tuple(
        Section(name, title, blocks, pt, Pen(size, pt, size.text_width), n == 0, lines)
        for n, (name, title, blocks, pt, lines) in enumerate(parts)
    )


@dataclass(frozen=True, slots=True)
class Plan:
    """Type sizes and ruled lines chosen for a card.

    Args:
        faces: type size of each fixed face [pt].
        flow: type size of the flowing part [pt].
        lines: ruled lines that fill the last flowing face [-].
        notes: ruled lines of a notes face of its own; 0 for none [-].
    """

    faces: tuple[float, ...]
    flow: float
    lines: int = 0
    notes: int = 0


def card_html(card: Card, size: Size, plan: Plan, workspace: Path | None = None) -> str:
    """Return the page of a card, without its shared style sheet.

    Args:
        card: view model.
        size: card size.
        plan: type sizes.
        workspace: folder with own templates; None for ours.

    Raises:
        CardTemplateError: a template names something unknown or is not valid.
    """
    env = environment(workspace)
    try:
        return env.get_template("cards/card.html.j2").render(
            card=card,
            size=size,
            sections=sections_of(card, size, plan),
            words=card.words,
            family=FAMILY,
            running=size.id != "wallet",
        )
    except TemplateError as fault:
        name = getattr(fault, "name", None) or "cards/card.html.j2"
        line = getattr(fault, "lineno", None)
        place = f"{name}:{line}" if line else name
        raise CardTemplateError(f"template {place}: {fault.message}") from fault
