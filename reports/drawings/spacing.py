"""Places along an axis drawn closer or wider than they are, in their order."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

_SAME = 1e-6
_HALVINGS = 60


@dataclass(frozen=True, slots=True)
class Spaced:
    """True places in order, where each is drawn, and which gaps were cut."""

    true: tuple[float, ...]
    drawn: tuple[float, ...]
    cut: tuple[bool, ...]

    def at(self, value: float) -> float:
        """Return where a true place is drawn; between two places in proportion."""
        if len(self.true) == 1:
            return self.drawn[0]
        low = min(max(bisect_right(self.true, value) - 1, 0), len(self.true) - 2)
        first, last = self.true[low : low + 2]
        share = (value - first) / (last - first)
        return self.drawn[low] + share * (self.drawn[low + 1] - self.drawn[low])

    def cut_within(self, first: float, last: float) -> bool:
        """Return whether a gap between two true places was cut."""
        low, high = sorted((first, last))
        return any(
            cut and low <= a + _SAME and b - _SAME <= high
            for cut, (a, b) in zip(self.cut, pairwise(self.true), strict=True)
        )


def capped(values: Iterable[float], longest: float, least: float = 0.0) -> Spaced:
    """Return places with no gap drawn longer than `longest` or shorter than `least` [m]."""
    true = distinct(values)
    gaps = [b - a for a, b in pairwise(true)]
    drawn = accumulate((min(max(gap, least), longest) for gap in gaps), initial=0.0)
    return Spaced(true, tuple(drawn), tuple(gap > longest for gap in gaps))


def fitted(values: Iterable[float], width: float, least: float) -> Spaced:
    """Return places spread over a width [mm], no gap narrower than `least` [mm] if it fits.

    Gaps keep their proportions as far as the least gap allows.
    """
    true = distinct(values)
    gaps = [b - a for a, b in pairwise(true)]
    if not gaps:
        return Spaced(true, (width / 2.0,), ())
    narrow = min(least, width / len(gaps))
    scale = _scale(gaps, width, narrow)
    drawn = tuple(accumulate((max(gap * scale, narrow) for gap in gaps), initial=0.0))
    return Spaced(true, drawn, (False,) * len(gaps))


def _scale(gaps: Sequence[float], width: float, narrow: float) -> float:
    """Return the scale [mm/m] at which the gaps fill the width, by halving."""
    low, high = 0.0, width / min(gaps)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        if sum(max(gap * middle, narrow) for gap in gaps) > width:
            high = middle
        else:
            low = middle
    return low


def distinct(values: Iterable[float]) -> tuple[float, ...]:
    """Return places in order, each once."""
    out: list[float] = []
    for value in sorted(values):
        if not out or value - out[-1] > _SAME:
            out.append(value)
    return tuple(out)
