"""A plan with its order written down: units, rounds, readings, nozzle use, props, other orders."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from supports.calc.line.influence import what_if
from supports.calc.reset_plan.checked import CheckedSequence
from supports.calc.reset_plan.costs import WorkAssumptions, cost_of
from supports.calc.reset_plan.judge import Use, final_judge
from supports.calc.reset_plan.limits import Hold, Target
from supports.calc.reset_plan.order import judge_order
from supports.calc.reset_plan.plan import changes_of
from supports.calc.reset_plan.recheck import Check
from supports.calc.reset_plan.results import ResetPlan, Status, UnitPlan
from supports.calc.reset_plan.sequence import Safety
from supports.rules.reset_planning.build import Planning
from supports.rules.reset_planning.content import (
    CostSaid,
    GoalReached,
    OrderJudged,
    PlanAlternative,
    UnitTurn,
)
from supports.rules.reset_planning.rounds_said import (
    holds_named,
    holds_said,
    nozzle_uses,
    rounds_said,
    start_readings,
    working_state,
)
from supports.rules.reset_planning.said import safety_said, use_said, verdict_said
from supports.rules.reset_planning.springs import PlanUnit, full_band
from supports.tags import natural_key
from supports.vocabulary import PlantState

OPERATING = str(PlantState.OPERATING_STEADY)


@dataclass(frozen=True, slots=True)
class Written:
    """A plan, its end solved in full, and its order with every state on the way solved in full."""

    plan: ResetPlan
    ends: tuple[Check, ...]
    order: CheckedSequence
    start: Use
    """The limit used most before any turn, without props, solved in full."""
    as_left: bool = False
    """Whether the line stands so already: no weight is let go before the first turn."""


def alternative_of(planning: Planning, name: str, written: Written) -> PlanAlternative:
    """Return one plan with its order, in words and figures."""
    plan, order = written.plan, written.order.sequence
    holds = holds_named(planning, order.holds)
    kept = all(check.solved.passes for step in written.order.checks for check in step)
    return PlanAlternative(
        name,
        can_be_done=plan.status is Status.DONE,
        verdict=verdict_said(plan),
        units=tuple(_unit_turns(planning, plan, holds)),
        goals=tuple(
            GoalReached(str(goal.goal), goal.value, goal.bound, goal.proved)
            for goal in plan.objectives
        ),
        start=use_said(written.start),
        way=use_said(order.worst),
        end=use_said(plan.worst),
        band=use_said(_at_band_ends(planning, plan)),
        safe=order.safety in _sound(written) and kept,
        safety=safety_said(order, written.start, as_left=written.as_left),
        start_nozzles=nozzle_uses(planning, {}, ()),
        start_readings=start_readings(planning, holds),
        rounds=rounds_said(planning, order),
        holds=holds_said(planning, order),
        orders=tuple(_other_orders(planning, plan)),
        cost=_cost(planning, written),
        solved=_solved(written),
    )


def _sound(written: Written) -> set[Safety]:
    """Return what may be worked by; a line that stands past a limit already can only be mended."""
    return {Safety.SAFE, Safety.PROP} | ({Safety.START} if written.as_left else set())


def _unit_turns(planning: Planning, plan: ResetPlan, holds: tuple[Hold, ...]) -> Iterator[UnitTurn]:
    targets = {target.name: target for target in planning.problem.targets}
    changes = changes_of(planning.problem, plan.units)
    tables = {state.name: state.table for state in planning.problem.states}
    after = {name: what_if(table, changes).loads for name, table in tables.items()}
    work = next(state.table for state in planning.problem.states if state.working)
    start = working_state(planning, holds).table
    for planned in plan.units:
        row = work.supports.index(planned.name)
        moved = float(after[work.state][row])
        operating = float(after[OPERATING][row]) if OPERATING in after else moved
        yield _unit_turn(
            planning,
            planned,
            (float(start.base[start.supports.index(planned.name)]), moved, operating),
            targets.get(planned.name),
        )


def _unit_turn(
    planning: Planning,
    planned: UnitPlan,
    scale: tuple[float, float, float],
    target: Target | None,
) -> UnitTurn:
    """Write one unit down; `scale` is what it shows before, after, and after in operation [N]."""
    unit = planning.units[planned.name]
    before, after, operating = scale
    exact = _exact_after(unit, planned)
    if not unit.rate:
        after = exact
    low, high = _window(planning, unit, after, operating, target)
    return UnitTurn(
        name=planned.name,
        tag=unit.support.tag,
        position=unit.unit.position,
        unit_id=unit.unit.id,
        point_id=unit.support.id,
        variable=bool(unit.rate),
        turns=planned.count.turns,
        flats=planned.count.flats,
        increases=planned.steps > 0,
        setting_before=planned.load_before,
        setting_after=exact,
        scale_before=before,
        scale_after=after,
        window_low=low,
        window_high=high,
        required=target.load if target else None,
        range_use=planned.range_use,
    )


def _exact_after(unit: PlanUnit, planned: UnitPlan) -> float:
    if unit.stepping is None:
        return planned.load_after
    return unit.stepping.after(unit.limits.setting, planned.steps)


def _window(
    planning: Planning, unit: PlanUnit, after: float, operating: float, target: Target | None
) -> tuple[float, float]:
    """Return the ends [N] of the as-left window in the state of the work.

    Where a load is required, the window lies about it; a variable's differs between the states of
    the line by what the pipe moves, which a take-up does not change. A constant's ends where its
    adjusting range does.
    """
    site = planning.settings
    share = site.variable_tolerance if unit.rate else site.tolerance
    middle = after
    if target is not None and target.tolerance <= share * abs(target.load) * (1.0 + 1e-9):
        middle = after + target.load - operating if unit.rate else target.load
    low, high = middle - share * abs(middle), middle + share * abs(middle)
    limited = unit.limits.range
    if unit.rate or limited is None:
        return low, high
    return max(low, limited[0]), min(high, limited[2])


def _other_orders(planning: Planning, plan: ResetPlan) -> Iterator[OrderJudged]:
    """Judge the order of the tags, each unit turned at once, and the reverse of it."""
    names = tuple(sorted((unit.name for unit in plan.units), key=natural_key))
    if len(names) < 2:
        return
    for which, order in (("in tag order", names), ("in reverse tag order", names[::-1])):
        judged = judge_order(planning.problem, plan.units, order)
        worst = max(judged.steps, key=lambda step: step.worst.share)
        broken = next((step for step in judged.steps if not step.worst.passes), worst)
        yield OrderJudged(
            which,
            tuple(dict.fromkeys(step.name for step in judged.steps)),
            worst.worst.passes,
            use_said(broken.worst),
            broken.name,
        )


def _at_band_ends(planning: Planning, plan: ResetPlan) -> Use:
    """Return the limit used most at the end if every unit's whole friction band adds up."""
    problem = planning.problem
    units = tuple(
        replace(one, friction=full_band(planning.units[one.name].unit))
        if one.name in planning.units
        else one
        for one in problem.units
    )
    judge = final_judge(replace(problem, units=units)).counting()
    return judge.worst(changes_of(problem, plan.units))


def _cost(planning: Planning, written: Written) -> CostSaid:
    site = planning.settings
    assumed = WorkAssumptions(
        site.plan_crew, site.plan_visit, site.plan_turn, planning.group_hours, site.close_use
    )
    cost = cost_of(planning.problem, written.plan, written.order.sequence, assumed)
    return CostSaid(
        cost.units,
        cost.visits,
        cost.turns,
        cost.crew_hours,
        cost.man_hours,
        cost.scaffold_hours,
        cost.close_steps,
    )


def _solved(written: Written) -> str:
    """Say how the full solve bore out the prediction."""
    checks = [check for step in written.order.checks for check in step] + list(written.ends)
    troubles = [check.trouble for check in checks if check.trouble]
    if troubles:
        return f"a state on the way has no answer: {troubles[0]}"
    largest = max((check.difference for check in checks), default=0.0)
    again = written.order.reordered
    words = f"{len(checks)} states solved in full; largest difference from the prediction "
    return f"{words}{largest:.2%} of a limit; order sought again {again} times"
