"""A line's own solver behind a re-set plan: its influence tables, and the full re-check."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from supports.calc.line.band import Factored
from supports.calc.line.influence import FloatArray, InfluenceTable
from supports.calc.line.influence_of_line import influence_table
from supports.calc.line.results import LineResult
from supports.calc.line.solver import solve_states
from supports.calc.line.states import State
from supports.calc.reset_plan.problem import PlanState


@dataclass(frozen=True, slots=True)
class LineResolve:
    """Solves a factored line again after set-load changes; see `recheck.Resolve`.

    Parameters
    ----------
    states, tables
        The states and their influence tables, by name.
    """

    system: Factored
    states: Mapping[str, State]
    tables: Mapping[str, InfluenceTable]

    def __call__(
        self, state: str, changes: Mapping[str, float], held: Mapping[str, float]
    ) -> FloatArray:
        """Return loads [N], movements [m] and nozzle components [N], [N·m] of one state."""
        now = self.states[state]
        marked = {spring.name: spring.setting for spring in self.system.frame.line.springs}
        before = {**marked, **now.settings}
        settings = {**now.settings, **{n: before[n] + change for n, change in changes.items()}}
        asked = replace(now, settings=settings, locked={**now.locked, **held})
        (result,) = solve_states(self.system, [asked])
        return result_vector(result, self.tables[state])


def result_vector(result: LineResult, table: InfluenceTable) -> FloatArray:
    """Return a solved state in the order of an influence table [N], [m], [N·m].

    Parameters
    ----------
    result
        The solved state.
    table
        The table whose rows are wanted.

    Source: definition of the influence table.
    """
    loads = [result.supports[name].load for name in table.supports]
    movements = [result.supports[name].movement for name in table.pointers]
    nozzles = [component for name in table.nozzles for component in result.nozzles[name]]
    return np.array([*loads, *movements, *nozzles])


def states_of_line(
    system: Factored, states: Iterable[State], working: Iterable[str]
) -> tuple[tuple[PlanState, ...], LineResolve]:
    """Return the plan states of a line, and the full solve that re-checks each step.

    Parameters
    ----------
    states
        States in which limits hold, with different names.
    working
        Names of the states in which people turn bolts.

    Raises
    ------
    Mechanism, NoConvergence
        A state has no answer.

    Source: see `influence_table`.
    """
    asked, at_work = tuple(states), set(working)
    results = solve_states(system, asked)
    tables = {r.state.name: influence_table(system, r) for r in results}
    plan_states = tuple(PlanState(table, name in at_work) for name, table in tables.items())
    return plan_states, LineResolve(system, {one.name: one for one in asked}, tables)
