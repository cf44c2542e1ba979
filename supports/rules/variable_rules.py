"""Rules for a variable spring: working range hot and cold, variability, take-up."""

from __future__ import annotations

from collections.abc import Iterator

from supports.calc.constant_support import relative_difference
from supports.calc.elementwise import at_least, at_most
from supports.calc.variable_spring import TakeUp, hot_load, plan_take_up
from supports.findings import Severity
from supports.rules.answers import RuleAnswer, judged, unjudged
from supports.rules.required import UnitDemand
from supports.rules.site_settings import SiteSettings, limits
from supports.snapshots import NameplateView, UnitView
from supports.units import Kind, shown
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
    if _missing(unit, demand) or unit.nameplate is None or demand.governing is None:
        return None
    plate = unit.nameplate
    movement = movement_of(plate, demand)
    present = present_hot(unit, movement)
    if present is None or movement is None or plate.rate is None:
        return None
    return plan_take_up(
        demand.governing,
        present,
        plate.rate,
        movement,
        (plate.working_low or 0.0, plate.working_high or 0.0),
        pitch=plate.thread_pitch,
    )


def _missing(unit: UnitView, demand: UnitDemand) -> tuple[str, ...]:
    plate = unit.nameplate or NameplateView()
    movement = movement_of(plate, demand)
    needed = {
        "spring rate": plate.rate,
        "working range": plate.working_low if plate.working_high is not None else None,
        "movement": movement,
        "present setting": unit.setting,
    }
    missing = [name for name, value in needed.items() if value is None]
    could_tell = unit.setting is not None and movement is not None and plate.rate
    if could_tell and present_hot(unit, movement) is None:
        missing.append("plant state at the present setting")
    return (*demand.missing, *missing)


def variable_answers(
    unit: UnitView, demand: UnitDemand, take_up: TakeUp | None, settings: SiteSettings
) -> Iterator[RuleAnswer]:
    """Ask every rule of a variable spring."""
    plate = unit.nameplate or NameplateView()
    missing = _missing(unit, demand) or (("required load",) if demand.governing is None else ())
    if take_up is None:
        yield unjudged("variable-outside-working-range", Severity.STOP, *missing)
        yield unjudged("variability-high", Severity.ACT, *missing)
        yield unjudged("variable-needs-re-set", Severity.ACT, *missing)
        return
    yield _working_range(plate, take_up)
    yield _variability(take_up, settings)
    yield _difference(unit, plate, demand, take_up, settings)


def _working_range(plate: NameplateView, take_up: TakeUp) -> RuleAnswer:
    unit = plate.scale_unit or "kN"
    text = (
        f"operating {_load(take_up.hot, unit)}, shut down {_load(take_up.cold, unit)}; working "
        f"range {_load(plate.working_low, unit)} to {_load(plate.working_high, unit)}"
    )
    return judged(
        "variable-outside-working-range",
        Severity.STOP,
        text,
        fails=not _inside(plate, take_up),
        source="nameplate",
    )


def _inside(plate: NameplateView, take_up: TakeUp) -> bool:
    least, most = sorted((take_up.hot, take_up.cold))
    return at_least(least, plate.working_low or 0.0) and at_most(most, plate.working_high or 0.0)


def _variability(take_up: TakeUp, settings: SiteSettings) -> RuleAnswer:
    text = f"variability {take_up.variability:.1%}; limit {settings.variability:.0%}"
    return judged(
        "variability-high",
        Severity.ACT,
        text,
        fails=not at_most(take_up.variability, settings.variability),
        source=limits()["variability"].source,
    )


def _difference(
    unit: UnitView,
    plate: NameplateView,
    demand: UnitDemand,
    take_up: TakeUp,
    settings: SiteSettings,
) -> RuleAnswer:
    present = present_hot(unit, movement_of(plate, demand)) or 0.0
    away = relative_difference(take_up.hot, present)
    scale = plate.scale_unit or "kN"
    text = (
        f"operating load set {_load(present, scale)}, required {_load(take_up.hot, scale)}: "
        f"{away:+.1%}; take-up {shown(take_up.take_up, 'mm', Kind.LENGTH, 1)} with the pipe held"
    )
    return judged(
        "variable-needs-re-set",
        Severity.ACT,
        text,
        fails=not at_most(abs(away), settings.variable_tolerance),
        source=limits()["variable_tolerance"].source,
    )


def _load(value: float | None, unit: str) -> str:
    return shown(value, unit, Kind.LOAD)
