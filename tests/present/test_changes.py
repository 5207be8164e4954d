"""What a card prints, told as label and value."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from cardgen.model.read import read_rig
from cardgen.present.cards import KINDS
from cardgen.present.changes import labelled, printed_values
from cardgen.present.prepare import prepare
from cardgen.present.rig_view import RigView

RIGS = Path(__file__).parents[2] / "rigs"
DAY = dt.date(2026, 11, 25)


def view_of(name: str) -> RigView:
    rig = read_rig(RIGS / f"{name}.yaml").rig
    assert rig is not None
    return prepare(rig, DAY)


@pytest.mark.parametrize("name", [p.stem for p in sorted(RIGS.glob("*.yaml"))])
def test_key_numbers_stand_beside_their_own_labels(name: str) -> None:
    rig_view = view_of(name)
    told = labelled(KINDS["wallet-card"].make(rig_view))
    plain = {label: rig_view.shown(figure).replace("\u00a0", " ") for label, figure in (
        ("Trailer", "trailer_weight_max"),
        ("at most", "allowed_trailer"),
        (rig_view.say("Tires"), "pressure_trailer"),
    )}  # fmt: skip
    assert len(told) == 10
    assert {label: told[label] for label in plain} == plain


@pytest.mark.parametrize("card", sorted(KINDS))
def test_every_card_tells_what_it_prints(card: str) -> None:
    card_ = KINDS[card].make(view_of("heron"))
    told, named = printed_values(card_), labelled(card_)
    assert told["name"] == card_.nickname
    assert all(value for value in named.values())
    assert all((told[label] == value) for label, value in named.items())
    assert all(label for label in told)


@pytest.mark.parametrize("card", sorted(KINDS))
def test_a_card_does_not_depend_on_the_day(card: str) -> None:
    rig = read_rig(RIGS / "heron.yaml").rig
    assert rig is not None
    first = printed_values(KINDS[card].make(prepare(rig, DAY)))
    later = printed_values(KINDS[card].make(prepare(rig, DAY + dt.timedelta(days=40))))
    assert first == later


def test_an_item_keeps_its_label_when_its_number_changes() -> None:
    told = printed_values(KINDS["departure-card"].make(view_of("heron")))
    assert told["item tires-trailer"].endswith("65 psi")
