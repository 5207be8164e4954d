"""A card as one HTML page: the same page goes to the PDF engine and to a browser."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from markupsafe import Markup

from cardgen.present.blocks import Bar, Block, Card, CheckLine, CheckPhase, Drawing, Gauge, Pair, Qr
from cardgen.present.figures import LimitBar
from cardgen.render import figures, qr
from cardgen.render.env import TemplateFaultError, environment, named_faults
from cardgen.render.fonts import FAMILY
from cardgen.render.room import set_as
from cardgen.render.sizes import COLUMN_GAP, Size, is_wide
from cardgen.render.wrap import PT, last_line, lines, shorten, width
from cardgen.tables.letters import Weight

GAP = 1.1  # mm between blocks, at least
PAIR_GAP = 4.0  # % of the width
ORDINARY = 10.75 / 12.25  # type of an ordinary line over that of a critical one
LABEL = 0.9  # em; labels in drawings
HEAD, SMALL = 0.8776, 0.7755  # em; a heading and small print, as the style sheet has them
GUTTER = 4.86  # em; 21 mm beside critical lines of 12.25 pt
QR_SIDE = 5.7  # em; 24.6 mm beside critical lines of 12.25 pt
STYLES = ("styles/card.css", "styles/extra.css")


class CardTemplateError(TemplateFaultError):
    """A template cannot be rendered; the message names the file and the line."""


@dataclass(frozen=True, slots=True)
class DrawnQr:
    """A QR code ready for the page: markup and printed side [mm]."""

    svg: Markup
    side: float


NARROW = 0.6  # mm by which measured and laid out text may differ: a break this near is not relied on


@dataclass(frozen=True, slots=True)
class SetLine:
    """A checklist item as it will be set.

    Args:
        text: what is printed before the answer.
        low: whether the answer stands on a line of its own.
        start: where the leader dots begin [mm from the left of the text].
        dots: length of the leader [mm].
        lines: lines of text and answer together [-].
    """

    text: str
    low: bool
    start: float
    dots: float
    lines: int


@dataclass(frozen=True, slots=True)
class Pen:
    """What templates may ask for: sizes of the place they fill, and drawings for it.

    Args:
        size: card size.
        pt: type size of critical lines [pt].
        width: width of the place [mm].
        pictures: whether tick boxes and bars are pictures, for a browser, and not ink.
    """

    size: Size
    pt: float
    width: float
    pictures: bool = False

    @property
    def wide(self) -> bool:
        """Whether there is room for blocks side by side."""
        return is_wide(self.width, self.pt)

    @property
    def keys(self) -> int:
        """Key numbers side by side [-]."""
        return 4 if self.wide else 2

    @property
    def key_percent(self) -> float:
        """Width of one key number [% of the place]."""
        return 100 / self.keys

    @property
    def compact(self) -> bool:
        """Whether key numbers stand beside their labels, as on cards of ID-1."""
        return self.size.id == "wallet"

    @property
    def label_pt(self) -> float:
        """Type size of labels in drawings [pt]."""
        return LABEL * self.pt

    def qr(self, block: Qr) -> DrawnQr:
        """Draw a QR code."""
        code = qr.draw(block.payload, QR_SIDE * self.pt * PT, block.caption, qr.level(block.href))
        return DrawnQr(Markup(code.svg), code.side)

    def beside_gutter(self) -> Pen:
        """Return the pen for the lines beside a gutter, where there is room for one."""
        return replace(self, width=self.width - self.gutter) if self.wide else self

    @property
    def gutter(self) -> float:
        """Width of the gutter with titles and bans [mm]."""
        return GUTTER * self.pt * PT if self.wide else 0.0

    def bans_are_higher(self, phase: CheckPhase) -> bool:
        """Whether title and bans in the gutter are higher than the lines beside it would be with the bans above them."""
        rows = [lines(ban, self.pt, self.gutter - 1.5) for ban in phase.bans] if self.wide else []
        return 1.35 * HEAD + 1.12 * sum(rows) > 1.24 * len(phase.lines) + 1.12 * len(rows)

    def item(self, line: CheckLine, if_fitted: str, large: bool = False) -> SetLine:
        """Measure a checklist item: where its text ends and where its answer begins.

        Args:
            line: the item.
            if_fitted: what is printed before items that may not apply [-].
            large: whether all items have the type of critical ones.
        """
        pt = self.pt if line.critical or large else self.pt * ORDINARY
        em = pt * PT
        room = self.width - 1.5 * self.pt * PT
        text = f"{if_fitted[:1].upper()}{if_fitted[1:]}: {line.text}" if line.if_fitted else line.text
        count, used = last_line(text, pt, room)
        sure = last_line(text, pt, room - NARROW) == last_line(text, pt, room + NARROW)
        if not line.answer:
            return SetLine(text, False, 0.0, 0.0, max(1, count))
        rows, answer = last_line(line.answer, pt, room, "bold")
        start = used + 0.4 * em
        low = not sure or rows > 1 or start + answer + 0.3 * em > room
        if low:
            start = 0.0
            count += rows
        dots = max(0.0, room - start - answer - 0.4 * em) if rows == 1 else 0.0
        return SetLine(text, low, round(start, 2), round(dots, 2), max(1, count))

    def reading_beside(self, phase: CheckPhase) -> bool:
        """Whether the reading mode of a phase fits the line of its title."""
        head, small = HEAD * self.pt, SMALL * self.pt
        title = width(phase.title, head, "bold") + (0.25 * head + 0.6 * small) * PT
        return bool(phase.reading) and title + width(phase.reading, small) <= self.width

    def beside(self, code: DrawnQr) -> bool:
        """Whether a code leaves room for its caption beside it."""
        return self.width > 2 * code.side

    @property
    def _bar(self) -> tuple[float, float]:
        """Width and height of a limit bar [mm]."""
        return 0.19 * self.width, 0.5 * self.pt * PT

    def bar_ink(self, row: Bar) -> Markup:
        """Return the attribute that has a limit bar drawn in a cell; nothing where bars are pictures."""
        if self.pictures:
            return Markup("")
        share = "-" if row.share is None else f"{row.share:.4f}"
        sizes = " ".join(f"{value:.3f}" for value in (*self._bar, 0.0, 0.3 * self.pt * PT))
        return Markup(f' data-ink="bar {share} {row.state} {sizes}"')

    def bar_picture(self, row: Bar) -> Markup:
        """Return a limit bar as a picture for a browser; nothing where bars are ink."""
        if not self.pictures:
            return Markup("")
        bar = LimitBar(row.share, row.state)
        return Markup(figures.limit_bar(bar, *self._bar, row.word).svg)

    def gauge(self, row: Gauge, unit: str) -> Markup:
        """Draw where a value lies between its ends; nothing while an end is not known."""
        if not row.low or not row.high:
            return Markup("")
        em = self.pt * PT
        said = f"{row.value or '?'} {unit}, between {row.low} and {row.high}"
        return Markup(figures.small_gauge(row.at, 3.7 * em, 0.95 * em, said).svg)

    def cut(self, text: str, share: float, size: float = 1.0, weight: Weight = "regular") -> str:
        """Cut a text of the owner's to a share of the line [-], at a type size [em]."""
        return shorten(text, self.pt * size, self.width * share, weight)

    def own(self, room: str, text: str) -> str:
        """Return a text of the owner's, cut where a size that was asked for on the command line has no room for it."""
        return set_as(room, text, self.width, self.pt)[1]

    def em(self, room: str, text: str) -> float:
        """Type size of a text of the owner's [em]: the largest of its place in which it takes one line."""
        return set_as(room, text, self.width, self.pt)[0]

    def figure(self, block: Drawing) -> Markup:
        """Draw a figure over the whole width."""
        return Markup(figures.draw(block.figure, self.width, self.label_pt, block.alt).svg)

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
class PartSetting:
    """How one part of a card is set.

    Args:
        pt: type size of checklist items [pt].
        gap: space between blocks [mm].
        lines: ruled lines to write on at the end [-].
        air: space added below each line and row [mm].
        rest: space above what stands at the foot of the face [mm].
    """

    pt: float
    gap: float = GAP
    lines: int = 0
    air: float = 0.0
    rest: float = 0.0


@dataclass(frozen=True, slots=True)
class Plan:
    """How a card is set.

    Args:
        faces: each fixed face.
        flow: the flowing part.
        notes: a last face with ruled lines; None for no such face.
    """

    faces: tuple[PartSetting, ...]
    flow: PartSetting
    notes: PartSetting | None = None


@dataclass(frozen=True, slots=True)
class Section:
    """A fixed face or the flowing part, as the template sees it.

    Args:
        id: ``face1``, ``face2``... ``flow`` or ``notes``; also the name of its pages.
        title: running head.
        blocks: what is printed.
        part: type size, gaps and ruled lines.
        pen: drawing helper.
        first: whether the card's header stands on it.
        columns: columns of text [-].
        aside: remark beside the title of a face that has a heading of its own.
        foot: what stands at the lower end.
    """

    id: str
    title: str
    blocks: tuple[Block, ...]
    part: PartSetting
    pen: Pen
    first: bool
    columns: int = 1
    aside: str = ""
    foot: tuple[Block, ...] = ()

    @property
    def lines(self) -> int:
        """Ruled lines at the end [-]."""
        return self.part.lines

    @property
    def gap(self) -> float:
        """Space between blocks [mm]."""
        return self.part.gap


def sections_of(card: Card, size: Size, plan: Plan, pictures: bool = False) -> tuple[Section, ...]:
    """Return the parts of a card in print order, set as the plan says."""
    parts: list[tuple[str, str, tuple[Block, ...], PartSetting]] = [
        (f"face{n}", face.title or card.title, face.blocks, part)
        for n, (face, part) in enumerate(zip(card.faces, plan.faces, strict=True), 1)
    ]
    if card.flow:
        parts.append(("flow", card.title, card.flow, plan.flow))
    if plan.notes:
        parts.append(("notes", card.words.notes, (), plan.notes))
    return tuple(
        Section(
            name,
            title,
            blocks,
            part,
            replace(pen_for(size, part.pt, name == "flow"), pictures=pictures),
            n == 0,
            size.columns if name == "flow" else 1,
            card.faces[n].aside if n < len(card.faces) else card.nickname if name == "notes" else "",
            card.faces[n].foot if n < len(card.faces) else (),
        )
        for n, (name, title, blocks, part) in enumerate(parts)
    )


def pen_for(size: Size, pt: float, flowing: bool) -> Pen:
    """Return the pen for a fixed face or for the flowing part, which may have columns."""
    return Pen(size, pt, size.column_width(size.columns if flowing else 1))


def _short(size: Size, text: str, pt: float, share: float, weight: Weight) -> str:
    """Cut a running text to a share of the line [-]; the full text stands on the first face."""
    return shorten(text, pt, size.text_width * share - 1.0, weight)


def card_html(
    card: Card, size: Size, plan: Plan, workspace: Path | None = None, pictures: bool = False
) -> str:
    """Return the page of a card, without its shared style sheet.

    Args:
        card: view model.
        size: card size.
        plan: type sizes.
        workspace: folder with own templates; None for ours.
        pictures: whether tick boxes and bars are pictures, for a browser, and not ink.

    Raises:
        CardTemplateError: a template names something unknown or is not valid.
    """
    name = "cards/card.html.j2"
    with named_faults(name, CardTemplateError):
        return (
            environment(workspace)
            .get_template(name)
            .render(
                card=card,
                size=size,
                sections=sections_of(card, size, plan, pictures),
                words=card.words,
                family=FAMILY,
                column_gap=COLUMN_GAP,
                short=partial(_short, size),
                running=size.id != "wallet",
            )
        )
