"""Place tasks in time by constraint programming: first the end, then the peak, then the scaffolds.

One worker, a fixed seed and a limit counted in the solver's own steps, not in seconds: the same
tasks give the same schedule on any machine, however busy. What the limit leaves unproved is told
with a bound.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from supports.errors import NotReady, SupportsError
from supports.rules.turnaround.schedule import (
    Placed,
    Proof,
    Schedule,
    breaches,
    critical_tasks,
    standing_proof,
)
from supports.rules.turnaround.tasks import QUARTERS, Means, Task, Trade

STEPS = 1.0
"""The solver's own measure of effort for each aim; a few seconds on an idle machine."""


def levelled(tasks: Sequence[Task], means: Means, steps: float = STEPS) -> Schedule:
    """Return a schedule that ends as early as it can, with the lowest peak of people for that.

    Raises
    ------
    NotReady
        The tasks do not fit into the turnaround with these people.
    """
    if not tasks:
        return Schedule(means, (), (), ())
    _require_people(tasks, means)
    problem = _Problem(means, tasks)
    end = problem.solve("end", problem.end, 2.0 * steps)
    peak = problem.solve("peak of fitters", problem.peak, steps)
    problem.solve("scaffolds standing", problem.standing, steps)
    placed = problem.placed()
    proofs = (end, peak, standing_proof(placed))
    if broken := list(breaches(means, placed)):
        raise SupportsError("the schedule found breaks what it must keep", found="; ".join(broken))
    return Schedule(means, placed, proofs, critical_tasks(means, placed))


def _require_people(tasks: Sequence[Task], means: Means) -> None:
    short = {
        f"{task.people} {task.trade} at {task.name} ({', '.join(task.units) or task.scaffold})"
        for task in tasks
        if task.people > means.people(task.trade)
    }
    if any(task.engineer for task in tasks) and means.engineers < 1:
        short.add("an engineer at the hold points")
    if any(task.chain for task in tasks) and means.crews < 1:
        short.add("a crew")
    if short:
        raise NotReady("there are not enough people", sorted(short))


@dataclass
class _Problem:
    """The model, built once and solved for one aim after the other."""

    means: Means
    tasks: Sequence[Task]
    model: Any = None
    starts: dict[str, Any] = field(default_factory=dict)
    crews: dict[tuple[str, int], Any] = field(default_factory=dict)
    values: dict[int, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        from ortools.sat.python import cp_model

        self.model = cp_model.CpModel()
        intervals = {task.name: self._interval(cp_model, task) for task in self.tasks}
        self._in_order()
        self._by_crews()
        self.end = self.model.new_int_var(0, self.means.horizon, "end")
        for task in self.tasks:
            self.model.add(self.starts[task.name] + task.length <= self.end)
        self.peak = self.model.new_int_var(0, self.means.fitters, "peak")
        self._by_people(intervals)
        self.standing = self._standing()

    def _interval(self, cp_model: Any, task: Task) -> Any:
        allowed = [[a, b - task.length] for a, b in task.windows]
        domain = cp_model.Domain.from_intervals(allowed)
        start = self.model.new_int_var_from_domain(domain, task.name)
        self.starts[task.name] = start
        return self.model.new_fixed_size_interval_var(start, task.length, task.name)

    def _in_order(self) -> None:
        lengths = {task.name: task.length for task in self.tasks}
        for task in self.tasks:
            for name in task.after:
                self.model.add(self.starts[task.name] >= self.starts[name] + lengths[name])

    def _by_crews(self) -> None:
        """Give each chain one crew; the first chain the first crew, and so on, as all are alike."""
        chains = list(dict.fromkeys(task.chain for task in self.tasks if task.chain))
        at_work: dict[int, list[Any]] = {}
        for place, chain in enumerate(chains):
            may = range(1, min(self.means.crews, place + 1) + 1)
            chosen = [self._crew(chain, crew) for crew in may]
            self.model.add_exactly_one(chosen)
            for crew in may:
                at_work.setdefault(crew, []).extend(self._optional(chain, crew))
        for held in at_work.values():
            self.model.add_no_overlap(held)

    def _crew(self, chain: str, crew: int) -> Any:
        self.crews[chain, crew] = self.model.new_bool_var(f"{chain} by {crew}")
        return self.crews[chain, crew]

    def _optional(self, chain: str, crew: int) -> list[Any]:
        return [
            self.model.new_optional_fixed_size_interval_var(
                self.starts[task.name], task.length, self.crews[chain, crew], task.name
            )
            for task in self.tasks
            if task.chain == chain
        ]

    def _by_people(self, intervals: dict[str, Any]) -> None:
        for trade in Trade:
            share = [task for task in self.tasks if task.trade is trade]
            held = [intervals[task.name] for task in share]
            demands = [task.people for task in share]
            top = self.peak if trade is Trade.FITTERS else self.means.people(trade)
            self.model.add_cumulative(held, demands, top)
        attended = [intervals[task.name] for task in self.tasks if task.engineer]
        self.model.add_cumulative(attended, [1] * len(attended), self.means.engineers)

    def _standing(self) -> Any:
        """Return how long scaffolds stand, and where they stand alike, how early tasks begin."""
        names = {task.name for task in self.tasks}
        standing = sum(
            self.starts[name] - self.starts[name.replace("down ", "up ", 1)]
            for name in names
            if name.startswith("down ")
        )
        return standing * len(names) + sum(self.starts.values())

    def solve(self, aim: str, wanted: Any, steps: float) -> Proof:
        """Make one aim as small as can be, and hold it from then on."""
        from ortools.sat.python import cp_model

        self.model.minimize(wanted)
        solver = _solver(cp_model, steps)
        found = solver.solve(self.model)
        if found in {cp_model.INFEASIBLE, cp_model.UNKNOWN}:
            raise NotReady(
                "no schedule was found",
                tuple(_loads(self.tasks, self.means)),
                remedy="Give it more days, people or crews, or take something out of the scope",
            )
        reached, bound = solver.objective_value, solver.best_objective_bound
        self._keep(solver)
        self.model.add(wanted <= round(reached))
        return Proof(aim, reached, min(reached, bound))

    def _keep(self, solver: Any) -> None:
        """Remember the values, and let the next aim begin from them."""
        self.model.clear_hints()
        for variable in (*self.starts.values(), *self.crews.values(), self.end, self.peak):
            value = solver.value(variable)
            self.values[variable.index] = value
            self.model.add_hint(variable, value)

    def placed(self) -> tuple[Placed, ...]:
        """Return the tasks in the order of their beginning."""
        crew = {
            chain: number
            for (chain, number), chosen in self.crews.items()
            if self.values[chosen.index]
        }
        made = [
            Placed(task, self.values[self.starts[task.name].index], crew.get(task.chain, 0))
            for task in self.tasks
        ]
        return tuple(sorted(made, key=lambda one: (one.start, one.task.name)))


def _solver(cp_model: Any, steps: float) -> Any:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = steps
    return solver


def _loads(tasks: Sequence[Task], means: Means) -> list[str]:
    """Say how much of each trade is asked for, and how much there is."""
    asked = {
        trade: sum(task.length * task.people for task in tasks if task.trade is trade)
        for trade in Trade
    }
    return [
        f"{trade}: {quarters / QUARTERS:g} h asked for, "
        f"{means.horizon * means.people(trade) / QUARTERS:g} h there are"
        for trade, quarters in asked.items()
    ]
