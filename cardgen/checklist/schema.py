"""Shapes of the data files of this room, checked by pydantic when they are loaded."""

from __future__ import annotations

from typing import Literal

from cardgen.tables.words import PLACE, is_word
from cardgen.units.record import record

Severity = Literal["safety_critical", "important", "good_habit"]
Signal = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
Mode = Literal["tell", "show", "confirm", "sign"]
Reading = Literal["read_then_do", "do_then_confirm", "learn_before"]
Kind = Literal["act", "value", "ban", "drill", "home"]
Standing = Literal["published", "reprint", "memory", "practice"]


@record
class FeatureDef:
    """A feature that conditions may ask for."""

    kind: Literal["flag", "count", "choice"]
    meaning: str
    left_out: Literal["absent", "ask"]
    choices: tuple[str, ...] = ()


@record
class ValueDef:
    """A value that texts may print, and the words in its place when it is unknown."""

    kind: str
    meaning: str
    fallback: str


@record
class Citation:
    """Where an item comes from."""

    title: str
    publisher: str
    year: str
    standing: Standing

    def words(self) -> str:
        """The source as it is printed, its standing never left out."""
        if self.standing == "practice":
            return self.title
        text = ", ".join(part for part in (self.title, self.publisher, self.year) if part)
        mark = {"memory": " (from memory)", "reprint": " (read in a reprint)", "published": ""}
        return text + mark[self.standing]


@record
class PhaseDef:
    """A phase of a tow."""

    key: str
    title: str
    reading: Reading
    about: str = ""
    kind: Kind = "act"


@record
class LookDef:
    """What one look at one place settles; the order of looks is the rank of their lines.

    Args:
        say: challenge of the line that stands for all, ``{shorts}`` where the lines' own short
            words come in; empty: the first line stands for them.
        seen: what is then seen; empty: what the last line says.
        merge: ``always``, or only when the short list is ``full``.
    """

    say: str = ""
    seen: str = ""
    merge: Literal["always", "full"] = "always"


@record
class PartDef:
    """One part of the short list: phases that are walked as one."""

    key: str
    title: str
    phases: tuple[str, ...]


@record
class Scheme:
    """Phases in order and the closed lists that items choose from, key to words."""

    phases: tuple[PhaseDef, ...]
    readings: dict[Reading, str]
    parts: tuple[PartDef, ...]
    looks: dict[str, LookDef]
    frequencies: dict[str, str]
    severities: dict[Severity, str]
    tiers: dict[int, str]
    modes: dict[Mode, str]
    signal_words: dict[str, str]


@record
class ItemDef:
    """One item as the data file holds it.

    ``say`` is the text as a challenge (what to look at), ``seen`` the state or value that answers it, ``short``
    its word in a line that names several. ``kind`` is the phase's where the item states none: act (done at the
    rig, its state can be seen), value, ban (stands over its part), drill (known by heart) or home.
    """

    id: str
    text: str
    seen: str
    why: str
    every: tuple[str, ...]
    severity: Severity
    tier: Literal[1, 2, 3]
    source: tuple[str, ...]
    say: str = ""
    short: str = ""
    kind: Kind | None = None
    look: str = ""
    undone_by: tuple[str, ...] = ()
    when: str = ""
    signal: Signal | None = None
    after: tuple[str, ...] = ()
    mode: Mode | None = None
    last: bool = False
    phase: str = ""

    @property
    def places(self) -> tuple[str, ...]:
        """Names of the values that its texts print."""
        return tuple(
            name for name in PLACE.findall(self.text + self.say + self.seen + self.short) if not is_word(name)
        )


@record
class MarketDef:
    """Constants of one market and where they come from."""

    drive_side: Literal["left", "right"]
    road_units: Literal["us", "metric"]
    first_stop: str
    retorque: str
    bearing_interval: str
    test_speed: str
    triangles_source: tuple[str, ...]
    emergency_number: str
    triangles: str | None = None


@record
class SwayDef:
    """A market's own words on a swaying trailer."""

    first: str
    never: str
    brake: str
    source: tuple[str, ...]
    brake_source: tuple[str, ...]


@record
class DueDef:
    """Something that falls due by the calendar."""

    key: str
    title: str
    date: str
    rule: Literal["interval", "idle", "change", "expires"]
    source: tuple[str, ...]
    months: int = 0
    items: tuple[str, ...] = ()
    frequency: str = ""
    when: str = ""
    note: str = ""


@record
class HandSignal:
    """One signal of the helper who guides a vehicle to the coupling."""

    meaning: str
    sign: str
    palms: str
