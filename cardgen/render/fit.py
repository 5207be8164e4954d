"""Choose type sizes: the largest that fit, never under the floor.

Fixed faces get the largest size at which their blocks stay on one page; what does not fit at
the floor flows to a further face. Flowing content gets the largest size that needs no more
faces than the floor does. The number of faces is even: bigger type or ruled lines fill up.

Sizes are chosen by arithmetic (``atoms``) and proven by the layout: where a part took more
pages than predicted, its heights are taken as a little larger and the choice is made again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from cardgen.present.blocks import Block, Card, ChecklistBlock
from cardgen.render.atoms import Atom, Measure, atoms, header
from cardgen.render.html import PartSetting, Plan, default_gap, pen_for, split
from cardgen.render.scale import Scale
from cardgen.render.sizes import Size, TypeRange
from cardgen.render.survey import Survey
from cardgen.render.wrap import PT

LINE = 8.15  # mm from one ruled line to the next
WORTH = 3  # ruled lines under which an empty rest stays empty
TIGHT = 0.55  # how far gaps between blocks may shrink, at the floor only
AIR = 1.8  # how far gaps between blocks may grow
LOW = 0.35  # share of answers on a line of their own above which smaller type is taken
RESERVE = 0.6  # mm kept free below, for what arithmetic does not see
STEPS = 6  # how often heights are taken larger before giving up
GROWTH = 1.015  # how much larger heights are taken after a wrong prediction


def type_range(size: Size, large_print: bool) -> TypeRange:
    """Return the type sizes to try."""
    return size.large if large_print else size.type


def pack(pieces: Sequence[Atom], heights: tuple[float, float], columns: int = 1) -> tuple[int, float]:
    """Return the number of pages the pieces take, and what is free on the last one [mm].

    Args:
        pieces: unbreakable pieces in order.
        heights: room on the first page and on each further one [mm].
        columns: columns on every page, balanced on the last one [-].
    """
    bins, used, room, on_page = 1, 0.0, heights[0], 0.0
    for group in _groups(pieces, max(heights)):
        tall = sum(atom.height + atom.after for atom in group) - group[-1].after
        if used and used + tall > room:
            bins, used = bins + 1, 0.0
            if bins % columns == 1 or columns == 1:
                room, on_page = heights[1], 0.0
        used += tall + group[-1].after
        on_page += tall + group[-1].after
    slack = 0.0 if columns == 1 else max(atom.height for atom in pieces)
    return -(-bins // columns), room - on_page / columns - slack


def _groups(pieces: Sequence[Atom], room: float) -> Iterator[Sequence[Atom]]:
    """Yield runs of pieces that must stay together; one by one where a run is too high."""
    start = 0
    for n, atom in enumerate(pieces):
        if atom.keep and n + 1 < len(pieces):
            continue
        group = pieces[start : n + 1]
        start = n + 1
        if sum(part.height + part.after for part in group) - group[-1].after <= room:
            yield group
        else:
            yield from ([part] for part in group)


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
        flow = PartSetting(self.sizes[-1])
        if flowing:
            flow = self._flow(flowing, count % 2)
            count += self.predicted["flow"]
        notes = None
        if count % 2:
            notes = PartSetting(flow.pt if flowing else faces[-1].pt, lines=self._full_face())
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

    def replan(self, found: Survey, plan: Plan) -> Plan | None:
        """Return another plan where the layout took other pages than predicted; else None.

        Args:
            found: what was found on the pages.
            plan: the plan they were laid out with.
        """
        wrong = [name for name, pages in self.predicted.items() if found.pages_of(name) != pages]
        more = {name: found.pages_of(name) > self.predicted[name] for name in wrong}
        self.spare_lines = self.spare_lines and not wrong
        for _ in range(STEPS if wrong else 0):
            for name in wrong:
                factor = GROWTH if more[name] else 1 / GROWTH
                self.factor[name] = self.factor.get(name, 1.0) * factor
            other = self.plan()
            if other != plan:
                return other
        return None

    def even(self, plan: Plan) -> Plan:
        """Return the plan with one face more or less, when arithmetic missed the number of faces.

        Args:
            plan: a plan whose layout took an odd number of faces.
        """
        if plan.notes:
            return replace(plan, notes=None)
        pt = plan.flow.pt if self.card.flow else plan.faces[-1].pt
        return replace(plan, notes=PartSetting(pt, lines=self._full_face() - 1))

    def tighter(self, plan: Plan) -> Plan | None:
        """Return the plan that leaves more room, for a piece that does not fit its page; else None."""
        for _ in range(STEPS):
            self.tighten()
            other = self.plan()
            if other != plan:
                return other
        return None

    def tighten(self) -> None:
        """Take all heights as a little larger, when it is not known which part took more pages."""
        for name in self.predicted:
            self.factor[name] = self.factor.get(name, 1.0) * GROWTH
        self.spare_lines = False

    def _heights(self, first: bool) -> tuple[float, float]:
        """Room on the first and on further pages of a part [mm]."""
        size = self.size
        return size.text_height(first) - RESERVE, size.text_height(False) - RESERVE

    def _header(self, place: Measure) -> Atom:
        """Return the card's header, which always takes the whole width."""
        wide = replace(place.pen, width=self.size.text_width)
        return header(self.card, replace(place, pen=wide))

    def _pieces(
        self, name: str, blocks: Sequence[Block], pt: float, first: bool, gaps: float = 1.0
    ) -> list[Atom]:
        """Return the pieces of a part at a type size, with what was learnt from a layout."""
        pen = pen_for(self.size, pt, name == "flow")
        place = Measure(pen.scale, pen, gaps * default_gap(pt))
        pieces = [self._header(place)] if first and name != "flow" else []
        for block in blocks:
            pieces += atoms(block, place)
        factor = self.factor.get(name, 1.0)
        if factor != 1.0:
            pieces = [replace(atom, height=atom.height * factor) for atom in pieces]
        return pieces

    def _fixed(self, name: str, blocks: Sequence[Block], first: bool) -> PartSetting:
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
            gap = min(AIR * default_gap(pt), gap + max(0.0, rest) / (len(blocks) - 1))
        return PartSetting(pt, gap if pages == 1 else None)

    def _flow(self, blocks: Sequence[Block], odd: int) -> PartSetting:
        """Choose the size of the flowing part.

        Args:
            blocks: what flows.
            odd: 1 when the faces before it are odd in number, else 0 [-].
        """
        tries = {pt: self._flow_pages(blocks, pt) for pt in self.sizes}
        least = tries[self.sizes[-1]][0]
        allowed = least + (least + odd) % 2
        fitting = [pt for pt in self.sizes if tries[pt][0] <= allowed]
        pt = next((pt for pt in fitting if self._low(blocks, pt) <= LOW), fitting[0])
        pages, rest = tries[pt]
        self.predicted["flow"] = pages
        return PartSetting(pt, lines=self._lines(rest, pt) if self.spare_lines else 0)

    def _flow_pages(self, blocks: Sequence[Block], pt: float) -> tuple[int, float]:
        """Pages that the flowing part takes at a type size, and what is left [-, mm]."""
        first = not self.card.faces
        room, more = self._heights(first)
        if first:
            pen = pen_for(self.size, pt, True)
            atom = self._header(Measure(pen.scale, pen, 0.0))
            room -= atom.height + atom.after
        return pack(self._pieces("flow", blocks, pt, first), (room, more), self.size.columns)

    def _low(self, blocks: Sequence[Block], pt: float) -> float:
        """Share of checklist items whose answer does not fit the item's last line [-]."""
        pen = pen_for(self.size, pt, True)
        items = [
            pen.item(line, block.if_fitted_word).low
            for block in blocks
            if isinstance(block, ChecklistBlock)
            for phase in block.phases
            for line in phase.lines
        ]
        return sum(items) / len(items) if items else 0.0

    def _lines(self, rest: float, pt: float) -> int:
        """Ruled lines that fit what is left of a face [-]."""
        head = 1.33 * Scale(pt).head * PT
        count = int((rest - head - default_gap(pt)) / LINE)
        return count if count >= WORTH else 0

    def _full_face(self) -> int:
        """Ruled lines of a face of its own [-]."""
        first = not self.card.faces and not self.card.flow
        head = 1.33 * Scale(self.sizes[0]).head * PT
        line = LINE * self.factor.get("notes", 1.0)
        return max(1, int((self.size.text_height(first) - RESERVE - head) / line))
