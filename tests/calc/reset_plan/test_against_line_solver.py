"""Plans and orders on lines of the line solver: every state solved again in full.

The reference is the line solver's own full solve, which tests of its own hold against statics.
"""

from dataclasses import replace
from math import inf

import numpy as np
import pytest

from supports.calc.line.parts import LumpedMass
from supports.calc.line.restraints import Anchor, Constant, NozzleLimits, Rest
from supports.calc.line.solver import factored_line
from supports.calc.line.states import added, cold
from supports.calc.reset_plan.checked import order_checked, plan_checked
from supports.calc.reset_plan.limits import Hold, NozzleCheck, Target, UnitLimits
from supports.calc.reset_plan.line_resolve import LineResolve, states_of_line
from supports.calc.reset_plan.order import OrderWish, judge_order
from supports.calc.reset_plan.plan import plan_to
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.results import Status
from supports.calc.reset_plan.sequence import Safety
from supports.errors import CannotCalculate
from tests.calc.line.example import G, straight, two_constants, valve_added
from tests.calc.reset_plan.lines import KN
from tests.calc.reset_plan.lines_of_solver import problem_of


def wide(name: str, setting: float) -> UnitLimits:
    """Build a unit that may go anywhere, 10 N a flat."""
    return UnitLimits(name, setting, 10.0, 6, -50e3, 0.0, 50e3, inf, inf, 0.0)


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_each_state_on_the_way_is_the_predicted_one(seed: int) -> None:
    problem, resolve, _ = problem_of(8, seed)
    checked = plan_checked(problem, resolve)
    assert checked.plan.status is Status.DONE
    assert checked.holds_good
    order = order_checked(problem, checked.plan.units, resolve)
    assert order.sequence.safety is Safety.SAFE
    assert order.reordered == 0
    assert order.disagreeing == ()
    assert all(one.difference < 1e-6 for step in order.checks for one in step)


def worked_line() -> tuple[PlanProblem, LineResolve]:
    """Build the worked line of two constants, with a limit of 10 kN·m at the nozzle."""
    states, resolve = states_of_line(
        factored_line(two_constants()), [valve_added()], [valve_added().name]
    )
    limits = NozzleLimits((None, None, None, None, 10e3, None), source="invented")
    units = (wide("C1", 0.0), wide("C2", 0.0))
    return PlanProblem(states, units, nozzles=(NozzleCheck("nozzle", limits),)), resolve


def test_worked_line_start_to_end() -> None:
    problem, resolve = worked_line()
    units = plan_to(problem, {"C1": 4.801 * KN, "C2": 2.854 * KN}).units
    order = order_checked(problem, units, resolve)
    # Printed: 21.55 before any turn, 8.04 after the first constant.
    assert order.sequence.start.share == pytest.approx(2.155, abs=1e-3)
    assert order.sequence.safety is Safety.START
    assert [step.name for step in order.sequence.steps] == ["C1", "C2"]
    assert order.checks[0][-1].solved.share == pytest.approx(0.804, abs=2e-3)


def test_travel_stops_solved_again_are_those_predicted() -> None:
    problem, resolve = worked_line()
    units = plan_to(problem, {"C1": 4.801 * KN, "C2": 2.854 * KN}).units
    stops = (Hold("C1", 0.0, one_way=False), Hold("C2", 0.0, one_way=False))
    order = order_checked(problem, units, resolve, OrderWish(holds=stops))
    assert order.sequence.safety is Safety.PROP
    assert order.disagreeing == ()
    assert all(one.difference < 1e-6 for step in order.checks for one in step)


def lifting_line(limit: float) -> tuple[PlanProblem, LineResolve]:
    """Build a cantilever on a rest with two constants: it lifts off when they are turned up.

    `keep_status` is off, so the linear table holds the rest down and only the full solve tells.
    By hand, rest down: R = 3.7 − 0.3125 a − 1.75 b kN and M = −4.8 + 1.5 a − 2 b kN·m after changes
    a at 4 m and b at 12 m; lifted: M = −34.4 + 4 a + 12 b.
    """
    line = straight(
        (0, 4, 8, 12),
        (
            Anchor("nozzle", "N0"),
            Constant("C1", "N4", 4e3),
            Rest("R", "N8"),
            Constant("C2", "N12", 4e3),
        ),
        newton_per_metre=1200.0,
    )
    state = added(cold(), LumpedMass("valve", "N12", 1000.0 / G))
    states, resolve = states_of_line(factored_line(line), [state], [state.name])
    limits = NozzleLimits((None, None, None, None, limit, None), source="invented")
    units = (wide("C1", 4e3), wide("C2", 4e3))
    check = (NozzleCheck("nozzle", limits),)
    return PlanProblem(states, units, nozzles=check, keep_status=False), resolve


def test_a_state_past_a_limit_by_the_solve_is_avoided() -> None:
    # First +12.4 kN at C1: predicted 13.8 kN·m, but the rest has lifted and it is 15.2; −0.2 kN at
    # C2 first keeps the rest down all the way: 14.2 at the end.
    problem, resolve = lifting_line(14.5e3)
    units = plan_to(problem, {"C1": 16.4e3, "C2": 3.8e3}).units
    forced = judge_order(problem, units, ("C1", "C2"))
    order = order_checked(problem, units, resolve)
    assert forced.steps[0].worst.share == pytest.approx(13.8 / 14.5)
    assert resolve(problem.states[0].name, {"C1": 12.4e3}, {})[-2] == pytest.approx(15.2e3)
    assert [step.name for step in order.sequence.steps] == ["C2", "C1"]
    assert order.sequence.safety is Safety.SAFE
    assert order.sequence.worst.share == pytest.approx(14.2 / 14.5)


def test_a_prediction_too_harsh_does_not_refuse_a_good_order() -> None:
    # End: a = −2, b = +4.5 kN; predicted −16.8 kN·m, but lifted it is 11.6.
    problem, resolve = lifting_line(12e3)
    units = plan_to(problem, {"C1": 2e3, "C2": 8.5e3}).units
    order = order_checked(problem, units, resolve)
    assert order.disagreeing != ()
    assert order.reordered > 0
    assert order.sequence.safety is Safety.SAFE
    assert order.sequence.worst.share == pytest.approx(11.6 / 12.0)
    assert order.sequence.steps[0].name == "C1"
    for changes, use in order.sequence.avoided:
        solved = resolve(problem.states[0].name, changes, {})
        assert abs(solved[-2]) / 12e3 == pytest.approx(use)


def test_a_plan_that_only_the_prediction_keeps_is_not_passed_off() -> None:
    problem, resolve = lifting_line(12e3)
    target = (Target("C2", 9.5e3, 20.0),)
    checked = plan_checked(replace(problem, targets=target), resolve)
    assert checked.checks[0].too_kind
    # The rest cannot stay down with C2 at 9.5 kN, as 3.7 − 1.75 × 5.5 < 0 unless C1 pulls down.
    solved = resolve(problem.states[0].name, checked.checks[-1].changes, {})
    assert checked.holds_good == (abs(solved[-2]) <= 12e3 * (1 + 1e-5))


def test_a_state_without_an_answer_is_no_safe_state() -> None:
    problem, _ = lifting_line(12e3)

    def no_answer(state: str, changes: dict[str, float], held: dict[str, float]) -> np.ndarray:
        raise CannotCalculate("nothing holds it")

    units = plan_to(problem, {"C1": 4.5e3}).units
    order = order_checked(problem, units, no_answer)
    assert order.sequence.safety is Safety.UNSAFE
    assert "nothing holds it" in order.checks[0][0].trouble
    wanted = replace(problem, targets=(Target("C1", 4.5e3, 1.0),))
    checked = plan_checked(wanted, no_answer)
    assert not checked.holds_good
    assert checked.plan.status is Status.BROKEN


def test_rods_keep_their_tension_in_both_states() -> None:
    problem, resolve, _ = problem_of(10, 5)
    plan = plan_checked(problem, resolve).plan
    changes = {unit.name: unit.load_after - unit.load_before for unit in plan.units}
    for state in problem.states:
        loads = dict(zip(state.table.supports, resolve(state.name, changes, {}), strict=False))
        rods = [load for name, load in loads.items() if name.startswith("R")]
        assert rods
        assert min(rods) >= -1e-6
