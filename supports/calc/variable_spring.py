"""Variable spring: load along the movement, variability, room, take-up, sink under added weight.

Movement is counted from shut down to operating, up positive; the spring pulls the pipe up.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from supports.calc.elementwise import larger, ratio, smaller
from supports.units import FloatOrArray


@dataclass(frozen=True, slots=True)
class TakeUp:
    """Re-set of one variable spring: loads [N], lengths [m], shares and turns [1]."""

    hot: float
    cold: float
    variability: float
    hot_room_down: float
    hot_room_up: float
    cold_room_down: float
    cold_room_up: float
    range_excess: float
    take_up: float
    take_up_following: float | None
    turnbuckle_turns: float | None
    nut_turns: float | None


def cold_load(hot: FloatOrArray, rate: FloatOrArray, movement_up: FloatOrArray) -> FloatOrArray:
    """Return the load in the shut-down position.

    Parameters
    ----------
    hot
        Load in the operating position [N].
    rate
        Spring rate [N/m].
    movement_up
        Movement from shut down to operating, up positive [m].

    Returns
    -------
    FloatOrArray
        F_cold = F_hot + k · y [N].

    Notes
    -----
    Source: linear spring; the same sign rule stands in MSS SP-58.
    """
    return hot + rate * movement_up


def hot_load(cold: FloatOrArray, rate: FloatOrArray, movement_up: FloatOrArray) -> FloatOrArray:
    """Return the load in the operating position.

    Parameters
    ----------
    cold
        Load in the shut-down position [N].
    rate
        Spring rate [N/m].
    movement_up
        Movement from shut down to operating, up positive [m].

    Returns
    -------
    FloatOrArray
        F_hot = F_cold − k · y [N].

    Notes
    -----
    Source: linear spring; the same sign rule stands in MSS SP-58.
    """
    return cold - rate * movement_up


def variability(hot: FloatOrArray, rate: FloatOrArray, movement: FloatOrArray) -> FloatOrArray:
    """Return the change of load over the movement as a share of the operating load.

    Parameters
    ----------
    hot
        Load in the operating position [N].
    rate
        Spring rate [N/m].
    movement
        Movement, either sign [m].

    Returns
    -------
    FloatOrArray
        k · |y| / F_hot; 25 % is the usual limit [1].

    Notes
    -----
    Source: MSS SP-58, definition.
    """
    return ratio(rate * abs(movement), hot)


def movement_room(
    load: FloatOrArray, rate: FloatOrArray, low: FloatOrArray, high: FloatOrArray
) -> tuple[FloatOrArray, FloatOrArray]:
    """Return how far the pipe may go down and up before the working range ends.

    Parameters
    ----------
    load
        Load in the position judged, operating or shut down [N].
    rate
        Spring rate [N/m].
    low, high
        Ends of the working range [N].

    Returns
    -------
    tuple of two FloatOrArray
        Down (F_high − F)/k and up (F − F_low)/k; negative outside [m].

    Notes
    -----
    Source: linear spring.
    """
    return (high - load) / rate, (load - low) / rate


def range_excess(
    hot: FloatOrArray, cold: FloatOrArray, low: FloatOrArray, high: FloatOrArray
) -> FloatOrArray:
    """Return by how much the worse of both states leaves the working range.

    Parameters
    ----------
    hot, cold
        Loads operating and shut down [N].
    low, high
        Ends of the working range [N].

    Returns
    -------
    FloatOrArray
        max(F − F_high, F_low − F) over both states; zero or less is inside [N].

    Notes
    -----
    Source: common practice; both states must lie in the working range.
    """
    return larger(larger(hot, cold) - high, low - smaller(hot, cold))


def take_up_pipe_held(change: FloatOrArray, rate: FloatOrArray) -> FloatOrArray:
    """Return the rod take-up that adds a load while the pipe stays at its level.

    Parameters
    ----------
    change
        Load to add, signed [N].
    rate
        Spring rate [N/m].

    Returns
    -------
    FloatOrArray
        s = ΔF / k, positive to shorten the rod [m].

    Notes
    -----
    Source: linear spring.
    """
    return change / rate


def take_up_pipe_following(
    change: FloatOrArray, rate: FloatOrArray, line_stiffness: FloatOrArray
) -> FloatOrArray:
    """Return the rod take-up that adds a load while the pipe follows.

    Parameters
    ----------
    change
        Load to add, signed [N].
    rate
        Spring rate [N/m].
    line_stiffness
        Vertical stiffness of the line at the support, the spring apart [N/m].

    Returns
    -------
    FloatOrArray
        s = ΔF (1/k + 1/K), positive to shorten the rod [m].

    Notes
    -----
    Source: springs in series.
    """
    return change / rate + change / line_stiffness


def turnbuckle_turns(take_up: FloatOrArray, pitch: FloatOrArray) -> FloatOrArray:
    """Return the turns of a turnbuckle with a right-hand and a left-hand end.

    Parameters
    ----------
    take_up
        Take-up of the rod, signed [m].
    pitch
        Pitch of the rod thread [m].

    Returns
    -------
    FloatOrArray
        s / (2 p) [1].

    Notes
    -----
    Source: geometry; both ends draw in by one pitch a turn.
    """
    return take_up / (2.0 * pitch)


def nut_turns(take_up: FloatOrArray, pitch: FloatOrArray) -> FloatOrArray:
    """Return the turns of a nut or of a plain coupling.

    Parameters
    ----------
    take_up
        Take-up of the rod, signed [m].
    pitch
        Pitch of the rod thread [m].

    Returns
    -------
    FloatOrArray
        s / p [1].

    Notes
    -----
    Source: geometry.
    """
    return take_up / pitch


def sink(added: FloatOrArray, rate: FloatOrArray, line_stiffness: FloatOrArray) -> FloatOrArray:
    """Return how far the pipe sinks when weight is added at the support.

    Parameters
    ----------
    added
        Weight added [N].
    rate
        Spring rate [N/m].
    line_stiffness
        Vertical stiffness of the line at the support, the spring apart [N/m].

    Returns
    -------
    FloatOrArray
        ΔW / (k + K), downwards [m].

    Notes
    -----
    Source: springs side by side.
    """
    return added / (rate + line_stiffness)


def scale_rise(
    added: FloatOrArray, rate: FloatOrArray, line_stiffness: FloatOrArray
) -> FloatOrArray:
    """Return by how much the load scale rises when weight is added; the line carries the rest.

    Parameters
    ----------
    added
        Weight added [N].
    rate
        Spring rate [N/m].
    line_stiffness
        Vertical stiffness of the line at the support, the spring apart [N/m].

    Returns
    -------
    FloatOrArray
        k · ΔW / (k + K) [N].

    Notes
    -----
    Source: springs side by side.
    """
    return rate * sink(added, rate, line_stiffness)


def plan_take_up(
    required_hot: float,
    present_hot: float,
    rate: float,
    movement_up: float,
    working_range: tuple[float, float],
    *,
    line_stiffness: float | None = None,
    pitch: float | None = None,
) -> TakeUp:
    """Work out the re-set of one variable spring from end to end.

    Parameters
    ----------
    required_hot, present_hot
        Load wanted and load now in the operating position [N].
    rate
        Spring rate [N/m].
    movement_up
        Movement from shut down to operating, up positive [m].
    working_range
        Low and high end [N].
    line_stiffness
        Vertical stiffness of the line there, None if not known [N/m].
    pitch
        Pitch of the rod thread, None if not known [m].

    Returns
    -------
    TakeUp
        Every number; what is not known is None. Turns are for the pipe held at its level [1].

    Notes
    -----
    Equations: see the functions above. Source: linear spring.
    """
    low, high = working_range
    cold, change = cold_load(required_hot, rate, movement_up), required_hot - present_hot
    hot_down, hot_up = movement_room(required_hot, rate, low, high)
    cold_down, cold_up = movement_room(cold, rate, low, high)
    held = take_up_pipe_held(change, rate)
    return TakeUp(
        hot=required_hot,
        cold=cold,
        variability=variability(required_hot, rate, movement_up),
        hot_room_down=hot_down,
        hot_room_up=hot_up,
        cold_room_down=cold_down,
        cold_room_up=cold_up,
        range_excess=range_excess(required_hot, cold, low, high),
        take_up=held,
        take_up_following=_if_known(
            line_stiffness, lambda stiffness: take_up_pipe_following(change, rate, stiffness)
        ),
        turnbuckle_turns=_if_known(pitch, lambda thread: turnbuckle_turns(held, thread)),
        nut_turns=_if_known(pitch, lambda thread: nut_turns(held, thread)),
    )


def _if_known(value: float | None, formula: Callable[[float], float]) -> float | None:
    return None if value is None else formula(value)
