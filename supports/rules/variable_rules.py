"""A variable spring's movement, its load in each position of the line, and its take-up."""

from __future__ import annotations

from enum import StrEnum

from supports.calc.variable_spring import (
    TakeUp,
    cold_load,
    hot_load,
    nut_turns,
    plan_take_up,
    turnbuckle_turns,
)
from supports.rules.required import UnitDemand
from supports.snapshots import NameplateView, UnitView
from supports.vocabulary import PlantState


class Position(StrEnum):
    """Where the pipe stands; a constant spring does not mind, a variable one does."""

    OPERATING = "in the operating position"
    SHUT_DOWN = "shut down, the pipe at its cold level"


_POSITIONS = {
    PlantState.OPERATING_STEADY: Position.OPERATING,
    PlantState.SHUT_DOWN_DRAINED: Position.SHUT_DOWN,
    PlantState.SHUT_DOWN_FULL: Position.SHUT_DOWN,
}


def position_of(line_state: str) -> Position | None:
    """Return where the pipe stands in a plant state; None where that cannot be said."""
    return _POSITIONS.get(PlantState(line_state)) if line_state in set(PlantState) else None


def carried_over(
    load: float | None,
    plate: NameplateView,
    movement: float | None,
    *,
    stands: Position | None,
    wanted: Position | None,
) -> float | None:
    """Return what a variable spring shows in another position, its rod untouched.

    Parameters
    ----------
    load
        Load in the position where the pipe stands [N].
    movement
        Movement from shut down to operating, up positive [m].

    Returns
    -------
    float or None
        Load in the position wanted [N]; None where that cannot be said.
    """
    if load is None or stands is None or wanted is None:
        return None
    if stands is wanted:
        return load
    if plate.rate is None or movement is None:
        return None
    if wanted is Position.OPERATING:
        return hot_load(load, plate.rate, movement)
    return cold_load(load, plate.rate, movement)


def movement_of(plate: NameplateView, demand: UnitDemand) -> float | None:
    """Return the movement, cold to hot: the calculation's, else the plate's [m]."""
    return plate.movement if demand.movement_up is None else demand.movement_up


def present_hot(unit: UnitView, movement: float | None) -> float | None:
    """Return the present load in the operating position [N]; None unless the state is known."""
    return present_in(unit, movement, Position.OPERATING)


def present_in(unit: UnitView, movement: float | None, position: Position | None) -> float | None:
    """Return the present load in a position [N]; None unless the state of the setting is known."""
    if unit.setting is None:
        return None
    plate = unit.nameplate or NameplateView()
    stands = position_of(unit.setting.plant_state)
    return carried_over(unit.setting.load, plate, movement, stands=stands, wanted=position)


def load_wanted(take_up: TakeUp, position: Position) -> float:
    """Return the load that a spring is to show after its take-up [N]."""
    return take_up.hot if position is Position.OPERATING else take_up.cold


_TURNS = {"turnbuckle": turnbuckle_turns, "nut": nut_turns}


def rod_turns(plate: NameplateView, length: float) -> float | None:
    """Return the turns of turnbuckle or nut that take up a rod [1], signed as the length.

    None where the plate does not say which of them there is, or the pitch of its thread.
    """
    turns, pitch = _TURNS.get(plate.take_up), plate.thread_pitch
    return None if turns is None or pitch is None else turns(length, pitch)


def rod_way(change: float) -> str:
    """Return what is done to the rod for a change of load [N], or for a take-up [m]."""
    return "shorten" if change > 0.0 else "lengthen"


def rod_words(length: float) -> str:
    """Return which way the rod goes and how far; the length [m] is positive to shorten it.

    >>> rod_words(-0.01875)
    'lengthen the rod by 18.8 mm'
    """
    return f"{rod_way(length)} the rod by {abs(length) * 1000.0:.1f} mm"


def take_up_of(unit: UnitView, demand: UnitDemand) -> TakeUp | None:
    """Return the re-set of a variable spring, or None where something needed is not known."""
    plate = unit.nameplate or NameplateView()
    movement = movement_of(plate, demand)
    present = present_hot(unit, movement)
    if demand.missing or demand.governing is None or present is None or movement is None:
        return None
    if plate.rate is None or plate.working_low is None or plate.working_high is None:
        return None
    return plan_take_up(
        demand.governing,
        present,
        plate.rate,
        movement,
        (plate.working_low, plate.working_high),
        pitch=plate.thread_pitch,
    )
