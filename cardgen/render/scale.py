"""Type sizes of a face, all from the size of a checklist item, each class with its floor.

Floors: item 10 pt (12 for the large heads of CAA CAP 676 Issue 3), key numbers 14 bold and never
under 12, table text 9, source notes 7.5. Line spacing 1.27 follows the 25 to 33 % of NASA
CR-177605.
"""

from __future__ import annotations

from dataclasses import dataclass

FLOORS = {"item": 10.0, "head": 12.0, "key": 12.0, "table": 9.0, "note": 7.5}


@dataclass(frozen=True, slots=True)
class Scale:
    """Type sizes of a face.

    Args:
        item: checklist item and running text [pt].
        compact: whether it is the wallet card, whose name and key numbers stay small.
    """

    item: float
    compact: bool = False

    @property
    def name(self) -> float:
        """The rig's nickname [pt]."""
        return 12.0 if self.compact else max(16.0, 2.0 * self.item)

    @property
    def head(self) -> float:
        """Headings [pt]."""
        return max(FLOORS["head"], 1.15 * self.item)

    @property
    def verdict(self) -> float:
        """The verdict and signal words [pt]: over half again as tall as the text around."""
        return max(13.0, 1.35 * self.item)

    @property
    def over(self) -> float:
        """The verdict when a limit is exceeded [pt]."""
        return max(18.0, 2.0 * self.item)

    @property
    def key(self) -> float:
        """Key numbers, bold [pt]."""
        return 12.0 if self.compact else max(14.0, 1.4 * self.item)

    @property
    def table(self) -> float:
        """Table text, labels and other small print that is not a source note [pt]."""
        return max(FLOORS["table"], 0.88 * self.item)

    @property
    def note(self) -> float:
        """Source notes and the foot [pt]."""
        return max(FLOORS["note"], 0.72 * self.item)
