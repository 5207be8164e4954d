"""Unit numbers and registrations stand where two rigs alike are told apart; out and back is written down."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from cardgen.model.read import read_rig
from cardgen.present.blocks import Sign, Table
from cardgen.present.borrower_page import build_borrower_page
from cardgen.present.cards import KINDS
from cardgen.present.prepare import prepare
from cardgen.present.rig_view import RigView
from tests.source.memory import Memory

DAY = dt.date(2026, 11, 25)
RIG = """
nickname: Finch
market: {market}
vehicle: {{kind: pickup{vehicle}}}
trailer: {{type: ball, body: utility{trailer}}}
cases: [{{name: out}}]
"""


def view_of(market: str = "us", vehicle: str = "", trailer: str = "") -> RigView:
    text = RIG.format(market=market, vehicle=vehicle, trailer=trailer)
    found = read_rig(Path("r.yaml"), Memory({"r.yaml": text.encode()}))
    assert found.rig is not None, found.faults
    return prepare(found.rig, DAY)


def hand_back_of(rig_view: RigView) -> tuple[str, ...]:
    """What the borrower's page has written down out and back."""
    section = build_borrower_page(rig_view).section("back")
    assert section is not None
    (table,) = (block for block in section.blocks if isinstance(block, Table))
    return tuple(row[0] for row in table.rows)


def test_both_are_named_on_every_card_and_the_borrower_s_page() -> None:
    rig_view = view_of(vehicle=", registration: DEMO 1", trailer=', unit: "12", registration: DEMO 2')
    words = "utility trailer (unit 12, DEMO 2) behind pickup (DEMO 1)"
    assert build_borrower_page(rig_view).subtitle == words
    assert {kind.make(rig_view).subtitle for kind in KINDS.values()} == {words}
    assert view_of().subtitle == "utility trailer behind pickup"


def test_out_and_back_are_written_on_the_sheet_and_the_page() -> None:
    for market, word, distance in (("us", "tire", "odometer"), ("uk", "tyre", "mileage")):
        wanted = (distance, "pressures", "damage", "fuel", "cleaned")
        rig_view = view_of(market, trailer=", cylinders: {left: {size: 9 kg}}")
        page = hand_back_of(rig_view)
        (sheet,) = (
            block.rows
            for block in KINDS["borrower-sheet"].make(rig_view).flow
            if isinstance(block, Sign) and block.title == "Out and back"
        )
        for lines in (page, sheet):
            told = "; ".join(lines).lower()
            assert [one for one in wanted if one not in told] == []
            assert word in told
            assert "gas" in told
        assert all(line.endswith(": out, back") for line in sheet)
    assert not any("gas" in line for line in hand_back_of(view_of()))
