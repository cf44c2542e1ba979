"""Orders: the exact search against every order there is, and the search among many units."""

from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest

from supports.calc.reset_plan.lattice import FREE, Uses, lattice_of, safest_path
from supports.calc.reset_plan.order import OrderWish, judge_order, order_reset
from supports.calc.reset_plan.plan import plan_to
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.results import UnitPlan
from supports.calc.reset_plan.sequence import Safety, StepKind
from tests.calc.reset_plan.lines import two_constants_problem
from tests.calc.reset_plan.lines_of_solver import problem_of


def planned(units: int, seed: int, size: float = 0.08) -> tuple[PlanProblem, tuple[UnitPlan, ...]]:
    """Turn every unit up or down by up to `size` of its plate, so that order matters."""
    problem, _, _ = problem_of(units, seed, hung=100.0)
    dice = np.random.default_rng(seed)
    wanted = {u.name: u.setting * (1.0 + dice.uniform(-size, size)) for u in problem.units}
    return problem, plan_to(problem, wanted).units


@pytest.mark.parametrize("seed", range(4))
def test_no_order_of_whole_units_is_better(seed: int) -> None:
    problem, units = planned(5, seed)
    found = order_reset(problem, units, OrderWish(parts=1))
    names = [unit.name for unit in units]
    every = [judge_order(problem, units, order).worst.share for order in permutations(names)]
    assert found.worst.share == pytest.approx(min(every))
    assert found.proved
    assert max(every) > min(every) + 1e-6


@pytest.mark.parametrize("seed", range(3))
def test_parts_never_make_it_worse_and_steps_add_up(seed: int) -> None:
    problem, units = planned(6, seed)
    whole = order_reset(problem, units, OrderWish(parts=1))
    thirds = order_reset(problem, units, OrderWish(parts=3))
    # After a third the line may still be near its start, which is no step of either order.
    assert thirds.worst.share <= max(whole.worst.share, whole.start.share) + 1e-9
    for unit in units:
        given = [step.steps for step in thirds.steps if step.name == unit.name]
        assert sum(given) == unit.steps
    last = {step.name: step.setting for step in thirds.steps}
    assert last == pytest.approx({unit.name: unit.load_after for unit in units})


@pytest.mark.parametrize("seed", range(3))
def test_many_units_state_their_gap(seed: int) -> None:
    problem, units = planned(6, seed)
    exact = order_reset(problem, units, OrderWish(parts=3))
    many = order_reset(problem, units, OrderWish(states=1, many_parts=3))
    assert many.worst.share >= exact.worst.share - 1e-9
    assert many.bound <= exact.worst.share + 1e-9
    assert many.gap == pytest.approx(
        0.0 if many.proved else 1.0 - many.bound / many.worst.share, abs=1e-9
    )
    for unit in units:
        assert sum(step.steps for step in many.steps if step.name == unit.name) == unit.steps


def test_comfort_saves_visits() -> None:
    problem, units = planned(6, 1)
    strict = order_reset(problem, units, OrderWish(parts=3))
    easy = order_reset(problem, units, OrderWish(parts=3, comfort=10.0))
    assert easy.visits == len(units) <= strict.visits


def test_nothing_to_turn_is_an_order_without_steps() -> None:
    problem = two_constants_problem(nozzles=())
    order = order_reset(problem, ())
    assert order.steps == ()
    assert order.safety is Safety.SAFE


def test_every_round_visits_a_unit_once() -> None:
    problem, units = planned(6, 2)
    order = order_reset(problem, units)
    for one in order.rounds:
        names = [step.name for step in one.steps if step.kind is StepKind.TURN]
        assert len(names) == len(set(names))
        read = {reading.name for reading in one.readings}
        assert read == set(problem.states[0].table.supports)


def test_bottleneck_by_hand() -> None:
    # Two movers of one level: by way of the first 0.9, by way of the second 0.4, end 0.5.
    lattice = lattice_of((1, 1))
    state = np.full((2, 4), np.inf)
    state[FREE] = [-np.inf, 0.4, 0.9, 0.5]
    path = safest_path(lattice, Uses(state, np.full((2, 2, 4), -np.inf)), 0.0, held=False)
    assert path.worst == 0.5
    assert path.moves == ((FREE, 1), (FREE, 0))


def test_fewest_visits_by_hand() -> None:
    # Two movers of two levels; (0, 2) is bad, so only the first unit at once and then the second
    # takes two visits.
    lattice = lattice_of((2, 2))
    state = np.full((2, 9), np.inf)
    state[FREE] = 0.3
    state[FREE, 2] = 0.9
    path = safest_path(lattice, Uses(state, np.full((2, 2, 9), -np.inf)), 0.0, held=False)
    assert path.moves == ((FREE, 0), (FREE, 0), (FREE, 1), (FREE, 1))


def test_order_is_the_same_every_time() -> None:
    problem, units = planned(6, 0)
    assert order_reset(problem, units) == order_reset(replace(problem), units)
