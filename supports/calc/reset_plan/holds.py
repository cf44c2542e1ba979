"""A line with temporary props or travel stops in: the influence tables change, nothing is solved.

A hold keeps the pipe at a level by a force R. With c the movement there per newton on it, and
e the movement there per newton of set-load change elsewhere,

    c R + e x + base = level,    so    R = c⁻¹ (level − base − e x)

and every result follows by superposition. A unit on its stop passes its own set-load change on to
the stop.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import isfinite

import numpy as np

from supports.calc.line.influence import FloatArray, InfluenceTable
from supports.calc.reset_plan.limits import Hold
from supports.calc.reset_plan.problem import PlanProblem, PlanState
from supports.calc.reset_plan.rows import Columns, Label, Row, RowKind, columns_of, worst_case
from supports.errors import BadInput


@dataclass(frozen=True, slots=True)
class Held:
    """A table with holds in, and their forces on the pipe: base [N] and effect [N/N]."""

    table: InfluenceTable
    force: FloatArray
    force_effect: FloatArray


def held_table(table: InfluenceTable, holds: tuple[Hold, ...]) -> Held:
    """Return the influence table of a line with holds in.

    Parameters
    ----------
    table
        The line without holds; each hold is one of its columns and one of its pointers.
    holds
        Levels [m] at which they hold.

    Returns
    -------
    Held
        Base [N], [m], [N·m] and effects with the holds in; forces of the holds [N].

    Raises
    ------
    BadInput
        A hold is no column, its movement is not followed, or nothing there can move.

    Notes
    -----
    R = c⁻¹ (level − base − e x). Source: compliance (force) method of statics.
    """
    columns, rows = _places(table, holds)
    compliance = table.effect[np.ix_(rows, columns)]
    _refuse_rigid(compliance, holds)
    base, effect = table.base[rows], table.effect[rows]
    level = np.array([b if h.level is None else h.level for h, b in zip(holds, base, strict=True)])
    force: FloatArray = np.negative(np.linalg.solve(compliance, base - level))
    force_effect: FloatArray = np.negative(np.linalg.solve(compliance, effect))
    pull = table.effect[:, columns]
    moved = replace(
        table, base=table.base + pull @ force, effect=table.effect + pull @ force_effect
    )
    return Held(moved, force, force_effect)


def _places(table: InfluenceTable, holds: tuple[Hold, ...]) -> tuple[list[int], list[int]]:
    unknown = [h.name for h in holds if h.name not in table.units or h.name not in table.pointers]
    if unknown:
        raise BadInput(
            "a prop or stop needs a column and a pointer of its own in the influence table",
            where=table.state,
            found=", ".join(unknown),
            remedy="Bring the prop into the line as a constant with no load",
        )
    columns = [table.units.index(hold.name) for hold in holds]
    return columns, [table.loads_end + table.pointers.index(hold.name) for hold in holds]


def _refuse_rigid(compliance: FloatArray, holds: tuple[Hold, ...]) -> None:
    if len(holds) and np.linalg.cond(compliance) > 1e10:
        raise BadInput(
            "a prop or stop holds what cannot move, or two of them hold the same point",
            found=", ".join(hold.name for hold in holds),
        )


def with_holds(problem: PlanProblem, holds: tuple[Hold, ...]) -> PlanProblem:
    """Return the working states of a problem with holds in; other states are not judged then."""
    states = tuple(
        PlanState(held_table(state.table, holds).table, working=True)
        for state in problem.states
        if state.working
    )
    return replace(problem, states=states, targets=())


def hold_rows(problem: PlanProblem, holds: tuple[Hold, ...]) -> tuple[Row, ...]:
    """Return the limits of the holds themselves: a prop must not come loose, nor be overloaded.

    Source: statics, the force of each hold from `held_table`.
    """
    columns = columns_of(problem)
    return tuple(
        row
        for state in problem.states
        if state.working
        for row in _force_rows(held_table(state.table, holds), holds, columns)
    )


def _force_rows(held: Held, holds: tuple[Hold, ...], columns: Columns) -> list[Row]:
    rows = []
    for at, hold in enumerate(holds):
        label = Label(RowKind.HOLD, hold.name, "force", "N", held.table.state)
        start, effect = float(held.force[at]), held.force_effect[at]
        sides = [(1.0, hold.capacity), (-1.0, 0.0 if hold.one_way else hold.capacity)]
        for sign, limit in sides:
            if isfinite(limit):
                scale = max(limit or abs(start), 1.0)
                row = Row(label, sign * start, sign * effect, limit, scale)
                rows.append(worst_case(row, columns))
    return rows
