"""Travel and pointers. Invented numbers worked by hand, lengths in m."""

from __future__ import annotations

import numpy as np
import pytest

from supports.calc.elementwise import at_most
from supports.calc.travel import (
    distance_from_top,
    pointer_after,
    pointer_from_divisions,
    room_at_ends,
    travel_needed,
)
from supports.units import Kind, to_si


def test_example_1_travel_needed() -> None:
    needed = travel_needed(0.140)
    assert needed == pytest.approx(0.168, rel=1e-12)
    assert at_most(needed, 0.200)


@pytest.mark.parametrize(
    ("actual", "total"), [(2.0, 3.0), (4.0, 5.0), (5.0, 6.0), (6.0, 7.2), (10.0, 12.0)]
)
def test_total_travel_rule_in_inches(actual: float, total: float) -> None:
    # The rule is from memory (MSS SP-58: 20 %, at least 1 in); the rows are worked from it by hand.
    # One inch is the least extra here, where the metric rule says 25 mm.
    inch = to_si(1.0, "in", Kind.LENGTH)
    assert travel_needed(actual * inch, least_extra=inch) == pytest.approx(total * inch, rel=1e-12)


def test_crossover_of_the_metric_rule() -> None:
    assert travel_needed(0.125) == pytest.approx(0.150, rel=1e-12)
    assert travel_needed(0.124) == pytest.approx(0.149, rel=1e-12)
    assert travel_needed(0.126) == pytest.approx(0.1512, rel=1e-12)


def test_room_at_each_end_from_a_gauge() -> None:
    # scale 0 to 200 mm from the top; cold at 40, hot at 180: 40 above cold, 20 below hot
    top, bottom = room_at_ends(0.040, 0.180, 0.200, zero_at_top=True)
    assert (top, bottom) == pytest.approx((0.040, 0.020), rel=1e-9)


def test_room_is_the_same_from_either_zero() -> None:
    top, bottom = room_at_ends(0.160, 0.020, 0.200, zero_at_top=False)
    assert (top, bottom) == pytest.approx((0.040, 0.020), rel=1e-9)


def test_beyond_a_stop_is_negative() -> None:
    top, _ = room_at_ends(-0.005, 0.100, 0.200, zero_at_top=True)
    assert top == pytest.approx(-0.005, rel=1e-9)


def test_pointer_goes_with_the_pipe() -> None:
    # 140 mm down when hot
    assert pointer_after(0.040, -0.140, zero_at_top=True) == pytest.approx(0.180, rel=1e-12)
    assert pointer_after(0.160, -0.140, zero_at_top=False) == pytest.approx(0.020, rel=1e-9)


def test_seven_on_a_scale_of_ten_is_140_mm() -> None:
    assert pointer_from_divisions(7.0, 10.0, 0.200) == pytest.approx(0.140, rel=1e-12)


def test_column_with_both_zero_ends() -> None:
    down = distance_from_top(
        np.array([0.040, 0.160]), np.array([0.2, 0.2]), zero_at_top=np.array([True, False])
    )
    assert down == pytest.approx([0.040, 0.040], rel=1e-9)
