"""Friction intervals, resultant rules, threads, unknowns and faults; figures by hand."""

from dataclasses import replace
from itertools import product
from math import hypot, inf

import numpy as np
import pytest

from supports.calc.line.influence import table_from_parts, what_if
from supports.calc.line.restraints import NozzleLimits
from supports.calc.reset_plan.effort import Effort, Goal
from supports.calc.reset_plan.holds import held_table
from supports.calc.reset_plan.impossible import clashes
from supports.calc.reset_plan.judge import final_judge
from supports.calc.reset_plan.limits import (
    CombinedLimit,
    Hold,
    NozzleCheck,
    SupportLimits,
    Target,
    UnitLimits,
)
from supports.calc.reset_plan.plan import changes_of, plan_reset, plan_to
from supports.calc.reset_plan.problem import PlanProblem, PlanState
from supports.calc.reset_plan.results import Status
from supports.calc.reset_plan.rows import RowKind
from supports.errors import BadInput, NotFound
from tests.calc.reset_plan.lines import (
    KN,
    constant,
    nozzle_of,
    two_constants,
    two_constants_problem,
)


def test_the_plan_is_safe_at_both_ends_of_every_friction_band() -> None:
    units = (constant("C1", friction=0.01), constant("C2", friction=0.01))
    problem = two_constants_problem(units=units)
    plan = plan_reset(problem)
    table, changes = problem.states[0].table, changes_of(problem, plan.units)
    settings = np.array([15.0, 15.0]) * KN + changes
    moments = [
        abs(what_if(table, changes + settings * np.array(ends)).nozzles[0, 4])
        for ends in product((-0.01, 0.01), repeat=2)
    ]
    assert plan.status is Status.DONE
    use = {use.label.quantity: use.share for use in reversed(plan.uses) if use.label}["My"]
    assert max(moments) == pytest.approx(use * 10.0 * KN)


def test_a_wide_band_alone_can_use_the_nozzle_up() -> None:
    # 5 % of about 15 kN at both: 0.05 × 15 × (2.8142 + 3.4984) = 4.7 kN·m.
    units = (constant("C1", friction=0.05), constant("C2", friction=0.05))
    problem = two_constants_problem(units=units, nozzles=(nozzle_of(4.0 * KN),))
    assert plan_reset(problem).status is Status.IMPOSSIBLE


def combined_problem(limit: float) -> PlanProblem:
    rule = CombinedLimit("3F + M", 3.0, 1.0, limit, "a rule of the site, invented")
    return two_constants_problem(
        units=(constant("C1", step=400.0), constant("C2", step=400.0)),
        nozzles=(NozzleCheck("N1", NozzleLimits(), (rule,)),),
    )


def combined(a: float, b: float) -> float:
    """Return 3F + M at the nozzle by the printed figures, in kN; `a`, `b` in kN."""
    force = 4.876 - 0.9339 * a - 0.6487 * b
    moment = 21.548 - 2.8142 * a - 3.4984 * b
    return 3.0 * abs(force) + abs(moment)


@pytest.mark.parametrize("limit", [2.0, 6.0, 14.0, 30.0])
def test_combined_rule_against_every_choice(limit: float) -> None:
    plan = plan_reset(combined_problem(limit * KN))
    choices = product(range(-7, 16), repeat=2)
    kept = [
        (sum(n != 0 for n in pair), combined(0.4 * pair[0], 0.4 * pair[1]) / limit)
        for pair in choices
        if combined(0.4 * pair[0], 0.4 * pair[1]) <= limit
    ]
    fewest = min(count for count, _ in kept)
    assert plan.objectives[0].value == fewest
    use = {u.name: u.load_after / KN - 15.0 for u in plan.units}
    reached = combined(use.get("C1", 0.0), use.get("C2", 0.0)) / limit
    # The range counts as well, so the rule alone may do better than the plan, not the reverse.
    assert reached <= plan.worst.share + 1e-9
    assert plan.worst.share >= min(share for count, share in kept if count == fewest) - 1e-3


def test_a_tangent_touches_its_rule_and_never_lies_above() -> None:
    rule = NozzleLimits(force=3.0 * KN, moment=9.0 * KN, source="invented")
    combined_rule = CombinedLimit("3F + M", 3.0, 1.0, 12.0 * KN)
    units = (constant("C1", friction=0.04), constant("C2", friction=0.04))
    problem = two_constants_problem(
        units=units, nozzles=(NozzleCheck("N1", rule, (combined_rule,)),)
    )
    dice = np.random.default_rng(7)
    at, others = dice.uniform(-5e3, 9e3, 2), dice.uniform(-5e3, 9e3, (50, 2))
    for norm in final_judge(problem).norms:
        plane = norm.tangent(at)
        assert (plane.base + plane.effect @ at) / plane.limit == pytest.approx(norm.use(at))
        below = (plane.base + others @ plane.effect) / plane.limit
        assert np.all(below <= norm.use(others) + 1e-9)


def test_resultants_that_cannot_be_kept_are_named() -> None:
    tight = NozzleLimits(force=10.0, moment=10.0, source="invented")
    units = (constant("C1", step=500.0), constant("C2", step=500.0))
    problem = two_constants_problem(units=units, nozzles=(NozzleCheck("N1", tight),))
    plan = plan_reset(problem)
    assert plan.status is Status.IMPOSSIBLE
    assert {clash.label.quantity for clash in plan.clashes} <= {
        "resultant force",
        "resultant moment",
    }
    assert plan.clashes == clashes(problem, final_judge(problem), Effort())


def test_the_clash_says_by_how_much() -> None:
    # Ranges of ±5 % (0.75 kN): 21.548 − 0.75 × (2.8142 + 3.4984) = 16.81 kN·m against 10.
    units = (constant("C1", high=0.05), constant("C2", high=0.05))
    (clash,) = plan_reset(two_constants_problem(units=units)).clashes
    assert clash.label.kind is RowKind.NOZZLE
    assert clash.amount == pytest.approx(6.81 * KN, abs=10.0)


def test_relief_takes_the_cheaper_unit() -> None:
    units = (
        constant("C1", high=0.05, replace_cost=5.0),
        constant("C2", high=0.05, replace_cost=9.0),
    )
    relief = plan_reset(two_constants_problem(units=units)).relief
    assert relief is not None
    assert [(step.action, step.name) for step in relief.steps] == [("replace", "C1")]
    # By hand: C2 at its end takes 0.75 × 3.4984; C1 must carry the rest, less its own 0.75.
    short = (21.548 - 10.0 - 0.75 * 3.4984) / 2.8142 - 0.75
    assert relief.steps[0].short / KN == pytest.approx(short, abs=0.02)


def test_relief_may_add_a_support() -> None:
    table = two_constants()
    new = np.zeros((len(table.base), 1))
    new[table.pointers_end + 4] = -6.0
    wider = replace(table, units=("C1", "C2", "NEW"), effect=np.hstack([table.effect, new]))
    place = UnitLimits("NEW", 0.0, 50.0, 6, 0.0, 4.0 * KN, 8.0 * KN, inf, inf, 0.0)
    units = (constant("C1", high=0.01), constant("C2", high=0.01), place)
    problem = two_constants_problem(states=(PlanState(wider, working=True),), units=units)
    plan = plan_reset(replace(problem, additions={"NEW": 30.0}))
    assert plan.status is Status.IMPOSSIBLE
    assert plan.relief is not None
    assert [(s.action, s.name) for s in plan.relief.steps] == [("add", "NEW")]
    assert plan.relief.cost == 30.0
    assert plan.relief.steps[0].load >= (21.548 - 10.0 - 0.15 * 6.32) / 6.0 * KN


def test_thread_limits_the_turns() -> None:
    units = (constant("C1", steps_up=60), constant("C2", steps_up=60))
    plan = plan_reset(two_constants_problem(units=units))
    assert plan.status is Status.IMPOSSIBLE
    units = (constant("C1", steps_up=60), constant("C2", steps_up=310))
    plan = plan_reset(two_constants_problem(units=units))
    assert {unit.name: unit.steps for unit in plan.units}["C2"] <= 310


def test_unknown_is_not_turned_and_not_passed_over() -> None:
    units = (constant("C1", step=None), constant("C2", friction=None, steps_up=None))
    problem = two_constants_problem(units=units, nozzles=())
    plan = plan_to(problem, {"C1": 16.0 * KN, "C2": 16.0 * KN})
    assert [unit.name for unit in plan.units] == ["C2"]
    assert plan.missing == (
        "C1: load per turn",
        "C2: free thread",
        "C2: friction band",
        "N1: limits",
    )
    bare = replace(problem, nozzles=(NozzleCheck("N1"),))
    assert bare.missing[-1] == "N1: limits"


def test_nothing_may_be_turned() -> None:
    units = (constant("C1", step=None), replace(constant("C2"), low=None))
    calm = plan_reset(two_constants_problem(units=units, nozzles=(nozzle_of(22.0 * KN),)))
    assert (calm.status, calm.units) == (Status.DONE, ())
    plan = plan_reset(two_constants_problem(units=units))
    assert plan.status is Status.IMPOSSIBLE
    assert plan.clashes[0].amount == pytest.approx(11.548 * KN)


def test_a_setting_out_of_range_must_be_put_back() -> None:
    out = constant("C1", setting=21.6 * KN)
    problem = two_constants_problem(units=(out, constant("C2")), nozzles=())
    (unit,) = plan_reset(problem, goals=(Goal.COST, Goal.TURNS)).units
    assert (unit.name, unit.load_after) == ("C1", pytest.approx(21.0 * KN))
    stuck = replace(problem, units=(replace(out, step=None), constant("C2")))
    plan = plan_reset(stuck)
    assert plan.status is Status.IMPOSSIBLE
    assert [clash.label.kind for clash in plan.clashes] == [RowKind.RANGE]


def test_a_required_load_of_a_variable_is_met_in_its_state() -> None:
    problem = two_constants_problem(nozzles=())
    wanted = Target("V1", 0.40 * KN, 0.005 * KN, "cold")
    plan = plan_reset(replace(problem, targets=(wanted,)))
    shown = what_if(problem.states[0].table, changes_of(problem, plan.units))
    assert shown.loads[2] == pytest.approx(0.40 * KN, abs=5.0)


def test_both_ends_of_a_working_range_count() -> None:
    limits = SupportLimits("V1", 0.3 * KN, 0.4 * KN)
    problem = two_constants_problem(nozzles=(), supports=(limits,))
    plan = plan_reset(problem)
    shown = what_if(problem.states[0].table, changes_of(problem, plan.units))
    assert 0.3 * KN <= shown.loads[2] <= 0.4 * KN


def test_no_more_time_than_allowed_is_told() -> None:
    plan = plan_reset(two_constants_problem(), Effort(seconds=0.0))
    assert plan.status in {Status.UNDECIDED, Status.DONE}
    if plan.status is Status.DONE:
        assert not all(goal.proved for goal in plan.objectives)


def test_resultant_size_is_that_of_geometry() -> None:
    rule = NozzleCheck("N1", NozzleLimits(force=8.0 * KN, moment=30.0 * KN))
    judge = final_judge(two_constants_problem(nozzles=(rule,)))
    uses = dict(
        zip([label.quantity for label in judge.labels], judge.uses(np.zeros(2)), strict=True)
    )
    assert uses["resultant force"] == pytest.approx(hypot(0.0, 4.876) / 8.0)
    assert uses["resultant moment"] == pytest.approx(21.548 / 30.0)


def test_faults_stop_the_request() -> None:
    with pytest.raises(NotFound, match="Q1"):
        two_constants_problem(units=(constant("Q1"),))
    with pytest.raises(BadInput, match="working state"):
        two_constants_problem(states=(PlanState(two_constants()),))
    with pytest.raises(NotFound, match="C9"):
        plan_to(two_constants_problem(), {"C9": 1.0})
    with pytest.raises(BadInput, match="column and a pointer"):
        held_table(two_constants(), (Hold("V1"),))
    stiff = table_from_parts(
        state="cold",
        units=("C1",),
        loads={"C1": (1.0, np.ones(1))},
        pointers={"C1": (0.0, np.zeros(1))},
        nozzles={},
    )
    with pytest.raises(BadInput, match="cannot move"):
        held_table(stiff, (Hold("C1", 0.0),))
