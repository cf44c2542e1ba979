"""One run of the integer optimiser, with tangents to resultant rules added until all are kept."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np
from scipy import sparse
from scipy.optimize import Bounds, LinearConstraint, milp

from supports.calc.line.influence import FloatArray
from supports.calc.reset_plan.effort import Effort, Goal
from supports.calc.reset_plan.judge import Judge
from supports.calc.reset_plan.norms import Norm
from supports.calc.reset_plan.program import Program
from supports.calc.reset_plan.rows import BoolArray, Label, Row, RowKind, Rows, stacked

TANGENT_TOLERANCE = 5e-6
"""Passing of a resultant rule [1] below which no further tangent is added."""

USE_TOLERANCE = 1e-4
"""The same while the worst use itself is made small [1]."""

MOVES = 1e-6
"""Use [1] by which all turns together must change a limit before it counts as changed at all."""


@dataclass(frozen=True, slots=True)
class Run:
    """What one run is asked for.

    Parameters
    ----------
    use_cap, cost_cap
        Largest use of a counted limit [1] and largest cost that earlier goals allow.
    kinds
        Limits whose use is counted; None counts all.
    """

    goal: Goal
    use_cap: float = 1.0
    cost_cap: float = np.inf
    kinds: frozenset[RowKind] | None = None

    def counted(self, rows: Rows, program: Program) -> BoolArray:
        """Return which rows count towards the worst use: those chosen that a turn can change.

        A tangent always does, even where it is level.
        """
        chosen = [self.chooses(row.label) for row in rows.rows]
        tangent = [row.label.kind is RowKind.NOZZLE and row.at < 0 for row in rows.rows]
        slope, _ = on_steps(program, rows)
        moves = (np.abs(slope) * (program.high - program.low)).sum(axis=1) > MOVES
        moves |= np.array(tangent, dtype=np.bool_)
        out: BoolArray = rows.counts & np.array(chosen, dtype=np.bool_) & moves
        return out

    def chooses(self, label: Label) -> bool:
        """Return whether limits of this kind count."""
        return self.kinds is None or label.kind in self.kinds

    def watched(self, judge: Judge, program: Program) -> tuple[Norm, ...]:
        """Return the rules on resultants that count: those chosen that a turn can change."""
        reach = np.zeros(program.width)
        reach[program.column] = program.step * (program.high - program.low)
        return tuple(
            norm
            for norm in judge.norms
            if self.chooses(norm.label) and norm.most_change(reach) > MOVES
        )


@dataclass(frozen=True, slots=True)
class Answer:
    """Steps found (None: none), the bound on the goal, and whether the optimiser was content."""

    steps: FloatArray | None
    bound: float
    proved: bool
    impossible: bool = False


@dataclass(frozen=True, slots=True)
class _Layout:
    """Variables in order: steps n, touched z, groups g, sizes of steps t, worst use u."""

    units: int
    groups: int

    @property
    def n(self) -> slice:
        return slice(0, self.units)

    @property
    def z(self) -> slice:
        return slice(self.units, 2 * self.units)

    @property
    def g(self) -> slice:
        return slice(2 * self.units, 2 * self.units + self.groups)

    @property
    def t(self) -> slice:
        return slice(2 * self.units + self.groups, 3 * self.units + self.groups)

    @property
    def u(self) -> int:
        return 3 * self.units + self.groups

    @property
    def all(self) -> int:
        return self.u + 1


@dataclass(frozen=True, slots=True)
class Block:
    """Rows of the program: matrix × variables ≤ upper."""

    matrix: FloatArray
    upper: FloatArray


def optimise(program: Program, judge: Judge, run: Run, effort: Effort, pool: list[Row]) -> Answer:
    """Solve for one goal; tangents found are kept in `pool` for the next goals.

    Each tangent is met by every point that keeps the rule, so the bound stays a bound.

    Source: outer approximation of convex rules by tangents (Kelley's cutting planes, 1960).
    """
    answer = Answer(None, -np.inf, proved=False)
    for _ in range(effort.tangents):
        lines = stacked((*judge.lines.rows, *pool), program.width)
        answer, worst = _once(program, lines, run, effort)
        if answer.steps is None:
            return answer
        changes = program.changes(answer.steps)
        passed = _passed(program, judge, run, worst, changes)
        if not passed:
            return answer
        pool.extend(passed)
    return replace(answer, steps=None, proved=False)


def _passed(
    program: Program, judge: Judge, run: Run, worst: float, changes: FloatArray
) -> list[Row]:
    """Return tangents to the rules that are used more than the optimiser believed."""
    watched = {norm.label for norm in run.watched(judge, program)}
    margin = TANGENT_TOLERANCE if run.goal is not Goal.USE else USE_TOLERANCE
    out = []
    for norm in judge.norms:
        counts = norm.label in watched
        if float(norm.use(changes)) > (worst if counts else 1.0) + margin:
            out.append(replace(norm.tangent(changes), counts=counts))
    return out


def _once(program: Program, rows: Rows, run: Run, effort: Effort) -> tuple[Answer, float]:
    """Run the optimiser once; return its answer and the worst use that it allows [1]."""
    layout = _Layout(program.size, len(program.group_cost))
    if not program.size:
        return _nothing_to_turn(rows), run.use_cap
    blocks = [*_ties(program, layout), *_limits(program, layout, rows, run)]
    blocks += _goals(program, layout, run)
    found = run_milp(_objective(program, layout, run), blocks, _bounds(program, layout), effort)
    if found.values is None:
        return Answer(None, found.bound, found.proved, found.impossible), run.use_cap
    worst = float(found.values[layout.u]) if run.goal is Goal.USE else run.use_cap
    return Answer(np.round(found.values[layout.n]), found.bound, found.proved), worst


def _nothing_to_turn(rows: Rows) -> Answer:
    uses = rows.uses(np.zeros(rows.effect.shape[1]))
    kept = bool(np.all(uses <= 1.0 + TANGENT_TOLERANCE))
    return Answer(np.zeros(0) if kept else None, 0.0, proved=True, impossible=not kept)


@dataclass(frozen=True, slots=True)
class Found:
    """What the optimiser returned: values of all variables, or None; the bound; how it ended."""

    values: FloatArray | None
    bound: float
    proved: bool
    impossible: bool


def run_milp(
    objective: FloatArray, blocks: Iterable[Block], bounds: tuple[FloatArray, ...], effort: Effort
) -> Found:
    """Hand a program to the optimiser; `bounds` are low, high and whether a variable is whole."""
    kept = tuple(blocks)
    matrix = sparse.csc_array(np.vstack([block.matrix for block in kept]))
    upper = np.concatenate([block.upper for block in kept])
    low, high, whole = bounds
    result = milp(
        objective,
        constraints=LinearConstraint(matrix, -np.inf, upper),
        bounds=Bounds(low, high),
        integrality=whole,
        options={"time_limit": effort.seconds, "mip_rel_gap": effort.gap},
    )
    bound = getattr(result, "mip_dual_bound", None)
    values = None if result.x is None else np.asarray(result.x, dtype=np.float64)
    return Found(
        values,
        -np.inf if bound is None else float(bound),
        proved=result.status in {0, 2},
        impossible=result.status == 2,
    )


def wide(layout_size: int, parts: Mapping[int, FloatArray], height: int) -> FloatArray:
    """Return a matrix of `height` rows with parts put in at their first columns."""
    out = np.zeros((height, layout_size))
    for first, part in parts.items():
        out[:, first : first + part.shape[1]] = part
    return out


def _ties(program: Program, layout: _Layout) -> list[Block]:
    """Return: steps only where touched, groups open, beams both or none."""
    size, eye = layout.units, np.eye(layout.units)
    z = layout.z.start
    nothing = np.zeros(size)
    blocks = [
        Block(wide(layout.all, {0: eye, z: -np.diag(program.high)}, size), nothing),
        Block(wide(layout.all, {0: -eye, z: np.diag(program.low)}, size), nothing),
    ]
    grouped = np.flatnonzero(program.group >= 0)
    opened = -np.eye(layout.groups)[program.group[grouped]]
    parts = {z: eye[grouped], layout.g.start: opened}
    blocks.append(Block(wide(layout.all, parts, len(grouped)), np.zeros(len(grouped))))
    for one, other in program.tied:
        partner = eye[other] if other >= 0 else nothing
        both = np.array([eye[one] - partner, partner - eye[one]])
        blocks.append(Block(wide(layout.all, {z: both}, 2), np.zeros(2)))
    return blocks


def _limits(program: Program, layout: _Layout, rows: Rows, run: Run) -> list[Block]:
    """Return the limits; a counted one must also stay below the worst use u, or its cap."""
    slope, room = on_steps(program, rows)
    counted = run.counted(rows, program)
    most = np.maximum(slope * program.low, slope * program.high).sum(axis=1)
    cap = np.where(counted, np.minimum(run.use_cap, 1.0), 1.0)
    allowed = room + cap - 1.0
    hard = most > allowed
    blocks = [Block(wide(layout.all, {0: slope[hard]}, int(hard.sum())), allowed[hard])]
    if run.goal is Goal.USE and counted.any():
        least = np.minimum(slope * program.low, slope * program.high).sum(axis=1) - room
        free = counted & (most - room > least[counted].max())
        down = np.full((int(free.sum()), 1), -1.0)
        parts = {0: slope[free], layout.u: down}
        blocks.append(Block(wide(layout.all, parts, int(free.sum())), room[free] - 1.0))
        floor = np.array([[-1.0]])
        blocks.append(
            Block(wide(layout.all, {layout.u: floor}, 1), np.array([-1.0 - least[counted].max()]))
        )
    return blocks


def on_steps(program: Program, rows: Rows) -> tuple[FloatArray, FloatArray]:
    """Return use per step [1] of every row and unit, and the use left at the present settings."""
    slope = rows.effect[:, program.column] * program.step / rows.scale[:, None]
    return slope, (rows.limit - rows.base) / rows.scale


def _goals(program: Program, layout: _Layout, run: Run) -> list[Block]:
    blocks = []
    if np.isfinite(run.cost_cap):
        parts = {layout.z.start: program.cost[None], layout.g.start: program.group_cost[None]}
        blocks.append(Block(wide(layout.all, parts, 1), np.array([run.cost_cap])))
    if run.goal is Goal.TURNS:
        eye, size = np.eye(layout.units), layout.units
        for sign in (1.0, -1.0):
            parts = {0: sign * eye, layout.t.start: -eye}
            blocks.append(Block(wide(layout.all, parts, size), np.zeros(size)))
    return blocks


def _objective(program: Program, layout: _Layout, run: Run) -> FloatArray:
    out = np.zeros(layout.all)
    if run.goal is Goal.COST:
        out[layout.z], out[layout.g] = program.cost, program.group_cost
    elif run.goal is Goal.USE:
        out[layout.u] = 1.0
    else:
        out[layout.t] = program.turns
    return out


def _bounds(program: Program, layout: _Layout) -> tuple[FloatArray, ...]:
    low, high = np.zeros(layout.all), np.ones(layout.all)
    whole = np.ones(layout.all)
    low[layout.n], high[layout.n] = program.low, program.high
    high[layout.t], whole[layout.t] = np.inf, 0.0
    high[layout.u], whole[layout.u] = np.inf, 0.0
    return low, high, whole
