"""Choose type sizes: the largest that fit, never under the floor.

Fixed faces get the largest size at which their blocks stay on one page; what does not fit at
the floor flows to a further face. Flowing content gets the largest size that needs no more
faces than the floor does. The number of faces is even: bigger type or ruled lines fill up.

Sizes are chosen by arithmetic (``atoms``) and proven by the layout: where a part took more
pages than predicted, its heights are taken as a little larger and the choice is made again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cardgen.present.blocks import Block, Card
from cardgen.render.atoms import Atom, Place, atoms, header
from cardgen.render.html import Part, Pen, Plan, default_gap, split
from cardgen.render.scale import Scale
from cardgen.render.sizes import Size, TypeRange
from cardgen.render.survey import Survey
from cardgen.render.wrap import PT

LINE = 8.0  # mm from one ruled line to the next
WORTH = 3  # ruled lines under which an empty rest stays empty
TIGHT = 0.55  # how far gaps between blocks may shrink, at the floor only
AIR = 1.8  # how far gaps between blocks may grow
RESERVE = 1.5  # mm kept free below, for what arithmetic does not see
GROWTH = 1.015  # how much larger heights are taken after a wrong prediction


def type_range(size: Size, large_print: bool) -> TypeRange:
    """Return the type sizes to try."""
    return size.large if large_print else size.type


def pack(pieces: Sequence[Atom], heights: tuple[float, float]) -> tuple[int, float]:
    """Return the number of pages the pieces take, and what is free on the last one [mm].

    Args:
        pieces: unbreakable pieces in order.
        heights: room on the first page and on each further one [mm].
    """
    pages, used, room = 1, 0.0, heights[0]
    n = 0
    while n < len(pieces):
        end = n
        while end + 1 < len(pieces) and pieces[end].keep:
            end += 1
        group = pieces[n : end + 1]
        tall = sum(atom.height + atom.after for atom in group) - group[-1].after
        if used and used + tall > room:
            pages, used, room = pages + 1, 0.0, heights[1]
        used += tall + group[-1].after
        n = end + 1
    return pages, room - used


class Fitter:
    """Chooses the plan of one card.

    Args:
        card: view model, as it will be printed.
        size: card size.
        large_print: whether to use the large range of type sizes.
    """

    def __init__(self, card: Card, size: Size, large_print: bool) -> None:
        self.card, self.size = card, size
        self.sizes = type_range(size, large_print).sizes()
        self.factor: dict[str, float] = {}
        self.predicted: dict[str, int] = {}
        self.spare_lines = True

    def plan(self) -> Plan:
        """Return the plan that arithmetic prefers."""
        moved = self._overflow()
        fixed, flowing = split(self.card, moved)
        self.predicted.clear()
        faces = tuple(self._fixed(f"face{n}", blocks, n == 1) for n, blocks in enumerate(fixed, 1))
        count = sum(self.predicted.values())
        flow = Part(self.sizes[-1])
        if flowing:
            flow = self._flow(flowing, count % 2)
            count += self.predicted["flow"]
        notes = None
        if count % 2:
            notes = Part(flow.pt if flowing else faces[-1].pt, lines=self._full_face())
            self.predicted["notes"] = 1
        return Plan(faces, flow, notes, moved)

    def _overflow(self) -> int:
        """Blocks of the last fixed face that do not fit it at the floor [-]."""
        if not self.card.faces or not self.card.flow:
            return 0
        last = len(self.card.faces)
        blocks = self.card.faces[-1].blocks
        for moved in range(len(blocks)):
            rest = blocks[: len(blocks) - moved]
            pieces = self._pieces(f"face{last}", rest, self.sizes[-1], last == 1, TIGHT)
            if pack(pieces, self._heights(last == 1))[0] == 1:
                return moved
        return 0

    def replan(self, found: Survey) -> Plan | None:
        """Return another plan where the layout took other pages than predicted; else None."""
        wrong = [name for name, pages in self.predicted.items() if found.pages_of(name) != pages]
        if not wrong:
            return None
        for name in wrong:
            grown = found.pages_of(name) > self.predicted[name]
            self.factor[name] = self.factor.get(name, 1.0) * (GROWTH if grown else 1 / GROWTH)
        self.spare_lines = False
        return self.plan()

    def _heights(self, first: bool) -> tuple[float, float]:
        """Room on the first and on further pages of a part [mm]."""
        size = self.size
        return size.text_height(first) - RESERVE, size.text_height(False) - RESERVE

    def _pieces(
        self, name: str, blocks: Sequence[Block], pt: float, first: bool, gaps: float = 1.0
    ) -> list[Atom]:
        """Return the pieces of a part at a type size, with what was learnt from a layout."""
        pen = Pen(self.size, pt, self.size.text_width)
        place = Place(pen.scale, pen, gaps * default_gap(pt))
        pieces = [header(self.card, place)] if first else []
        for block in blocks:
            pieces += atoms(block, place)
        factor = self.factor.get(name, 1.0)
        if factor != 1.0:
            pieces = [replace(atom, height=atom.height * factor) for atom in pieces]
        return pieces

    def _fixed(self, name: str, blocks: Sequence[Block], first: bool) -> Part:
        """Choose the size of a fixed face, and let its gaps grow into what is left."""
        pages, rest, pt, gaps = 1, 0.0, self.sizes[-1], 1.0
        for pt, gaps in (*((pt, 1.0) for pt in self.sizes), (self.sizes[-1], TIGHT)):
            pieces = self._pieces(name, blocks, pt, first, gaps)
            pages, rest = pack(pieces, self._heights(first))
            if pages == 1:
                break
        self.predicted[name] = pages
        gap = gaps * default_gap(pt)
        if pages == 1 and len(blocks) > 1:
            gap = min(AIR * default_gap(pt), gap + max(0.0, rest) / len(blocks))
        return Part(pt, gap if pages == 1 else None)

    def _flow(self, blocks: Sequence[Block], odd: int) -> Part:
        """Choose the size of the flowing part.

        Args:
            blocks: what flows.
            odd: 1 when the faces before it are odd in number, else 0 [-].
        """
        first = not self.card.faces
        tries = {pt: pack(self._pieces("flow", blocks, pt, first), self._heights(first)) for pt in self.sizes}
        least = tries[self.sizes[-1]][0]
        allowed = least + (least + odd) % 2
        pt = next(pt for pt in self.sizes if tries[pt][0] <= allowed)
        pages, rest = tries[pt]
        self.predicted["flow"] = pages
        return Part(pt, lines=self._lines(rest, pt) if self.spare_lines else 0)

    def _lines(self, rest: float, pt: float) -> int:
        """Ruled lines that fit what is left of a face [-]."""
        head = 1.33 * Scale(pt).head * PT
        count = int((rest - head - default_gap(pt)) / LINE)
        return count if count >= WORTH else 0

    def _full_face(self) -> int:
        """Ruled lines of a face of its own [-]."""
        first = not self.card.faces and not self.card.flow
        head = 1.33 * Scale(self.sizes[0]).head * PT
        return max(1, int((self.size.text_height(first) - RESERVE - head) / LINE))
