"""Reading a rig file as every command does: with what only the later rooms can judge.

The model knows shape and sense of a rig; which checklist items, cards and sizes there are
is known further on, and how much room a card has for a name. Their faults come in the same run, with line and column.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from cardgen.checklist.changes import problems
from cardgen.checklist.features import features
from cardgen.checklist.select import build, killer_lines
from cardgen.checklist.views import ShortListError
from cardgen.model.read import ReadResult
from cardgen.model.read import read_rig as read_model
from cardgen.model.rig import Rig
from cardgen.physics.aboard import called
from cardgen.present.cards import CHOICES, KINDS, usual
from cardgen.present.rig_view import few_words
from cardgen.render.glyphs import Cleaner
from cardgen.render.room import fits, longest
from cardgen.render.sizes import SIZES, WALLET, Size, size_trouble, type_size, wished
from cardgen.source.disk import Store
from cardgen.source.faults import Fault, covered, dotted, fault
from cardgen.source.faults import Path as Field
from cardgen.source.limits import Bounds
from cardgen.source.suggest import suggest
from cardgen.source.tree import Tree


def read_rig(path: Path, store: Store | None = None, bounds: Bounds | None = None) -> ReadResult:
    """Read a rig file with its parts and report every fault, those of later rooms included.

    Args:
        path: the rig file; its parts lie in the folder ``parts`` beside it.
        store: where bytes come from; the disk when None.
        bounds: how much a file may hold; the usual bounds when None.
    """
    return read_model(path, store, bounds, FURTHER)


def checklist_faults(rig: Rig, tree: Tree, holes: Collection[str]) -> Iterator[Fault]:
    """Faults in the owner's changes to the checklist, with their places."""
    found = problems(rig)
    for one in found:
        if not covered(one.steps, holes):
            yield fault(one.code, tree.place(one.steps, key=one.at_key), one.steps, one.message, one.hint)
    if not found and any(own.safety for own in rig.checklist.add):
        try:
            killer_lines(build(rig, features(rig), {}, None))
        except ShortListError as many:
            where: Field = ("checklist", "add")
            hint = "set safety: false for some of them"
            yield fault("checklist-many", tree.place(where), where, str(many), hint)


def wish_faults(rig: Rig, tree: Tree, holes: Collection[str]) -> Iterator[Fault]:
    """Cards and card sizes that are not made here, and cards listed twice."""
    wishes, path = rig.preferences, ("preferences", "cards")
    for at, name in enumerate(wishes.cards):
        where: Field = (*path, at)
        if covered(where, holes):
            continue
        if name not in CHOICES:
            hint = suggest(name, CHOICES)
            yield fault("card-unknown", tree.place(where), where, f"there is no card '{name[:80]}'", hint)
        elif name in wishes.cards[:at]:
            yield fault("listed-twice", tree.place(where), where, f"'{name}' is listed twice", "keep one")
    where = ("preferences", "size")
    if wishes.size is not None and wished(wishes.size) is None and dotted(where) not in holes:
        yield fault("size-unknown", tree.place(where), where, *size_trouble(wishes.size))


@dataclass(frozen=True, slots=True)
class OwnText:
    """A text of the owner's that a card has so much room for.

    Args:
        path: field that holds it.
        text: what stands there [-].
        room: one of ``ROOMS`` [-].
        cards: cards on which it stands there; empty for every card of paper size [-].
        said: what is printed of it.
        key: whether the text is the name of the field.
    """

    path: Field
    text: str
    room: str
    cards: tuple[str, ...] = ()
    said: Callable[[str], str] = str
    key: bool = False


def own_texts(rig: Rig) -> Iterator[OwnText]:
    """Every text of the owner's that has one place on a card; what may run on over more lines is not among them."""
    glovebox, loading = ("glovebox-card",), ("loading-card",)
    yield OwnText(("nickname",), rig.nickname, "name")
    yield OwnText(("nickname",), rig.nickname, "title", glovebox)
    yield OwnText(("nickname",), rig.nickname, "tag", ("tire-tag", "wallet-card"))
    if rig.note:
        yield OwnText(("note",), rig.note, "note", glovebox)
    marks = [(part, name, getattr(getattr(rig, part), name)) for part in PARTS for name in MARKS]
    part, name, mark = max(marks, key=lambda found: len(found[2] or ""))
    if mark:  # they stand in one line together: the longest of them gives way

        def line(text: str) -> str:
            return few_words(replace(rig, **{part: replace(getattr(rig, part), **{name: text})}))

        yield OwnText((part, name), mark, "rig", said=line)
    for n, case in enumerate(rig.cases):
        yield OwnText(("cases", n, "name"), case.name, "case", glovebox)
    for tank in rig.trailer.tanks:
        yield OwnText(
            ("trailer", "tanks", tank), tank, "place", glovebox, partial(called, noun="tank"), key=True
        )
    for bay in rig.trailer.bays:
        yield OwnText(("trailer", "bays", bay), bay, "place", glovebox, key=True)
    aboard = [("trailer", n, thing.name) for n, thing in enumerate(rig.trailer.cargo)]
    aboard += [("vehicle", n, thing.name) for n, thing in enumerate(rig.vehicle.cargo)]
    for half, n, thing in aboard:
        yield OwnText((half, "cargo", n, "name"), thing, "thing", loading)
    for who in rig.contacts[:1]:
        yield OwnText(("contacts", 0, "who"), who.who, "who", glovebox, "Call {}".format)
        yield OwnText(("contacts", 0, "phone"), who.phone, "phone", glovebox)
        yield OwnText(("contacts", 0, "phone"), who.phone, "tag", ("wallet-card",))


def room_faults(rig: Rig, tree: Tree, holes: Collection[str]) -> Iterator[Fault]:
    """Texts of the owner's that a card which the rig prints, in the size it prints, has no room for."""
    wishes, clean = rig.preferences, Cleaner().text
    chosen = [KINDS[name] for name in wishes.cards or usual(rig) if name in KINDS]
    asked = wished(wishes.size or "")
    found: dict[Field, list[tuple[OwnText, Size]]] = {}
    for own in own_texts(rig):
        kinds = [kind for kind in chosen if (kind.id in own.cards if own.cards else kind.us != WALLET)]
        sizes = {
            WALLET if kind.us == WALLET else asked or usual_size
            for kind in kinds
            for usual_size in (kind.us, kind.metric)
        }
        found.setdefault(own.path, []).extend((own, SIZES[name]) for name in sizes)
    for path, places in found.items():
        if covered(path, holes) or not places:
            continue

        def fit(text: str, places: Sequence[tuple[OwnText, Size]] = places) -> bool:
            return all(
                fits(own.room, clean(own.said(text)), size.text_width, type_size(size, wishes.large_print))
                for own, size in places
            )

        own, text = places[0][0], places[0][0].text
        if not fit(text):
            most = longest(text, fit)
            words = f"the text has {len(text):,} letters, a card has room for {most} of them"
            hint = f"write at most {most} letters: '{text[:most].rstrip()}'" if most else "leave it out"
            yield fault("text-room", tree.place(path, key=own.key), path, words, hint)


PARTS, MARKS = ("trailer", "vehicle"), ("unit", "registration")
FURTHER = (checklist_faults, wish_faults, room_faults)
"""Checks of the later rooms, in the order in which they are made."""
