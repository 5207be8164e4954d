"""What to measure or read: each thing once, what opens the most checks first."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from cardgen.limits.registry import rule_of
from cardgen.model.needs import Need
from cardgen.model.results import Finding
from cardgen.model.rig import Rig
from cardgen.model.starter import asked_first, left_open, lists_open
from cardgen.physics.needs import need as need_of
from cardgen.source.faults import Path, dotted
from cardgen.source.shapes import Shape, shape_of, slots_of, spot_at
from cardgen.units.field import Kind

_SILENT = frozenset(
    {"gear", "preferences", "ratings", "table", "axles", "dimensions", "weight_carrying", "includes"}
)
"""Groups of fields whose names tell a person nothing more."""
_WORDS = {
    "coupler": "{coupler}",
    "curb": "{curb}",
    "empty": "empty weight",
    "gawr": "{axle_rating}",
    "mount": "{ball_mount}",
    "receiver": "{receiver}",
}
_TIRE = re.compile(r"tires (front|rear)")
_NUMBER = re.compile(r"\[(\d+)\]")
_INDEX = re.compile(r"\[\d*\]")
FIRST = 12
"""So many things to measure or read are told first, the rest in the report [-]."""


def whose(path: str, what: str) -> str:
    """Say what a field belongs to: ``vehicle.tires.front.size`` is the ``vehicle front tire``'s.

    Args:
        path: the field [-].
        what: the field in words, which need not be repeated [-].

    Returns:
        Words of the trade; empty for a field that needs none.
    """
    steps = [step for step in path.split(".")[:-1] if step not in _SILENT]
    counted = [_NUMBER.sub(lambda found: f" {int(found[1]) + 1}", step) for step in steps]
    words = [_WORDS.get(step, step.replace("_", " ").replace("occupants", "occupant")) for step in counted]
    kept = [word for word in words if not _says(what, word)]
    return _TIRE.sub(r"\1 tire", " ".join(kept))


def _says(what: str, word: str) -> bool:
    """Whether words name their owner: a gross vehicle weight rating can be the trailer's too."""
    if word in ("trailer", "vehicle"):
        return re.search(rf"\b(the|whole) {word}\b|\b{word}'s\b", what) is not None
    return word in what


def asked(need: Need) -> str:
    """Name what is missing and, where the name alone does not tell, what it belongs to."""
    owner = whose(need.path, need.what)
    return f"{need.what} ({owner})" if owner else need.what


def briefly(need: Need) -> str:
    """Name what is missing for a card: without the explanation that the report gives."""
    again = need.what.startswith("read it again")
    plain = re.split(r": | \(", need_of(need.path).what if again else need.what, maxsplit=1)[0]
    plain += ", read again" if again else ""
    return asked(Need(need.path, plain))


def bare(path: str) -> str:
    """Write a field path without the numbers of items: ``trailer.axles.gawr[1]`` is ``trailer.axles.gawr``."""
    return _INDEX.sub("", path)


def waiting(findings: Iterable[Finding], rig: Rig) -> list[tuple[Need, tuple[Finding, ...]]]:
    """List what findings wait for, each once, what opens the most first.

    A check asks for one thing after another. So what its rule declares counts for it as soon as any finding asks
    for it, or the starter of such a rig would and the file does not state it.

    Args:
        findings: checks that were not made.
        rig: their rig.
    """
    waits = tuple(findings)
    named: dict[str, dict[Need, None]] = {}
    for need in (n for f in waits for n in f.needs):
        named.setdefault(bare(need.path), {})[need] = None
    for need in map(need_of, left_open(rig)):
        named.setdefault(bare(need.path), {need: None})
    opens: dict[Need, list[Finding]] = {need: [] for group in named.values() for need in group}
    for finding in waits:
        rule = rule_of(finding.code)
        declared = {bare(path) for path in rule.fields} if rule else set()
        declared.discard("places")  # each place's rules are looked up by themselves
        later = [need for path in declared for need in named.get(path, ())]
        for need in dict.fromkeys((*finding.needs, *later)):
            opens[need].append(finding)
    asked_for = ((need, tuple(found)) for need, found in opens.items() if found)
    return sorted(asked_for, key=lambda pair: -len(pair[1]))


def once(listed: Iterable[tuple[Need, tuple[Finding, ...]]]) -> list[tuple[Need, tuple[Finding, ...]]]:
    """Keep the first of those that a card names in the same words; the report tells their fields apart."""
    kept: dict[str, tuple[Need, tuple[Finding, ...]]] = {}
    for need, findings in listed:
        kept.setdefault(briefly(need), (need, findings))
    return list(kept.values())


@dataclass(frozen=True, slots=True)
class WalkPlace:
    """A place where a person stands to answer questions.

    Args:
        title: the place [-].
        what: what is there [-].
        bring: what to bring [-].
    """

    title: str
    what: str
    bring: str


PLACES = {
    "door": WalkPlace("At the vehicle's door", "labels on the door frame", "nothing"),
    "hitch": WalkPlace(
        "Behind the vehicle, at the {hitch_at}", "{receiver_or_towbar}, ball", "tape, torch, bathroom scale"
    ),
    "tongue": WalkPlace("At the front of the trailer", "{coupler}, {chains}, plug", "tape, torch"),
    "label": WalkPlace("At the trailer's label", "{maker_label}, tire label", "nothing"),
    "tires": WalkPlace("Down at the tires", "sidewalls, wheels", "torch, chalk"),
    "side": WalkPlace("Along the side, with a tape", "lengths and heights", "long tape, chalk, a helper"),
    "inside": WalkPlace("Inside the trailer", "label, tanks, cargo, equipment", "torch, tape"),
    "scale": WalkPlace("At the scale", "weights", "what is usually aboard, {jack}, chocks"),
    "papers": WalkPlace("In the papers", "manuals, registration, dates", "the glovebox"),
}
"""Where the answers are, in the order of a walk around the rig."""
_READ = ("door", "label", "inside", "papers")
"""Places where the thing to look at is a label or a book, and not the part itself [-]."""
TICKET = (
    "date", "case", "slack.front", "slack.rear", "slack.trailer", "engaged.front", "engaged.rear",
    "engaged.trailer", "alone.front", "alone.rear", "division",
)  # fmt: skip
"""What a scale ticket in three passes tells of ``weighings[]``."""
TOGETHER = (("trailer", "tongue"), ("front", "rear"), ("max_load", "max_load_at"))
"""Fields of one group that stand in one line of a label or stamp, so that one answer holds both [-]."""


@dataclass(frozen=True, slots=True)
class FieldQuestion:
    """One thing to measure or read, as a person is asked.

    Args:
        number: running number on the walk, from 1 [-].
        path: the field [-].
        shape: what may stand there.
        ask: the question [-].
        need: the field in words, and where it is found.
        stand: the place, a key of ``PLACES`` [-].
        thing: the label, book or part to look at [-].
        example: how it is written [-].
        opens: checks that wait for it.
        first: whether the first card waits for it: gross weight, tongue, tow rating, tires and hitch [-].
    """

    number: int
    path: Path
    shape: Shape
    ask: str
    need: Need
    stand: str
    thing: str
    example: str
    opens: tuple[Finding, ...]
    first: bool = False

    @property
    def field(self) -> str:
        """The field as messages name it, items and free names left open [-]."""
        return _field(self.path)

    @property
    def bare(self) -> str:
        """The field without items and free names, as drawings name it [-]."""
        return self.field.replace("[]", "").replace(".<name>", "")


def questions(findings: Iterable[Finding], rig: Rig, data: Mapping[str, object]) -> tuple[FieldQuestion, ...]:
    """List what is open in a rig file as questions, in the order of a walk around the rig.

    The one list of what to ask: what checks wait for, what the starter of such a rig would ask for, and the
    lists that it would show. At a place come first the things that the first card waits for, then those that open
    the most checks, and what is at one thing in the order in which it is read.

    Args:
        findings: checks that were not made.
        rig: the rig.
        data: what its file holds [-].
    """
    listed = waiting(findings, rig)
    opens: dict[str, dict[str, Finding]] = {}
    for need, found in listed:
        opens.setdefault(need.path, {}).update((f.code, f) for f in found)
    order = [*left_open(rig), *(need.path for need, _ in listed), *lists_open(rig)]
    made: dict[Path, FieldQuestion] = {}
    for path in dict.fromkeys(order):
        for steps in _located(path, data):
            one = _question(steps, tuple(opens.get(path, {}).values()), rig, data)
            if one is not None:
                both = {f.code: f for f in (*(made[steps].opens if steps in made else ()), *one.opens)}
                made[steps] = replace(one, opens=tuple(both.values()))
    first = {*asked_first(rig), "weighings"}
    return _walked(replace(one, first=first_line(bare(one.field), first)) for one in made.values())


def first_line(field: str, first: Collection[str]) -> bool:
    """Whether a field is among the first, or the line on a tire that tells its type, which is.

    Args:
        field: without items [-].
        first: fields that the first card waits for [-].
    """
    owner, _, leaf = field.rpartition(".")
    return field in first or (leaf == "size" and f"{owner}.type" in first)


def _walked(found: Iterable[FieldQuestion]) -> tuple[FieldQuestion, ...]:
    """Put questions into the order of the walk and number them."""
    ones = tuple(found)
    waits: dict[tuple[str, str], set[str]] = {}
    for one in ones:
        waits.setdefault((one.stand, one.thing), set()).update(f.code for f in one.opens)
    read = {key: at for at, key in reversed(list(enumerate((one.stand, one.thing) for one in ones)))}
    early = {(one.stand, one.thing) for one in ones if one.first}
    stands = list(PLACES)
    ranked = sorted(
        ones,
        key=lambda one: (
            stands.index(one.stand),
            (one.stand, one.thing) not in early,
            -len(waits[one.stand, one.thing]),
            read[one.stand, one.thing],
            not one.first,
            one.path[-1] != "size",  # the line on a tire that tells its type as well
        ),
    )
    return tuple(replace(one, number=n) for n, one in enumerate(ranked, 1))


def _free(path: Path) -> bool:
    """Whether names below a field are the owner's own [-]."""
    spot = spot_at(shape_of(Rig), path)
    return spot is not None and spot.shape.form == "map"


def _called(path: Path, data: Mapping[str, object]) -> str:
    """What an item is called: by its free name, its own line ``name``, or its number [-]."""
    node: object = data
    for step in path:
        held = node if isinstance(node, dict) else dict(enumerate(node)) if isinstance(node, list) else {}
        node = held.get(step)  # an item that is asked for may not be in its list yet
    if isinstance(path[-1], str):
        return path[-1]
    return str(node["name"]) if isinstance(node, dict) and node.get("name") else f"no. {path[-1] + 1}"


def _question(
    path: Path, opens: tuple[Finding, ...], rig: Rig, data: Mapping[str, object]
) -> FieldQuestion | None:
    """Make the question for a field; None for a group, whose fields are asked one by one."""
    spots = [spot_at(shape_of(Rig), path[:n]) for n in range(1, len(path) + 1)]
    coupling = "" if rig.alone == "vehicle" else rig.trailer.type
    docs = [spot.shape.doc_in(rig.market, coupling) for spot in spots if spot is not None]
    spot, doc = spots[-1], docs[-1] if docs else None
    if spot is None:
        return None
    shape = spot.shape
    if doc is None:  # the value under a free name tells nothing of its own
        doc = docs[-2] if len(docs) > 1 else None
    if doc is None or (shape.form == "record" and not simple(shape)):
        return None
    stand = next((one.stand for one in reversed(docs) if one is not None and one.stand), "papers")
    groups = [one.what for one in docs[:-1] if one is not None]
    thing = doc.where if stand in _READ and doc.where else ""
    if stand == "inside" and "label" not in thing:
        thing = ""
    thing = thing or (re.split(r"[:;(,]", groups[-1])[0].strip() if groups else doc.what)
    if thing.startswith("ratings w") and len(groups) > 1:
        thing = f"{groups[-2]}: {thing}"
    at = next((n for n, step in enumerate(path) if isinstance(step, int) or (n and _free(path[:n]))), None)
    if at is not None:  # an item is told by its name
        thing = f"{thing}: {_called(path[: at + 1], data)}"
    ask = doc.ask or f"{doc.what[:1].upper()}{doc.what[1:]}?"
    need = Need(dotted(path), doc.what, doc.where)
    quantity = any(isinstance(mark, Kind) for mark in (shape.item or shape).extra)
    example = doc.example if rig.market == "us" or doc.metric or not quantity else ""
    return FieldQuestion(0, path, shape, ask, need, stand, thing, example, opens)


def simple(shape: Shape) -> bool:
    """Whether a group holds nothing but single values, so that one form asks for all of it [-]."""
    slots = slots_of(shape.hint).values()
    return all(slot.shape.form == "leaf" for slot in slots) and any(slot.required for slot in slots)


def _field(path: Path) -> str:
    """Write a path with items and free names left open: ``trailer.tanks.<name>.x``."""
    shape, text = shape_of(Rig), ""
    for step in path:
        if shape.form == "record":
            text += f".{step}"
            shape = slots_of(shape.hint)[str(step)].shape
        elif shape.item is not None:
            text += "[]" if shape.form == "list" else ".<name>"
            shape = shape.item
    return text.lstrip(".")


def _located(path: str, data: Mapping[str, object]) -> Iterator[Path]:
    """Find the field that a dotted path means; each one where it means all items of a list.

    Free names may hold anything, a point as well; they are looked up in the data.
    """

    def walk(rest: str, shape: Shape, node: object, path: Path) -> Iterator[Path]:
        if not rest:
            yield path
        elif shape.form == "record" and (found := _STEP.match(rest)):
            slot = slots_of(shape.hint).get(found[1])
            if slot is not None:
                inner = node.get(found[1]) if isinstance(node, dict) else None
                yield from walk(rest[found.end() :].lstrip("."), slot.shape, inner, (*path, found[1]))
        elif shape.form == "list" and shape.item is not None and (found := _ITEM.match(rest)):
            items = node if isinstance(node, list) else []
            for at in range(len(items)) if not found[1] else (int(found[1]),):
                inner = items[at] if at < len(items) else None
                left = rest[found.end() :].lstrip(".")
                if left and isinstance(inner, dict) and inner.get(left) is not None:
                    continue
                if shape.item.form == "leaf":  # the list is asked for as a whole
                    yield path
                    return
                yield from walk(left, shape.item, inner, (*path, at))
        elif shape.form == "map" and shape.item is not None and isinstance(node, dict):
            for key in node:
                if rest == key or rest.startswith(f"{key}."):
                    left = rest[len(key) :].removeprefix(".")
                    yield from walk(left, shape.item, node[key], (*path, key))

    yield from walk(path, shape_of(Rig), data, ())


_STEP = re.compile(r"(\w+)")
_ITEM = re.compile(r"\[(\d*)\]")
