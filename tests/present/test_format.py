"""Values, needs and verdicts as a reader sees them."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from cardgen.model.needs import Need
from cardgen.model.read import read_rig
from cardgen.model.results import Finding, Outcome
from cardgen.model.written import units_of
from cardgen.present.format import Formatter, day_words
from cardgen.units import System, style_of
from cardgen.units.parse import parse
from cardgen.units.show import at_place
from tests.source.memory import Memory

US, METRIC = Formatter("us", "us"), Formatter("metric", "uk")


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("text", "us", "metric"),
    [("2 in", "2 in", "2 in"), ("2 5/16 in", "2 5/16 in", "2 5/16 in"), ("50 mm", "50 mm", "50 mm"),
     ("1 7/8 in", "1 7/8 in", "1 7/8 in")],
)  # fmt: skip
def test_ball_sizes_stay_what_is_stamped(text: str, us: str, metric: str) -> None:
    si = parse(text, "length").si
    assert plain(US.ball(si)) == us
    assert plain(METRIC.ball(si)) == metric


def test_years_are_completed_ones() -> None:
    year = 365.25 * 86400
    assert plain(US.value(4.99 * year, "years")) == "4 years"
    assert plain(US.value(1.0 * year, "years")) == "1 year"


def test_days_do_not_depend_on_the_locale() -> None:
    assert plain(day_words(dt.date(2026, 1, 3))) == "3 Jan 2026"


@pytest.mark.parametrize(
    ("demand", "limit", "kind", "said"),
    [
        (2268.1, 2267.96185, "mass", "5,000.3 lb of 5,000.0 lb, 0.3 lb over"),
        (1000.0, 2267.96185, "mass", "2,205 lb of 5,000 lb, 2,795 lb left"),
        (2300.0, 2267.96185, "mass", "5,071 lb of 5,000 lb, 71 lb over"),
    ],
)
def test_an_excess_is_never_rounded_away(demand: float, limit: float, kind: str, said: str) -> None:
    outcome = Outcome.OVER if demand > limit else Outcome.WITHIN
    finding = Finding("x", "x", outcome, kind, demand, limit)
    assert plain(US.verdict(finding)) == said


@pytest.mark.parametrize("outcome", [Outcome.CLOSE, Outcome.OVER, Outcome.WITHIN])
def test_nothing_is_never_over(outcome: Outcome) -> None:
    """Whatever the outcome, a demand past its limit differs from it as printed, and by more than nothing."""
    said = plain(US.verdict(Finding("x", "x", outcome, "mass", 226.80, 226.796185)))
    assert said == "500.01 lb of 500.00 lb, 0.01 lb over"
    said = plain(US.verdict(Finding("x", "x", outcome, "mass", 226.796185 * (1 + 1e-13), 226.796185)))
    assert said == "500 lb of 500 lb, 0 lb left"


def test_a_share_just_below_its_band_reads_below_it() -> None:
    finding = Finding("x", "x", Outcome.OVER, "fraction", 0.0999, 0.15, low=0.10)
    assert plain(US.verdict(finding)) == "9.99 %, band 10.00 % to 15.00 %"


def test_a_need_says_what_and_where() -> None:
    need = Need("trailer.gvwr", "gross vehicle weight rating", "certification label")
    said = US.need(need)
    assert "gross vehicle weight rating" in said
    assert "certification label" in said


def test_a_weight_told_as_an_instruction_is_inside_its_limit() -> None:
    values = {
        "allowed": (1897.9, "mass"),
        "set": (89.9, "mass"),
        "least": (20.4, "mass"),
        "total": (20.6, "mass"),
    }
    said = METRIC.filled("{allowed}, {set}, {least}, {total}", values)
    assert plain(said) == "1,897 kg, 89 kg, 21 kg, 21 kg"


def test_not_checked_says_what_is_missing() -> None:
    finding = Finding("x", "x", Outcome.NOT_CHECKED, needs=(Need("a.b", "the load", "scale ticket"),))
    assert US.verdict(finding).startswith("not checked: ")
    assert "scale ticket" in US.verdict(finding)


def test_units_are_those_the_owner_wrote_and_the_road_has() -> None:
    """The commonest unit of a kind decides, a tie is the market's; a wish overrides all but the road."""
    base = Path("r.yaml")

    def units(market: str, pressures: str, wish: str = "", trailer: str = "") -> System:
        text = (
            f"nickname: Finch\nmarket: {market}\n"
            f"vehicle: {{kind: suv, placard: {pressures}}}\n"
            f"trailer: {{type: ball, body: caravan, axles: {{count: 1}}{trailer}}}\ncases: [{{name: out}}]\n"
            f"preferences: {{{wish}}}\n"
        )
        found = read_rig(base, Memory({"r.yaml": text.encode()}))
        assert found.rig is not None, found.faults
        return units_of(found.rig)

    def printed(system: System, kind: str) -> str:
        return style_of(kind, system).printed

    assert printed(units("uk", "{front: 33 psi, rear: 36 psi}"), "pressure") == "psi"
    assert printed(units("au", "{front: 33 psi, rear: 240 kPa}"), "pressure") == "kPa"
    assert printed(units("us", "{front: 2.3 bar, rear: 2.5 bar}"), "pressure") == "bar"
    label = "{front: 240 kPa, rear: 280 kPa}, tires: {front: {max_pressure: 350 kPa}}"
    for trailer, said in (("45 psi", "psi"), ("310 kPa", "kPa")):  # each label keeps its own
        own = units("au", label, trailer=f", tire_pressure: {trailer}")
        assert (
            printed(at_place(own, "spare"), "pressure")
            == printed(at_place(own, "trailer"), "pressure")
            == said
        )
        assert printed(at_place(own, "rear"), "pressure") == printed(own, "pressure") == "kPa"
        assert Formatter(own, "au").at("tire-pressure-trailer").value(310264, "pressure").endswith(said)
    wished = units("au", label, "units: us", trailer=", tire_pressure: 310 kPa")
    assert printed(at_place(wished, "trailer"), "pressure") == "psi"
    assert printed(units("uk", "{front: 33 psi, rear: 36 psi}", "units: metric"), "pressure") == "bar"
    for market, sign in (("us", "mph"), ("uk", "mph"), ("ca", "km/h"), ("eu", "km/h"), ("nz", "km/h")):
        assert {printed(units(market, "{}", wish), "speed") for wish in ("", "units: metric")} == {sign}
