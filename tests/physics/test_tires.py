"""Markings, maker's tables and the cold pressure, against printed rows and their known traps.

Rows are reprints (source beside each), not the yearbooks; nothing here is shipped as data.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.model.tires import LoadTable, TableRow, Tire
from cardgen.physics.pressure import Job, plan, steps, wheel_load
from cardgen.physics.tires import (
    Row,
    accepted_rows,
    ceiling,
    plain_size,
    pressure_limits,
    rated_load,
    rated_pressure,
    size_class,
    speed_limit,
    step_up,
)
from cardgen.physics.wheels import same_size
from cardgen.units.parse import parse

LB, PSI = 0.45359237, 6894.757293168361


def lb(text: str) -> Any:
    return parse(f"{text} lb", "mass")


def psi(text: str) -> Any:
    return parse(f"{text} psi", "pressure")


def table(*rows: tuple[str, str], source: str = "maker's table, 2024") -> LoadTable:
    return LoadTable(source=source, rows=tuple(TableRow(pressure=psi(p), load=lb(w)) for p, w in rows))


# ST table attributed to a tire maker, reproduced in a boating magazine article: ST205/75R14
ROWS_205 = (("35", "1430"), ("50", "1760"), ("65", "2040"))
ST_D = Tire(type="ST", size="ST205/75R14", max_load=lb("2040"), max_load_at=psi("65"), table=table(*ROWS_205))
ST_ROW = Tire(type="ST", size="ST175/80R13", max_load=lb("1360"), max_load_at=psi("50"))
P_SL = Tire(type="P", size="P235/75R15", extra_load=False, max_load=lb("2028"), max_pressure=psi("44"))
LT_E = Tire(
    type="LT", size="LT235/85R16", max_load=lb("3042"), max_load_dual=lb("2778"), max_load_at=psi("80")
)


def job(tire: Tire, wheel: float, **more: Any) -> Job:
    """A two-tire axle whose even wheel load is ``wheel`` pounds, without any allowance."""
    made: dict[str, Any] = {
        "position": "trailer", "path": "trailer.tires", "tires_on_axle": 2, "side_allowance": 0.0,
        "runs_on": "trailer", "market": "us", "floor": None,
    }  # fmt: skip
    return Job(tire=tire, axle_load=2 * wheel * LB, **(made | more))


@pytest.mark.parametrize(
    ("load", "pressure"),
    [(900, 35), (1430, 35), (1431, 50), (1760, 50), (1761, 65), (2040, 65)],
)
def test_step_up_to_printed_rows(load: float, pressure: float) -> None:
    rows, why = accepted_rows(ST_D, dual=False)
    found = step_up(rows, load * LB)
    assert found is not None
    assert found.pressure == pytest.approx(pressure * PSI)
    assert "2024" in why


def test_no_extrapolation_at_either_end() -> None:
    rows, _ = accepted_rows(ST_D, dual=False)
    low = step_up(rows, 10 * LB)
    assert low is not None
    assert low.pressure == pytest.approx(35 * PSI)
    assert step_up(rows, 2041 * LB) is None


# P235/75R15 standard load on a trailer, 2,028 lb at 35 psi (RV safety column by a retired tire
# design engineer): 1,800 lb asks for 1,980 and gets 35 psi; 1,844 lb asks for 2,028.4: overloaded
@pytest.mark.parametrize(("wheel", "status"), [(1800, "set"), (1843, "set"), (1844, "overloaded")])
def test_passenger_tire_divides_once(wheel: float, status: str) -> None:
    found = plan(job(P_SL, wheel))
    assert found.status == status
    assert found.divisor == pytest.approx(1.10)
    if status == "set":
        assert found.pressure == pytest.approx(35 * PSI, rel=0.005)
    assert (
        plan(job(P_SL, wheel, runs_on="car", position="rear", floor=Row(30 * PSI, 0, "30 psi"))).divisor
        == 1.0
    )


# ST175/80R13 sidewall 1,360 lb at 50 psi only: 900 lb still gets 50 psi
def test_sidewall_is_a_table_of_one_row() -> None:
    found = plan(job(ST_ROW, 900))
    assert (found.status, found.as_marked) == ("set", "50 psi")
    assert found.minimum == pytest.approx(50 * PSI)


def test_passenger_sidewall_pressure_is_no_row() -> None:
    row = rated_pressure(P_SL)
    assert row is not None
    assert row.pressure == pytest.approx(35 * PSI, rel=0.006)  # not the 44 psi of the sidewall
    assert ceiling(P_SL) == pytest.approx(44 * PSI)
    assert rated_pressure(replace(P_SL, extra_load=None)) is None
    assert "trailer.tires.extra_load" in {
        n.path for n in plan(job(replace(P_SL, extra_load=None), 900)).needs
    }


# LT235/85R16 load range E, index 120/116: sidewall 3,042 / 2,778 lb, by the index 3,086 / 2,756
def test_sidewall_wins_over_the_load_index() -> None:
    assert rated_load(replace(LT_E, load_index=120), dual=False) == pytest.approx(3042 * LB)
    assert rated_load(LT_E, dual=True) == pytest.approx(2778 * LB)
    assert rated_load(replace(LT_E, max_load=None, load_index=120), dual=False) is None
    assert rated_load(replace(LT_E, max_load_dual=None), dual=True) is None
    metric = Tire(type="C", size="185R14C", load_index=102)
    assert rated_load(metric, dual=False) == pytest.approx(850)
    assert rated_load(replace(metric, load_index=200), dual=False) is None


def test_dual_tires_use_the_dual_column_only() -> None:
    placard = Row(80 * PSI, 0, "80 psi")
    twin = job(LT_E, 1, tires_on_axle=4, position="rear", runs_on="truck", floor=placard)
    assert plan(replace(twin, axle_load=4 * 2600 * LB)).status == "set"
    assert plan(replace(twin, axle_load=4 * 2800 * LB)).status == "overloaded"  # within the single 3,042
    blind = replace(twin, tire=replace(LT_E, max_load_dual=None), axle_load=4 * 1000 * LB)
    assert plan(blind).status == "unconfirmed"
    assert "trailer.tires.max_load_dual" in {n.path for n in plan(blind).needs}


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"table": None}, "sidewall"),
        ({"table": table(("65", "2040"))}, "two rows"),
        ({"table": table(("65", "1760"), ("50", "2040"))}, "rising"),
        ({"table": table(("50", "1760"), ("65", "2040"), source=" ")}, "source"),
        ({"table": table(("35", "1430"), ("50", "1760"))}, "top row"),
        ({"table": table(("50", "1760"), ("65", "2100"))}, "top row"),  # another maker's tire of that size
        ({"max_load": None}, "unknown"),
    ],
)
def test_tables_that_are_not_trusted(change: dict[str, Any], words: str) -> None:
    rows, why = accepted_rows(replace(ST_D, **change), dual=False)
    assert rows == ()
    assert words in why


def test_a_higher_load_range_is_cut_at_the_sidewall() -> None:
    # the same size as load range C: 1,760 lb at 50 psi; the row at 65 psi is another tire's
    load_c = replace(ST_D, max_load=lb("1760"), max_load_at=psi("50"))
    rows, _ = accepted_rows(load_c, dual=False)
    assert [round(row.pressure / PSI) for row in rows] == [35, 50]
    assert plan(job(load_c, 1800)).status == "overloaded"


def test_dual_column_must_be_there() -> None:
    rows, why = accepted_rows(replace(ST_D, max_load_dual=lb("1800")), dual=True)
    assert rows == ()
    assert "dual" in why


def test_label_is_a_floor_and_ceilings_conflict() -> None:
    lt = replace(LT_E, table=table(("35", "1700"), ("80", "3042")))
    floor = Row(50 * PSI, 0, "50 psi")
    assert plan(job(lt, 1500, floor=floor)).as_marked == "50 psi"
    assert plan(job(lt, 1500)).as_marked == "35 psi"
    assert "not given" in plan(job(lt, 1500)).reasons[-1]
    weak = replace(ST_D, table=None, valve_max_pressure=psi("60"))
    found = plan(job(weak, 900, floor=Row(65 * PSI, 0, "65 psi")))
    assert (found.status, found.pressure) == ("conflict", None)
    found = plan(job(weak, 900))  # a lower row may carry it: the maker's table tells
    assert (found.status, found.pressure) == ("unknown", None)
    assert "trailer.tires.table" in {n.path for n in found.needs}
    assert [limit.part for limit in pressure_limits(weak, "t")] == ["valve", "tire"]


def test_placard_is_confirmed_by_the_proportional_rule_or_not_at_all() -> None:
    def rear(wheel: float, placard: float) -> str:
        floor = Row(placard * PSI, 0, f"{placard} psi")
        return plan(job(LT_E, wheel, position="rear", runs_on="pickup", floor=floor)).status

    # 3,042 lb at 80 psi: the straight line gives 2,281.5 lb at 60 psi
    assert rear(2281, 60) == "set"
    assert rear(2282, 60) == "unconfirmed"
    assert rear(3043, 80) == "overloaded"


# LT235/85R16 E, table of a motorhome manual: 1,700 lb at 35 psi, 3,042 at 80. The straight line
# through the sidewall may confirm less than the printed row carries, never more
@pytest.mark.parametrize(("pressure", "row"), [(35, 1700), (80, 3042)])
def test_proportional_rule_is_on_the_safe_side(pressure: float, row: float) -> None:
    floor = Row(pressure * PSI, 0, f"{pressure} psi")
    past = plan(job(LT_E, row + 1, position="rear", runs_on="pickup", floor=floor))
    assert past.status != "set"


def test_the_heaviest_load_that_is_known_counts() -> None:
    even = job(ST_D, 1000, side_allowance=0.05)
    assert wheel_load(even).wheel == pytest.approx(1050 * LB)
    assert wheel_load(replace(even, side_share=1.2)).sure == pytest.approx(1200 * LB)
    assert wheel_load(replace(even, weighed=1300 * LB, every_wheel=True)).wheel == pytest.approx(1300 * LB)
    light = replace(even, weighed=900 * LB, every_wheel=True, side_share=1.02)
    assert wheel_load(light).wheel == pytest.approx(1020 * LB)  # a light weighing lowers nothing
    with pytest.raises(ValueError, match="axle load"):
        wheel_load(replace(even, axle_load=None))


@given(
    low=st.floats(100, 2400),
    more=st.floats(0, 500),
    by_table=st.booleans(),
    divided=st.booleans(),
)
def test_pressure_is_monotone_in_load(low: float, more: float, by_table: bool, divided: bool) -> None:
    rows = ((20, 1300), (25, 1500), (30, 1750), (35, 2028))
    passenger = replace(P_SL, table=table(*[(str(p), str(w)) for p, w in rows]))
    tire = passenger if divided else ST_D
    light = plan(job(tire, low, by_table=by_table, every_wheel=True))
    heavy = plan(job(tire, low + more, by_table=by_table, every_wheel=True))
    if light.status == "overloaded":
        assert heavy.status == "overloaded"
    elif heavy.status == "set":
        assert light.pressure is not None
        assert heavy.pressure is not None
        assert light.pressure <= heavy.pressure
        assert light.minimum is not None
        assert light.minimum <= (heavy.minimum or 0.0)


@pytest.mark.parametrize(
    ("size", "kind"),
    [
        ("P235/75R15", "P"), ("LT 275/70R18", "LT"), ("ST205/75R14", "ST"), ("225/55R17", "EURO"),
        ("195/70R15C", "C"), ("5.30-12", None),
    ],
)  # fmt: skip
def test_class_by_prefix(size: str, kind: str | None) -> None:
    assert size_class(size) == kind


def test_never_drop_the_prefix() -> None:
    # 245/75R16: P 2,271 lb at 35 psi, LT 2,205 lb at 50 psi (retailer blog on load ranges, 2011)
    assert same_size("LT245/75R16", Tire(type="LT", size="LT 245/75R16")) is True
    assert same_size("P245/75R16", Tire(type="LT", size="LT245/75R16")) is False
    assert same_size("LT245/75R16", Tire(type="P", size="LT245/75R16")) is False
    assert same_size("225/55R17", Tire(type="P", size="225/55R17")) is True
    assert same_size("265/75R16LT", Tire(type="LT", size="265/75R16LT")) is True
    assert same_size("265/75R16", Tire(type="LT", size="265/75R16")) is False
    assert same_size(None, LT_E) is None
    assert plain_size(" st205/75 r14 ") == "ST205/75R14"


# Tire and Rim Association as reported: ST and LT without a symbol 65 mph; a symbol supersedes;
# M is 130 km/h; a speed in words on the sidewall (49 CFR 571.119) binds
@pytest.mark.parametrize(
    ("change", "mph"),
    [
        ({}, 65.0),
        ({"speed_symbol": "M"}, 80.78),
        ({"speed_symbol": "J"}, 62.14),
        ({"speed_symbol": "M", "speed_limit": parse("55 mph", "speed")}, 55.0),
        ({"type": "BIAS", "speed_limit": parse("55 mph", "speed")}, 55.0),
        ({"type": "BIAS"}, None),
        ({"type": "P"}, None),
        ({"speed_symbol": "Z"}, None),
    ],
)
def test_speeds(change: dict[str, Any], mph: float | None) -> None:
    found = speed_limit(replace(ST_ROW, **change))
    assert found is None if mph is None else found == pytest.approx(mph * 0.44704, rel=2e-4)


def test_steps_of_a_printed_table() -> None:
    listed = steps(job(ST_D, 0, by_table=True, every_wheel=True))
    assert [None if end is None else round(end / LB) for end, _ in listed] == [1430, 1760, None]
    assert [round((held.pressure or 0.0) / PSI) for _, held in listed] == [35, 50, 65]


FLOORS = (None, Row(45 * PSI, 0.0, "45 psi"), Row(90 * PSI, 0.0, "90 psi"))
SHORT = replace(ST_D, table=table(("35", "1430"), ("50", "1760"), ("65", "2030")))
"""A table that ends 10 lb below the sidewall's own rating."""


@given(
    tire=st.sampled_from(
        [ST_D, ST_ROW, SHORT, P_SL, LT_E, replace(ST_D, type="LT"), replace(LT_E, type=None)]
    ),
    position=st.sampled_from(["trailer", "front", "rear"]),
    tires=st.sampled_from([2, 4]),
    floor=st.sampled_from(FLOORS),
    same=st.sampled_from([True, False, None]),
    placard_load=st.sampled_from([None, 1500 * LB, 2500 * LB]),
    by_table=st.booleans(),
)
def test_steps_are_the_plans_on_both_sides(
    tire: Tire, position: str, tires: int, floor: Row | None, same: bool | None,
    placard_load: float | None, by_table: bool,
) -> None:  # fmt: skip
    """What is listed for a load is what the plan says of it, just below and just above every step."""
    asked = job(
        tire, 0, position=position, tires_on_axle=tires, floor=floor, same_size=same, by_table=by_table,
        placard_load=placard_load, every_wheel=True, runs_on="trailer" if position == "trailer" else "pickup",
    )  # fmt: skip
    listed = steps(asked)
    ends = [end for end, _ in listed[:-1] if end is not None]
    assert len(ends) == len(listed) - 1
    assert ends == sorted(ends)
    assert listed[-1][0] is None
    top = plan(asked).capacity or 1000 * LB
    probes = [end * (1 + side) for end in [*ends, top] for side in (-1e-6, 1e-6)]
    for load in [0.0, *probes, *(top * i / 23 for i in range(23))]:
        said = plan(replace(asked, axle_load=load * tires))
        if said.capacity is not None and len(said.reasons) > 1 and load > top:
            assert said.status == "overloaded"
            continue
        held = next(held for end, held in listed if end is None or load <= end)
        assert (said.status, said.pressure, said.minimum, said.as_marked, said.reasons[-1:]) == (
            held.status, held.pressure, held.minimum, held.as_marked, held.reasons[-1:]
        )  # fmt: skip
