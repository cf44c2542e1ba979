"""Variable spring. Example 6 is invented and worked by hand: loads in N, lengths in m."""

from __future__ import annotations

import numpy as np
import pytest

from supports.calc.elementwise import at_most
from supports.calc.variable_spring import (
    cold_load,
    hot_load,
    movement_room,
    plan_take_up,
    range_excess,
    scale_rise,
    sink,
    variability,
)
from supports.units import Kind, from_si, to_si


def test_example_6_before() -> None:
    assert cold_load(12e3, 80e3, 0.015) == pytest.approx(13.2e3, rel=1e-12)
    assert variability(12e3, 80e3, 0.015) == pytest.approx(0.10, rel=1e-12)


def test_example_6_after() -> None:
    plan = plan_take_up(13.5e3, 12e3, 80e3, 0.015, (8e3, 16e3), line_stiffness=400e3, pitch=0.003)
    assert plan.cold == pytest.approx(14.7e3, rel=1e-12)
    assert plan.variability == pytest.approx(0.0889, abs=5e-5)
    assert (plan.hot_room_down, plan.hot_room_up) == pytest.approx((0.03125, 0.06875), rel=1e-12)
    assert (plan.cold_room_down, plan.cold_room_up) == pytest.approx((0.01625, 0.08375), rel=1e-12)
    assert plan.take_up == pytest.approx(0.01875, rel=1e-12)
    assert plan.turnbuckle_turns == pytest.approx(3.125, rel=1e-12)
    assert plan.nut_turns == pytest.approx(6.25, rel=1e-12)
    assert plan.take_up_following == pytest.approx(0.0225, rel=1e-12)
    assert at_most(plan.range_excess, 0.0)


def test_example_6_scale_tells_only_a_part() -> None:
    assert sink(1500.0, 80e3, 400e3) == pytest.approx(0.003125, rel=1e-12)
    assert scale_rise(1500.0, 80e3, 400e3) == pytest.approx(250.0, rel=1e-12)


def test_unknown_pitch_and_stiffness_stay_unknown() -> None:
    plan = plan_take_up(13.5e3, 12e3, 80e3, 0.015, (8e3, 16e3))
    assert (plan.take_up_following, plan.turnbuckle_turns, plan.nut_turns) == (None, None, None)


@pytest.mark.parametrize(
    ("hot", "rate", "up", "cold", "share", "fits"),
    [
        (1000.0, 100.0, 1.0, 1100.0, 0.10, True),
        (4500.0, 600.0, 0.75, 4950.0, 0.10, True),
        (4500.0, 600.0, -0.75, 4050.0, 0.10, True),
        (12000.0, 2400.0, 1.5, 15600.0, 0.30, False),
        (12000.0, 1200.0, 1.5, 13800.0, 0.15, True),
    ],
)
def test_spring_selection_in_customary_units(
    hot: float, rate: float, up: float, cold: float, share: float, fits: bool
) -> None:
    # Worked by hand from the definitions of MSS SP-58; regression, not a published example.
    load = to_si(hot, "lbf", Kind.LOAD)
    stiffness, move = to_si(rate, "lbf/in", Kind.RATE), to_si(up, "in", Kind.LENGTH)
    result = cold_load(load, stiffness, move)
    assert from_si(result, "lbf", Kind.LOAD) == pytest.approx(cold, rel=1e-9)
    assert hot_load(result, stiffness, move) == pytest.approx(load, rel=1e-12)
    assert variability(load, stiffness, move) == pytest.approx(share, rel=1e-9)
    assert at_most(variability(load, stiffness, move), 0.25) is fits


def test_variability_exactly_at_its_limit_passes() -> None:
    assert at_most(variability(10e3, 100e3, 0.025), 0.25)
    assert not at_most(variability(10e3, 100e3, 0.02501), 0.25)


@pytest.mark.parametrize(
    ("hot", "cold", "excess"),
    [
        (12e3, 16e3, 0.0),  # exactly at the high end
        (8e3, 9e3, 0.0),  # exactly at the low end
        (12e3, 16.5e3, 500.0),
        (7.6e3, 9e3, 400.0),
        (12e3, 13e3, -3e3),
    ],
)
def test_range_is_judged_in_both_states(hot: float, cold: float, excess: float) -> None:
    assert range_excess(hot, cold, 8e3, 16e3) == pytest.approx(excess, abs=1e-9)
    assert range_excess(cold, hot, 8e3, 16e3) == pytest.approx(excess, abs=1e-9)


def test_columns() -> None:
    hot, rate, up = np.array([12e3, 13.5e3]), np.array([80e3, 80e3]), np.array([0.015, 0.015])
    assert cold_load(hot, rate, up) == pytest.approx([13.2e3, 14.7e3], rel=1e-12)
    assert variability(hot, rate, up) == pytest.approx([0.10, 0.0888889], abs=1e-7)
    down, _ = movement_room(hot, rate, np.full(2, 8e3), np.full(2, 16e3))
    assert down == pytest.approx([0.05, 0.03125], rel=1e-12)
