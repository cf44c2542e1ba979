"""Load of a constant support: change, range, used share, window, band, stored energy.

A constant support pulls with its set load whatever hangs on the line. Its adjusting range is
counted from the nameplate load, never from today's setting.
"""

from __future__ import annotations

from dataclasses import dataclass

from supports.calc.elementwise import at_least, at_most, larger, ratio
from supports.errors import CannotCalculate
from supports.sentences import Sentence
from supports.units import STANDARD_GRAVITY, FloatOrArray


@dataclass(frozen=True, slots=True)
class LoadRange:
    """Adjusting range about the nameplate load, all [N].

    Raises
    ------
    CannotCalculate
        The nameplate load is not inside its own range.
    """

    low: float
    plate: float
    high: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.low <= self.plate <= self.high:
            raise CannotCalculate(
                "the nameplate load is not inside its adjusting range",
                found=Sentence(
                    "low {low}, nameplate {plate}, high {high} N",
                    low=f"{self.low:g}",
                    plate=f"{self.plate:g}",
                    high=f"{self.high:g}",
                ),
                expected="low ≤ nameplate ≤ high",
                remedy="Check the three values against the nameplate",
            )

    @classmethod
    def from_shares(cls, plate: float, minus: float, plus: float) -> LoadRange:
        """Build the range from shares of the nameplate load [N]; −15 % is `minus` = 0.15 [1]."""
        return cls(plate * (1.0 - minus), plate, plate * (1.0 + plus))

    def contains(self, load: float) -> bool:
        """Return whether a load [N] is inside; exactly at an end is inside."""
        return at_least(load, self.low) and at_most(load, self.high)

    def used_share(self, load: float) -> float:
        """Return the share [1] of that side of the range which a load [N] uses."""
        return used_share(load, self.plate, self.low, self.high)


def change_of_load(required: FloatOrArray, present: FloatOrArray) -> FloatOrArray:
    """Return by how much the set load must change.

    Parameters
    ----------
    required
        Required load at the unit, hanging hardware included [N].
    present
        Present setting [N].

    Returns
    -------
    FloatOrArray
        ΔF = F_required − F_set, positive to increase [N].

    Notes
    -----
    Source: statics.
    """
    return required - present


def relative_difference(value: FloatOrArray, reference: FloatOrArray) -> FloatOrArray:
    """Return how far a value stands from its reference, as a share of the reference.

    Parameters
    ----------
    value
        Required load, or the load read [N].
    reference
        Present setting, nameplate load, or the target [N].

    Returns
    -------
    FloatOrArray
        (F − F_ref) / F_ref, signed [1].

    Notes
    -----
    Source: arithmetic.
    """
    return ratio(value - reference, reference)


def used_share(
    required: FloatOrArray, plate: FloatOrArray, low: FloatOrArray, high: FloatOrArray
) -> FloatOrArray:
    """Return the used share of the range on the side where the required load lies.

    Parameters
    ----------
    required
        Required load [N].
    plate
        Nameplate (calibrated) load; the range is counted from it [N].
    low, high
        Ends of the adjusting range [N].

    Returns
    -------
    FloatOrArray
        |F − F_plate| / |F_limit − F_plate|; 1 at the end, above 1 outside [1].

    Notes
    -----
    Source: common practice: the range is stamped as limits about the nameplate load. MSS SP-58 asks
    for ±10 % at least (from memory, clause not confirmed).
    """
    return larger(ratio(required - plate, high - plate), ratio(plate - required, plate - low))


def room_left(
    load: FloatOrArray, low: FloatOrArray, high: FloatOrArray
) -> tuple[FloatOrArray, FloatOrArray]:
    """Return the room that a setting leaves upwards and downwards.

    Parameters
    ----------
    load
        Setting [N].
    low, high
        Ends of the adjusting range [N].

    Returns
    -------
    tuple of two FloatOrArray
        F_high − F and F − F_low; negative outside [N].

    Notes
    -----
    Source: arithmetic.
    """
    return high - load, load - low


def window(load: FloatOrArray, share: float) -> tuple[FloatOrArray, FloatOrArray]:
    """Return the window about a load: a reading tolerance, or a friction band.

    Parameters
    ----------
    load
        Load aimed at [N].
    share
        Half width as a share of the load: 0.02 for a tolerance of ±2 % [1].

    Returns
    -------
    tuple of two FloatOrArray
        F (1 − t) and F (1 + t) [N].

    Notes
    -----
    Source: definition. The deviation of a constant support with friction is at most 6 % by MSS
    SP-58 and 5 % by EN 13480-3 (both from memory); a tolerance of ±2 % is common practice.
    """
    return load * (1.0 - share), load * (1.0 + share)


def thread_needed(turns: FloatOrArray, pitch: FloatOrArray) -> FloatOrArray:
    """Return the length of bolt thread that so many turns use up.

    Parameters
    ----------
    turns
        Turns of one bolt [1].
    pitch
        Pitch of its thread [m].

    Returns
    -------
    FloatOrArray
        n · p [m].

    Notes
    -----
    Source: definition of the pitch.
    """
    return turns * pitch


def thread_spare(
    turns: FloatOrArray, pitch: FloatOrArray, free_thread: FloatOrArray, margin: float
) -> FloatOrArray:
    """Return the free thread that is left in the direction of turning.

    Parameters
    ----------
    turns
        Turns of one bolt [1].
    pitch
        Pitch of its thread [m].
    free_thread
        Free thread in that direction now [m].
    margin
        Thread that must stay free [m].

    Returns
    -------
    FloatOrArray
        free − margin − n · p; below zero the thread is too short [m].

    Notes
    -----
    Source: common practice.
    """
    return free_thread - margin - thread_needed(turns, pitch)


def stored_energy(load: FloatOrArray, travel: FloatOrArray) -> FloatOrArray:
    """Return the energy that a constant support gives off over its travel.

    Parameters
    ----------
    load
        Set load [N].
    travel
        Total travel [m].

    Returns
    -------
    FloatOrArray
        E = F · s [J].

    Notes
    -----
    Source: mechanics, work of a constant force. The spring's preload holds more than this.
    """
    return load * travel


def same_energy_from_one_metre(energy: FloatOrArray) -> FloatOrArray:
    """Return the mass whose fall from one metre sets the same energy free.

    Parameters
    ----------
    energy
        Stored energy [J].

    Returns
    -------
    FloatOrArray
        m = E / (g · 1 m) [kg].

    Notes
    -----
    Source: mechanics; g by NIST SP 811 (2008), appendix B.8.
    """
    return energy / STANDARD_GRAVITY
