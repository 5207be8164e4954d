"""Type sizes of a face, all in proportion to the size of a checklist item.

Floors: item 10 pt, heads 12 (CAA CAP 676 Issue 3), key numbers 14 bold, table text 9, source notes 8. The proportions are those of ``styles/card.css``; they hold
the floors for every item size from 10 pt up. Line spacing 1.27 follows the 25 to 33 % of NASA
CR-177605.
"""

from __future__ import annotations

from dataclasses import dataclass

FLOORS = {"item": 10.0, "head": 12.0, "key": 12.0, "table": 9.0, "note": 8.0}
FIXED = {"critical": 12.25, "item": 9.0, "head": 10.75, "key": 11.0, "table": 8.5, "note": 8.0}
"""Floors where type sizes stand still."""


@dataclass(frozen=True, slots=True)
class Scale:
    """Type sizes of a face.

    Args:
        item: checklist item and running text [pt].
    """

    item: float

    @property
    def name(self) -> float:
        """The rig's nickname [pt]."""
        return 2.0 * self.item

    @property
    def head(self) -> float:
        """Headings [pt]."""
        return 1.2 * self.item

    @property
    def verdict(self) -> float:
        """The verdict and signal words [pt]."""
        return 1.35 * self.item

    @property
    def over(self) -> float:
        """The verdict when a limit is exceeded [pt]."""
        return 2.0 * self.item

    @property
    def key(self) -> float:
        """Key numbers, bold [pt]."""
        return 1.4 * self.item

    @property
    def table(self) -> float:
        """Table text, labels and other small print that is not a source note [pt]."""
        return 0.9 * self.item

    @property
    def note(self) -> float:
        """Source notes [pt]."""
        return 0.8 * self.item
