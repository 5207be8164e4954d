"""Hitch heights: drop, pitch and how far the hitch sinks."""

from __future__ import annotations

import math

import pytest

from cardgen.physics.hitch import hitch_sag, needed_drop, trailer_pitch
from cardgen.physics.number import exact


def test_two_habits_of_measuring_differ_by_the_ball() -> None:
    """Receiver 22 in, coupler top 19 in, ball 3 in: drop 6 in; to the lower lip 16 in the same."""
    assert needed_drop(22, 19, 3, "ball_top") == 6
    assert needed_drop(22, 19 - 3, 3, "lower_lip") == 6
    assert needed_drop(22, 19, 3, "ball_top", sag=2) == 4
    assert needed_drop(17, 19, 1, "ball_top") == -1
    with pytest.raises(ValueError, match="unknown surface"):
        needed_drop(22, 19, 3, "plate")


def test_one_inch_over_220_is_a_quarter_degree() -> None:
    """1 in over 220 in is 0.26 degrees (plane geometry)."""
    assert math.degrees(trailer_pitch(1, 220)) == pytest.approx(0.26, abs=5e-3)
    assert trailer_pitch(-1, 220) == -trailer_pitch(1, 220)
    with pytest.raises(ValueError, match="above zero"):
        trailer_pitch(1, 0)


def test_sag_needs_springs() -> None:
    with pytest.raises(ValueError, match="above zero"):
        hitch_sag(*map(exact, (100.0, 50.0, 0.0, 700.0, 145.0, 64.0)))
