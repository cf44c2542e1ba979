"""The whole re-set of one constant support, with every intermediate number, as it is printed.

What cannot be said stays unsaid: a number that is not known is None, and its name stands in
`ReSet.missing`. Turns are only an instruction when `ReSet.may_be_turned`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from supports.calc.constant_support import (
    LoadRange,
    change_of_load,
    relative_difference,
    thread_needed,
    thread_spare,
    window,
)
from supports.calc.elementwise import at_least, at_most
from supports.calc.turns import (
    LoadPerTurnTable,
    TurnCount,
    load_after_turns,
    turns_between,
)
from supports.errors import CannotCalculate
from supports.sentences import Sentence
from supports.vocabulary import TurnCounts


class Standing(StrEnum):
    """Where the required load stands to the setting and the range."""

    LEAVE_ALONE = "inside tolerance"
    ENGINEER_DECIDES = "inside band"
    RE_SET = "re-set"
    CANNOT_BE_SET = "cannot be set"
    CANNOT_JUDGE = "cannot judge"


@dataclass(frozen=True, slots=True)
class ConstantPlate:
    """Nameplate of a constant support as far as it can be read; unknown is None.

    Parameters
    ----------
    adjusting_range
        Range about the nameplate load [N].
    load_per_turn
        Table of load per turn.
    increase_words, decrease_words
        Direction of turning in the nameplate's own words.
    bolts
        Number of load adjustment bolts.
    turn_of
        What the load per turn is counted by; needed with more than one bolt.
    pitch
        Pitch of the bolt thread [m].
    free_to_increase, free_to_decrease
        Free thread in the direction of turning [m].
    """

    adjusting_range: LoadRange | None = None
    load_per_turn: LoadPerTurnTable | None = None
    increase_words: str | None = None
    decrease_words: str | None = None
    bolts: int = 1
    turn_of: TurnCounts | None = None
    pitch: float | None = None
    free_to_increase: float | None = None
    free_to_decrease: float | None = None


@dataclass(frozen=True, slots=True)
class ReSetLimits:
    """Site settings for a re-set: tolerance and band [1], thread kept free [m].

    The values are common practice; ±2 % and 6 % are remembered from MSS SP-58 and not confirmed.
    """

    tolerance: float = 0.02
    band: float = 0.06
    thread_margin: float = 0.0


@dataclass(frozen=True, slots=True)
class ReSet:
    """One unit's re-set: loads [N], shares and turns [1], threads [m]; unknown is None."""

    required: float
    present: float
    change: float
    relative_change: float
    standing: Standing
    used_share: float | None
    room_up: float | None
    room_down: float | None
    room_up_turns: float | None
    room_down_turns: float | None
    exact_turns: float | None
    turns_per_bolt: TurnCount | None
    direction: str | None
    load_after_rounding: float | None
    window_low: float
    window_high: float
    band_low: float
    band_high: float
    thread_needed: float | None
    thread_spare: float | None
    missing: tuple[str, ...]

    @property
    def thread_is_short(self) -> bool:
        """Return whether the bolt is known to run out of thread."""
        return self.thread_spare is not None and not at_least(self.thread_spare, 0.0)

    @property
    def may_be_turned(self) -> bool:
        """Return whether turns may be printed: inside range, turns and direction known."""
        known = self.turns_per_bolt is not None and self.direction is not None
        inside = self.standing not in (Standing.CANNOT_BE_SET, Standing.CANNOT_JUDGE)
        return known and inside and not self.thread_is_short


def direction_words(change: float, plate: ConstantPlate) -> str | None:
    """Return the nameplate's own words for the sign of a change, or None if it has none.

    Parameters
    ----------
    change
        Change of load, positive to increase [N].
    plate
        The nameplate.

    Returns
    -------
    str or None
        The words; None means that nobody may be told which way to turn.

    Notes
    -----
    Source: common practice: the arrow on the unit decides, no general rule of rotation exists.
    """
    return (plate.increase_words if change >= 0.0 else plate.decrease_words) or None


def standing(
    required: float, present: float, limits: ReSetLimits, adjusting_range: LoadRange | None
) -> Standing:
    """Return what the difference between required load and setting asks for.

    Parameters
    ----------
    required, present
        Required load and present setting [N].
    limits
        Site settings.
    adjusting_range
        Range about the nameplate load, or None if it cannot be read.

    Returns
    -------
    Standing
        Outside the range comes first, whatever the difference is.

    Notes
    -----
    Equation: compare |F − F_set| / F_set with the tolerance and the band. Source: common practice.
    """
    if adjusting_range is None:
        return Standing.CANNOT_JUDGE
    if not adjusting_range.contains(required):
        return Standing.CANNOT_BE_SET
    difference = abs(relative_difference(required, present))
    if at_most(difference, limits.tolerance):
        return Standing.LEAVE_ALONE
    return Standing.ENGINEER_DECIDES if at_most(difference, limits.band) else Standing.RE_SET


def plan_re_set(
    required: float, present: float, plate: ConstantPlate, limits: ReSetLimits | None = None
) -> ReSet:
    """Work out the re-set of one constant support from end to end.

    Parameters
    ----------
    required
        Required load at the unit, hanging hardware included [N].
    present
        Present setting, read and not assumed from the nameplate [N].
    plate
        The nameplate as far as it can be read.
    limits
        Site settings; the defaults are common practice.

    Returns
    -------
    ReSet
        Every number that can be given, and the names of what is missing for the others.

    Raises
    ------
    CannotCalculate
        Required load or setting is not a finite number.

    Notes
    -----
    Equations: see `constant_support` and `turns`. Source: statics and common practice.
    """
    _require_numbers(required, present)
    limits, limited = limits or ReSetLimits(), plate.adjusting_range
    change = change_of_load(required, present)
    exact = _turns(present, required, plate)
    count = None if exact is None else TurnCount.nearest(exact)
    window_low, window_high = window(required, limits.tolerance)
    band_low, band_high = window(required, limits.band)
    return ReSet(
        required=required,
        present=present,
        change=change,
        relative_change=relative_difference(required, present),
        standing=standing(required, present, limits, limited),
        used_share=None if limited is None else limited.used_share(required),
        room_up=None if limited is None else limited.high - required,
        room_down=None if limited is None else required - limited.low,
        room_up_turns=_room_turns(required, plate, upward=True),
        room_down_turns=_room_turns(required, plate, upward=False),
        exact_turns=exact,
        turns_per_bolt=count,
        direction=direction_words(change, plate),
        load_after_rounding=_load_after(present, change, count, plate),
        window_low=window_low,
        window_high=window_high,
        band_low=band_low,
        band_high=band_high,
        thread_needed=_thread_needed(exact, count, plate),
        thread_spare=_thread_spare(exact, count, change, plate, limits),
        missing=_missing(required, present, plate),
    )


def _require_numbers(required: float, present: float) -> None:
    if not (math.isfinite(required) and math.isfinite(present)):
        raise CannotCalculate(
            "a re-set needs the required load and the present setting",
            found=Sentence(
                "required {required}, present {present}",
                required=str(required),
                present=str(present),
            ),
            remedy="Leave the unit as 'cannot judge' until both are known",
        )


def _turn_factor(plate: ConstantPlate) -> float | None:
    """Return turns of every bolt for one turn as the nameplate counts it, None if not said."""
    if plate.bolts == 1 or plate.turn_of is TurnCounts.EVERY_BOLT:
        return 1.0
    return 1.0 / plate.bolts if plate.turn_of is TurnCounts.ONE_BOLT else None


def _turns(load_from: float, load_to: float, plate: ConstantPlate) -> float | None:
    factor = _turn_factor(plate)
    if plate.load_per_turn is None or factor is None:
        return None
    if not plate.load_per_turn.covers(*sorted((load_from, load_to))):
        return None
    return turns_between(load_from, load_to, plate.load_per_turn) * factor


def _room_turns(required: float, plate: ConstantPlate, *, upward: bool) -> float | None:
    limits = plate.adjusting_range
    if limits is None or not limits.contains(required):
        return None
    return _turns(required, limits.high if upward else limits.low, plate)


def _load_after(
    present: float, change: float, count: TurnCount | None, plate: ConstantPlate
) -> float | None:
    factor, table = _turn_factor(plate), plate.load_per_turn
    if count is None or factor is None or table is None:
        return None
    signed = math.copysign(count.in_turns / factor, change)
    try:
        return load_after_turns(present, signed, table)
    except CannotCalculate:  # rounded up beyond the table's last band
        return None


def _bolt_turns(exact: float | None, count: TurnCount | None) -> float | None:
    """Return the larger of exact and rounded turns: the bolt must have thread for both."""
    return None if exact is None or count is None else max(exact, count.in_turns)


def _thread_needed(
    exact: float | None, count: TurnCount | None, plate: ConstantPlate
) -> float | None:
    turns = _bolt_turns(exact, count)
    return None if turns is None or plate.pitch is None else thread_needed(turns, plate.pitch)


def _thread_spare(
    exact: float | None,
    count: TurnCount | None,
    change: float,
    plate: ConstantPlate,
    limits: ReSetLimits,
) -> float | None:
    turns = _bolt_turns(exact, count)
    free = plate.free_to_increase if change >= 0.0 else plate.free_to_decrease
    if turns is None or plate.pitch is None or free is None:
        return None
    return thread_spare(turns, plate.pitch, free, limits.thread_margin)


def _missing(required: float, present: float, plate: ConstantPlate) -> tuple[str, ...]:
    change, table = required - present, plate.load_per_turn
    free = plate.free_to_increase if change >= 0.0 else plate.free_to_decrease
    known = {
        "adjusting range": plate.adjusting_range is not None,
        "load per turn": table is not None,
        "load per turn over the whole change": (
            table is None or table.covers(*sorted((required, present)))
        ),
        "whether the load per turn is for one bolt or for every bolt": (
            _turn_factor(plate) is not None
        ),
        "direction of turning in the nameplate's words": bool(direction_words(change, plate)),
        "pitch of the load adjustment bolt": plate.pitch is not None,
        "free thread in the direction of turning": free is not None,
    }
    return tuple(name for name, is_known in known.items() if not is_known)
