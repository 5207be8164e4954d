"""Reading a rig file as every command does: with what only the later rooms can judge.

The model knows shape and sense of a rig; which checklist items, cards and sizes there are
is known further on. Their faults come in the same run, with line and column.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from pathlib import Path

from cardgen.checklist.changes import problems
from cardgen.checklist.features import features
from cardgen.checklist.select import build, killer_lines
from cardgen.checklist.views import ShortListError
from cardgen.model.read import ReadResult
from cardgen.model.read import read_rig as read_model
from cardgen.model.rig import Rig
from cardgen.present.cards import CHOICES
from cardgen.render.sizes import size_trouble, wished
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


FURTHER = (checklist_faults, wish_faults)
"""Checks of the later rooms, in the order in which they are made."""
