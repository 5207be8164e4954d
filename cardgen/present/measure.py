"""The measuring page: what is open in a rig file as questions, and where each answer goes in the file."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Any

from cardgen.limits.registry import rules
from cardgen.model.results import Outcome
from cardgen.model.sense.against import CONTRADICTIONS, stated
from cardgen.present.asking import PLACES, TICKET, TOGETHER, FieldQuestion, questions, simple
from cardgen.present.rig_view import RigView
from cardgen.source.decode import FOREIGN
from cardgen.source.edit import Anchor, Spans, anchor, spans, utf16
from cardgen.source.faults import Path
from cardgen.source.limits import Bounds
from cardgen.source.shapes import Shape, Slot, shape_of, slots_of
from cardgen.source.tree import Tree
from cardgen.tables.connectors import usual
from cardgen.units import base_of
from cardgen.units.field import Fill, Kind
from cardgen.units.kinds import RANGES, SPELLINGS, Believable
from cardgen.units.parse import parse
from cardgen.units.registry import to_si

MARK = "# cardgen measured "
"""How the first line of a file begins that the page gives back; JSON follows."""
CHOICES: dict[str, tuple[str, ...]] = {
    "mass": ("lb", "kg"), "length": ("ft in", "in", "m", "cm"), "distance": ("mi", "km"),
    "volume": ("gal", "US gal", "L"), "pressure": ("psi", "kPa", "bar"), "temperature": ("F", "C"),
    "speed": ("mph", "km/h"), "torque": ("lb-ft", "N m"), "force": ("kN",), "rate": ("lb/in", "N/mm"),
    "duration": ("years", "weeks"),
}  # fmt: skip
"""Units to choose from, those of the US first; other kinds offer their first spelling."""
_METRIC = ("kg", "m", "cm", "mm", "km", "L", "kPa", "bar", "C", "km/h", "N m", "kN", "N/mm")
_SMALL = ("in", "mm", "cm")
"""Units of what is shorter than a metre, a ball or a shank say."""
_GAUGES = {"uk": ("psi", "bar", "kPa"), "eu": ("bar", "kPa", "psi")}
"""Units on the gauges of a market, the usual one first (common practice, no source); elsewhere kPa, then psi."""
_NOT_ASKED = frozenset(("movable", "set", "table", "source"))
"""Columns of lists that no form asks for."""
_ALSO = ("capacity", "water_capacity", "y")
"""Columns that tell a weight or a side, whichever check declares them."""
_ANY = Believable(-1e9, 1e9)
FOREIGN_JS = re.sub(r"[^ -~]", lambda found: f"\\u{{{ord(found[0]):x}}}", FOREIGN)
"""What no value may hold, as a regular expression of the page's script."""
_FILL = shape_of(Fill)


@dataclass(frozen=True, slots=True)
class FileText:
    """A file of the rig.

    Args:
        name: path below the folder of the rig file, with ``/`` [-].
        shown: its name in messages and marks [-].
        text: what it holds [-].
        rigs: other rigs that take it in, as a part, and change with it [-].
    """

    name: str
    shown: str
    text: str
    rigs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MeasureView:
    """Everything the measuring page shows.

    Args:
        nickname, language: of the rig [-].
        date: day of the edition in words [-].
        questions: what is asked, in the order of the walk.
        data: what the script of the page works with [-].
    """

    nickname: str
    language: str
    date: str
    questions: tuple[FieldQuestion, ...]
    data: Mapping[str, Any]


def open_questions(rig_view: RigView, tree: Tree) -> tuple[FieldQuestion, ...]:
    """List what is open in a rig's file.

    Args:
        rig_view: the rig.
        tree: what its file holds.
    """
    return questions(rig_view.outcome(Outcome.NOT_CHECKED), rig_view.rig, tree.data)


def lacks(rig_view: RigView, tree: Tree) -> bool:
    """Whether anything is open in a rig's file besides lists that no check waits for.

    Args:
        rig_view: the rig.
        tree: what its file holds.
    """
    return any(one.opens or one.shape.item is None for one in open_questions(rig_view, tree))


def build_measure(rig_view: RigView, tree: Tree, files: Sequence[FileText]) -> MeasureView:
    """Lay out the measuring page of a rig.

    Args:
        rig_view: the rig.
        tree: its files as read, with marks.
        files: the rig file first, then its parts.
    """
    maker = _DataMaker(rig_view, tree, files)
    data = maker.data()
    return MeasureView(
        rig_view.rig.nickname,
        rig_view.language,
        rig_view.date,
        tuple(maker.asked),
        data,
    )


def _besides(one: FieldQuestion) -> str:
    """What a field is, where the question does not say it already."""
    said = {word[:5] for word in re.findall(r"\w+", one.ask.lower())}
    told = {word[:5] for word in re.findall(r"\w{4,}", one.need.what.lower())}
    return "" if told <= said else one.need.what


def _brief(file: int, where: Anchor) -> list[Any]:
    """Write an anchor for the script, which finds the end of a line by itself."""
    if (file, where.form, where.flow, where.word) == (0, "hole", False, "unknown"):
        return [where.start, where.column]
    word = 0 if where.word == "unknown" else where.word
    at = 0 if where.form == "hole" else where.at
    return [file, where.form, int(where.flow), where.start, word, at, where.column]


@dataclass(slots=True)
class _DataMaker:
    rig_view: RigView
    tree: Tree
    files: Sequence[FileText]
    spans: list[Spans] = field(default_factory=list)
    anchors: dict[tuple[int, Anchor], int] = field(default_factory=dict)
    specs: list[dict[str, Any]] = field(default_factory=list)
    asked: list[FieldQuestion] = field(default_factory=list)
    kinds: set[str] = field(default_factory=set)
    words: dict[str, int] = field(default_factory=dict)

    def word(self, text: str) -> int:
        """Number of a text, each kept once [-]."""
        return self.words.setdefault(text, len(self.words))

    def rows(self) -> tuple[list[list[Any]], dict[str, int], dict[tuple[int, ...], int]]:
        """Questions, things to look at and sets of waiting checks, each numbered."""
        rig_view = self.rig_view
        checks = {finding.code: n for n, finding in enumerate(rig_view.findings)}
        taken: dict[tuple[int, tuple[str, ...]], tuple[list[Any], set[int]]] = {}
        things: dict[str, int] = {}
        for one in open_questions(rig_view, self.tree):
            where, spec = self.where(one.path), self.spec(one.shape, one.field)
            if where is None or spec is None:
                continue
            waits = {checks[f.code] for f in one.opens}
            if where in taken:  # one line of a shared part that two fields are read from
                taken[where][1].update(waits)
                continue
            plain = all(isinstance(step, str) and "." not in step for step in one.path)
            words = (one.ask, _besides(one), one.need.where, one.example)
            row = [
                one.field if plain else one.path, *map(self.word, words),
                things.setdefault(rig_view.say(one.thing), len(things)), list(PLACES).index(one.stand), spec, 0,
                where[0], where[1] or 0, self.usual(one) or 0, 0, one.number, int(one.first),
            ]  # fmt: skip
            taken[where] = (row, waits)
            self.asked.append(one)
        sets: dict[tuple[int, ...], int] = {}
        for row, waits in taken.values():
            row[8] = sets.setdefault(tuple(sorted(waits)), len(sets))
        return [row for row, _ in taken.values()], things, sets

    def data(self) -> dict[str, Any]:
        """Everything for the script."""
        rig_view = self.rig_view
        self.spans = [spans(one.text) for one in self.files]
        rows, things, sets = self.rows()
        us = base_of(rig_view.formatter.system) == "us"
        return {
            "rig": rig_view.slug,
            "nickname": rig_view.rig.nickname,
            "metric": not us,
            "files": [
                {
                    "name": one.name,
                    "text": one.text,
                    "sha": sha256(one.text.encode()).hexdigest(),
                    "rigs": one.rigs,
                }
                for one in self.files
            ],
            "places": [
                [rig_view.say(one.title), rig_view.say(one.what), rig_view.say(one.bring)]
                for one in PLACES.values()
            ],
            "things": list(things),
            "checks": [
                [rig_view.say(f.title), int(f.outcome is Outcome.NOT_CHECKED), int(f.critical)]
                for f in rig_view.findings
            ],
            "stands": list(PLACES),
            "words": list(self.words),
            "sets": list(sets),
            "questions": rows,
            "specs": self.specs,
            "anchors": [_brief(file, where) for file, where in self.anchors],
            "kinds": {name: self.kind(name, us) for name in sorted(self.kinds)},
            "together": TOGETHER,
            "against": self.against(),
            "foreign": FOREIGN_JS,
            "longest": Bounds().text,
            "mark": MARK,
        }

    def against(self) -> list[list[Any]]:
        """What answers may contradict: terms as the number of a question or what the file states, each with its factor,
        what they may come to, whether they must stay below, the question that mutes it, the words."""
        rig_view, rig = self.rig_view, self.rig_view.rig
        asked = {one.field: n for n, one in enumerate(self.asked)}
        found: list[list[Any]] = []
        for one in CONTRADICTIONS:
            terms: list[list[Any]] = []
            for path, by in one.terms:
                known = stated(rig, path)
                if known:
                    text = ", ".join(each.text for each in known)
                    terms.append([-1, by, float(f"{sum(each.si for each in known):.9g}"), text])
                elif path in asked:
                    terms.append([asked[path], by])
            open_ = any(term[0] >= 0 for term in terms)
            muted = bool(one.unless and stated(rig, one.unless))
            if open_ and one.bears(rig) and not muted and len(terms) == len(one.terms):
                mute = asked.get(one.unless, -1)
                found.append([terms, one.most, int(one.strict), mute, rig_view.say(one.words)])
        return found

    def plain(self, *path: str) -> Mapping[str, object]:
        """A group of the file; empty where there is none."""
        found = self.tree.get(*path)
        return found if isinstance(found, dict) else {}

    def kind(self, name: str, us: bool) -> dict[str, Any]:
        """Units of a kind with factor and offset to SI, and its range, from the reader's own tables."""
        known = SPELLINGS[name]
        chosen = CHOICES.get(name, (next(iter(known)),))
        gallon = "US gal" if self.rig_view.rig.market == "us" else "gal"
        chosen = tuple(unit for unit in chosen if unit != gallon)
        if not us:
            chosen = tuple(sorted(chosen, key=lambda unit: unit not in _METRIC))
            if name == "pressure":
                chosen = _GAUGES.get(self.rig_view.rig.market, ("kPa", "psi", "bar"))
        units = dict.fromkeys((*chosen, *(_SMALL if name == "length" else ())))
        table = {
            unit: [float(f"{one:.12g}") for one in to_si(known["in" if unit == "ft in" else unit], name)]
            for unit in units
        }
        limits = RANGES[name]
        return {"u": chosen, "t": table, "r": [limits.low, limits.high]}

    def where(self, path: Path) -> tuple[int, tuple[str, ...]] | None:
        """The anchor of a field, and the keys to make below it."""
        for at, one in enumerate(self.files):
            found = anchor(one.text, self.spans[at], self.tree, path, one.shown)
            if found is not None:
                key = (at, utf16(one.text, found[0]))
                return self.anchors.setdefault(key, len(self.anchors)), tuple(map(str, found[1]))
        return None

    def usual(self, one: FieldQuestion) -> list[float] | None:
        """The usual least and most of a field [SI]."""
        doc, kind = one.shape.doc, self.kind_of(one.shape.item or one.shape)
        if doc is None or doc.usual is None or kind is None:
            return None
        return [float(f"{parse(text, kind.names[0], _ANY).si:.4g}") for text in doc.usual]

    @staticmethod
    def kind_of(shape: Shape) -> Kind | None:
        """The mark of a quantity."""
        return next((mark for mark in shape.extra if isinstance(mark, Kind)), None)

    def spec(self, shape: Shape, name: str) -> int | None:
        """How a field is answered; None for one that no form can ask for."""
        made = self.leaf(shape, name) if shape.form == "leaf" else self.several(shape, name)
        if made is None:
            return None
        if made not in self.specs:
            self.specs.append(made)
        return self.specs.index(made)

    def leaf(self, shape: Shape, name: str) -> dict[str, Any] | None:
        last = name.rpartition(".")[2]
        kind = self.kind_of(shape)
        if kind is not None:
            self.kinds.update(kind.names)
            made: dict[str, Any] = {"t": "number", "k": kind.names}
            if kind.signed:
                made["s"] = 1
            if kind.words:
                made["o"] = [word for word, _ in kind.words]
            doc = shape.doc
            if kind.names == ("length",) and doc and doc.usual and parse(doc.usual[1], "length").si < 1.2:
                inches = self.rig_view.rig.market == "ca" or base_of(self.rig_view.formatter.system) == "us"
                made["u"] = _SMALL if inches else ("mm", "cm", "in")
            return made
        if shape.choices:
            abroad = "petrol" if (market := self.rig_view.rig.market) in ("us", "ca") else "gasoline"
            return {"t": "word", "o": tuple(one for one in usual(shape.choices, market) if one != abroad)}
        if name == "weighings[].case":
            return {"t": "pick", "o": [case.name for case in self.rig_view.rig.cases]}
        if last == "seat":
            return {"t": "seat", "o": list(self.plain("vehicle", "seats"))}
        if last == "date_code":
            return {"t": "code"}
        plain = {bool: "flag", int: "count", float: "plain", dt.date: "day", str: "text"}
        return {"t": plain[shape.hint]} if shape.hint in plain else None

    def several(self, shape: Shape, name: str) -> dict[str, Any] | None:
        """How a list, a group with free names or a plain group is answered."""
        if shape.form == "record":
            return {"t": "form", "c": self.columns(shape, name)} if simple(shape) else None
        item = shape.item
        assert item is not None  # lists and maps have one
        if shape.form == "list" and item.form == "leaf":
            inner = self.spec(
                Shape(item.form, item.hint, False, None, (*item.extra, *shape.extra), item.choices), name
            )
            count = self.rig_view.rig.trailer.axles.count if name == "trailer.axles.gawr" else 0
            return {"t": "list", "i": inner, "n": count}
        lead = f"{name}[]" if shape.form == "list" else f"{name}.<name>"
        if item.form == "leaf":
            columns: list[dict[str, Any]] = [{"n": [], "q": "", "k": self.spec(item, lead), "m": 1}]
        elif item.form == "record":
            columns = self.columns(item, lead)
        else:
            return None
        return {"t": "rows", "m": shape.form == "map", "c": [*columns, *self.fills(name)]}

    def columns(self, shape: Shape, lead: str) -> list[dict[str, Any]]:
        """The fields of one row: those it must have, and those that a check may ask for."""
        declared = {path for one in rules() for path in one.fields}
        made: list[dict[str, Any]] = []

        def walk(shape: Shape, steps: tuple[str, ...], group: str) -> None:
            for slot in slots_of(shape.hint).values():
                path = (*steps, slot.name)
                doc = slot.shape.doc_in(self.rig_view.rig.market)
                assert doc is not None  # every field of the model has one
                if slot.shape.form == "record":
                    walk(slot.shape, path, f"{doc.what}: ")
                elif self.column(slot, ".".join(path), lead, declared):
                    spec = self.spec(slot.shape, f"{lead}.{'.'.join(path)}")
                    made.append(
                        {"n": path, "q": group + doc.what, "k": spec} | ({"m": 1} if slot.required else {})
                    )

        walk(shape, (), "")
        return made

    @staticmethod
    def column(slot: Slot, path: str, lead: str, declared: Collection[str]) -> bool:
        """Whether a form asks for a field of a row."""
        if slot.shape.form != "leaf" or slot.name in _NOT_ASKED:
            return False
        if lead == "weighings[]":
            return path in TICKET
        return slot.required or slot.name in _ALSO or f"{lead}.{path}" in declared

    def fills(self, name: str) -> list[dict[str, Any]]:
        """Beside a tank or cylinder: how full it was when weighed empty and is on leaving."""
        group = name.rpartition(".")[2]
        if name not in ("trailer.tanks", "trailer.cylinders"):
            return []
        asked: list[tuple[Path, str]] = [
            (("trailer", "empty", "includes", group), "how full when weighed empty")
        ]
        asked += [
            (("cases", n, group), f"how full: {case.name}") for n, case in enumerate(self.rig_view.rig.cases)
        ]
        made: list[dict[str, Any]] = []
        for path, words in asked:
            where = self.where(path)
            if where is not None:
                spec = self.spec(_FILL, "")
                made.append({"n": [], "q": words, "k": spec, "a": where[0], "r": where[1], "p": path})
        return made
