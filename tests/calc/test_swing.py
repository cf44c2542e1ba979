"""Rod swing. Example 8 is invented and worked by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest

from supports.calc.elementwise import at_most
from supports.calc.swing import (
    halved_by_offset,
    horizontal_movement,
    length_needed,
    rise,
    side_force,
    swing_angle,
)

FOUR = math.radians(4.0)


def _degrees(movement: float, length: float) -> float:
    return math.degrees(swing_angle(movement, length))


def test_example_8_swing_and_offset() -> None:
    assert _degrees(0.096, 1.2) == pytest.approx(4.59, abs=5e-3)
    assert _degrees(halved_by_offset(0.096), 1.2) == pytest.approx(2.29, abs=5e-3)


def test_example_8_length_needed() -> None:
    # 96 / sin 4° = 1,376.2 mm, so 1,377 mm is the next whole millimetre that serves
    needed = length_needed(0.096, FOUR)
    assert needed == pytest.approx(1.3762, abs=5e-5)
    assert math.ceil(needed * 1e3) == 1377
    assert at_most(swing_angle(0.096, needed), FOUR)


def test_example_8_side_force_and_rise() -> None:
    angle = swing_angle(0.096, 1.2)
    assert side_force(22.1e3, angle) == pytest.approx(1.77e3, abs=5.0)
    assert rise(1.2, angle) == pytest.approx(3.8e-3, abs=0.05e-3)


def test_example_8_two_small_movements_make_a_large_one() -> None:
    assert horizontal_movement(0.072, 0.054) == pytest.approx(0.090, rel=1e-12)
    assert _degrees(0.090, 1.2) == pytest.approx(4.30, abs=5e-3)
    assert _degrees(0.072, 1.2) == pytest.approx(3.44, abs=5e-3)
    assert _degrees(0.054, 1.2) == pytest.approx(2.58, abs=5e-3)


def test_exactly_four_degrees_passes() -> None:
    assert at_most(swing_angle(1.2 * math.sin(FOUR), 1.2), FOUR)
    assert not at_most(swing_angle(1.2 * math.sin(FOUR) + 1e-6, 1.2), FOUR)


def test_a_movement_longer_than_the_rod_has_no_angle() -> None:
    assert math.isnan(swing_angle(1.3, 1.2))


def test_columns() -> None:
    angles = swing_angle(horizontal_movement(np.array([0.072, 2.0]), np.array([0.054, 0.0])), 1.2)
    assert np.degrees(angles[0]) == pytest.approx(4.30, abs=5e-3)
    assert np.isnan(angles[1])
