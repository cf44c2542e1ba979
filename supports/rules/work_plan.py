"""What a work order says for each unit, worked out from an approved assessment."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from supports.calc.constant_support import window
from supports.calc.turns import TurnCount
from supports.calc.unit_re_set import ReSet
from supports.calc.variable_spring import TakeUp
from supports.rules.assessment import AssessmentContent
from supports.rules.judgement import UnitJudgement
from supports.rules.site_settings import SiteSettings
from supports.rules.variable_rules import present_hot
from supports.snapshots import NameplateView, SupportView, UnitView
from supports.vocabulary import Verdict

RE_SET = "re-set"
READ_ONLY = "read only"


@dataclass(frozen=True, slots=True)
class PlannedLine:
    """One line of a work order: what is done at one unit; loads [N]."""

    point_id: int
    unit_id: int
    action: str
    from_load: float | None = None
    to_load: float | None = None
    window_low: float | None = None
    window_high: float | None = None
    turns: int | None = None
    flats: int | None = None
    direction: str = ""
    remark: str = ""
    waits_for: str | None = None


def planned_lines(content: AssessmentContent) -> Iterator[PlannedLine]:
    """Plan every spring unit of the affected lines: those to be re-set, and neighbours to read."""
    settings = SiteSettings(**content.settings)
    for support, judgement in zip(content.supports, content.judgements, strict=True):
        units = {unit.id: unit for unit in support.units}
        for judged in judgement.units:
            if judged.unit_id is not None and units[judged.unit_id].kind.is_spring:
                yield _planned(support, units[judged.unit_id], judged, settings)


def _planned(
    support: SupportView, unit: UnitView, judged: UnitJudgement, settings: SiteSettings
) -> PlannedLine:
    if judged.verdict is Verdict.RE_SET and judged.re_set is not None:
        return _turned(support, unit, judged.re_set)
    if judged.verdict is Verdict.RE_SET and judged.take_up is not None:
        return _taken_up(support, unit, judged.take_up, settings)
    return PlannedLine(
        point_id=support.id,
        unit_id=unit.id,
        action=READ_ONLY,
        from_load=judged.present,
        remark="" if judged.verdict is Verdict.LEAVE else str(judged.verdict),
    )


def _turned(support: SupportView, unit: UnitView, re_set: ReSet) -> PlannedLine:
    count = re_set.turns_per_bolt or TurnCount(0, 0)
    return PlannedLine(
        point_id=support.id,
        unit_id=unit.id,
        action=RE_SET,
        from_load=re_set.present,
        to_load=re_set.required,
        window_low=re_set.window_low,
        window_high=re_set.window_high,
        turns=count.turns,
        flats=count.flats,
        direction=re_set.direction or "",
    )


def _taken_up(
    support: SupportView, unit: UnitView, take_up: TakeUp, settings: SiteSettings
) -> PlannedLine:
    """Plan a variable spring: its load in the operating position, set by the rod's take-up."""
    low, high = window(take_up.hot, settings.variable_tolerance)
    plate = unit.nameplate or NameplateView()
    turns = take_up_turns(plate, take_up)
    count = TurnCount.nearest(abs(turns)) if turns is not None else None
    verb = "shorten" if take_up.take_up > 0.0 else "lengthen"
    return PlannedLine(
        point_id=support.id,
        unit_id=unit.id,
        action=RE_SET,
        from_load=present_hot(unit, plate.movement),
        to_load=take_up.hot,
        window_low=low,
        window_high=high,
        turns=None if count is None else count.turns,
        flats=None if count is None else count.flats,
        direction=f"{verb} the rod by {math.fabs(take_up.take_up) * 1000.0:.1f} mm",
        remark="loads are those in the operating position",
    )


def take_up_turns(plate: NameplateView, take_up: TakeUp) -> float | None:
    """Return the turns of the turnbuckle or nut [1]; None where the plate does not say which."""
    if plate.take_up == "turnbuckle":
        return take_up.turnbuckle_turns
    return take_up.nut_turns if plate.take_up == "nut" else None
