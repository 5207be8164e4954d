"""What a check of meaning is given, and how it speaks up."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

from cardgen.model.rig import Rig
from cardgen.model.written import quantities
from cardgen.source.faults import Fault, Path, covered, dotted, fault
from cardgen.source.suggest import suggest
from cardgen.source.tree import Tree
from cardgen.units.quantity import Quantity


@dataclass
class Look:
    """A rig to look at, where its lines are, and the faults found so far.

    The rig may hold stand-ins for what could not be read: not-a-number for quantities,
    so that no comparison with them is true. ``holes`` names their dotted paths.
    """

    rig: Rig
    tree: Tree
    holes: frozenset[str] = frozenset()
    faults: list[Fault] = field(default_factory=list)

    @cached_property
    def quantities(self) -> tuple[tuple[Path, Quantity], ...]:
        """Every quantity of the rig with its path; walked once, as several checks look at all of them."""
        return tuple(quantities(self.rig))

    def sure(self, *path: str | int) -> bool:
        """Whether nothing on the way to a path failed to be read."""
        return not covered(path, self.holes)

    def named(self, *path: str | int, by: str = "name") -> bool:
        """Whether every item of a list could be read as far as its name (or another field)."""
        item = re.compile(re.escape(dotted(path)) + rf"\[\d+\](\.{by})?")
        return self.sure(*path) and not any(item.fullmatch(hole) for hole in self.holes)

    def say(self, code: str, path: Path, message: str, hint: str, *, key: bool = False) -> None:
        """Report a fault at the value (or the key) of a field."""
        self.faults.append(fault(code, self.tree.place(path, key=key), path, message, hint))

    def keys(self, *path: str | int) -> list[str]:
        """Names written below a path, also those whose values are unknown or failed."""
        found = self.tree.get(*path)
        return [str(name) for name in found] if isinstance(found, dict) else []

    def names(
        self, code: str, path: Path, given: Iterable[str], known: Iterable[str], what: str, where: str
    ) -> None:
        """Report every name that is not among the known ones, and every one listed twice."""
        names, seen = list(known), set[str]()
        for index, name in enumerate(given):
            if name not in names and self.sure(*path, index):
                hint = suggest(name, names, f"{where} holds none yet")
                self.say(code, (*path, index), f"there is no {what} '{name[:80]}'", hint)
            elif name in seen and self.sure(*path, index):
                self.say("listed-twice", (*path, index), f"'{name[:80]}' is listed twice", "keep one")
            seen.add(name)


def si(quantity: Quantity | None) -> float:
    """SI value, or not-a-number when unknown, so that comparisons with it are false."""
    return math.nan if quantity is None else quantity.si
