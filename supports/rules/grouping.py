"""Sums, largest and newest values by group, over whole columns."""

from __future__ import annotations

from collections.abc import Hashable, Iterable

import numpy as np

from supports.rules.frame import FloatColumn, IntColumn


def sum_by(group: IntColumn, values: FloatColumn, size: int) -> FloatColumn:
    """Return the sum of each group; a not-known value makes its group's sum not known."""
    sums: FloatColumn = np.bincount(group, weights=values, minlength=size).astype(np.float64)
    return sums


def count_by(group: IntColumn, size: int) -> FloatColumn:
    """Return the number of rows of each group."""
    return np.bincount(group, minlength=size).astype(np.float64)


def largest_by(group: IntColumn, values: FloatColumn, size: int) -> FloatColumn:
    """Return the largest known value of each group; not known where there is none."""
    result = np.full(size, np.nan)
    np.fmax.at(result, group, values)
    return result


def least_by(group: IntColumn, values: FloatColumn, size: int) -> FloatColumn:
    """Return the least known value of each group; not known where there is none."""
    return -largest_by(group, -values, size)


def last_by(group: IntColumn, size: int) -> IntColumn:
    """Return the last row of each group, -1 where there is none; rows are in order of time."""
    result = np.full(size, -1, dtype=np.int64)
    result[group] = np.arange(len(group))
    return result


def first_by(group: IntColumn, size: int) -> IntColumn:
    """Return the first row of each group, -1 where there is none."""
    result = np.full(size, -1, dtype=np.int64)
    result[group[::-1]] = np.arange(len(group))[::-1]
    return result


def at(values: FloatColumn, rows: IntColumn) -> FloatColumn:
    """Return values at rows; row -1 is not known."""
    if len(values) == 0:
        return np.full(len(rows), np.nan)
    return np.where(rows >= 0, values[rows], np.nan)


def codes_of(values: Iterable[Hashable]) -> tuple[IntColumn, list[Hashable]]:
    """Return a number for each value, equal for equal values, and the values by number."""
    known: dict[Hashable, int] = {}
    codes = [known.setdefault(value, len(known)) for value in values]
    return np.array(codes, dtype=np.int64), list(known)
