"""Re-set plans against every plan there is, on small random tables."""

from dataclasses import dataclass
from itertools import product
from math import inf

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from supports.calc.line.influence import table_from_parts
from supports.calc.line.restraints import NozzleLimits
from supports.calc.reset_plan.effort import Effort
from supports.calc.reset_plan.judge import PASSES, final_judge
from supports.calc.reset_plan.limits import NozzleCheck, UnitLimits
from supports.calc.reset_plan.plan import plan_reset
from supports.calc.reset_plan.problem import PlanProblem, PlanState
from supports.calc.reset_plan.program import program_of
from supports.calc.reset_plan.results import Status

EXACT = Effort(gap=0.0)
FIGURES = st.floats(-1.0, 1.0).map(lambda x: round(x, 3))


@dataclass(frozen=True)
class Best:
    cost: float
    use: float
    turns: float


@st.composite
def problems(draw: st.DrawFn) -> PlanProblem:
    """Draw three units of at most two steps each way, one nozzle, a rod, two states."""
    units = ("A", "B", "C")
    states = tuple(
        PlanState(_table(draw, name, units), working=name == "cold") for name in ("cold", "hot")
    )
    resultant = draw(st.booleans())
    limits = NozzleLimits(
        (None, None, draw(st.floats(2e3, 6e3)), None, draw(st.floats(2e3, 6e3)), None),
        force=draw(st.floats(2e3, 6e3)) if resultant else None,
    )
    return PlanProblem(
        states,
        tuple(
            UnitLimits(
                name, 10e3, 1e3, 2, 8e3, 10e3, 12e3, inf, inf,
                draw(st.sampled_from([0.0, 0.02])), cost=draw(st.sampled_from([1.0, 2.0])),
                group=draw(st.sampled_from(["", "S1"])),
            )
            for name in units
        ),
        nozzles=(NozzleCheck("N", limits),),
        group_costs={"S1": 1.5},
    )  # fmt: skip


def _table(draw: st.DrawFn, name: str, units: tuple[str, ...]):
    nozzle = np.zeros((6, 3))
    nozzle[[0, 2, 4]] = [[draw(FIGURES) for _ in units] for _ in range(3)]
    base = np.zeros(6)
    base[[0, 2, 4]] = [6e3 * draw(FIGURES) for _ in range(3)]
    loads = {unit: (10e3, np.eye(3)[at]) for at, unit in enumerate(units)}
    rod = (1.5e3, np.array([draw(FIGURES) for _ in units]))
    return table_from_parts(
        state=name,
        units=units,
        loads={**loads, "R": rod},
        pointers={},
        nozzles={"N": (base, nozzle)},
        load_limits={"R": (0.0, inf)},
    )


def by_hand(problem: PlanProblem) -> Best | None:
    """Try every choice of steps; take cost, then use, then turns."""
    judge, program = final_judge(problem), program_of(problem)
    moving = np.abs(judge.lines.effect).sum(axis=1) > 0.0
    watched = [bool(np.any(norm.effect)) for norm in judge.norms]
    counted = np.concatenate([judge.lines.counts & moving, np.array(watched, dtype=bool)])
    best: tuple[float, float, float] | None = None
    for steps in product(range(-2, 3), repeat=3):
        uses = judge.uses(program.changes(np.array(steps, dtype=float)))
        if uses.max() <= PASSES:
            count = np.array(steps, dtype=float)
            use = max(0.0, float(uses[counted].max(initial=0.0)))
            key = (program.cost_of(count), round(use, 6), program.turns_of(count))
            best = key if best is None or key < best else best
    return None if best is None else Best(*best)


@settings(max_examples=25, deadline=None)
@given(problems())
def test_the_plan_is_the_best_of_all(problem: PlanProblem) -> None:
    best, plan = by_hand(problem), plan_reset(problem, EXACT)
    if best is None:
        assert plan.status is Status.IMPOSSIBLE
        assert plan.clashes
        return
    assert plan.status is Status.DONE
    cost, use, turns = (goal.value for goal in plan.objectives)
    assert abs(cost - best.cost) < 1e-6
    assert abs(use - best.use) < 2e-4
    assert turns <= best.turns + 1e-6 or abs(use - best.use) > 1e-6


@settings(max_examples=15, deadline=None)
@given(problems(), st.lists(st.floats(-1.0, 1.0), min_size=3, max_size=3))
def test_nothing_inside_the_friction_bands_uses_more(
    problem: PlanProblem, where: list[float]
) -> None:
    judge = final_judge(problem)
    table = problem.states[0].table
    settings_now = np.array([unit.setting for unit in problem.units])
    bands = np.array([unit.friction or 0.0 for unit in problem.units])
    real = table.base + table.effect @ (settings_now * bands * np.array(where))
    labels = dict(zip([str(label) for label in judge.labels], judge.labels, strict=True))
    for axis, quantity in ((2, "Fz"), (4, "My")):
        limit = problem.nozzles[0].limits.components[axis]
        name = next(text for text in labels if f"{quantity} (cold)" in text)
        shares = [
            share
            for label, share in zip(judge.labels, judge.uses(np.zeros(3)), strict=True)
            if str(label) == name
        ]
        assert abs(real[table.pointers_end + axis]) / limit <= max(shares) + 1e-9
