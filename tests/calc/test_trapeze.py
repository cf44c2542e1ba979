"""Two units on one beam, riser pairs. Example 5 and the two-line beam are worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from supports.calc.constant_support import LoadRange, relative_difference
from supports.calc.trapeze import (
    BeamLoad,
    alternate_rounds,
    judge_pair,
    riser_pair,
    shares,
    shares_of_several,
)
from supports.calc.turns import TurnCount, turns_for_change
from supports.errors import CannotCalculate


def test_example_5_shares_before_and_after() -> None:
    assert shares(36e3, 0.6, 1.0, 1200.0) == pytest.approx((23.1e3, 14.1e3), rel=1e-12)
    assert shares(40e3, 0.6, 1.0, 1200.0) == pytest.approx((25.6e3, 15.6e3), rel=1e-12)
    assert sum(shares(40e3, 0.6, 1.0, 1200.0)) == pytest.approx(41.2e3, rel=1e-12)


def test_example_5_five_alternate_rounds() -> None:
    first = TurnCount.nearest(turns_for_change(2500.0, 200.0))
    second = TurnCount.nearest(turns_for_change(1500.0, 150.0))
    assert (first, second) == (TurnCount(12, 3), TurnCount(10, 0))
    rounds = alternate_rounds(first, second, 5)
    assert [(one.first, one.second) for one in rounds] == [(TurnCount(2, 3), TurnCount(2, 0))] * 5


def test_example_5_each_unit_is_judged_alone() -> None:
    ranges = (LoadRange.from_shares(23.1e3, 0.1, 0.1), LoadRange.from_shares(14.1e3, 0.15, 0.15))
    assert ranges[0].high == pytest.approx(25.41e3, rel=1e-12)
    judgement = judge_pair((25.6e3, 15.6e3), ranges)
    assert (judgement.first_fits, judgement.second_fits, judgement.sum_fits) == (False, True, True)
    assert judgement.sum_deceives
    assert not judgement.both_fit


def test_a_pair_that_fits() -> None:
    ranges = (LoadRange.from_shares(23.1e3, 0.1, 0.1), LoadRange.from_shares(14.1e3, 0.1, 0.1))
    judgement = judge_pair((25.41e3, 15.51e3), ranges)  # both exactly at their ends
    assert judgement.both_fit
    assert not judgement.sum_deceives


def test_example_5_hot_pipe_moved_toward_the_first_unit() -> None:
    first, second = shares(40e3, 0.57, 1.03, 1200.0)
    assert (first, second) == pytest.approx((26.35e3, 14.85e3), rel=1e-12)
    assert relative_difference(first, 25.6e3) == pytest.approx(0.029, abs=5e-4)
    assert relative_difference(second, 15.6e3) == pytest.approx(-0.048, abs=5e-4)


def test_two_lines_on_one_beam() -> None:
    # 12.0 kN at 400 mm and 8.0 kN at 1,200 mm, units at 0 and 1,600 mm
    line_a = BeamLoad(12e3, 0.4)
    before = shares_of_several([line_a, BeamLoad(8e3, 1.2)], 0.0, 1.6)
    after = shares_of_several([line_a, BeamLoad(10e3, 1.2)], 0.0, 1.6)
    assert before == pytest.approx((11e3, 9e3), rel=1e-12)
    assert after == pytest.approx((11.5e3, 10.5e3), rel=1e-12)


def test_a_pipe_beyond_a_unit_unloads_the_other() -> None:
    # 10 kN at 2.0 m, units at 0 and 1.6 m: moments about each unit
    assert shares_of_several([BeamLoad(10e3, 2.0)], 0.0, 1.6) == pytest.approx(
        (-2.5e3, 12.5e3), rel=1e-12
    )


def test_both_units_at_one_position_are_refused() -> None:
    with pytest.raises(CannotCalculate, match="at one position"):
        shares_of_several([BeamLoad(10e3, 1.0)], 1.6, 1.6)


def test_riser_pair_is_checked_for_all_the_load() -> None:
    # Common practice, no source.
    pair = riser_pair(30e3)
    assert (pair.setting_each, pair.check_each) == (15e3, 30e3)


def test_shares_over_columns() -> None:
    first, second = shares(np.array([36e3, 40e3]), np.array([0.6, 0.6]), np.array([1.0, 1.0]), 1200)
    assert first == pytest.approx([23.1e3, 25.6e3], rel=1e-12)
    assert second == pytest.approx([14.1e3, 15.6e3], rel=1e-12)
