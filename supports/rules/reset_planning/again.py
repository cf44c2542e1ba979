"""Plans from readings: again from what was found, and back from what was left."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from supports.calc.reset_plan.limits import Hold
from supports.calc.reset_plan.plan import plan_to
from supports.calc.variable_spring import hot_load
from supports.errors import NotReady
from supports.rules.assessment import AssessmentContent
from supports.rules.reset_planning.build import Planning, planning_of, without_targets
from supports.rules.reset_planning.content import PlanAlternative, PlanContent, Shifted
from supports.rules.reset_planning.make import alternative, checked_end, content_of, make_plan
from supports.rules.reset_planning.rounds_said import holds_named, working_state
from supports.rules.reset_planning.springs import PlanUnit
from supports.rules.reset_planning.wish import PlanKind, PlanWish
from supports.rules.site_settings import SiteSettings
from supports.sentences import Sentence
from supports.snapshots import NameplateView, RouteView, SettingView, SupportView, UnitView
from supports.vocabulary import PlantState

WAY_BACK = "way back"


def plan_as_found(
    content: AssessmentContent,
    route: RouteView,
    wish: PlanWish,
    settings: SiteSettings,
    fingerprint: str,
    earlier: PlanAlternative,
    found: Mapping[str, float],
) -> PlanContent:
    """Plan again from scale readings; the earlier plan stays as it is.

    Parameters
    ----------
    found
        Scale reading of each unit that was found elsewhere than taken for granted, in the state of
        the work, weight on [N].

    Raises
    ------
    NotReady
        Nothing was found elsewhere.
    """
    if not found:
        raise NotReady("every reading so far agrees with the plan; there is nothing to plan again")
    planning = planning_of(content, route, wish, settings)
    holds = holds_named(planning, {hold.name for hold in earlier.holds})
    now = found_settings(planning, found, holds)
    moved = _with_settings(route, planning, now)
    again = make_plan(content, moved, wish, settings, fingerprint)
    shifted = tuple(
        Shifted(name, load - planning.units[name].limits.setting) for name, load in now.items()
    )
    same = _same_end(planning, earlier, again.alternatives[0], now)
    return replace(again, kind=PlanKind.AS_FOUND, shifted=shifted, same_end=same)


def found_settings(
    planning: Planning, found: Mapping[str, float], holds: tuple[Hold, ...] = ()
) -> dict[str, float]:
    """Return the set loads [N] behind scale readings [N], read with props and stops in.

    A constant's scale shows its setting. A variable's shows its setting less rate times movement,
    and the movement depends on all settings: x = E⁻¹ (reading − load taken for granted).

    Source: superposition.
    """
    units, table = planning.units, working_state(planning, holds).table
    out = {name: load for name, load in found.items() if not units[name].rate}
    springs = [name for name in found if units[name].rate]
    if springs:
        changes = planning.problem.changes(out)
        rows = [table.supports.index(name) for name in springs]
        columns = [table.units.index(name) for name in springs]
        taken = table.base[rows] + table.effect[rows] @ changes
        gap = np.array([found[name] for name in springs]) - taken
        more = np.linalg.solve(table.effect[np.ix_(rows, columns)], gap)
        out |= {
            name: units[name].limits.setting + float(change)
            for name, change in zip(springs, more, strict=True)
        }
    return out


def _with_settings(
    route: RouteView, planning: Planning, settings: Mapping[str, float]
) -> RouteView:
    """Return the route with units standing at other set loads [N]."""
    by_id = {
        planning.units[name].unit.id: _standing_at(planning.units[name], load)
        for name, load in settings.items()
    }
    supports = tuple(_replaced(view, by_id) for view in route.supports)
    return replace(route, supports=supports)


def _replaced(view: SupportView, by_id: Mapping[int, UnitView]) -> SupportView:
    return replace(view, units=tuple(by_id.get(unit.id, unit) for unit in view.units))


def _standing_at(unit: PlanUnit, load: float) -> UnitView:
    known = unit.unit.setting
    if known is None:
        raise NotReady(
            Sentence("{name} has no setting that a reading could be held against", name=unit.name)
        )
    return replace(unit.unit, setting=_setting(unit, known, load))


def _setting(unit: PlanUnit, known: SettingView, load: float) -> SettingView:
    """Return a setting; that of a variable as its load in the operating position."""
    if not unit.rate:
        return replace(known, load=load)
    movement = (unit.unit.nameplate or NameplateView()).movement or 0.0
    hot = hot_load(load, unit.rate, movement)
    return replace(known, load=hot, plant_state=PlantState.OPERATING_STEADY)


def _same_end(
    planning: Planning, earlier: PlanAlternative, again: PlanAlternative, now: Mapping[str, float]
) -> bool:
    """Return whether both plans end at the same set loads to within a step."""
    start = {name: unit.limits.setting for name, unit in planning.units.items()}
    before = start | {unit.name: unit.setting_after for unit in earlier.units}
    after = start | dict(now) | {unit.name: unit.setting_after for unit in again.units}
    steps = {name: unit.limits.step or 0.0 for name, unit in planning.units.items()}
    return again.can_be_done and all(
        abs(before[name] - after[name]) <= steps[name] for name in start
    )


def plan_back(
    content: AssessmentContent,
    route: RouteView,
    wish: PlanWish,
    settings: SiteSettings,
    fingerprint: str,
    former: Mapping[str, float],
    *,
    weight_on: bool,
) -> PlanContent:
    """Plan the way back to former set loads from those as left, with an order of its own.

    Parameters
    ----------
    former
        Set load of each unit before it was turned [N].
    weight_on
        Whether the weight of the change is on the line while it is put back.
    """
    planning = planning_of(content, route, wish, settings, weight_on=weight_on)
    planning = without_targets(planning)
    plan = plan_to(planning.problem, former)
    back = alternative(planning, WAY_BACK, checked_end(planning, plan), as_left=True)
    return content_of(planning, content, route, wish, fingerprint, (back,), kind=PlanKind.UNDO)
