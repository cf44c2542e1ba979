"""First looks along a line. Example 11 (lever and closure only) is worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from supports.calc.closure import (
    closure,
    half_span_share,
    lever_shares,
    size_ratio,
    unit_suspected,
)
from supports.calc.constant_support import LoadRange
from supports.calc.elementwise import at_most


def test_example_11_lever() -> None:
    # constants at 4 m and 10 m, 6.0 kN at 7 m
    assert lever_shares(6e3, 3.0, 3.0) == pytest.approx((3e3, 3e3), rel=1e-12)


def test_example_11_verdict_depends_on_the_aim() -> None:
    limits = LoadRange.from_shares(15e3, 0.20, 0.20)
    answers = [limits.contains(15e3 + added) for added in (3.0e3, 4.8e3, 2.14e3)]
    assert answers == [True, False, True]  # the lever lands exactly on 18.0 kN


def test_example_11_closure() -> None:
    assert closure([50.5e3], 52e3) == pytest.approx(-0.029, abs=5e-4)
    assert closure([50.5e3], 52e3 + 6.242e3) == pytest.approx(-0.133, abs=5e-4)


def test_closure_exactly_at_its_limit_passes() -> None:
    assert at_most(abs(closure([40e3, 9.4e3], 52e3)), 0.05)
    assert not at_most(abs(closure([40e3, 9.39e3], 52e3)), 0.05)


def test_half_spans_by_hand() -> None:
    # 79.7 + 24.0 kg/m over half of 5 m and half of 7 m: 622.2 kg, 6.10 kN
    assert half_span_share(103.7, 5.0, 7.0) == pytest.approx(6.10e3, abs=5.0)


def test_a_cell_1427_under_kn_is_234_times_expected() -> None:
    times = size_ratio(1427e3, half_span_share(103.7, 5.0, 7.0))
    assert times == pytest.approx(234.0, abs=0.5)
    assert unit_suspected(times) == "lbf"


@pytest.mark.parametrize(
    ("times", "unit"),
    [
        (1.0, ""),
        (79.0, ""),
        (80.0, "kgf or daN"),
        (102.0, "kgf or daN"),
        (120.0, "kgf or daN"),
        (121.0, ""),
        (225.0, "lbf"),
        (1000.0, "N"),
        (1201.0, ""),
        (float("nan"), ""),
    ],
)
def test_sizes_that_raise_a_question(times: float, unit: str) -> None:
    assert unit_suspected(times) == unit


def test_columns() -> None:
    left, right = lever_shares(np.array([6e3]), np.array([2.0]), np.array([4.0]))
    assert (left[0], right[0]) == pytest.approx((4e3, 2e3), rel=1e-12)
