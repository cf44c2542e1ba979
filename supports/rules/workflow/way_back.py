"""The way back: from what a unit stands at to what it was set to before, with its own numbers."""

from __future__ import annotations

from dataclasses import dataclass

from supports.calc.constant_support import window
from supports.calc.turns import TurnCount
from supports.calc.unit_re_set import plan_re_set
from supports.calc.variable_spring import take_up_pipe_held
from supports.rules.assessment import AssessmentContent
from supports.rules.constant_rules import constant_plate
from supports.rules.site_settings import SiteSettings
from supports.rules.variable_rules import (
    Position,
    carried_over,
    movement_of,
    position_of,
    rod_turns,
    rod_words,
)
from supports.rules.work_plan import RE_SET, PlannedLine, need_position, variable_window
from supports.snapshots import NameplateView, UnitView


@dataclass(frozen=True, slots=True)
class Standing:
    """Where the pipe of a variable spring stands while work is done; movement [m]."""

    position: Position
    movement: float | None

    def here(self, unit: UnitView, load: float | None, line_state: str) -> float | None:
        """Return what a load in another state of the line is where the pipe stands now [N]."""
        plate = unit.nameplate or NameplateView()
        stands = position_of(line_state)
        return carried_over(load, plate, self.movement, stands=stands, wanted=self.position)


def standing_of(unit: UnitView, content: AssessmentContent, line_state: str) -> Standing | None:
    """Return where a variable spring's pipe stands in the state of an order; None for a constant.

    Raises
    ------
    NotReady
        Where the pipe stands cannot be said.
    """
    if not unit.kind.is_variable:
        return None
    demands = {
        judged.unit_id: (judgement.tag, judged.demand)
        for judgement in content.judgements
        for judged in judgement.units
    }
    tag, demand = demands[unit.id]
    movement = movement_of(unit.nameplate or NameplateView(), demand)
    return Standing(need_position(tag, line_state), movement)


def way_back(
    point_id: int,
    unit: UnitView,
    present: float,
    former: float,
    settings: SiteSettings,
    standing: Standing | None = None,
) -> PlannedLine:
    """Plan one unit's way back.

    Parameters
    ----------
    present, former
        Load that it stands at, and load that it goes back to, both where the pipe stands [N].
    standing
        Where a variable spring's pipe stands, and its movement; a constant needs none.
    """
    if standing is not None:
        return _variable(point_id, unit, (present, former), settings, standing)
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
    point_id: int,
    unit: UnitView,
    loads: tuple[float, float],
    settings: SiteSettings,
    standing: Standing,
) -> PlannedLine:
    present, former = loads
    plate = unit.nameplate or NameplateView()
    operating = carried_over(
        former, plate, standing.movement, stands=standing.position, wanted=Position.OPERATING
    )
    low, high = (None, None) if operating is None else variable_window(former, operating, settings)
    length = take_up_pipe_held(former - present, plate.rate) if plate.rate else None
    turns = None if length is None else rod_turns(plate, length)
    count = None if turns is None else TurnCount.nearest(abs(turns))
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
        direction="" if length is None else rod_words(length),
        remark=f"loads are those {standing.position}",
    )
