"""Label arithmetic against the figures that labels and manuals print."""

from __future__ import annotations

import pytest

from cardgen.physics import labels
from cardgen.tables.exact import POUND, US_GALLON
from cardgen.tables.lookup import OutOfTableError
from tests.limits.bench import Changes, computed


# 72 FR 68442: 8.3 lb/US gal and 1 kg/L. 40 gal is 332 lb and 151 kg; 40 + 10 gal and 50 gal are 415 lb
@pytest.mark.parametrize(("gallons", "pounds", "kilograms"), [(40, 332, 151), (50, 415, 189), (10, 83, 38)])
def test_water_of_the_label(gallons: float, pounds: int, kilograms: int) -> None:
    assert labels.water_us(gallons * US_GALLON) == pytest.approx(pounds * POUND)
    assert labels.water_metric(gallons * US_GALLON) == kilograms
    with pytest.raises(OutOfTableError):
        labels.water_us(-1)
    with pytest.raises(OutOfTableError):
        labels.water_metric(-1)


def test_label_water_is_not_the_physical_weight() -> None:
    # 40 gal of water at 20 C weigh 333.2 lb; the label prints 332
    assert labels.water_us(40 * US_GALLON) / POUND == pytest.approx(332)
    physical = 40 * US_GALLON * 998.2 / POUND
    assert physical == pytest.approx(333.2, abs=0.05)


def values(changes: Changes | None = None, base: str = "fern") -> dict[str, float]:
    return {line.id: line.value for line in computed(changes, base).labels}


def test_lines_of_a_rig() -> None:
    made = values()
    assert made["label_water_us"] == pytest.approx(166 * POUND)  # 20 gal
    assert made["label_dealer_added"] == pytest.approx(52.5 * POUND)
    # label 850 lb less 200 lb of boxes and 10 gal at 20 C
    assert made["label_cargo_left"] / POUND == pytest.approx(850 - 200 - 83.3, abs=0.05)
    assert made["placard_cargo"] == pytest.approx((1700 - 180) * POUND)
    assert made["class_combination"] == pytest.approx(10500 * POUND)


def test_lines_leave_out_what_is_unknown() -> None:
    made = values(
        {"trailer.tanks.fresh.capacity": None, "trailer.gvwr": None, "vehicle.placard_capacity": None}
    )
    assert not set(made) & {"label_water_us", "label_dealer_added", "placard_cargo", "class_combination"}
    assert "class_combination" not in values({}, "teal")


def test_old_label_counts_no_water() -> None:
    old = values({"trailer.year": 2004})
    assert old["label_cargo_left"] / POUND == pytest.approx(650)


def test_combination_by_weight_when_that_is_more() -> None:
    made = computed({"vehicle.gvwr": "1,000 lb"})
    actual = made.worst("vehicle_alone")
    assert (
        actual is not None
    )  # 49 CFR 383.5: of each unit whichever is greater, here its weight and its rating
    assert labels.combination_rating(made) == pytest.approx(actual[1] + 3500 * POUND)
    assert labels.real_capacity(3500, 2600) == 900
