"""Two constants on one beam.

Figures: worked example of the trade notes (36.0 kN and 1.2 kN of beam, 600 and 1,000 mm; 4.0 kN
added: 25.6 and 15.6 kN; 0.20 and 0.15 kN a turn); each checked by hand as statics.
"""

from dataclasses import replace

import pytest

from supports.calc.reset_plan.limits import Target
from supports.calc.reset_plan.order import order_reset
from supports.calc.reset_plan.plan import plan_reset, plan_to
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.results import Status
from supports.calc.reset_plan.rows import RowKind
from supports.calc.reset_plan.sequence import Safety
from tests.calc.reset_plan.lines import KN, beam

WANTED = (Target("A", 25.6 * KN, 1.0), Target("B", 15.6 * KN, 1.0))


def wanted(problem: PlanProblem, targets: tuple[Target, ...] = WANTED) -> PlanProblem:
    return replace(problem, targets=targets)


def test_both_units_in_five_rounds() -> None:
    problem = wanted(beam())
    plan = plan_reset(problem)
    order = order_reset(problem, plan.units)
    assert {u.name: u.turns for u in plan.units} == {"A": 12.5, "B": 10.0}
    assert str(plan.units[0].count) == "12 turns 3 flats"
    assert len(order.rounds) == 5
    for one in order.rounds:
        assert [(step.name, step.turns) for step in one.steps] == [("A", 2.5), ("B", 2.0)]
    assert order.safety is Safety.SAFE


def test_all_at_once_tilts_the_beam() -> None:
    problem = wanted(beam())
    units = plan_reset(problem).units
    at_once = replace(problem, trapezes=(replace(problem.trapezes[0], rounds=1),))
    order = order_reset(at_once, units)
    # After A alone: 25.6 and 14.1 kN, pipe 38.5; B's share 38.5 × 0.375 + 0.6 = 15.04, −6.2 %.
    assert order.safety is Safety.UNSAFE
    assert order.worst.label is not None
    assert order.worst.label.kind is RowKind.TRAPEZE
    assert order.worst.label.subject == "B"
    assert order.steps[0].worst.share == pytest.approx(0.0625 * 15.0375 / (0.05 * 14.1), abs=0.2)


@pytest.mark.parametrize("name", ["A", "B"])
def test_one_alone_is_refused(name: str) -> None:
    load = {"A": 25.6, "B": 15.6}[name] * KN
    plan = plan_to(beam(), {name: load})
    assert plan.status is Status.BROKEN
    assert plan.worst.label is not None
    assert plan.worst.label.kind is RowKind.TRAPEZE
    frozen = tuple(unit if unit.name == name else replace(unit, step=None) for unit in beam().units)
    alone = wanted(replace(beam(), units=frozen), (Target(name, load, 1.0),))
    assert plan_reset(alone).status is Status.IMPOSSIBLE


def test_one_range_too_short_though_the_sum_would_fit() -> None:
    plan = plan_reset(wanted(beam(range_of_first=0.10)))
    # 23.1 + 10 % = 25.41 < 25.6 kN.
    assert plan.status is Status.IMPOSSIBLE
    (clash,) = plan.clashes
    assert (clash.label.kind, clash.label.subject) == (RowKind.RANGE, "A")
    assert clash.amount == pytest.approx(190.0, abs=1.0)
    assert plan.relief is None


def test_replacing_it_is_the_way_round() -> None:
    problem = wanted(beam(range_of_first=0.10))
    units = tuple(replace(unit, replace_cost=24.0) for unit in problem.units)
    relief = plan_reset(replace(problem, units=units)).relief
    assert relief is not None
    (step,) = relief.steps
    assert (step.action, step.name, step.load) == ("replace", "A", 25.6 * KN)
    assert step.short == pytest.approx(190.0)
    assert {unit.name for unit in relief.units} == {"A", "B"}
    assert relief.cost == 24.0
