"""What is known of a change to a line, for the list of reasons for a full analysis."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf

from supports.calc.line.full_analysis import Facts
from supports.calc.line.restraints import Constant, Rest, Rod
from supports.calc.line.results import LineResult
from supports.rules.constant_rules import adjusting_range
from supports.rules.line.holding import hanging_weight
from supports.snapshots import NameplateView, RouteView, SupportView, UnitView, WeightItemView
from supports.vocabulary import Known


def facts_of(
    route: RouteView,
    weights: Sequence[WeightItemView],
    through: tuple[LineResult, LineResult, LineResult],
    on_record: Mapping[str, float],
) -> Facts:
    """Return what is known; what nobody told stays unknown.

    Parameters
    ----------
    through
        The line before, with the weight added, and as planned.
    on_record
        Operating loads by the calculation on record [N].
    """
    before, loaded, planned = through
    creep = route.line.creep_or_high_energy
    unchanged = None if weights else False
    return Facts(
        limited_nozzle_in_reach=_limited_nozzle(route),
        creep_or_high_energy=None if creep is Known.UNKNOWN else creep is Known.YES,
        added_weight=loaded.weight - before.weight,
        line_weight=before.weight,
        largest_load_change=max(_shares(before, planned), default=0.0),
        required_load_outside_range=_outside(route, before, planned),
        centre_of_gravity_off_axis=_off_axis(weights),
        restraint_changed=unchanged,
        temperature_or_contents_changed=unchanged,
        rigid_support_unloading=_unloading(before, loaded),
        constants_in_stretch=sum(isinstance(s, Constant) for s in before.frame.line.springs),
        as_found_difference=max(_differences(before, on_record), default=None),
        calculation_of_known_revision=bool(on_record),
    )


def _limited_nozzle(route: RouteView) -> bool | None:
    answers = {limits.machine for limits in route.nozzles}
    if Known.YES in answers:
        return True
    return None if Known.UNKNOWN in answers or not answers else False


def _shares(before: LineResult, after: LineResult) -> list[float]:
    return [_share(was.load, after.supports[name].load) for name, was in before.supports.items()]


def _share(was: float, load: float) -> float:
    if not was:
        return inf if abs(load) > 1.0 else 0.0
    return abs(load - was) / abs(was)


def _differences(before: LineResult, on_record: Mapping[str, float]) -> list[float]:
    return [
        _share(load, before.supports[name].load)
        for name, load in on_record.items()
        if name in before.supports
    ]


def _off_axis(weights: Sequence[WeightItemView]) -> bool | None:
    offsets = [offset for item in weights for offset in (item.off_axis, item.above_axis)]
    if any(offsets):
        return True
    return None if None in offsets else False


def _unloading(before: LineResult, loaded: LineResult) -> bool:
    return any(
        loaded.supports[s.name].load <= 0.0 < before.supports[s.name].load
        for s in before.frame.line.supports
        if isinstance(s, Rod | Rest)
    )


def _outside(route: RouteView, before: LineResult, planned: LineResult) -> bool | None:
    answers = [
        _unit_outside(unit, view, before, planned)
        for view in route.supports
        if view.tag in planned.supports
        for unit in view.units
    ]
    if True in answers:
        return True
    return None if None in answers else False


def _unit_outside(
    unit: UnitView, view: SupportView, before: LineResult, planned: LineResult
) -> bool | None:
    """Return whether the unit's part of the planned load leaves its range; by present shares."""
    low, high = _range(unit)
    if low is None or high is None or unit.setting is None:
        return None
    own = before.supports[view.tag].load
    hung = hanging_weight(view)
    part = 1.0 / len(view.units)
    if unit.kind.is_constant and own > 0.0:
        part = unit.setting.load / (own + hung)
    load = part * (planned.supports[view.tag].load + hung)
    return not low <= load <= high


def setting_room(view: SupportView) -> tuple[float | None, float | None]:
    """Return the loads on the pipe [N] between which all units of a point can be set."""
    ranges = [_range(unit) for unit in view.units]
    hung = hanging_weight(view)
    lows, highs = [low for low, _ in ranges], [high for _, high in ranges]
    return _total(lows, hung), _total(highs, hung)


def _total(ends: list[float | None], off: float) -> float | None:
    known = [end for end in ends if end is not None]
    return sum(known) - off if known and len(known) == len(ends) else None


def _range(unit: UnitView) -> tuple[float | None, float | None]:
    plate = unit.nameplate or NameplateView()
    if unit.kind.is_variable:
        return plate.working_low, plate.working_high
    limits = adjusting_range(plate)
    return (limits.low, limits.high) if limits else (None, None)
