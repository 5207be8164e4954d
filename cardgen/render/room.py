"""How much room a text of the owner's has on a card: the one place that says it.

Templates set these texts by it, and a rig file whose text does not fit is told so before anything is printed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from cardgen.render.sizes import is_wide
from cardgen.render.wrap import lines, shorten
from cardgen.tables.letters import Weight


@dataclass(frozen=True, slots=True)
class OwnRoom:
    """Room of a text.

    Args:
        wide, narrow: share of the line [-] on faces with room for blocks side by side, and on others.
        sizes: type that it may have, largest first [em].
        small: the same on faces without room for blocks side by side; empty for no other.
        weight: weight of the font.
        lines: lines that it may take in the least type [-].
    """

    wide: float
    narrow: float
    sizes: tuple[float, ...]
    small: tuple[float, ...] = ()
    weight: Weight = "regular"
    lines: int = 1


ROOMS: dict[str, OwnRoom] = {
    "name": OwnRoom(0.69, 0.69, (1.8776, 1.5, 1.2), weight="bold"),
    "title": OwnRoom(0.51, 0.51, (1.38, 1.1, 0.8776), weight="bold"),
    "tag": OwnRoom(0.68, 0.68, (1.15, 1.0, 0.8776), weight="bold"),
    "rig": OwnRoom(0.69, 0.69, (0.7755,), lines=2),
    "note": OwnRoom(0.9, 0.9, (0.8163,)),
    "case": OwnRoom(0.26, 0.33, (1.0, 0.7755), lines=2),
    "place": OwnRoom(0.33, 0.35, (0.8776,), lines=2),
    "thing": OwnRoom(0.33, 0.33, (0.7755,), lines=2),
    "who": OwnRoom(0.3, 0.5, (1.0, 0.7755)),
    "phone": OwnRoom(0.36, 0.47, (1.8, 1.5, 1.2, 1.0), (1.0, 0.8776), "bold"),
}
"""By what it is: name and title of a rig (of its wallet-sized cards, ``tag``), the rig in a few words, note, loading
case, stowage place or tank, thing aboard, whom to call and the number."""


def set_as(room: str, text: str, width: float, pt: float) -> tuple[float, str]:
    """Return the type size of a text [em] and the text, cut where even the least type has no room for it.

    Args:
        room: one of ``ROOMS`` [-].
        text: what is printed [-].
        width: width of the place [mm].
        pt: type size of critical lines [pt].
    """
    here, (share, sizes) = ROOMS[room], _share(room, width, pt)
    one = (em for em in sizes if lines(text, em * pt, share * width, here.weight) <= 1)
    em = next(one, sizes[-1])
    return em, text if here.lines > 1 else shorten(text, em * pt, share * width, here.weight)


def fits(room: str, text: str, width: float, pt: float) -> bool:
    """Whether a text is printed whole, in the type and lines that it may have there [-].

    Args:
        room: one of ``ROOMS`` [-].
        text: what is printed [-].
        width: width of the place [mm].
        pt: type size of critical lines [pt].
    """
    here, (share, sizes) = ROOMS[room], _share(room, width, pt)
    return lines(text, sizes[-1] * pt, share * width, here.weight) <= here.lines


def longest(text: str, fit: Callable[[str], bool]) -> int:
    """Return how many letters of a text there is room for [-].

    Args:
        text: a text that is too long [-].
        fit: whether a text is printed whole.
    """
    return next((n for n in range(len(text), 0, -1) if fit(text[:n].rstrip())), 0)


def _share(room: str, width: float, pt: float) -> tuple[float, tuple[float, ...]]:
    """Share of the line [-] and type sizes [em] of a text on a face of some width [mm]."""
    here = ROOMS[room]
    return (here.wide, here.sizes) if is_wide(width, pt) else (here.narrow, here.small or here.sizes)
