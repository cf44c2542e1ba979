"""The way back: from what a unit stands at to what it was set to before, with its own numbers."""

from __future__ import annotations

from supports.calc.constant_support import window
from supports.calc.turns import TurnCount
from supports.calc.unit_re_set import plan_re_set
from supports.calc.variable_spring import nut_turns, take_up_pipe_held, turnbuckle_turns
from supports.rules.constant_rules import constant_plate
from supports.rules.site_settings import SiteSettings
from supports.rules.work_plan import RE_SET, PlannedLine
from supports.snapshots import NameplateView, UnitView


def way_back(
    point_id: int, unit: UnitView, present: float, former: float, settings: SiteSettings
) -> PlannedLine:
    """Plan one unit's way back.

    Parameters
    ----------
    present, former
        Load that it stands at, and load that it goes back to [N].
    """
    if unit.kind.is_variable:
        return _variable(point_id, unit, present, former, settings)
    plan = plan_re_set(former, present, constant_plate(unit.nameplate or NameplateView()))
    low, high = window(former, settings.tolerance)
    count = plan.turns_per_bolt
    return PlannedLine(
        point_id=point_id,
        unit_id=unit.id,
        action=RE_SET,
        from_load=present,
        to_load=former,
        window_low=low,
        window_high=high,
        turns=None if count is None else count.turns,
        flats=None if count is None else count.flats,
        direction=plan.direction or "",
        remark="" if plan.may_be_turned else "the engineer gives the turns",
    )


def _variable(
    point_id: int, unit: UnitView, present: float, former: float, settings: SiteSettings
) -> PlannedLine:
    low, high = window(former, settings.variable_tolerance)
    plate = unit.nameplate or NameplateView()
    length = take_up_pipe_held(former - present, plate.rate) if plate.rate else None
    count = None if length is None else _turns(plate, length)
    verb = "shorten" if former > present else "lengthen"
    return PlannedLine(
        point_id=point_id,
        unit_id=unit.id,
        action=RE_SET,
        from_load=present,
        to_load=former,
        window_low=low,
        window_high=high,
        turns=None if count is None else count.turns,
        flats=None if count is None else count.flats,
        direction="" if length is None else f"{verb} the rod by {abs(length) * 1000.0:.1f} mm",
        remark="loads are those in the operating position",
    )


def _turns(plate: NameplateView, length: float) -> TurnCount | None:
    if plate.thread_pitch is None or plate.take_up not in {"turnbuckle", "nut"}:
        return None
    turns = turnbuckle_turns if plate.take_up == "turnbuckle" else nut_turns
    return TurnCount.nearest(abs(float(turns(length, plate.thread_pitch))))
