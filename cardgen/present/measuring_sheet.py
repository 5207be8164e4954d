"""The measuring sheet: the questions of the measuring page on paper, in the same order with the same numbers."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from cardgen.present.asking import PLACES, FieldQuestion
from cardgen.present.measure import MeasureView

MARKS = (
    ("type", "letters before the size"), ("size", "size"), ("load_index", "number after it"),
    ("speed_symbol", "letter after that"), ("load_range", "load range"), ("extra_load", "XL, extra load?"),
    ("max_load", "max load, one tire"), ("max_load_at", "at this cold pressure"),
    ("max_pressure", "highest pressure"), ("date_code", "last 4 digits of DOT"),
)  # fmt: skip
"""Marks of a tire in the order in which a sidewall is read."""
TIRES = (
    ("vehicle.tires.front", "front"), ("vehicle.tires.rear", "rear"), ("trailer.tires", "trailer"),
    ("trailer.spare", "spare"),
)  # fmt: skip
LISTS = {
    "trailer.tanks": "tanks",
    "trailer.cylinders": "gas cylinders",
    "trailer.batteries": "batteries",
    "trailer.cargo": "things in the trailer",
    "vehicle.cargo": "things in the vehicle",
    "occupants": "people",
}
"""Lists that share one table on paper, and the word beside the number of the question for each."""
NOT_ON_PAPER = ("weighings", "preferences.base_url")
"""What has a block of its own on the sheet, and what nobody measures [-]."""


FEW = 10
"""Questions for which checks wait from which a sheet is printed [-]; a project choice, no source."""


@dataclass(frozen=True, slots=True)
class PencilBox:
    """A box to write in, with the word after it, or a small box to cross before a word.

    Args:
        kind: ``box`` or ``tick`` [-].
        words: the word [-].
        wide: width of the box [mm].
    """

    kind: Literal["box", "tick"]
    words: str
    wide: int = 0


@dataclass(frozen=True, slots=True)
class PaperLine:
    """One question on paper: number, words, and where the answer goes."""

    number: int
    words: str
    answers: tuple[PencilBox, ...]


@dataclass(frozen=True, slots=True)
class PaperPlace:
    """Questions of one place, thing by thing."""

    key: str
    title: str
    bring: str
    things: tuple[tuple[str, tuple[PaperLine, ...]], ...]


@dataclass(frozen=True, slots=True)
class MeasuringSheet:
    """Everything the measuring sheet prints.

    Args:
        nickname, language: of the rig [-].
        file, sha: the rig file, and the beginning of its fingerprint [-].
        metric: whether lengths are in metric units.
        places: the walk.
        tires: mark in words, and the number of the question for each of ``TIRES``, 0 where it is not asked.
        lists: numbers and words of the lists that share a table.
        cases: names of the loading cases.
        drawn: every field that is asked for, without items, and its place: for the drawings [-].
        waited: how many of them a check waits for [-].
        first: numbers of the questions that the first card waits for [-].
    """

    nickname: str
    language: str
    file: str
    sha: str
    metric: bool
    places: tuple[PaperPlace, ...]
    tires: tuple[tuple[str, tuple[int, ...]], ...]
    lists: tuple[tuple[int, str], ...]
    cases: tuple[str, ...]
    drawn: tuple[tuple[str, str], ...]
    waited: int
    first: frozenset[int] = frozenset()

    @property
    def worth(self) -> bool:
        """Whether so much is missing that paper helps: a few answers fit the measuring page."""
        return self.waited >= FEW


def build_sheet(view: MeasureView, cases: Sequence[str]) -> MeasuringSheet:
    """Lay out the measuring sheet of a rig.

    Args:
        view: its measuring page.
        cases: names of its loading cases [-].
    """
    data = view.data
    tires: dict[str, list[int]] = {}
    lists: list[tuple[int, str]] = []
    places: dict[str, dict[str, list[PaperLine]]] = {}
    for one, row in zip(view.questions, data["questions"], strict=True):
        owner, _, mark = one.field.rpartition(".")
        owners = [path for path, _ in TIRES]
        if owner in owners and mark in dict(MARKS):
            tires.setdefault(mark, [0] * len(TIRES))[owners.index(owner)] = one.number
        elif one.field in LISTS:
            lists.append((one.number, LISTS[one.field]))
        elif one.field not in NOT_ON_PAPER:
            spec = data["specs"][row[7]]
            line = PaperLine(one.number, _short(one), tuple(_answers(spec, data, one)))
            places.setdefault(one.stand, {}).setdefault(data["things"][row[5]], []).append(line)
    titles = dict(zip(data["stands"], data["places"], strict=True))
    return MeasuringSheet(
        view.nickname,
        view.language,
        data["files"][0]["name"],
        data["files"][0]["sha"][:12],
        data["metric"],
        tuple(
            PaperPlace(
                key,
                titles[key][0],
                titles[key][2],
                tuple((t, tuple(rows)) for t, rows in places.get(key, {}).items()),
            )
            for key in PLACES
            if key in places or (key == "tires" and tires) or key == "scale"
        ),
        tuple((words, tuple(tires[mark])) for mark, words in MARKS if mark in tires),
        tuple(lists),
        tuple(cases),
        tuple((one.bare, one.stand) for one in view.questions if one.field not in LISTS),
        sum(bool(one.opens) for one in view.questions),
        frozenset(one.number for one in view.questions if one.first and one.field != "weighings"),
    )


def _short(question: FieldQuestion) -> str:
    """Say a question in few words: what is asked for, without its explanation."""
    words = re.split(r": | \(", question.need.what, maxsplit=1)[0]
    return words[:1].upper() + words[1:]


def _answers(
    spec: Mapping[str, Any], data: Mapping[str, Any], question: FieldQuestion | None
) -> Iterator[PencilBox]:
    """Boxes for an answer."""
    match spec["t"]:
        case "number":
            yield from _number(spec, data)
        case "word" | "pick":
            yield from (PencilBox("tick", str(one).replace("_", " ")) for one in spec["o"])
        case "flag":
            yield from (PencilBox("tick", "yes"), PencilBox("tick", "no"))
        case "count" | "plain":
            yield PencilBox("box", "", 12)
        case "list" if spec["n"]:
            inner = tuple(_answers(data["specs"][spec["i"]], data, None))
            for _ in range(spec["n"]):
                yield from (one for one in inner if one.kind == "box")
            yield from (one for one in inner if one.kind == "tick")
        case "form" | "rows":
            for column in spec["c"]:
                if "a" not in column:
                    if spec["t"] == "rows":
                        yield from (PencilBox("box", "row", 16), *_number(data["specs"][column["k"]], data))
                    else:
                        yield from _answers(data["specs"][column["k"]], data, None)
        case _:
            yield PencilBox("box", "", 26)


def _number(spec: Mapping[str, Any], data: Mapping[str, Any]) -> Iterator[PencilBox]:
    kind = data["kinds"][spec["k"][0]]
    units = [unit for unit in spec.get("u") or kind["u"] if unit in kind["t"]]
    if spec.get("o") and spec["k"][0] == "fraction":
        yield from (PencilBox("tick", word) for word in ("full", "1/2", "empty"))
        return
    units = [unit for unit in units if unit not in ("lb", "lb-ft") or not data["metric"]] or units
    if units[0] == "ft in":
        yield from (PencilBox("box", "ft", 10), PencilBox("box", "in", 12))
        return
    yield PencilBox("box", units[0] if len(units) == 1 else "", 17)
    if len(units) > 1:
        yield from (PencilBox("tick", unit) for unit in units[:2])
