"""Turns and flats of a load adjustment bolt, with a uniform or a banded load per turn."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from supports.calc.elementwise import LAST_DIGITS, at_least, at_most
from supports.errors import CannotCalculate
from supports.sentences import Sentence
from supports.units import FloatOrArray

FLATS_PER_TURN = 6
"""A bolt head or nut is a hexagon: one flat is a sixth of a turn."""


@dataclass(frozen=True, slots=True, order=True)
class TurnCount:
    """Whole turns and flats, as a technician counts them; never negative, the direction is words.

    >>> str(TurnCount.nearest(8.4))
    '8 turns 2 flats'
    """

    turns: int
    flats: int

    def __post_init__(self) -> None:
        if self.turns < 0 or not 0 <= self.flats < FLATS_PER_TURN:
            raise CannotCalculate(
                "not a count of turns and flats",
                found=Sentence(
                    "{turns} turns {flats} flats", turns=str(self.turns), flats=str(self.flats)
                ),
                expected="turns of 0 or more and 0 to 5 flats",
            )

    @classmethod
    def nearest(cls, turns: float) -> TurnCount:
        """Round to the nearest flat; half a flat goes up, six flats carry into a turn.

        Parameters
        ----------
        turns
            Exact number of turns [1].

        Raises
        ------
        CannotCalculate
            The number is negative or not finite.
        """
        if not (math.isfinite(turns) and turns >= 0.0):
            raise CannotCalculate("turns cannot be counted", found=f"{turns}", expected="0 or more")
        return cls.of_flats(math.floor(turns * FLATS_PER_TURN + 0.5))

    @classmethod
    def of_flats(cls, flats: int) -> TurnCount:
        """Carry a plain number of flats into whole turns."""
        return cls(*divmod(flats, FLATS_PER_TURN))

    @property
    def in_flats(self) -> int:
        """The count in flats alone."""
        return self.turns * FLATS_PER_TURN + self.flats

    @property
    def in_turns(self) -> float:
        """The count in turns [1]."""
        return self.in_flats / FLATS_PER_TURN

    def __str__(self) -> str:
        whole = f"{self.turns} turn{'' if self.turns == 1 else 's'}"
        part = f"{self.flats} flat{'' if self.flats == 1 else 's'}"
        if not self.flats:
            return whole
        return f"{whole} {part}" if self.turns else part


@dataclass(frozen=True, slots=True)
class LoadPerTurn:
    """Load per turn between two loads: `load_from` ≤ load ≤ `load_to`, all [N]."""

    load_from: float
    load_to: float
    load_per_turn: float

    def turns_inside(self, low: float, high: float) -> float:
        """Return the turns [1] that the part of low..high [N] inside this band takes."""
        return max(0.0, min(high, self.load_to) - max(low, self.load_from)) / self.load_per_turn


@dataclass(frozen=True, slots=True)
class LoadPerTurnTable:
    """Load per turn in bands that join without gaps, from the lowest load to the highest.

    Raises
    ------
    CannotCalculate
        No band, a gap or an overlap, or a load per turn that is not above zero.
    """

    bands: tuple[LoadPerTurn, ...]

    def __post_init__(self) -> None:
        sound = all(b.load_per_turn > 0.0 and b.load_from < b.load_to for b in self.bands)
        joined = all(
            math.isclose(a.load_to, b.load_from, rel_tol=LAST_DIGITS)
            for a, b in pairwise(self.bands)
        )
        if not (self.bands and sound and joined):
            raise CannotCalculate(
                "load per turn has no usable table",
                found="; ".join(
                    f"{b.load_from}..{b.load_to}: {b.load_per_turn}" for b in self.bands
                ),
                expected="rising bands that join, each with a load per turn above zero",
            )

    @classmethod
    def uniform(cls, load_per_turn: float) -> LoadPerTurnTable:
        """Return the table of one load per turn [N] for every load."""
        return cls((LoadPerTurn(0.0, math.inf, load_per_turn),))

    def covers(self, low: float, high: float) -> bool:
        """Return whether the bands reach over both loads [N]."""
        return at_least(low, self.bands[0].load_from) and at_most(high, self.bands[-1].load_to)


def turns_for_change(change: FloatOrArray, load_per_turn: FloatOrArray) -> FloatOrArray:
    """Return the turns for a change of load where the load per turn is uniform.

    Parameters
    ----------
    change
        Change of load, either sign [N].
    load_per_turn
        Load per full turn, above zero [N].

    Returns
    -------
    FloatOrArray
        n = |ΔF| / q [1].

    Notes
    -----
    Source: definition of the load per turn; common practice.
    """
    return abs(change) / load_per_turn


def turns_between(load_from: float, load_to: float, table: LoadPerTurnTable) -> float:
    """Return the turns between two loads, band by band; the sense does not matter.

    Parameters
    ----------
    load_from, load_to
        Present and wanted load [N].
    table
        Load per turn in bands.

    Returns
    -------
    float
        n = Σ ΔF_i / q_i [1].

    Raises
    ------
    CannotCalculate
        The table does not reach over both loads.

    Notes
    -----
    Source: definition of the load per turn, summed piece by piece; common practice.
    """
    low, high = sorted((load_from, load_to))
    _require_cover(table, low, high)
    return math.fsum(band.turns_inside(low, high) for band in table.bands)


def load_after_turns(load_from: float, turns: float, table: LoadPerTurnTable) -> float:
    """Return the load after so many turns; the inverse of `turns_between`.

    Parameters
    ----------
    load_from
        Load before the first turn [N].
    turns
        Turns given, positive to increase the load, negative to decrease it [1].
    table
        Load per turn in bands.

    Returns
    -------
    float
        The load F with Σ ΔF_i / q_i = |turns| [N].

    Raises
    ------
    CannotCalculate
        The turns lead out of the table.

    Notes
    -----
    Source: definition of the load per turn, piece by piece; common practice.
    """
    _require_cover(table, load_from, load_from)
    upward = turns >= 0.0
    load, left = load_from, abs(turns)
    for band in table.bands if upward else reversed(table.bands):
        step = _step_in_band(band, load, left, upward=upward)
        load += step if upward else -step
        left -= step / band.load_per_turn
    if left > LAST_DIGITS * max(1.0, abs(turns)):
        raise CannotCalculate(
            Sentence(
                "{left} of {turns} turns lead out of the table of load per turn",
                left=f"{left:.3g}",
                turns=f"{abs(turns):.3g}",
            )
        )
    return load


def _step_in_band(band: LoadPerTurn, load: float, left: float, *, upward: bool) -> float:
    if load >= band.load_to if upward else load <= band.load_from:
        return 0.0
    room = band.load_to - load if upward else load - band.load_from
    return min(room, left * band.load_per_turn)


def _require_cover(table: LoadPerTurnTable, low: float, high: float) -> None:
    if not table.covers(low, high):
        raise CannotCalculate(
            "the table of load per turn does not reach over the loads",
            found=Sentence("{low} to {high} N", low=f"{low:g}", high=f"{high:g}"),
            expected=Sentence(
                "{low} to {high} N",
                low=f"{table.bands[0].load_from:g}",
                high=f"{table.bands[-1].load_to:g}",
            ),
            remedy="Enter the load per turn for the missing part from the unit's certificate",
        )


def in_rounds(count: TurnCount, rounds: int, step_flats: int = 1) -> tuple[TurnCount, ...]:
    """Share a count out over rounds, each a whole number of steps; the last takes the rest.

    >>> [str(part) for part in in_rounds(TurnCount(8, 2), 3, step_flats=6)]
    ['3 turns', '3 turns', '2 turns 2 flats']
    >>> [str(part) for part in in_rounds(TurnCount(3, 1), 3, step_flats=3)]
    ['1 turn 3 flats', '1 turn', '4 flats']

    Parameters
    ----------
    count
        All the turns of one bolt.
    rounds
        Number of rounds, 1 or more.
    step_flats
        Smallest step of a round, in flats: 6 for whole turns.

    Returns
    -------
    tuple of TurnCount
        One entry a round; they add up to the count.

    Raises
    ------
    CannotCalculate
        Rounds or step below 1.

    Notes
    -----
    Source: common practice, no publication: small steps, the same for all but the last round. The
    last is no smaller than a step where the one before it can spare a step, as a scale cannot tell
    less; no round is larger than the one before it.
    """
    if rounds < 1 or step_flats < 1:
        raise CannotCalculate("rounds and steps are counted from 1")
    steps = count.in_flats / rounds / step_flats
    each = math.ceil(steps) * step_flats
    given = [min(each * number, count.in_flats) for number in range(rounds + 1)]
    rest = count.in_flats - given[-2]
    if 0 < rest < step_flats and each - step_flats >= rest + step_flats:
        given[-2] -= step_flats
    return tuple(TurnCount.of_flats(after - before) for before, after in pairwise(given))
