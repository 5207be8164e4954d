"""Cargo lists as a spreadsheet: rows of CSV (RFC 4180) to nodes with places, and back.

A cell that a spreadsheet would take for a formula gets an apostrophe in front when written
and loses it when read, so that a name such as ``=1+1`` runs nowhere and comes back whole.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from cardgen.model.parts import TrailerLoad, VehicleLoad
from cardgen.source.decode import decode
from cardgen.source.faults import Fault, Place, StopReadingError, fault
from cardgen.source.limits import Bounds
from cardgen.source.suggest import suggest
from cardgen.source.tree import Keyed, Node, branch
from cardgen.units.quantity import Quantity

Side = Literal["trailer", "vehicle"]
SIDES: tuple[Side, ...] = ("trailer", "vehicle")
COLUMNS = ("name", "where", "weight", "x", "y", "z", "ahead_of_rear_axle", "set", "movable")
NEEDED = ("name", "where", "weight")
OWN: Mapping[Side, tuple[str, ...]] = {
    "trailer": ("name", "weight", "x", "y", "z", "set", "movable"),
    "vehicle": ("name", "weight", "ahead_of_rear_axle", "set", "movable"),
}
"""Columns that a thing on either side may fill."""
SEPARATORS = {"comma": ",", "semicolon": ";", "tab": "\t"}
_FORMULA = "=+-@\u2212"
"""First characters that make a spreadsheet run a cell (OWASP, CSV injection; from memory)."""
_SEP_LINE = re.compile(r'"?sep=(.)"?\r?\n?')
_UNKNOWN = {"unknown", "?", "~"}
_FREE = ("name", "set")
"""Columns whose text is kept to the letter."""
_MOST = 2_000
"""Most rows of a sheet [-]; the faults of a sheet are told up to the reader's usual number."""


def _runs(text: str) -> bool:
    """Whether a spreadsheet might take a cell for a formula.

    Blanks, quotes and what is not seen before it are passed over; small, wide, raised and lowered
    forms of a sign count as the sign (compatibility forms of Unicode Standard Annex 15).
    """
    seen = (one for one in text if one != "'" and unicodedata.category(one)[0] not in "CMZ")
    return unicodedata.normalize("NFKC", next(seen, " "))[0] in _FORMULA


def guarded(text: str) -> str:
    """Write a cell so that no spreadsheet takes it for a formula."""
    return f"'{text}" if _runs(text) else text


def unguarded(text: str) -> str:
    """Undo ``guarded``; a cell that was typed by hand stays as it is."""
    return text[1:] if text.startswith("'") and _runs(text) else text


def write_sheet(
    trailer: Sequence[TrailerLoad], vehicle: Sequence[VehicleLoad], separator: str = ",", end: str = "\r\n"
) -> str:
    """Write cargo lists as CSV with every cell in quotation marks.

    Args:
        trailer: things in the trailer.
        vehicle: things in the vehicle.
        separator: between cells [-].
        end: of lines [-].
    """
    made = io.StringIO()
    out = csv.writer(made, delimiter=separator, quoting=csv.QUOTE_ALL, lineterminator=end)
    out.writerow(COLUMNS)
    both: tuple[tuple[Side, Sequence[TrailerLoad | VehicleLoad]], ...] = (
        ("trailer", trailer),
        ("vehicle", vehicle),
    )
    for side, loads in both:
        for load in loads:
            cells = {"where": side} | {name: _cell(name, getattr(load, name)) for name in OWN[side]}
            out.writerow([guarded(cells.get(name, "")) for name in COLUMNS])
    return made.getvalue()


def _cell(name: str, value: object) -> str:
    if isinstance(value, Quantity):
        return value.text
    if isinstance(value, bool):
        return "true" if value else "false"
    if value is None:
        return "" if name == "set" else "unknown"
    return str(value)


@dataclass(slots=True)
class Sheet:
    """A cargo sheet as it was read.

    Args:
        lists: things of each side as nodes with places; the column of a place counts cells.
        faults: all faults of the sheet as such.
        cells: spreadsheet name of each cell by line and cell number, for messages.
        torn: sides of which a row could not be used.
    """

    lists: dict[Side, list[Node]] = field(default_factory=lambda: {side: [] for side in SIDES})
    faults: list[Fault] = field(default_factory=list)
    cells: dict[tuple[int, int], str] = field(default_factory=dict)
    torn: set[Side] = field(default_factory=set)

    def named(self, found: Fault) -> Fault:
        """Tell a fault of one of our cells by the name of the cell."""
        cell = self.cells.get((found.line, found.col))
        return replace(found, field=f"cell {cell}") if cell else found


def read_sheet(raw: bytes, file: str, bounds: Bounds | None = None) -> Sheet:
    """Read a cargo sheet.

    Commas, semicolons or tabs between cells, a byte order mark, blank rows and either line
    end are taken as spreadsheets write them.

    Args:
        raw: the file's bytes.
        file: name for messages [-].
        bounds: how large the file may be; the usual bounds when None.
    """
    reader = _SheetReader(file, bounds or Bounds())
    try:
        text = decode(raw.removeprefix(b"\xef\xbb\xbf"), file, reader.bounds)
        reader.read(text)
    except StopReadingError as stop:
        hint = "export it as CSV with the encoding UTF-8"
        found = stop.found
        reader.sheet.faults.append(
            replace(found, hint=hint) if found.code in ("file-encoding", "file-bom") else found
        )
    return reader.sheet


class _SheetReader:
    def __init__(self, file: str, bounds: Bounds) -> None:
        self.file = file
        self.bounds = bounds
        self.sheet = Sheet()
        self.names: list[str] = []

    def say(self, code: str, line: int, cell: int, message: str, hint: str) -> None:
        if len(self.sheet.faults) < self.bounds.faults:
            self.sheet.faults.append(fault(code, Place(self.file, line, cell), (), message, hint))

    def read(self, text: str) -> None:
        given = _SEP_LINE.match(text)
        first = 1 if given else 0
        body = text[given.end() :] if given else text
        separator = given[1] if given else _separator(body)
        for row, (line, cells) in enumerate(self.rows(body, separator), 1):
            if not any(cell.strip() for cell in cells):
                continue
            if row > _MOST:
                hint = "a rig takes a few dozen; check that this is the right file"
                self.say("sheet-size", line + first, 1, f"the sheet has more than {_MOST:,} rows", hint)
                return
            if not self.names:
                self.names = self.header(line + first, cells)
                if not self.names:
                    return
                continue
            for at in range(len(cells)):
                self.sheet.cells[line + first, at + 1] = f"{_letter(at)}{row + first}"
            self.row(line + first, cells)
        if not self.names and not self.sheet.faults:
            self.say("sheet-header", 1, 1, "the file is empty", f"start with: {','.join(COLUMNS)}")

    def rows(self, text: str, separator: str) -> Iterator[tuple[int, list[str]]]:
        """Line on which each row starts, and its cells."""
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
        before = 0
        while True:
            try:
                cells = next(reader)
            except StopIteration:
                return
            except csv.Error as problem:
                hint = "look for a quotation mark without its partner"
                self.say("sheet-syntax", before + 1, 1, f"not CSV: {problem}", hint)
                return
            yield before + 1, cells
            before = reader.line_num

    def header(self, line: int, cells: list[str]) -> list[str]:
        names = [re.sub(r"[\s_]+", "_", cell.strip().lower()) for cell in cells]
        while names and not names[-1]:
            names.pop()
        good = True
        for at, name in enumerate(names):
            if name not in COLUMNS:
                good = False
                words = f"'{cells[at][:80]}' is no column of a cargo list"
                self.say("sheet-header", line, at + 1, words, suggest(name, COLUMNS))
            elif name in names[:at]:
                good = False
                self.say("sheet-header", line, at + 1, f"the column '{name}' is there twice", "delete one")
        missing = [name for name in NEEDED if name not in names] if good else []
        for name in missing:
            self.say("sheet-header", line, 1, f"the column '{name}' is missing", f"add '{name}'")
        return names if good and not missing else []

    def row(self, line: int, cells: list[str]) -> None:
        extra = next((at for at, cell in enumerate(cells) if at >= len(self.names) and cell.strip()), None)
        given = {
            name: unguarded(cell) if name in _FREE else unguarded(cell).strip()
            for name, cell in zip(self.names, cells, strict=False)
        }
        at = {name: place + 1 for place, name in enumerate(self.names)}
        side = self.side(line, at["where"], given.get("where", ""))
        if extra is not None:
            hint = 'put a cell that holds the separator in quotation marks, like "3,500 lb"'
            self.say("sheet-row", line, extra + 1, "the row has more cells than the first line", hint)
            self.sheet.torn |= {side} if side else set(SIDES)
            return
        if side is None:
            self.sheet.torn |= set(SIDES)
            return
        self.others(side, line, at, given)
        entries = {}
        for name in OWN[side]:
            if given.get(name):
                place = Place(self.file, line, at[name])
                entries[name] = Keyed(place, _node(name, given[name], place))
        self.sheet.lists[side].append(branch(entries, Place(self.file, line, at["name"])))

    def side(self, line: int, cell: int, text: str) -> Side | None:
        found = next((side for side in SIDES if text.lower() == side), None)
        if found is None:
            words = (
                f"'{text[:80]}' is neither trailer nor vehicle" if text else "trailer or vehicle is missing"
            )
            self.say("sheet-where", line, cell, words, suggest(text.lower(), SIDES))
        return found

    def others(self, side: Side, line: int, at: Mapping[str, int], given: Mapping[str, str]) -> None:
        """Report cells that only the other side has."""
        right = "x" if side == "trailer" else "ahead_of_rear_axle"
        for name, text in given.items():
            if name != "where" and name not in OWN[side] and text:
                words = f"'{name}' is not how things in the {side} are measured"
                self.say("sheet-place", line, at[name], words, f"write it in the column '{right}'")
                self.sheet.torn.add(side)


def _node(name: str, text: str, place: Place) -> Node:
    if name == "movable":
        return Node(text.lower(), place)  # spreadsheets turn true into TRUE
    if name not in _FREE and text.lower() in _UNKNOWN:
        return Node(None, place, word=text)
    return Node(text, place)


def _separator(text: str) -> str:
    """The separator of which the first line that says anything holds most."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    return max(SEPARATORS.values(), key=first.count)


def _letter(at: int) -> str:
    """Spreadsheet letter of a column counted from 0."""
    name = ""
    at += 1
    while at:
        at, rest = divmod(at - 1, 26)
        name = chr(ord("A") + rest) + name
    return name
