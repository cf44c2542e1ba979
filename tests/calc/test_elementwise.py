"""Comparisons that read the same for one support and for a column."""

from __future__ import annotations

import math

import numpy as np
import pytest

from supports.calc.elementwise import at_least, at_most, chosen, larger, ratio, smaller


def test_single_values_stay_plain_floats() -> None:
    picked = chosen(at_most(1.0, 2.0), 1.0, 2.0)
    for value in (larger(1.0, 2.0), smaller(1.0, 2.0), ratio(1.0, 2.0), picked):
        assert type(value) is float


def test_single_answers_stay_plain_truths() -> None:
    assert at_most(1.0, 1.0) is True
    assert at_least(0.9, 1.0) is False


def test_larger_and_smaller() -> None:
    column = np.array([1.0, 5.0, np.nan])
    assert larger(column, 3.0)[:2].tolist() == [3.0, 5.0]
    assert smaller(column, 3.0)[:2].tolist() == [1.0, 3.0]
    assert np.isnan(larger(column, 3.0)[2])


@pytest.mark.parametrize(
    ("part", "whole", "expected"),
    [(1.0, 4.0, 0.25), (0.0, 0.0, 0.0), (1.0, 0.0, math.inf), (-1.0, 0.0, -math.inf)],
)
def test_ratio_with_nothing(part: float, whole: float, expected: float) -> None:
    assert ratio(part, whole) == expected


@pytest.mark.parametrize(("part", "whole"), [(math.nan, 1.0), (1.0, math.nan), (0.0, math.nan)])
def test_unknown_stays_unknown(part: float, whole: float) -> None:
    assert math.isnan(ratio(part, whole))
    assert not at_most(ratio(part, whole), 1e9)
    assert not at_least(ratio(part, whole), -1e9)


def test_last_digits_do_not_fail_a_value_at_its_limit() -> None:
    assert 0.1 + 0.2 > 0.3
    assert at_most(0.1 + 0.2, 0.3)
    assert at_least(0.3, 0.1 + 0.2)
    assert at_most(-1.0, -1.0)
    assert not at_most(1.0 + 1e-8, 1.0)
    assert not at_least(1.0 - 1e-8, 1.0)


def test_columns_answer_row_by_row() -> None:
    answers = at_most(np.array([0.5, 1.0, 1.5, np.nan]), 1.0)
    assert answers.tolist() == [True, True, False, False]
