"""Uncertainty defaults and scale arithmetic against worked examples."""

from __future__ import annotations

import math
from typing import get_args

import pytest

from cardgen.model.parts import Evidence as ModelEvidence
from cardgen.present.proof import figures
from cardgen.tables.exact import INCH, POUND
from cardgen.tables.lookup import NotInTableError, OutOfTableError
from cardgen.tables.scales import (
    Evidence,
    Kind,
    default_spread,
    division_u,
    scale_tolerance,
)
from cardgen.tables.sources import Standing, source
from tests.each import each


def test_evidence_is_that_of_the_model() -> None:
    assert get_args(Evidence) == get_args(ModelEvidence)


@each("kind", get_args(Kind))
def test_worse_evidence_is_never_narrower(kind: Kind) -> None:
    value = {"mass": 2000.0, "tongue": 250.0, "length": 6.0, "position": 2.0, "fill": 0.5}[kind]
    widths = [default_spread(kind, e, value).half_width for e in get_args(Evidence)]
    assert all(w > 0 for w in widths)
    assert widths == sorted(widths)


# worked estimate: brochure gross 3 %, brochure tongue 10 %, cargo 10 % placed within 24 in
@each(
    ("kind", "evidence", "value", "half_width"),
    [
        ("mass", "brochure", 5200 * POUND, 156 * POUND),
        ("tongue", "brochure", 640 * POUND, 64 * POUND),
        ("mass", "estimate", 700 * POUND, 70 * POUND),
        ("position", "estimate", 1.0, 24 * INCH),
        ("length", "brochure", 220 * INCH, 1 * INCH),
        ("mass", "scale", 6600 * POUND, 10 * POUND),
    ],
)
def test_defaults(kind: Kind, evidence: Evidence, value: float, half_width: float) -> None:
    found = default_spread(kind, evidence, value)
    assert found.half_width == pytest.approx(half_width)
    assert found.u == pytest.approx(half_width / math.sqrt(3))


def test_every_default_is_on_the_page_of_proof() -> None:
    shown = {row.given for one in figures() if "uncertainty" in one.cited for row in one.rows}
    for kind in get_args(Kind):
        for evidence in get_args(Evidence):
            fixed = default_spread(kind, evidence, 0.0).half_width
            share = default_spread(kind, evidence, 1.0).half_width - fixed
            assert (f"{kind}, {evidence}, 0" in shown) is (fixed > 0), (kind, evidence)
            assert (f"{kind}, {evidence}, share" in shown) is (share > 1e-9), (kind, evidence)


def test_defaults_are_said_to_be_a_choice() -> None:
    record = source(default_spread("mass", "scale", 1.0).source)
    assert record.standing is Standing.PRACTICE
    assert "choice of this project" in record.title


def test_unknown_kind_or_evidence() -> None:
    for kind, evidence in (("mass", "rumour"), ("colour", "scale"), ("source", "scale")):
        with pytest.raises(NotInTableError):
            default_spread(kind, evidence, 1.0)  # type: ignore[arg-type]  # the refusal is tested


def test_tongue_from_four_readings() -> None:
    # JCGM 100 F.2.2.1: 20-lb division gives 5.7735 lb each; four of them 11.547 lb
    u = division_u(20.0)
    assert u == pytest.approx(5.7735, abs=5e-5)
    assert 2 * u == pytest.approx(11.547, abs=5e-4)
    assert math.sqrt(2) * u == pytest.approx(8.165, abs=5e-4)
    # a half division taken as rectangular is the same thing
    assert default_spread("mass", "scale", 1.0).u == pytest.approx(u * POUND)


def test_tolerance_needs_a_load_and_a_division() -> None:
    for load, division in ((-1.0, 10.0), (100.0, 0.0), (math.nan, 10.0)):
        with pytest.raises(OutOfTableError):
            scale_tolerance(load, division)
