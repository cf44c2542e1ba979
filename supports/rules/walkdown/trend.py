"""Drift over years: a straight line by least squares through readings in one plant state alone."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from supports.vocabulary import PlantState

DAYS_IN_A_YEAR = 365.25


@dataclass(frozen=True, slots=True)
class Point:
    """One reading of one quantity: pointer [m] or load [N]."""

    day: date
    state: PlantState
    value: float


@dataclass(frozen=True, slots=True)
class Trend:
    """A straight line through readings in one state.

    Parameters
    ----------
    slope
        [value's unit per year].
    slope_error
        Standard error of the slope, [value's unit per year]; None of two readings.
    mean
        Mean of the values, [value's unit].
    """

    state: PlantState
    slope: float
    slope_error: float | None
    mean: float
    first: date
    last: date
    start: float
    count: int

    def at(self, day: date) -> float:
        """Return the line's value on a day."""
        return self.start + self.slope * (day - self.first).days / DAYS_IN_A_YEAR

    @property
    def years(self) -> float:
        """Return the time from first to last reading."""
        return (self.last - self.first).days / DAYS_IN_A_YEAR


def trends(points: Iterable[Point], *, fewest: int, since: date | None = None) -> tuple[Trend, ...]:
    """Return the trend in each plant state that has enough readings on different days.

    Readings in an unknown state join none; `since` leaves out what was read before a re-set.
    """
    by_state: dict[PlantState, list[Point]] = {}
    for point in sorted(points, key=lambda one: one.day):
        if point.state is not PlantState.UNKNOWN and (since is None or point.day >= since):
            by_state.setdefault(point.state, []).append(point)
    return tuple(
        trend_of(state, held)
        for state, held in by_state.items()
        if len(held) >= fewest and len({one.day for one in held}) >= 2
    )


def trend_of(state: PlantState, points: Sequence[Point]) -> Trend:
    """Return the least-squares line: slope = S_xy / S_xx, error = sqrt(S_rr / (n - 2) / S_xx).

    The formulas are those of any book of statistics, e.g. NIST/SEMATECH e-Handbook of Statistical
    Methods, section 4.1.4.1.
    """
    first = points[0].day
    x = [(one.day - first).days / DAYS_IN_A_YEAR for one in points]
    y = [one.value for one in points]
    n = len(points)
    x_mean, y_mean = math.fsum(x) / n, math.fsum(y) / n
    s_xx = math.fsum((a - x_mean) ** 2 for a in x)
    s_xy = math.fsum((a - x_mean) * (b - y_mean) for a, b in zip(x, y, strict=True))
    slope = s_xy / s_xx
    start = y_mean - slope * x_mean
    rest = math.fsum((b - start - slope * a) ** 2 for a, b in zip(x, y, strict=True))
    error = math.sqrt(rest / (n - 2) / s_xx) if n > 2 else None
    return Trend(state, slope, error, y_mean, first, points[-1].day, start, n)
