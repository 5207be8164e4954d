"""The text that a card's code holds where the report has no address."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

from cardgen.model.read import read_rig
from cardgen.model.results import Outcome
from cardgen.present.cards.pieces import key_text
from cardgen.present.prepare import prepare
from cardgen.present.rig_view import Edition, RigView
from cardgen.render.qr import draw, level

ROOT = Path(__file__).parents[2]
FILES = (
    *sorted((ROOT / "rigs").glob("*.yaml")),
    *(ROOT / "tests" / "data" / "rigs" / f"{n}.yaml" for n in ("small", "full")),
)
DAY = dt.date(2026, 11, 25)


def view_of(path: Path) -> RigView:
    found = read_rig(path)
    assert found.rig is not None, found.faults
    return prepare(found.rig, DAY, Edition(4, DAY, mark="abc123"))


def test_it_says_verdict_date_numbers_allowed_weight_and_whom_to_call() -> None:
    wrong = []
    for path in FILES:
        view = view_of(path)
        text = key_text(view)
        over = bool(view.outcome(Outcome.OVER))
        words = [
            "r4-abc123 2026-11-25",
            "DO NOT TOW" if over else view.assessment.outcome().value,
            view.say("{load_in_brief}"),
            view.say("tires"),
        ]
        names = (
            "tongue_weight_max",
            "trailer_weight_max",
            "allowed_trailer",
            "pressure_trailer",
            "pressure_front",
            "pressure_rear",
        )
        words += [view.shown(name).replace("\u00a0", " ") for name in names]
        words += [one.phone for one in view.rig.contacts[:1]]
        wrong += [f"{path.stem}: {word}" for word in words if word not in text]
        if draw(text, 10, "", level("")).version > 8:
            wrong.append(f"{path.stem}: {len(text.encode())} bytes")
    assert wrong == []


def test_where_it_is_too_long_the_call_goes_and_the_name_is_cut() -> None:
    view = view_of(ROOT / "rigs" / "mule.yaml")
    caller = replace(view.rig.contacts[0], phone="5" * 90)
    rig = replace(view.rig, nickname="é" * 300, contacts=(caller,))
    text = key_text(
        replace(
            view, assessment=replace(view.assessment, computed=replace(view.assessment.computed, rig=rig))
        )
    )
    assert "call" not in text
    assert "..." in text
    assert len(text.encode()) <= 152
