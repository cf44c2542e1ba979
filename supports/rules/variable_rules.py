"""A variable spring's movement, its load in the operating position, and its take-up."""

from __future__ import annotations

from supports.calc.variable_spring import TakeUp, hot_load, plan_take_up
from supports.rules.required import UnitDemand
from supports.snapshots import NameplateView, UnitView
from supports.vocabulary import PlantState

_OPERATING = {PlantState.OPERATING_STEADY}
_SHUT_DOWN = {PlantState.SHUT_DOWN_DRAINED, PlantState.SHUT_DOWN_FULL}


def movement_of(plate: NameplateView, demand: UnitDemand) -> float | None:
    """Return the movement, cold to hot: the calculation's, else the plate's [m]."""
    return plate.movement if demand.movement_up is None else demand.movement_up


def present_hot(unit: UnitView, movement: float | None) -> float | None:
    """Return the present load in the operating position [N]; None unless the state is known."""
    plate = unit.nameplate or NameplateView()
    if unit.setting is None:
        return None
    if unit.setting.plant_state in _OPERATING:
        return unit.setting.load
    if unit.setting.plant_state in _SHUT_DOWN and plate.rate and movement is not None:
        return hot_load(unit.setting.load, plate.rate, movement)
    return None


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
