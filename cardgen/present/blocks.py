"""View model of a printed card: blocks of ready-formatted text.

Templates and drawings receive only these. Every string is final (rounded, with its unit,
in the reader's language); the few numbers are there to be drawn, not to be computed with.
Each block names its ``kind``, which is also the name of its template under
``templates/cards/blocks/``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import ClassVar, Literal

from cardgen.present.figures import Figure
from cardgen.present.levels import Level, level_of

SHORT_PHASE = 4  # items up to which a phase is not broken over two faces
Align = Literal["left", "right", "center"]
Signal = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
# Signal words of ANSI Z535.4, worst first.
SIGNALS: tuple[Signal, ...] = ("DANGER", "WARNING", "CAUTION", "NOTICE")


@dataclass(frozen=True, slots=True)
class KeyNumber:
    """One number the driver looks for, with its label and a short remark below it."""

    label: str
    value: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class KeyNumbers:
    """The few numbers that are printed large; ``large`` sets one on a small card above all others."""

    kind: ClassVar[str] = "key_numbers"
    title: str
    rows: tuple[KeyNumber, ...]
    aside: str = ""
    large: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table of texts.

    Args:
        title: heading above it; may be empty.
        head: column heads; empty for a table without heads.
        rows: cells, as many per row as there are columns; the first cell is the row's head.
        widths: share of each column [-], any scale; equal columns when empty.
        align: alignment per column; first left and the others right when empty.
        note: source or remark, printed small below.
        strong: numbers of the rows to print bold, counted from 0.
        aside: remark beside the title.
        write: whether the last column is a box to write in, its text beside the box.
        key: number of the column that is printed bold, from 0; none when negative.
    """

    kind: ClassVar[str] = "table"
    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...] = ()
    align: tuple[Align, ...] = ()
    note: str = ""
    strong: tuple[int, ...] = ()
    aside: str = ""
    write: bool = False
    key: int = -1

    @property
    def columns(self) -> int:
        """Number of columns [-]."""
        return len(self.head) or max((len(row) for row in self.rows), default=1)

    def percent(self) -> tuple[float, ...]:
        """Column widths [% of the table]."""
        shares = self.widths or (1.0,) * self.columns
        return tuple(100 * share / sum(shares) for share in shares)

    def aligned(self) -> tuple[Align, ...]:
        """Alignment of every column."""
        rest: tuple[Align, ...] = tuple("right" for _ in range(1, self.columns))
        return self.align or ("left", *rest)


@dataclass(frozen=True, slots=True)
class Bar:
    """One limit: what is asked, what is allowed, and how they compare.

    Args:
        label: what is limited.
        demand, capacity: ready texts with units.
        share: demand over capacity [-], drawn up to 1.3; None when not checked.
        word: the outcome in words.
        level: outcome for the hatching; taken from ``word`` when left out.
        href: where a page tells more; not printed.
    """

    label: str
    demand: str
    capacity: str
    share: float | None
    word: str
    level: Level | None = None
    href: str = field(default="", repr=False)

    @property
    def state(self) -> Level:
        """Outcome that fixes the hatching."""
        return self.level or level_of(self.word)


@dataclass(frozen=True, slots=True)
class Bars:
    """Limits as bars, worst first."""

    kind: ClassVar[str] = "bars"
    title: str
    rows: tuple[Bar, ...]
    head: tuple[str, str, str] = ("Limit", "Used of allowed", "Outcome")
    note: str = ""
    aside: str = ""


@dataclass(frozen=True, slots=True)
class Banner:
    """The verdict, in words and large; ``tab`` is the one word that is read from afar, ``links`` lead a page's
    lines on and are not printed."""

    kind: ClassVar[str] = "banner"
    level: Level
    title: str
    lines: tuple[str, ...] = ()
    tab: str = ""
    links: tuple[str, ...] = field(default=(), repr=False)


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: signal word (or none) and its text."""

    signal: Signal | Literal[""]
    text: str


@dataclass(frozen=True, slots=True)
class Cautions:
    """Cautions grouped under the signal word of the worst one."""

    kind: ClassVar[str] = "cautions"
    title: str
    rows: tuple[Caution, ...]

    @property
    def signal(self) -> str:
        """The worst signal word among the rows; empty when there is none."""
        used = {row.signal for row in self.rows}
        return next((word for word in SIGNALS if word in used), "")

    @property
    def alert(self) -> bool:
        """Whether the safety alert symbol belongs to the signal word (never to NOTICE)."""
        return self.signal in ("DANGER", "WARNING", "CAUTION")


@dataclass(frozen=True, slots=True)
class CheckLine:
    """One item to tick: what to do, the wanted state, and how much it matters.

    ``id`` names the item in lists of changes and is not printed; ``weight`` says what goes
    first where a face is full: the largest [-]; 0 never goes.
    """

    text: str
    answer: str = ""
    critical: bool = False
    if_fitted: bool = False
    id: str = ""
    weight: int = 0


@dataclass(frozen=True, slots=True)
class CheckPhase:
    """Items that belong to one place or moment; ``reading`` says how to use them.

    ``mark`` is its number or letter; ``bans`` are what must not be done meanwhile.
    """

    title: str
    reading: str
    lines: tuple[CheckLine, ...]
    mark: str = ""
    bans: tuple[str, ...] = ()

    @property
    def short(self) -> bool:
        """Whether the phase is kept on one face."""
        return len(self.lines) <= SHORT_PHASE


@dataclass(frozen=True, slots=True)
class ChecklistBlock:
    """A checklist in phases, with the words for its marks.

    Args:
        critical_word: legend of the heavy box.
        if_fitted_word: printed before items that may not apply.
        gutter: whether titles and bans stand beside the lines, where the face is wide enough.
        tight: whether bans that are higher than the lines beside them stand above these, where the face is full.
    """

    kind: ClassVar[str] = "checklist"
    title: str
    phases: tuple[CheckPhase, ...]
    critical_word: str = "Bold box = safety-critical."
    if_fitted_word: str = "if fitted"
    gutter: bool = False
    tight: bool = False

    @property
    def has_critical(self) -> bool:
        """Whether the legend of the heavy box is needed."""
        return any(line.critical for phase in self.phases for line in phase.lines)


@dataclass(frozen=True, slots=True)
class Qr:
    """A QR code: an address or plain text, a caption, and the address as people type it."""

    kind: ClassVar[str] = "qr"
    payload: str
    caption: str
    url_text: str = ""

    @property
    def href(self) -> str:
        """The address to link to; empty when the payload is no web address."""
        return self.payload if self.payload.startswith(("https://", "http://")) else ""


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing made from numbers, with its alternative text."""

    kind: ClassVar[str] = "drawing"
    figure: Figure
    title: str
    alt: str


@dataclass(frozen=True, slots=True)
class Note:
    """A source or remark, printed small."""

    kind: ClassVar[str] = "note"
    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text at the size of a checklist item, after a bold word or two.

    ``passing`` text may change while the card stays good, such as what is due.
    """

    kind: ClassVar[str] = "paragraph"
    text: str
    strong: str = ""
    passing: bool = False


@dataclass(frozen=True, slots=True)
class Sign:
    """Lines to write on: each row is what to write there."""

    kind: ClassVar[str] = "sign"
    title: str
    rows: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading between blocks, with a remark at its right end."""

    kind: ClassVar[str] = "heading"
    text: str
    aside: str = ""


@dataclass(frozen=True, slots=True)
class Gauge:
    """A weight of one loading case between the least and the most it may be.

    Args:
        label: the loading case.
        beside: ready text of another weight of that case.
        value, low, high: ready texts, without unit; empty for an unknown end.
        at: place of the value between low (0) and high (1) [-]; None when not known.
    """

    label: str
    beside: str
    value: str
    low: str
    high: str
    at: float | None


@dataclass(frozen=True, slots=True)
class Gauges:
    """What is to be kept between two ends, a row for each loading case.

    Args:
        title, aside: heading, and remark beside it.
        head: heads of the five columns: case, other weight, value, least, most.
        rows: the cases.
        unit: printed unit of the values.
        limit: what else holds, its number and its remark; empty for nothing.
    """

    kind: ClassVar[str] = "gauges"
    title: str
    aside: str
    head: tuple[str, str, str, str, str]
    rows: tuple[Gauge, ...]
    unit: str
    limit: tuple[str, str, str] = ("", "", "")


@dataclass(frozen=True, slots=True)
class NumberedLine:
    """A step of a drill or a cure: its number or word, bold words, the rest.

    ``rule`` draws a line above it, ``large`` sets the mark large.
    """

    mark: str
    text: str
    strong: str = ""
    rule: bool = False
    large: bool = False


@dataclass(frozen=True, slots=True)
class Steps:
    """Numbered steps in a frame under a black head."""

    kind: ClassVar[str] = "steps"
    title: str
    rows: tuple[NumberedLine, ...]
    aside: str = ""


@dataclass(frozen=True, slots=True)
class Call:
    """Where the report lies, and whom to call: the last lines of a front."""

    kind: ClassVar[str] = "call"
    text: str
    note: str
    who: str
    phone: str


@dataclass(frozen=True, slots=True)
class Pair:
    """Two blocks side by side on wide faces, one above the other on narrow ones.

    Args:
        share: width of the left block [share of the face].
    """

    kind: ClassVar[str] = "pair"
    left: Block
    right: Block
    share: float = 0.5


Block = (
    Call
    | Gauges
    | KeyNumbers
    | Table
    | Bars
    | Banner
    | Cautions
    | ChecklistBlock
    | Qr
    | Drawing
    | Note
    | Paragraph
    | Sign
    | Steps
    | Heading
    | Pair
)


@dataclass(frozen=True, slots=True)
class Face:
    """One side of a card whose blocks belong together on one page.

    Args:
        blocks: what is printed, from the top.
        title: what the face is.
        aside: remark beside the title, where a face has a heading of its own.
        foot: blocks that stand at the lower end.
        spare: how many of the last blocks go to the last face where this one is full.
        less: the same face with less on it, for paper that does not take all; None when nothing more may go.
    """

    blocks: tuple[Block, ...]
    title: str = ""
    aside: str = ""
    foot: tuple[Block, ...] = ()
    spare: int = 0
    less: Face | None = None


@dataclass(frozen=True, slots=True)
class Words:
    """Words that the page itself adds.

    Args:
        notes: heading of ruled lines.
        of: between the number of a face and the count of faces.
        face: before the number of a face.
    """

    notes: str = "Notes"
    of: str = "of"
    face: str = "face"


@dataclass(frozen=True, slots=True)
class Card:
    """One card.

    Args:
        id: name of the card and of its file, for example ``glovebox-card``.
        title: what the card is.
        nickname: the rig's nickname.
        subtitle: the rig in a few words.
        revision: for example ``Revision 3``.
        date: ready text.
        language: BCP 47 tag, for example ``en-US``.
        faces: fixed faces, each meant for one page.
        flow: blocks that run over as many further faces as they need.
        foot: line at the bottom of every face.
        day: ISO date for the document's properties, empty to leave it out.
        words: words that the page itself adds.
    """

    id: str
    title: str
    nickname: str
    subtitle: str
    revision: str
    date: str
    language: str
    faces: tuple[Face, ...] = ()
    flow: tuple[Block, ...] = ()
    foot: str = ""
    day: str = ""
    words: Words = Words()
