"""What pointer and load scale should show in a plant state, and how far off they may be."""

from __future__ import annotations

from dataclasses import dataclass

from supports.rules.walkdown.limits import WalkLimits
from supports.rules.walkdown.words import Half, ZeroEnd, half_of
from supports.snapshots import NameplateView, SettingView, SupportView, UnitView
from supports.vocabulary import CaseKind, PlantState


@dataclass(frozen=True, slots=True)
class Expected:
    """What a unit should show: pointer [m from zero], load [N], each with what it may be off by.

    Parameters
    ----------
    share
        Share of the movement from shut down to operating that is expected; None if not known.
    comparable
        Whether the state is the one that was asked for, so that the reading may join a trend.
    missing
        What is not known and so forbids an expectation.
    """

    state: PlantState
    pointer: float | None = None
    pointer_slack: float | None = None
    load: float | None = None
    load_slack: float | None = None
    share: float | None = None
    comparable: bool = True
    missing: tuple[str, ...] = ()


def movement_share(
    state: PlantState, pipe: float | None, operating: float | None, limits: WalkLimits
) -> tuple[float | None, bool]:
    """Return the share of the movement expected, and whether the state is a plain one.

    Parameters
    ----------
    pipe, operating
        Temperature of the pipe at the reading and in operation [K].
    """
    half = half_of(state)
    if half is None:
        return None, False
    plain = {Half.OPERATING: 1.0, Half.SHUT_DOWN: 0.0}[half]
    share = _rise_share(pipe, operating, limits)
    if share is None:
        known = state is not PlantState.OPERATING_PART_LOAD
        return (plain if known else None), known
    if abs(share - plain) <= limits.temperature_share:
        return plain, True
    return share, False


def _rise_share(pipe: float | None, operating: float | None, limits: WalkLimits) -> float | None:
    if pipe is None or operating is None or abs(operating - limits.ambient) < 1.0:
        return None
    return (pipe - limits.ambient) / (operating - limits.ambient)


def predicted_movement(support: SupportView, unit: UnitView | None) -> float | None:
    """Return the movement from shut down to operating [m], up positive: calculation, then plate."""
    for required in support.required:
        if required.case_kind is CaseKind.OPERATING and required.movement_up is not None:
            return required.movement_up
    plate = unit.nameplate if unit else None
    if plate is None:
        return None
    return plate.design_travel if plate.design_travel is not None else plate.movement


def upward(change: float, zero_end: str) -> float | None:
    """Return a change of the pointer reading [m] as movement of the pipe [m], up positive."""
    if zero_end == ZeroEnd.TOP:
        return -change
    return change if zero_end == ZeroEnd.BOTTOM else None


def expected(
    support: SupportView,
    unit: UnitView,
    state: PlantState,
    limits: WalkLimits,
    *,
    pipe: float | None = None,
    operating: float | None = None,
) -> Expected:
    """Return what a unit should show in a state; what is missing is named, never guessed.

    Parameters
    ----------
    pipe, operating
        Temperature of the pipe at the reading and in operation [K].
    """
    share, plain = movement_share(state, pipe, operating, limits)
    plate = unit.nameplate or NameplateView()
    pointer = _pointer(plate, share)
    load = _load(support, unit, plate, share)
    missing = _missing(unit, state, (share, pointer, load))
    error = limits.reading_error if unit.kind.is_constant else limits.variable_reading_error
    return Expected(
        state=state,
        pointer=pointer,
        pointer_slack=None if pointer is None else _slack(plate, limits),
        load=load,
        load_slack=None if load is None else error * abs(load),
        share=share,
        comparable=plain,
        missing=missing,
    )


def _pointer(plate: NameplateView, share: float | None) -> float | None:
    if share is None or plate.cold_mark is None or plate.hot_mark is None:
        return None
    return plate.cold_mark + share * (plate.hot_mark - plate.cold_mark)


def travel_between_marks(plate: NameplateView) -> float | None:
    """Return the movement that the plate is made for [m], without its direction."""
    if plate.cold_mark is not None and plate.hot_mark is not None:
        return abs(plate.hot_mark - plate.cold_mark)
    travel = plate.design_travel if plate.design_travel is not None else plate.movement
    return None if travel is None else abs(travel)


def _slack(plate: NameplateView, limits: WalkLimits) -> float:
    travel = travel_between_marks(plate) or 0.0
    return max(limits.pointer_off_least, limits.pointer_off_share * travel)


def _load(
    support: SupportView, unit: UnitView, plate: NameplateView, share: float | None
) -> float | None:
    """Return the load [N] from the last setting; the plate is not taken for the setting."""
    if unit.setting is None:
        return None
    if unit.kind.is_constant:
        return unit.setting.load
    shut_down = _shut_down_load(unit.setting, plate, predicted_movement(support, unit))
    movement = predicted_movement(support, unit)
    if shut_down is None or share is None or movement is None or plate.rate is None:
        return None
    return shut_down - plate.rate * movement * share


def _shut_down_load(
    setting: SettingView, plate: NameplateView, movement: float | None
) -> float | None:
    """Return a variable's load shut down [N]; a pipe that rises when hot unloads it."""
    half = half_of(setting.plant_state)
    if half is Half.SHUT_DOWN:
        return setting.load
    if half is Half.OPERATING and plate.rate is not None and movement is not None:
        return setting.load + plate.rate * movement
    return None


def _missing(
    unit: UnitView,
    state: PlantState,
    known: tuple[float | None, float | None, float | None],
) -> tuple[str, ...]:
    share, pointer, load = known
    missing = []
    if share is None:
        missing.append(f"what to expect in state '{state}' (pipe temperature)")
    if unit.kind.is_constant and pointer is None and share is not None:
        missing.append("shut-down and operating marks")
    if unit.kind.is_spring and unit.setting is None:
        missing.append("setting")
    elif unit.kind.is_variable and load is None and share is not None:
        missing.append("rate, movement or plant state of the setting")
    if unit.kind.is_spring and unit.nameplate is None:
        missing.insert(0, "nameplate")
    return tuple(missing)
