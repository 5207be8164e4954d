"""Arrival, loading, emergency, tire tag, wallet and hitch card: two faces for every rig, nothing cut off or too small."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

from cardgen.bundle.reading import read_rig
from cardgen.present.cards import KINDS, usual
from cardgen.present.prepare import prepare
from cardgen.present.rig_view import RigView
from cardgen.render.pdf import render_card
from cardgen.render.sizes import size_of
from tests.laws.rigs import random_rig
from tests.laws.subject import Subject
from tests.render.inspect_pdf import chars

ROOT = Path(__file__).parents[2]
DAY = dt.date(2026, 11, 28)
CARDS = ("arrival-card", "emergency-card", "hitch-card", "loading-card", "tire-tag", "wallet-card")
SMALL = ("tire-tag", "wallet-card")
CLEAR = 1.3
"""Room between a number and the next word [mm]; our choice, more than the space within either."""
LONG = 77
"""Characters of a long address, whose code is larger than that of a short one."""
RANDOM = (0, 4, 6, 9, 12, 29, 43)
"""Random rigs: over, little known, of several markets, with many places."""


def wrong(name: str, rig_view: RigView, cards: tuple[str, ...]) -> list[str]:
    """Cards of a rig that have not two faces, or a fault."""
    found = []
    for card in cards:
        kind = KINDS[card]
        size = size_of(kind.us if rig_view.formatter.system == "us" else kind.metric)
        made = render_card(kind.make(rig_view), size)
        found += [f"{name} {card}: {problem}" for problem in made.problems]
        found += [f"{name} {card}: {made.faces} faces"] if made.faces != 2 else []
    return found


def _far(rig_view: RigView) -> RigView:
    """The rig under an address of 77 characters."""
    short = replace(rig_view, edition=replace(rig_view.edition, base_url="https://a.example"))
    more = LONG - len(short.url("t") or "")
    far = replace(
        rig_view, edition=replace(rig_view.edition, base_url=f"https://a.example/{'b' * (more - 1)}")
    )
    assert len(far.url("t") or "") == LONG
    return far


def test_two_faces_for_demo_rigs_and_the_rig_with_every_field() -> None:
    """The demo rigs, and one over its limits that states every field."""
    found = []
    for number, path in enumerate(
        (*sorted((ROOT / "rigs").glob("*.yaml")), ROOT / "tests" / "data" / "rigs" / "full.yaml")
    ):
        rig = read_rig(path).rig
        assert rig is not None
        found += wrong(path.stem, prepare(rig, DAY), CARDS if path.stem == "full" else CARDS[number % 2 :: 2])
        found += wrong(f"{path.stem} with a long address", _far(prepare(rig, DAY)), ("tire-tag",))
    assert not found, "\n".join(found)


def test_two_faces_for_random_rigs() -> None:
    """Wallet card, tire tag and loading card of rigs that nobody thought of."""
    found = []
    for seed in RANDOM:
        rig_view = Subject(str(seed), random_rig(seed)).rig_view
        found += wrong(str(seed), rig_view, (*SMALL, "loading-card"))
        found += wrong(f"{seed} with a long address", _far(rig_view), ("tire-tag",))
    assert not found, "\n".join(found)


def test_numbers_of_the_wallet_card_keep_clear_of_the_words_beside_them() -> None:
    """The widest numbers and the shortest: between a number and the word of the next one is room to tell them apart."""
    near = []
    for name in ("stork", "mule"):
        rig = read_rig(ROOT / "rigs" / f"{name}.yaml").rig
        assert rig is not None
        kind = KINDS["wallet-card"]
        made = render_card(kind.make(prepare(rig, DAY)), size_of(kind.us))
        front = sorted((c for c in chars(made.pdf) if c.page == 0), key=lambda c: c.left)
        for number in {c.right: c for c in front if c.pt > 10 and 20 < c.top < 45}.values():
            word = [
                c
                for c in front
                if c.pt < 9.5 and abs(c.bottom - number.bottom) < 1.5 and c.left > number.left
            ]
            near += (
                [(name, number.text, word[0].text)] if word and word[0].left - number.right < CLEAR else []
            )
    assert near == []


def test_the_usual_set() -> None:
    """Six cards when nobody chose; a rig that is lent out has the handover besides."""
    plain = ("glovebox-card", "departure-card", "arrival-card", "tire-tag", "loading-card", "wallet-card")
    rig = read_rig(ROOT / "rigs" / "otter.yaml").rig
    assert rig is not None
    assert usual(replace(rig, use="private")) == plain
    assert set(usual(replace(rig, use="lending"))) == {*plain, "borrower-sheet"}


def test_a_tag_is_never_without_a_pressure() -> None:
    """What the check cannot confirm is printed as the placard states it, and says so."""
    rig = read_rig(ROOT / "tests" / "data" / "rigs" / "full.yaml").rig
    assert rig is not None
    front = KINDS["tire-tag"].make(prepare(rig, DAY)).faces[0]
    rows = [row for block in front.blocks if hasattr(block, "rows") for row in block.rows]
    told = [row for row in rows if isinstance(row, tuple)]
    assert ("Vehicle front, placard, not confirmed", "35\u00a0psi") in told
