"""Check plain data against a dataclass; every fault in words, with its place."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, Generic, TypeVar, cast

from cardgen.source.faults import Fault, Path, covered, dotted
from cardgen.source.shapes import Shape, shape_of, spot_at
from cardgen.source.standin import stand_in
from cardgen.source.tree import Tree
from cardgen.source.unknowns import settle
from cardgen.source.words import in_words

if TYPE_CHECKING:
    from pydantic import TypeAdapter

T = TypeVar("T")
_ROUNDS = 5


@dataclass(frozen=True, slots=True)
class Checked(Generic[T]):
    """Outcome of a check.

    Args:
        value: the dataclass, with stand-ins where faults were; None if it cannot be made.
        faults: all faults found.
        holes: dotted paths at which something was replaced or left out.
    """

    value: T | None
    faults: list[Fault]
    holes: frozenset[str]


@cache
def _adapter(shape: Any) -> TypeAdapter[Any]:
    """Make the validator of a dataclass once; it takes a tenth of a second."""
    from pydantic import TypeAdapter

    return TypeAdapter(shape)


def check(tree: Tree, shape: type[T], unread: frozenset[str] = frozenset()) -> Checked[T]:
    """Read plain data into a dataclass and report every fault.

    What is wrong is reported once, then left out or replaced by a stand-in, and the rest
    is read again, so that checks of meaning can run on what is left.

    Args:
        tree: plain data with marks.
        shape: the dataclass to read into.
        unread: dotted paths that already have a fault; what is missing there is not told again.
    """
    from pydantic import ValidationError

    adapter = _adapter(cast(Any, shape))  # the stubs of cache want a plain hashable
    top = shape_of(shape)
    data = _copy(tree.data)
    faults, holes = settle(data, top, tree, unread)
    holes |= unread
    for turn in range(_ROUNDS):
        try:
            value: T = adapter.validate_python(data)
            return Checked(value, faults, frozenset(holes))
        except ValidationError as found:
            for error in found.errors(include_url=False, include_input=False):
                path: Path = tuple(error["loc"])
                if turn == 0 and not (error["type"] == "missing" and covered(path, unread)):
                    faults.append(in_words(error, top, tree))
                holes.add(dotted(path))
                _mend(data, path, top)
    return Checked(None, faults, frozenset(holes))


def _copy(data: dict[str, object]) -> dict[str, object]:
    """Copy groups and lists, and share the texts, which never change."""

    def copied(value: object) -> object:
        if isinstance(value, dict):
            return {key: copied(inner) for key, inner in value.items()}
        return [copied(inner) for inner in value] if isinstance(value, list) else value

    return {key: copied(inner) for key, inner in data.items()}


def _mend(data: object, path: Path, top: Shape) -> None:
    """Leave out what failed, or put a stand-in where something must stand."""
    for step in path[:-1]:
        data = data[step]  # type: ignore[index]  # the error came from this very path
    spot = spot_at(top, path)
    last = path[-1]
    if spot is not None and spot.required:
        data[last] = stand_in(spot.shape)  # type: ignore[index]  # as above
    else:
        del data[last]  # type: ignore[attr-defined]  # as above
