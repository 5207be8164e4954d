"""Load the data files of this room once, and refuse them when they contradict themselves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any, TypeVar, cast

import yaml
from pydantic import TypeAdapter, ValidationError

try:
    from yaml import CSafeLoader as SafeLoader
except ImportError:  # PyYAML was built without libyaml: slower, same result
    from yaml import SafeLoader  # type: ignore[assignment]  # both load safely

from cardgen.checklist.conditions import Condition, ConditionError, compile_condition
from cardgen.checklist.schema import (
    Citation,
    DueDef,
    FeatureDef,
    HandSignal,
    ItemDef,
    MarketDef,
    Scheme,
    SwayDef,
    ValueDef,
)
from cardgen.tables.words import PLACE, say

T = TypeVar("T")
SAY, SEEN, DRILL = 44, 20, 64
"""Longest challenge, confirmation and line of a drill [characters]; project choices that fit the card's lines."""
MARKET_SOURCES = ("SWAY", "SWAY-BRAKE", "TRIANGLES")
"""Source names that stand for whatever the rig's own market cites."""


class CatalogError(ValueError):
    """The data files are faulty; ``faults`` holds every fault found."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


@dataclass(frozen=True, slots=True)
class Catalog:
    """All data of this room, checked."""

    scheme: Scheme
    features: Mapping[str, FeatureDef]
    values: Mapping[str, ValueDef]
    sources: Mapping[str, Citation]
    markets: Mapping[str, MarketDef]
    sway: Mapping[str, SwayDef]
    due: tuple[DueDef, ...]
    hand_signals: tuple[HandSignal, ...]
    items: tuple[ItemDef, ...]
    conditions: Mapping[str, Condition]

    def source_words(self, keys: tuple[str, ...], market: str) -> tuple[str, ...]:
        """Sources as they are printed for a market, each once."""
        found: dict[str, None] = {}
        for key in keys:
            for name in self._market_sources(key, market):
                found[self.sources[name].words()] = None
        return tuple(found)

    def _market_sources(self, key: str, market: str) -> tuple[str, ...]:
        if key == "SWAY":
            return self.sway[market].source
        if key == "SWAY-BRAKE":
            return self.sway[market].brake_source
        if key == "TRIANGLES":
            return self.markets[market].triangles_source
        return (key,)


@cache
def catalog() -> Catalog:
    """The packaged data; raises CatalogError when it is faulty."""
    return load(files("cardgen.checklist"))


def load(folder: Traversable) -> Catalog:
    """Read and check the data files of a folder; raises CatalogError with every fault."""
    faults: list[str] = []
    scheme = _read(folder / "scheme.yaml", Scheme)
    items: list[ItemDef] = []
    for phase in scheme.phases:
        path = folder / "items" / f"{phase.key}.yaml"
        read = _read(path, tuple[ItemDef, ...]) if path.is_file() else ()
        items += [replace(item, phase=phase.key, kind=item.kind or phase.kind) for item in read]
        if not read:
            faults.append(f"phase '{phase.key}' has no items")
    features = _read(folder / "features.yaml", dict[str, FeatureDef])
    due = _read(folder / "due.yaml", tuple[DueDef, ...])
    conditions: dict[str, Condition] = {}
    for key, when in [(i.id, i.when) for i in items] + [(f"due:{d.key}", d.when) for d in due]:
        try:
            conditions[key] = compile_condition(when, features)
        except ConditionError as fault:
            faults.append(f"{key}: {fault}")
    made = Catalog(
        scheme=scheme,
        features=features,
        values=_read(folder / "values.yaml", dict[str, ValueDef]),
        sources=_read(folder / "sources.yaml", dict[str, Citation]),
        markets=_read(folder / "market.yaml", dict[str, MarketDef]),
        sway=_read(folder / "sway.yaml", dict[str, SwayDef]),
        due=due,
        hand_signals=_read(folder / "hand_signals.yaml", tuple[HandSignal, ...]),
        items=tuple(items),
        conditions=conditions,
    )
    faults += _conflicts(made)
    if faults:
        raise CatalogError(faults)
    return made


class _StrictLoader(SafeLoader):
    """Safe YAML that refuses a key written twice."""

    def construct_mapping(self, node: yaml.MappingNode, deep: bool = False) -> dict[object, object]:
        keys = [key.value for key, _ in node.value]
        twice = {key for key in keys if keys.count(key) > 1}
        if twice:
            raise yaml.YAMLError(f"line {node.start_mark.line + 1}: written twice: {min(twice)}")
        made: dict[object, object] = super().construct_mapping(node, deep)
        return made


@cache
def _adapter(shape: Any) -> TypeAdapter[Any]:
    return TypeAdapter(shape)


def _read(path: Traversable, shape: type[T]) -> T:
    try:
        raw = yaml.load(path.read_text("utf-8"), Loader=_StrictLoader)
        made: T = _adapter(cast(Any, shape)).validate_python(raw)  # the stubs of cache want a plain hashable
        return made
    except (yaml.YAMLError, ValidationError, FileNotFoundError) as fault:
        raise CatalogError([f"{path.name}: {fault}"]) from fault


def _conflicts(made: Catalog) -> Iterator[str]:
    yield from _item_conflicts(made)
    yield from _order_conflicts(made.items)
    yield from _table_conflicts(made)


def _item_conflicts(made: Catalog) -> Iterator[str]:
    scheme = made.scheme
    for item in made.items:
        for name in item.places:
            if name not in made.values:
                yield f"{item.id}: '{name}' is not a value"
        for key in item.source:
            if key not in made.sources and key not in MARKET_SOURCES:
                yield f"{item.id}: '{key}' is not a source"
        for key in item.every:
            if key not in scheme.frequencies:
                yield f"{item.id}: '{key}' is not a frequency"
        if not item.every or not item.source:
            yield f"{item.id}: needs a frequency and a source"
        if item.signal in ("DANGER", "WARNING") and item.severity != "safety_critical":
            yield f"{item.id}: {item.signal} is for safety-critical items only"
        if (item.mode is not None) != (item.phase == "handover"):
            yield f"{item.id}: a mode belongs to handover items and to no others"
        for text in (item.text, item.say or item.text, item.seen, item.why):
            bare = PLACE.sub("x", text)
            if not bare.strip() or "{" in bare or "}" in bare:
                yield f"{item.id}: empty text or stray brace"
        if item.look and item.look not in scheme.looks:
            yield f"{item.id}: '{item.look}' is not a look"
        yield from _too_long(made, item)


def _too_long(made: Catalog, item: ItemDef) -> Iterator[str]:
    """Challenges and confirmations that are longer than a line of a card, in any market."""
    limits = (("say", item.say, DRILL if item.kind == "drill" else SAY), ("seen", item.seen, SEEN))
    for field, text, most in limits:
        longest = max((PLACE.sub("x", say(text, market)) for market in made.markets), key=len)
        if len(longest) > most:
            yield (
                f"items/{item.phase}.yaml: {item.id}: {field} has {len(longest)} characters,"
                f" at most {most} fit: '{longest}'"
            )


def _order_conflicts(items: tuple[ItemDef, ...]) -> Iterator[str]:
    known = {item.id for item in items}
    for item in items:
        for undo in item.undone_by:
            if undo not in known:
                yield f"{item.id}: 'undone_by' names '{undo}', which is no item"
    place = {item.id: at for at, item in enumerate(items)}
    if len(place) < len(items):
        ids = [item.id for item in items]
        yield f"id used twice: {', '.join(sorted({i for i in ids if ids.count(i) > 1}))}"
    wants = {item.id: item.after for item in items}
    for item in items:
        for before in item.after:
            if before not in place:
                yield f"{item.id}: 'after' names '{before}', which is no item"
            elif _reaches(before, item.id, wants):
                yield f"{item.id}: 'after' goes round in a circle by '{before}'"
            elif place[before] > place[item.id]:
                yield f"{item.id}: must come after '{before}' but stands before it"
    last: dict[str, str] = {}
    for item in items:
        if item.last:
            last[item.phase] = item.id
        elif item.phase in last:
            yield f"{item.id}: stands after '{last[item.phase]}', which closes the phase"


def _reaches(start: str, goal: str, wants: Mapping[str, tuple[str, ...]]) -> bool:
    seen: set[str] = set()
    todo = [start]
    while todo:
        at = todo.pop()
        if at == goal:
            return True
        if at not in seen:
            seen.add(at)
            todo += wants.get(at, ())
    return False


def _table_conflicts(made: Catalog) -> Iterator[str]:
    ids = {item.id for item in made.items}
    cited = [(f"sway {m}", (*s.source, *s.brake_source)) for m, s in made.sway.items()]
    cited += [(f"market {m}", c.triangles_source) for m, c in made.markets.items()]
    cited += [(f"due {d.key}", d.source) for d in made.due]
    for where, keys in cited:
        for key in keys:
            if key not in made.sources:
                yield f"{where}: '{key}' is not a source"
    for due in made.due:
        for key in due.items:
            if key not in ids:
                yield f"due {due.key}: '{key}' is no item"
        if due.frequency and due.frequency not in made.scheme.frequencies:
            yield f"due {due.key}: '{due.frequency}' is not a frequency"
        if (due.rule == "interval") != (due.months > 0):
            yield f"due {due.key}: months belong to the rule interval and to no other"
    markets = set(made.features["market"].choices)
    for name, table in (("market", made.markets), ("sway", made.sway)):
        if set(table) != markets:
            yield f"{name}.yaml: needs exactly the markets {', '.join(sorted(markets))}"
