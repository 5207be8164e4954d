"""The page of all rigs: verdicts, what falls due when, and which vehicle matches which trailer.

Everything of a rig stands on the page once, in words: search, filters, and what is due as of the day on which the page
is opened are worked out by its script from the list itself. Dates are therefore printed, and never called overdue.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import zip_longest
from string import ascii_uppercase

from cardgen.present.format import day_words
from cardgen.present.levels import Level
from cardgen.present.matrix import Matrix
from cardgen.units.show import NBSP

TITLE = "All rigs"
FEW = 400
"""Most days of services that are written with their names; of more, each name stands once, behind a letter [-]."""
TIRES = ("Tires", "Tyres")


@dataclass(frozen=True, slots=True)
class IndexRig:
    """One rig on the page.

    Args:
        nickname: its nickname.
        href: address of its page; empty when it has none.
        word, level: outcome; no word when there never was one.
        over: a sentence for each limit that is exceeded, or for each fault.
        numbers: label and printed value.
        about: the rig in a few words.
        due: day until which each service is good, ISO 8601; empty where no date tells.
        cards, measure, sheet: whether it has cards, a measuring page, and a measuring sheet.
        faulty: whether its file has faults now, so that what is shown is of earlier, if there is anything.
        behind: names of shared parts that changed since its pages were made; empty for none.
    """

    nickname: str
    href: str
    word: str
    level: Level
    over: tuple[str, ...] = ()
    numbers: tuple[tuple[str, str], ...] = ()
    about: str = ""
    due: Mapping[str, str] = field(default_factory=dict)
    cards: bool = False
    measure: bool = False
    sheet: bool = False
    faulty: bool = False
    behind: str = ""

    @property
    def group(self) -> str:
        """What the rig counts as on the page: its outcome, or that its file has faults."""
        return "faults" if self.faulty else self.level


@dataclass(frozen=True, slots=True)
class IndexView:
    """Everything the page of all rigs prints.

    Args:
        counts: how many rigs are in each group that has any: group, its word, count.
        rigs: worst first.
        labels: head of each column of numbers.
        due: what falls due when, for each of the rigs.
        letters: letter and name of each service; empty where the names themselves are written.
        matrix: all pairs; None without shared parts.
    """

    title: str
    language: str
    date: str
    counts: tuple[tuple[str, str, int], ...]
    rigs: tuple[IndexRig, ...]
    labels: tuple[str, ...]
    due: tuple[str, ...]
    letters: tuple[tuple[str, str], ...]
    matrix: Matrix | None


GROUPS = {
    "faults": "faulty",
    "over": "over",
    "unknown": "not checked",
    "close": "close",
    "within": "within",
}
"""Groups of rigs and their words, the worst first."""


def build_index(
    rigs: Sequence[IndexRig], matrix: Matrix | None = None, date: str = "", language: str = "en"
) -> IndexView:
    """Lay out the page of all rigs.

    Args:
        rigs: one entry per rig, in any order.
        matrix: the match matrix; None to leave it out.
        date: day of the build in words.
        language: BCP 47 tag of the texts.
    """
    worst = list(GROUPS)
    ordered = tuple(sorted(rigs, key=lambda r: (worst.index(r.group), r.nickname.casefold())))
    counted = ((group, word, sum(r.group == group for r in rigs)) for group, word in GROUPS.items())
    names = list(dict.fromkeys(name for rig in ordered for name, day in rig.due.items() if day))
    if sum(len(rig.due) for rig in rigs) > FEW:
        codes = {name: _letter(place) for place, name in enumerate(names)}
    else:
        codes = {name: name for name in names}
    return IndexView(
        title=TITLE,
        language=language,
        date=date,
        counts=tuple(one for one in counted if one[2]),
        rigs=ordered,
        labels=tuple(_heads([rig.numbers for rig in ordered])),
        due=tuple(_due(rig.due, codes) for rig in ordered),
        letters=tuple((code, name) for name, code in codes.items() if code != name),
        matrix=None if matrix is None else _agreed(matrix, ordered),
    )


def numbers(printed: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """Choose what the page shows of the key numbers: the coupling load, the loaded trailer, the trailer's tires.

    Args:
        printed: label and printed value of every key number.
    """
    made = list(printed.items())[:1]
    name = next((one for one in ("Trailer", "Trailer empty") if one in printed), "")
    if name:
        most, shown = printed.get("at most"), printed[name]
        weight, unit = shown.partition(NBSP)[::2]
        same = most is not None and most.endswith(f"{NBSP}{unit}")
        empty = ", empty" if name != "Trailer" else ""
        made.append(
            ("Trailer", f"{weight if same else shown} of {most}{empty}" if most else f"{shown}{empty}")
        )
    return (*made, *((name, printed[name]) for name in TIRES if name in printed))


def _heads(rows: Sequence[tuple[tuple[str, str], ...]]) -> Iterator[str]:
    """Labels of each column, which differ from market to market."""
    for column in zip_longest(*rows):
        yield " / ".join(dict.fromkeys(pair[0] for pair in column if pair is not None))


def _letter(place: int) -> str:
    """A, B, ... Z, AA, AB, ..."""
    high, low = divmod(place, len(ascii_uppercase))
    return (_letter(high - 1) if high else "") + ascii_uppercase[low]


def _due(due: Mapping[str, str], codes: Mapping[str, str]) -> str:
    """Services by day, the earliest first, and how many have no date: ``A + C 2 Feb 2027; 4 undated``."""
    days: dict[str, list[str]] = {}
    for name, day in due.items():
        if day:
            days.setdefault(day, []).append(codes[name])
    told = [
        f"{' + '.join(named)} {day_words(dt.date.fromisoformat(day)).replace(NBSP, ' ')}"
        for day, named in sorted(days.items())
    ]
    without = sum(not day for day in due.values())
    return "; ".join([*told, f"{without} undated"] if without else told)


def _agreed(matrix: Matrix, rigs: Sequence[IndexRig]) -> Matrix:
    """The matrix with every pair that is a rig of the page at that rig's own verdict."""
    own = {rig.nickname: rig for rig in rigs if rig.word}
    rows = []
    for name, cells in matrix.rows:
        told = []
        for cell in cells:
            rig = own.get(cell.own)
            if rig is not None and rig.word != cell.word:
                limit = rig.over[0] if rig.over else "see the rig's page"
                cell = replace(cell, word=rig.word, level=rig.level, limit=limit)  # the same pair
            told.append(cell)
        rows.append((name, tuple(told)))
    return replace(matrix, rows=tuple(rows))
