"""The plan problem of a line under a change, and all that is named beside it, never dropped."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import inf

from supports.calc.line.influence import InfluenceTable
from supports.calc.line.results import LineResult, Standing
from supports.calc.line.solver import solve_states
from supports.calc.reset_plan.limits import Hold, Target, Trapeze, UnitLimits
from supports.calc.reset_plan.line_resolve import LineResolve, states_of_line
from supports.calc.reset_plan.problem import PlanProblem
from supports.errors import NotReady
from supports.rules.assessment import AssessmentContent
from supports.rules.judgement import UnitJudgement
from supports.rules.line.screening import ReadyLine, ready_line
from supports.rules.reset_planning.content import NotTurned
from supports.rules.reset_planning.line_limits import (
    Limited,
    nozzle_checks,
    scale_rating,
    support_limits,
    tied,
    trapezes,
)
from supports.rules.reset_planning.line_states import PlanLine, holds_of, plan_line
from supports.rules.reset_planning.springs import (
    PlanUnit,
    group_hours,
    plan_unit,
    unknown_heights,
)
from supports.rules.reset_planning.targets import aimed_targets, calculated_targets, lever_loads
from supports.rules.reset_planning.unit_tables import (
    Layout,
    ResolveByUnit,
    layout_of,
    states_by_unit,
)
from supports.rules.reset_planning.wish import PlanAim, PlanWish
from supports.rules.site_settings import SiteSettings
from supports.snapshots import RouteView
from supports.units import STANDARD_GRAVITY
from supports.vocabulary import Known

LEAST_COMPLIANCE = 1e-12
"""Movement per newton below which a place counts as held already [m/N]."""

NEW_STEP = 100.0
"""Step in which the load of a support that could be added is sought [N]."""


@dataclass(frozen=True, slots=True)
class Planning:
    """A plan problem with its full solve, and what stands beside it.

    Parameters
    ----------
    before
        The working state before the weight is added.
    holds
        Props and travel stops that may be used.
    lever
        Set loads by the lever method [N].
    """

    problem: PlanProblem
    resolve: ResolveByUnit
    units: Mapping[str, PlanUnit]
    layout: Layout
    before: LineResult
    holds: tuple[Hold, ...]
    group_hours: dict[str, float]
    lever: Mapping[str, float]
    not_turned: tuple[NotTurned, ...]
    missing: tuple[str, ...]
    notes: tuple[str, ...]
    settings: SiteSettings


def planning_of(
    content: AssessmentContent,
    route: RouteView,
    wish: PlanWish,
    settings: SiteSettings,
    *,
    weight_on: bool = True,
) -> Planning:
    """Return the problem of one line of an assessed change.

    Raises
    ------
    NotReady
        The line cannot be modelled, or no unit of it may be turned; each is told with its reason.
    """
    ready = ready_line(route, content.change.weights)
    line = plan_line(ready, wish.work_state, weight_on=weight_on)
    units = _units(content, route, wish, settings)
    layout = layout_of(line.system.frame.line, units.values())
    units = {name: units[name] for name in layout.units}
    shares = _shares_of_first(units, content)
    limited = trapezes(units, shares, settings.tolerance)
    units = tied(units, limited.trapezes)
    _require_some(units)
    layout = replace(layout, units=units)
    return _put_together(content, ready, line, layout, limited.trapezes, wish, settings)


def _units(
    content: AssessmentContent, route: RouteView, wish: PlanWish, settings: SiteSettings
) -> dict[str, PlanUnit]:
    judged = judged_units(content)
    found = [
        plan_unit(view, unit, judged.get(unit.id), route.line.number, wish, settings)
        for view in route.supports
        for unit in view.units
        if unit.kind.is_spring
    ]
    return {unit.name: unit for unit in found}


def judged_units(content: AssessmentContent) -> dict[int, UnitJudgement]:
    """Return what the assessment says of each unit, by its id."""
    return {u.unit_id: u for j in content.judgements for u in j.units if u.unit_id is not None}


def _require_some(units: Mapping[str, PlanUnit]) -> None:
    if not any(unit.turnable for unit in units.values()):
        raise NotReady(
            "no unit of the line may be turned, so there is nothing to plan",
            [f"{unit.name}: {unit.not_turned}" for unit in units.values()],
        )


def _shares_of_first(units: Mapping[str, PlanUnit], content: AssessmentContent) -> dict[str, float]:
    """Return the part of unit A where a beam holds several lines, from the loads required [1]."""
    judged = judged_units(content)
    loads: dict[str, list[float]] = {}
    for unit in units.values():
        governing = judged[unit.unit.id].demand.governing if unit.unit.id in judged else None
        if len(unit.support.attachments) > 1 and governing is not None:
            half_beam = (unit.support.beam_mass or 0.0) * STANDARD_GRAVITY / 2.0
            loads.setdefault(unit.support.tag, []).append(governing - half_beam)
    return {tag: pair[0] / sum(pair) for tag, pair in loads.items() if len(pair) == 2}


def _put_together(
    content: AssessmentContent,
    ready: ReadyLine,
    line: PlanLine,
    layout: Layout,
    beams: tuple[Trapeze, ...],
    wish: PlanWish,
    settings: SiteSettings,
) -> Planning:
    units = layout.units
    by_point, _ = states_of_line(line.free, line.states, [line.working.name])
    states = states_by_unit(by_point, layout)
    nozzles = nozzle_checks(ready.route, line.system.frame.line.anchors)
    supports = support_limits(ready.route, units, states)
    hours = group_hours(units, settings)
    new = tuple(_new_support(name, ready, wish) for name in line.props)
    problem = PlanProblem(
        states=states,
        units=(*(unit.limits for unit in units.values()), *new),
        supports=supports.supports,
        nozzles=nozzles.nozzles,
        trapezes=tuple(b for b in beams if units[b.first].turnable and units[b.second].turnable),
        targets=_targets(content, ready, line, units, wish, settings),
        group_costs=hours,
        additions=dict.fromkeys(line.props, settings.plan_add),
        keep_status=False,
    )
    by_name = {state.table.state: state.table for state in by_point}
    resolve = LineResolve(line.system, {state.name: state for state in line.states}, by_name)
    return Planning(
        problem=problem,
        resolve=ResolveByUnit(resolve, by_name, layout),
        units=units,
        layout=layout,
        before=line.before,
        holds=_holds(line, units, states[0].table),
        group_hours=hours,
        lever=lever_loads(ready, units),
        not_turned=tuple(NotTurned(u.name, u.not_turned) for u in units.values() if u.not_turned),
        missing=_missing(units, nozzles, supports),
        notes=(
            *ready.built.notes,
            "An as-left elsewhere in its window moves the use of limits that is told here.",
            *_on_stops(line),
            *nozzles.notes,
            *supports.notes,
            *unknown_heights(units),
        ),
        settings=settings,
    )


def _new_support(name: str, ready: ReadyLine, wish: PlanWish) -> UnitLimits:
    """Return a constant that could be added where a prop could stand; never part of a plan."""
    high = 3.0 * STANDARD_GRAVITY * sum(abs(mass.mass) for mass in ready.masses)
    return UnitLimits(name, 0.0, NEW_STEP, wish.steps_per_turn, 0.0, 0.0, high, inf, inf, 0.0)


def _targets(
    content: AssessmentContent,
    ready: ReadyLine,
    line: PlanLine,
    units: Mapping[str, PlanUnit],
    wish: PlanWish,
    settings: SiteSettings,
) -> tuple[Target, ...]:
    if wish.aim is PlanAim.CALCULATION:
        return calculated_targets(units, judged_units(content), settings)
    (reference,) = solve_states(line.system, [ready.present])
    return aimed_targets(wish.aim, line, units, settings, reference)


def _on_stops(line: PlanLine) -> Iterator[str]:
    """Say which units stand on a stop in the working state before the weight is added."""
    for name, result in line.before.supports.items():
        if result.standing in {Standing.TOP, Standing.BOTTOM}:
            yield (
                f"{name} stands {result.standing} ({line.working.name}) before the weight is "
                "added: what is turned there is not felt by the pipe; another line state is better."
            )


def _missing(units: Mapping[str, PlanUnit], *limited: Limited) -> tuple[str, ...]:
    of_units = [what for unit in units.values() for what in unit.missing]
    return (*of_units, *(what for one in limited for what in one.missing))


def _stops(units: Mapping[str, PlanUnit]) -> dict[str, float]:
    """Return the units whose travel stop may be in, with what it bears either way [N].

    Those are not turned, or turnable with it in, and alone at their point: two on one beam would
    have to hold together.
    """
    alone = (unit for unit in units.values() if len(unit.support.units) == 1)
    bears = {u.name: stop_room(u) for u in alone if not u.turnable or _may_turn_locked(u)}
    return {name: room for name, room in bears.items() if room > 0.0}


def stop_room(unit: PlanUnit) -> float:
    """Return what a travel stop may take besides the set load, up or down [N].

    Stop and stack carry the set load and what the stop takes; a hanger that is pushed up by all of
    its set load hangs slack. Nothing where a rating is not known.

    Source: statics.
    """
    stop = unit.unit.nameplate.stop_rating if unit.unit.nameplate else None
    stack, unknown = scale_rating(unit.support, unit.unit.position)
    if stop is None or stack is None or unknown:
        return 0.0
    return min(min(stop, stack) - unit.limits.setting, unit.limits.setting)


def _holds(
    line: PlanLine, units: Mapping[str, PlanUnit], table: InfluenceTable
) -> tuple[Hold, ...]:
    """Return props and stops that may be used: each where the pipe still moves."""
    points = {name: unit.support.tag for name, unit in units.items()}
    offered = holds_of(line, _stops(units), points)
    return tuple(hold for hold in offered if _moves(table, hold.name))


def _moves(table: InfluenceTable, name: str) -> bool:
    row = table.loads_end + table.pointers.index(name)
    return float(table.effect[row, table.units.index(name)]) > LEAST_COMPLIANCE


def _may_turn_locked(unit: PlanUnit) -> bool:
    return unit.unit.nameplate is not None and unit.unit.nameplate.may_turn_locked is Known.YES


def with_units(planning: Planning, units: Mapping[str, PlanUnit]) -> Planning:
    """Return the same planning with other figures of some units, e.g. mean loads per step."""
    both = {**planning.units, **units}
    new = [one for one in planning.problem.units if one.name not in both]
    limits = (*(unit.limits for unit in both.values()), *new)
    return replace(planning, problem=replace(planning.problem, units=limits), units=both)


def without_targets(planning: Planning) -> Planning:
    """Return the same planning with limits alone, no loads that must be reached."""
    return replace(planning, problem=replace(planning.problem, targets=()))
