"""No place of a word or a number is left in anything that a reader sees."""

from __future__ import annotations

import datetime as dt
import json
import re
from dataclasses import replace
from pathlib import Path
from typing import get_args

from cardgen.model.read import read_rig
from cardgen.model.rig import Market
from cardgen.present.borrower_page import build_borrower_page
from cardgen.present.cards import KINDS
from cardgen.present.prepare import prepare
from cardgen.present.report import build_pages
from cardgen.present.results import results

MARKETS = get_args(Market)
RIGS = Path(__file__).parents[2] / "rigs"
LEFT = re.compile(r".{0,30}(?<!\{)\{\w+\}(?!\}).{0,20}")


def test_no_place_is_left_in_cards_pages_and_results_of_any_market() -> None:
    left: list[str] = []
    for number, path in enumerate(sorted(RIGS.glob("*.yaml"))):
        rig = read_rig(path).rig
        assert rig is not None
        for market in {rig.market, MARKETS[number % len(MARKETS)]}:  # every market is met by some rig
            rig_view = prepare(replace(rig, market=market), dt.date(2026, 11, 25))
            made = {kind.id: repr(kind.make(rig_view)) for kind in KINDS.values()}
            made |= {one.name: repr(one) for one in (*build_pages(rig_view), build_borrower_page(rig_view))}
            made["results"] = json.dumps(results(rig_view))
            left += [
                f"{path.stem} {market} {name}: {hit}"
                for name, text in made.items()
                for hit in LEFT.findall(text)
            ]
    assert left == []
