"""From the unknowns of a solved state to loads, pointers, nozzles and the proofs of balance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from supports.calc.line.contact import FREE, LOW, Settled
from supports.calc.line.frame import Frame
from supports.calc.line.loads import Loads, end_growth, node_growth
from supports.calc.line.mechanisms import node_motion
from supports.calc.line.restraints import (
    Anchor,
    Component,
    Constant,
    Guide,
    Rod,
    Six,
    Support,
    is_one_way,
    is_spring,
)
from supports.calc.line.results import LineResult, Standing, SupportResult
from supports.calc.line.states import State
from supports.calc.line.vectors import FloatArray


@dataclass(frozen=True, slots=True)
class Solution:
    """A solved state, still in unknowns; `row` is its place among the states of `loads`."""

    frame: Frame
    state: State
    loads: Loads
    row: int
    unknowns: FloatArray
    settled: Settled
    growth: FloatArray


def line_result(solution: Solution) -> LineResult:
    """Return all results of a solved state."""
    frame, settled = solution.frame, solution.settled
    ends = end_forces(solution)
    weight = float(solution.loads.total[solution.row])
    upward = float(settled.force @ frame.rows[:, 2])
    return LineResult(
        frame,
        solution.state,
        frame.line.theory,
        _supports(solution),
        _nozzles(frame, settled),
        _node_movements(solution),
        ends,
        weight,
        (upward - weight) / weight if weight else None,
        _unbalance(solution, ends),
        settled,
    )


def end_forces(solution: Solution) -> FloatArray:
    """Return force and moment on the end of each flexible part [N], [N·m], parts × 6.

    s = K (movement of the end seen from the start − free movement under weight and heat).
    """
    frame, loads, row = solution.frame, solution.loads, solution.row
    pieces = frame.pieces
    strain = np.einsum("nab,nb->na", frame.strain_at_end, solution.unknowns[frame.unknowns])
    strain -= loads.weight[row][:, None] * pieces.sag
    strain[:, :3] -= loads.strain[row][:, None] * pieces.reach
    strain[:, :3] += end_growth(frame, loads.body_strain[row : row + 1])[0]
    out: FloatArray = np.einsum("nab,nb->na", pieces.stiffness, strain)
    return out


def _node_movements(solution: Solution) -> FloatArray:
    out = node_motion(solution.frame, solution.unknowns)
    own = solution.loads.body_strain[solution.row][None, :]
    out[:, :3] += node_growth(solution.frame, own)[0]
    return out


def _unbalance(solution: Solution, ends: FloatArray) -> float:
    """Balance every body from the parts' end forces, which do not come from the band."""
    frame, loads, row = solution.frame, solution.loads, solution.row
    inner = -np.einsum("nab,na->nb", frame.strain_at_end, ends)
    inner[:, :6] += loads.weight[row][:, None] * frame.start_weight
    total: FloatArray = loads.on_bodies[:, row].copy()
    total += np.bincount(frame.unknowns.ravel(), inner.ravel(), frame.size)
    pushed = solution.settled.force[:, None] * frame.rows
    total += np.bincount(frame.row_unknowns.ravel(), pushed.ravel(), frame.size)
    largest = max(np.abs(ends).max(initial=0.0), np.abs(pushed).max(initial=0.0))
    return float(np.abs(total).max() / largest) if largest else 0.0


def _nozzles(frame: Frame, settled: Settled) -> dict[str, Six]:
    out = {anchor.name: [0.0] * 6 for anchor in frame.line.anchors}
    for component, force in zip(frame.components, settled.force, strict=True):
        if component.support in out:
            out[component.support][component.axis] = float(force)
    return {name: (a, b, c, d, e, f) for name, (a, b, c, d, e, f) in out.items()}


def _supports(solution: Solution) -> dict[str, SupportResult]:
    by_name = {s.name: s for s in solution.frame.line.supports if not isinstance(s, Anchor)}
    return {
        component.support: _support(solution, by_name[component.support], component, place)
        for place, component in enumerate(solution.frame.components)
        if component.support in by_name
    }


def _support(
    solution: Solution, support: Support, component: Component, place: int
) -> SupportResult:
    settled, state = solution.settled, solution.state
    load = float(settled.force[place])
    low, high = _band(support, load, state)
    return SupportResult(
        component.support,
        load,
        low,
        high,
        float(settled.movement[place] + solution.growth[place]),
        _standing(support, int(settled.status[place]), component.support in state.locked),
    )


def _band(support: Support, load: float, state: State) -> tuple[float | None, float | None]:
    """Return the load with the friction band of a constant that is free of its stop."""
    if not isinstance(support, Constant) or support.name in state.locked:
        return load, load
    if support.friction is None:
        return None, None
    half = support.friction * abs(state.settings.get(support.name, support.setting))
    return load - half, load + half


def _standing(support: Support, status: int, locked: bool) -> Standing:
    if locked:
        return Standing.LOCKED
    if is_spring(support):
        return {FREE: Standing.CARRIES, LOW: Standing.BOTTOM}.get(status, Standing.TOP)
    if is_one_way(support):
        loose = Standing.SLACK if isinstance(support, Rod) else Standing.LIFTED
        return loose if status == FREE else Standing.CARRIES
    gapped = isinstance(support, Guide) and status == FREE
    return Standing.FREE if gapped else Standing.HOLDS
