"""Plans side by side, from settings as found, and the way back; figures by hand."""

from dataclasses import replace

import pytest

from supports.calc.reset_plan.alternatives import (
    LEAST_NOZZLE,
    LEAST_UNITS,
    alternatives,
    replan,
    undo,
)
from supports.calc.reset_plan.costs import WorkAssumptions, cost_of
from supports.calc.reset_plan.order import order_reset
from supports.calc.reset_plan.plan import plan_reset, plan_to
from supports.calc.reset_plan.results import Status
from supports.calc.reset_plan.sequence import Safety
from tests.calc.reset_plan.lines import KN, constant, nozzle_of, two_constants_problem

WORK = WorkAssumptions(
    crew=2.0, hours_per_visit=1.0, hours_per_turn=0.05, group_hours={"S1": 12.0}, busy=0.75
)
"""Invented."""

LEVER = {"C1": 18.0 * KN, "C2": 18.0 * KN}


def test_three_aims_side_by_side() -> None:
    problem = two_constants_problem(nozzles=(nozzle_of(10.0 * KN, 4.0 * KN),))
    few, free, lever = alternatives(problem, WORK, {"lever": LEVER})
    assert [few.name, free.name, lever.name] == [LEAST_UNITS, LEAST_NOZZLE, "lever"]
    assert few.cost is not None
    assert free.cost is not None
    assert lever.cost is not None
    assert few.cost.units == 1
    assert free.cost.units == lever.cost.units == 2
    assert few.cost.total_hours < lever.cost.total_hours
    use = {u.label.quantity: u.share for u in reversed(lever.plan.uses) if u.label}
    assert use["My"] == pytest.approx(0.261, abs=2e-3)


def test_hours_by_hand() -> None:
    units = (constant("C1", group="S1"), constant("C2", group="S1"))
    problem = two_constants_problem(units=units)
    plan = plan_to(problem, LEVER)
    cost = cost_of(problem, plan, order_reset(problem, plan.units), WORK)
    # 3.0 kN at 0.06 kN a turn: 50 turns each; two visits.
    assert cost.turns == pytest.approx(100.0)
    assert cost.crew_hours == pytest.approx(2 * 1.0 + 100 * 0.05)
    assert (cost.man_hours, cost.scaffold_hours) == (pytest.approx(14.0), 12.0)
    assert cost.total_hours == pytest.approx(26.0)
    assert (cost.units, cost.visits) == (2, 2)


def test_what_cannot_be_done_has_neither_order_nor_cost() -> None:
    units = (constant("C1", high=0.01), constant("C2", high=0.01))
    few, *_ = alternatives(two_constants_problem(units=units), WORK, {})
    assert few.plan.status is Status.IMPOSSIBLE
    assert (few.order, few.cost) == (None, None)


def test_replan_from_as_found_keeps_the_earlier_plan() -> None:
    problem = two_constants_problem()
    earlier = plan_reset(problem)
    again = replan(problem, earlier, {"C1": 16.0 * KN})
    assert again.earlier is earlier
    assert again.shifted == {"C1": pytest.approx(1.0 * KN)}
    moment = again.problem.states[0].table.base[-2]
    assert moment == pytest.approx((21.548 - 2.8142) * KN)
    assert again.plan.status is Status.DONE
    assert not again.same_end
    assert replan(problem, earlier, {}).same_end


def test_thread_already_used_is_taken_off() -> None:
    problem = two_constants_problem(
        units=(constant("C1", steps_up=150.0, steps_down=20.0), constant("C2"))
    )
    found = problem.from_settings({"C1": 16.0 * KN}).by_name["C1"]
    assert (found.steps_up, found.steps_down) == (pytest.approx(50.0), pytest.approx(120.0))
    assert found.setting == 16.0 * KN


def test_undo_goes_from_as_left_with_its_own_order() -> None:
    # The valve stays on: going back passes the limit, so it must say so.
    problem = two_constants_problem()
    left = {"C1": 19.8 * KN, "C2": 17.86 * KN}
    back = undo(problem, left, {"C1": 15.0 * KN, "C2": 15.0 * KN})
    assert {u.name: u.steps for u in back.plan.units} == {"C1": -480, "C2": -286}
    assert back.plan.status is Status.BROKEN
    assert back.order.safety is Safety.UNSAFE
    # The valve is off: 21.548 kN·m and 4.876 kN less; from as left, C2 first is 2.8142 × 4.8.
    table = problem.states[0].table
    off = table.base.copy()
    off[-2], off[-4] = 0.0, 0.0
    bare = replace(problem, states=(replace(problem.states[0], table=replace(table, base=off)),))
    bare = replace(bare, nozzles=(nozzle_of(14.0 * KN),))
    back = undo(bare, left, {"C1": 15.0 * KN, "C2": 15.0 * KN})
    assert back.plan.status is Status.DONE
    assert back.order.start.share == pytest.approx((2.8142 * 4.8 + 3.4984 * 2.86) / 14.0)
    assert back.order.safety is Safety.START
    assert [step.name for step in back.order.steps] == ["C1", "C2"]
    assert back.order.worst.share == pytest.approx(3.4984 * 2.86 / 14.0)
