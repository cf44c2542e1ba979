"""Two units on one beam, and two units on one riser clamp.

A beam on two constants has no stiffness against tilt: settings that do not match the moments send
one unit to its top stop and the other to its bottom stop. So each unit is judged alone, and the
two are always set together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from supports.calc.constant_support import LoadRange
from supports.calc.turns import TurnCount, in_rounds
from supports.errors import CannotCalculate
from supports.units import FloatOrArray


@dataclass(frozen=True, slots=True)
class BeamLoad:
    """A pipe on the beam: its `load` [N] and its `position` along the beam [m]."""

    load: float
    position: float


@dataclass(frozen=True, slots=True)
class PairJudgement:
    """Whether each unit alone can be set, and whether only their sum would fit."""

    first_fits: bool
    second_fits: bool
    sum_fits: bool

    @property
    def both_fit(self) -> bool:
        """Return whether the pair can be set."""
        return self.first_fits and self.second_fits

    @property
    def sum_deceives(self) -> bool:
        """Return whether the sum of the limits hides that one unit is outside its own."""
        return self.sum_fits and not self.both_fit


@dataclass(frozen=True, slots=True)
class PairRound:
    """One round of alternate turning: a part for each unit."""

    first: TurnCount
    second: TurnCount


@dataclass(frozen=True, slots=True)
class RiserPair:
    """Two units on one riser clamp: setting of each, and load that each part is checked for [N]."""

    setting_each: float
    check_each: float


def shares(
    load: FloatOrArray, to_first: FloatOrArray, to_second: FloatOrArray, beam_weight: float = 0.0
) -> tuple[FloatOrArray, FloatOrArray]:
    """Return the loads of two units that hold one pipe on a beam.

    Parameters
    ----------
    load
        Pipe load [N].
    to_first, to_second
        Distance of the pipe from each unit along the beam [m].
    beam_weight
        Weight of the beam, its centre midway between the units [N].

    Returns
    -------
    tuple of two FloatOrArray
        F_1 = W b/(a + b) + B/2 and F_2 = W a/(a + b) + B/2 [N].

    Notes
    -----
    Source: statics, moments about each unit.
    """
    span = to_first + to_second
    half = beam_weight / 2.0
    return load * to_second / span + half, load * to_first / span + half


def shares_of_several(
    loads: Sequence[BeamLoad], first_at: float, second_at: float, beam_weight: float = 0.0
) -> tuple[float, float]:
    """Return the loads of two units that hold several pipes on one beam.

    Parameters
    ----------
    loads
        Pipe loads [N] with their positions [m].
    first_at, second_at
        Positions of the units along the beam [m].
    beam_weight
        Weight of the beam, its centre midway between the units [N].

    Returns
    -------
    tuple of two float
        Σ W (x_2 − x)/(x_2 − x_1) + B/2 and Σ W (x − x_1)/(x_2 − x_1) + B/2 [N].

    Raises
    ------
    CannotCalculate
        Both units stand at one position.

    Notes
    -----
    Source: statics, moments about each unit. A pipe beyond a unit unloads the other one.
    """
    if first_at == second_at:
        raise CannotCalculate("both units of a beam stand at one position", found=f"{first_at} m")
    pairs = [shares(one.load, one.position - first_at, second_at - one.position) for one in loads]
    half = beam_weight / 2.0
    return fsum(first for first, _ in pairs) + half, fsum(second for _, second in pairs) + half


def judge_pair(required: tuple[float, float], ranges: tuple[LoadRange, LoadRange]) -> PairJudgement:
    """Judge both units of a beam, each against its own range.

    Parameters
    ----------
    required
        Required loads of the first and the second unit [N].
    ranges
        Their adjusting ranges [N].

    Returns
    -------
    PairJudgement
        Each alone, and the sum against the sum of the limits.

    Notes
    -----
    Equation: low ≤ F ≤ high for each. Source: statics; a constant cannot lend range to another.
    """
    total = LoadRange(
        fsum(one.low for one in ranges),
        fsum(one.plate for one in ranges),
        fsum(one.high for one in ranges),
    )
    first, second = (one.contains(load) for one, load in zip(ranges, required, strict=True))
    return PairJudgement(first, second, total.contains(fsum(required)))


def alternate_rounds(
    first: TurnCount, second: TurnCount, rounds: int, step_flats: int = 1
) -> tuple[PairRound, ...]:
    """Share the turns of both units out over rounds, so that the beam stays level.

    Parameters
    ----------
    first, second
        All the turns of each unit.
    rounds
        Number of rounds.
    step_flats
        Smallest step of a round, in flats.

    Returns
    -------
    tuple of PairRound
        In each round the first unit is turned, then the second.

    Raises
    ------
    CannotCalculate
        Rounds or step below 1.

    Notes
    -----
    Source: common practice, no publication.
    """
    parts = zip(
        in_rounds(first, rounds, step_flats), in_rounds(second, rounds, step_flats), strict=True
    )
    return tuple(PairRound(one, other) for one, other in parts)


def riser_pair(load: float) -> RiserPair:
    """Return what the two units on a riser clamp are set to, and checked for.

    Parameters
    ----------
    load
        Load of the riser at the clamp [N].

    Returns
    -------
    RiserPair
        Half the load for each setting; all of it for each arm, rod and steel [N].

    Notes
    -----
    Equation: W/2 and W. Source: common practice: the two arms seldom share equally.
    """
    return RiserPair(setting_each=load / 2.0, check_each=load)
