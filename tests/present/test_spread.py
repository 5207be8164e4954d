"""The what-if page's uncertainty of any setting, against the whole computation of that setting."""

from __future__ import annotations

import datetime as dt
import math
import random
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from cardgen.model.figure import Figure
from cardgen.model.rig import Rig
from cardgen.model.weighing import AxleReadings, Weighing
from cardgen.physics.compute import compute
from cardgen.physics.weighing import weigh
from cardgen.present.prepare import prepare
from cardgen.present.whatif import case_of, rig_with, what_if
from cardgen.units.parse import parse
from tests.physics.build import DEMO, demo, mass

DAY = dt.date(2026, 11, 25)


@cache
def data_of(name: str) -> dict[str, Any]:
    """The data of the what-if part."""
    found = what_if(prepare(RIGS[name], DAY))
    assert found is not None
    return found.data


def parts(data: dict[str, Any], name: str, shares: list[float]) -> dict[Any, float]:
    """What every input adds to a weight, as the page's script adds it up."""
    form = data["forms"][name]
    found: dict[Any, float] = {}
    for n, (a, b, *key) in enumerate(form["spread"]):
        found[key[0] if key else ("row", n)] = a + sum(slope * shares[i] for i, slope in b.items())
    for i, gain, _, _ in form["rows"]:
        if data["loads"][i]["fill"] and 0 < shares[i] < 1:
            found["fill", i] = gain * data["loads"][i]["fill"]
    return found


def page_u(data: dict[str, Any], shares: list[float], figures: dict[str, Figure]) -> dict[str, float]:
    """Standard uncertainty of every weight and of the tongue share."""
    found = {n: math.hypot(*parts(data, n, shares).values()) for n, f in data["forms"].items() if f["spread"]}
    top, bottom = (parts(data, name, shares) for name in ("tongue_weight", "trailer_weight"))
    ratio, whole = figures["tongue_share"].value, figures["trailer_weight"].value
    if ratio is not None and whole is not None:
        slopes = [(top.get(k, 0.0) - ratio * bottom.get(k, 0.0)) / whole for k in top.keys() | bottom.keys()]
        found["tongue_share"] = math.hypot(*slopes)
    return found


def shares_of(data: dict[str, Any], positions: list[float], shares: list[float]) -> list[float]:
    """Shares of all loads with the controls set."""
    out = list(shares)
    for control, at in zip(data["controls"], positions, strict=True):
        for i in control["loads"]:
            out[i] = at / 100.0
    for control, at in zip(data["controls"], positions, strict=True):
        if at == 0:
            for i in control["gates"]:
                out[i] = 0.0
    return out


def weighed(one: Rig) -> Rig:
    """A rig whose trailer and vehicle were weighed, part of its tanks filled by the gauge."""
    first = one.cases[0]
    tanks = {name: parse("40 %", "fraction") for name in first.tanks}
    case = replace(first, tanks=tanks)
    visit = Weighing(
        date=dt.date(2026, 10, 3), case=case.name, anchor=True, trailer_alone=mass("4,000 lb"),
        coupler=mass("450 lb"), alone=AxleReadings(front=mass("2,500 lb"), rear=mass("1,900 lb")),
    )  # fmt: skip
    return replace(one, cases=(case, *one.cases[1:]), weighings=(visit,))


RIGS = {**{name: demo(name) for name in DEMO}, "weighed": weighed(demo("wren"))}


@pytest.mark.parametrize("name", RIGS)
def test_a_setting_has_the_uncertainty_of_its_own_computation(name: str) -> None:
    """Random sliders, as a loading case computed anew: the same uncertainty of every total."""
    one, dice, checked = RIGS[name], random.Random(4711), 0
    data, (ground, _) = data_of(name), weigh(one)
    for _ in range(12):
        positions = [float(dice.choice((0, 100)) if c["kind"] == "switch" else dice.randint(0, 99) + 0.5)
                     for c in data["controls"]]  # fmt: skip
        case = case_of(one, data, positions)
        figures = dict(compute(rig_with(one, case), deep=False, ground=ground).cases[0].figures)
        shares = shares_of(data, positions, data["presets"][0]["shares"])
        for figure, u in page_u(data, shares, figures).items():
            if figures[figure].u is not None:
                assert u == pytest.approx(figures[figure].u, rel=1e-3), figure
                checked += 1
    assert checked > 60


@pytest.mark.parametrize("name", RIGS)
def test_a_loading_case_keeps_the_uncertainty_of_the_report(name: str) -> None:
    data = data_of(name)
    for case, preset in zip(compute(RIGS[name], deep=False).cases, data["presets"], strict=True):
        assert {n: case.figures[n].u for n in preset["u"]} == preset["u"]
        assert set(preset["u"]) == {
            *(n for n, f in data["forms"].items() if f["spread"] is not None),
            "tongue_share",
        }
