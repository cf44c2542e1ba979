"""Constant support. Examples 1 to 4 are invented numbers worked by hand, loads in N."""

from __future__ import annotations

import numpy as np
import pytest

from supports.calc.constant_support import (
    LoadRange,
    change_of_load,
    relative_difference,
    room_left,
    same_energy_from_one_metre,
    stored_energy,
    thread_needed,
    thread_spare,
    used_share,
    window,
)
from supports.calc.turns import turns_for_change
from supports.errors import CannotCalculate
from supports.units import Kind, from_si, to_si


def test_example_1_change_share_room_window_band() -> None:
    assert change_of_load(22100.0, 20000.0) == pytest.approx(2100.0, rel=1e-12)
    assert relative_difference(22100.0, 20000.0) == pytest.approx(0.105, rel=1e-12)
    assert used_share(22100.0, 20000.0, 17000.0, 23000.0) == pytest.approx(0.70, rel=1e-12)
    up, down = room_left(22100.0, 17000.0, 23000.0)
    assert (up, down) == (900.0, 5100.0)
    assert turns_for_change(up, 250.0) == pytest.approx(3.6, rel=1e-12)
    assert window(22100.0, 0.02) == pytest.approx((21658.0, 22542.0), rel=1e-12)
    assert window(22100.0, 0.06) == pytest.approx((20774.0, 23426.0), rel=1e-12)
    assert thread_needed(8.4, 0.003) == pytest.approx(0.0252, rel=1e-12)


def test_example_2_in_customary_units() -> None:
    plate, required = to_si(4500.0, "lbf", Kind.LOAD), to_si(4830.0, "lbf", Kind.LOAD)
    change = change_of_load(required, plate)
    assert from_si(change, "lbf", Kind.LOAD) == pytest.approx(330.0, rel=1e-12)
    assert relative_difference(required, plate) == pytest.approx(0.0733, abs=5e-5)
    assert turns_for_change(change, to_si(55.0, "lbf/turn", Kind.LOAD_PER_TURN)) == pytest.approx(
        6.0, rel=1e-12
    )
    limits = LoadRange.from_shares(plate, 0.10, 0.10)
    assert from_si(limits.low, "lbf", Kind.LOAD) == pytest.approx(4050.0, rel=1e-12)
    assert from_si(limits.high, "lbf", Kind.LOAD) == pytest.approx(4950.0, rel=1e-12)
    assert limits.contains(required)
    assert (plate / 1e3, required / 1e3) == pytest.approx((20.017, 21.485), abs=5e-4)
    assert from_si(plate, "kgf", Kind.LOAD) == pytest.approx(2041.2, abs=0.05)
    assert from_si(plate, "daN", Kind.LOAD) == pytest.approx(2001.7, abs=0.05)


def test_example_3_range_counts_from_the_nameplate() -> None:
    limits = LoadRange.from_shares(20e3, 0.15, 0.15)
    assert (limits.low, limits.high) == pytest.approx((17e3, 23e3), rel=1e-12)
    assert relative_difference(23400.0, 21500.0) == pytest.approx(0.0884, abs=5e-5)
    assert turns_for_change(1900.0, 250.0) == pytest.approx(7.6, rel=1e-12)
    assert relative_difference(23400.0, 20000.0) == pytest.approx(0.17, rel=1e-12)
    assert not limits.contains(23400.0)
    assert limits.used_share(23400.0) == pytest.approx(3.4 / 3.0, rel=1e-12)


def test_as_left_against_target() -> None:
    assert relative_difference(21400.0, 22100.0) == pytest.approx(-0.0317, abs=5e-5)


@pytest.mark.parametrize("load", [4050.0, 4950.0, 4500.0])
def test_exactly_at_a_range_end_is_inside(load: float) -> None:
    limits = LoadRange.from_shares(to_si(4500.0, "lbf", Kind.LOAD), 0.10, 0.10)
    assert limits.contains(to_si(load, "lbf", Kind.LOAD))


@pytest.mark.parametrize("load", [4049.99, 4950.01])
def test_a_hundredth_of_a_pound_outside_is_outside(load: float) -> None:
    limits = LoadRange.from_shares(to_si(4500.0, "lbf", Kind.LOAD), 0.10, 0.10)
    assert not limits.contains(to_si(load, "lbf", Kind.LOAD))


def test_ranges_may_be_lopsided_or_closed_on_one_side() -> None:
    assert used_share(19e3, 20e3, 18e3, 25e3) == pytest.approx(0.5, rel=1e-12)
    assert used_share(20e3, 20e3, 18e3, 20e3) == pytest.approx(0.0, abs=1e-15)
    assert used_share(20.1e3, 20e3, 18e3, 20e3) == float("inf")


def test_a_nameplate_outside_its_range_is_refused() -> None:
    with pytest.raises(CannotCalculate, match="not inside its adjusting range"):
        LoadRange(17e3, 24e3, 23e3)


def test_a_column_answers_as_its_rows_do() -> None:
    required = np.array([22100.0, 23400.0, 17000.0, np.nan])
    plate, low, high = (np.full(4, value) for value in (20e3, 17e3, 23e3))
    shares = used_share(required, plate, low, high)
    assert shares[:3] == pytest.approx([0.7, 3.4 / 3.0, 1.0], rel=1e-12)
    assert np.isnan(shares[3])
    assert window(required, 0.02)[0][0] == pytest.approx(21658.0, rel=1e-12)


def test_thread_margin_is_kept_free() -> None:
    assert thread_spare(8.4, 0.003, 0.030, 0.0) == pytest.approx(0.0048, rel=1e-9)
    assert thread_spare(8.4, 0.003, 0.030, 0.006) == pytest.approx(-0.0012, rel=1e-9)


def test_stored_energy_by_hand() -> None:
    # 20 kN over 200 mm: 4 kJ, as much as 407.9 kg let fall from one metre
    energy = stored_energy(20e3, 0.200)
    assert energy == pytest.approx(4000.0, rel=1e-12)
    assert same_energy_from_one_metre(energy) == pytest.approx(407.89, abs=0.005)


def test_turns_as_common_practice() -> None:
    # Common practice, no source: turns are the change divided by the load per turn. 75 lbf a turn
    # is 333.6 N a turn.
    per_turn = to_si(75.0, "lbf/turn", Kind.LOAD_PER_TURN)
    assert per_turn == pytest.approx(333.6, abs=0.05)
    assert turns_for_change(to_si(300.0, "lbf", Kind.LOAD), per_turn) == pytest.approx(
        4.0, rel=1e-12
    )
