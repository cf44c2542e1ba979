"""What is measured or compared at a unit: load cell pair, case spread, step of a scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from supports.calc.elementwise import ratio
from supports.errors import CannotCalculate
from supports.sentences import Sentence
from supports.units import FloatOrArray


@dataclass(frozen=True, slots=True)
class MeasuredBand:
    """Load cell at a unit, moved both ways: `mean` and `half_band` [N], `deviation` [1]."""

    mean: float
    half_band: float
    deviation: float


@dataclass(frozen=True, slots=True)
class CaseSpread:
    """One setting for many cases: `middle` and `half_spread` [N], `relative` to the middle [1]."""

    middle: float
    half_spread: float
    relative: float


def deviation(lowering: FloatOrArray, raising: FloatOrArray) -> FloatOrArray:
    """Return the measured deviation of a constant support, friction included.

    Parameters
    ----------
    lowering, raising
        Load cell while the pipe end is lowered and raised [N].

    Returns
    -------
    FloatOrArray
        (F_down − F_up) / (F_down + F_up) [1].

    Notes
    -----
    Source: MSS SP-58, definition from memory; limit there 6 %.
    """
    return ratio(lowering - raising, lowering + raising)


def measured_band(lowering: float, raising: float) -> MeasuredBand:
    """Return mean, half band and deviation from a load cell.

    Parameters
    ----------
    lowering, raising
        Load cell while the pipe end is lowered and raised [N].

    Returns
    -------
    MeasuredBand
        (F_down + F_up)/2 and (F_down − F_up)/2 [N]; their quotient [1].

    Raises
    ------
    CannotCalculate
        The load while lowering is below that while raising: friction would help, so the two
        readings have been exchanged.

    Notes
    -----
    Source: MSS SP-58, definition from memory.
    """
    if lowering < raising:
        raise CannotCalculate(
            "load cell readings look exchanged",
            found=Sentence(
                "lowering {lowering} N below raising {raising} N",
                lowering=f"{lowering:g}",
                raising=f"{raising:g}",
            ),
            expected="friction adds while lowering",
            remedy="Check which reading was taken while the pipe end went down",
        )
    half = (lowering - raising) / 2.0
    return MeasuredBand((lowering + raising) / 2.0, half, deviation(lowering, raising))


def case_spread(loads: Sequence[float]) -> CaseSpread:
    """Return how well one setting can serve several operating cases.

    Parameters
    ----------
    loads
        Required loads, one a case [N].

    Returns
    -------
    CaseSpread
        Middle (max + min)/2 and half spread (max − min)/2 [N]; their quotient [1].

    Raises
    ------
    CannotCalculate
        There is no case.

    Notes
    -----
    Source: arithmetic; about 5 % as a limit is common practice.
    """
    if not loads:
        raise CannotCalculate("no operating case has a required load")
    middle, half = (max(loads) + min(loads)) / 2.0, (max(loads) - min(loads)) / 2.0
    return CaseSpread(middle, half, ratio(half, middle))


def step_disagreement(expected: FloatOrArray, seen: FloatOrArray) -> FloatOrArray:
    """Return how far the step seen on the scale is from the step expected.

    Parameters
    ----------
    expected
        Change of load that the turns given should make, signed [N].
    seen
        Change of load on the scale, signed [N].

    Returns
    -------
    FloatOrArray
        |seen − expected| / |expected| [1].

    Notes
    -----
    Source: common practice, no publication; above 20 % work stops.
    """
    return ratio(abs(seen - expected), abs(expected))
