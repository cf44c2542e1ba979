"""Rows on settings, the same in every state: range, thread, required loads, shares on a beam."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from supports.calc.line.influence import FloatArray
from supports.calc.reset_plan.limits import Target, Trapeze, UnitLimits
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.rows import Label, Row, RowKind


def setting_rows(problem: PlanProblem) -> Iterator[Row]:
    """Yield the one-sided limits on set loads and steps."""
    for unit in problem.units:
        yield from _range(problem, unit)
        yield from _thread(problem, unit)
    for target in problem.targets:
        if not target.state:
            yield from _target(problem, target)
    for pair in problem.trapezes:
        yield from _beam(problem, pair, pair.tolerance, between=False)
        yield from _beam(problem, pair, pair.step_tolerance, between=True)


def _one(problem: PlanProblem, name: str) -> FloatArray:
    return np.array([float(column == name) for column in problem.columns])


def _range(problem: PlanProblem, unit: UnitLimits) -> Iterator[Row]:
    if unit.range is None or unit.name in problem.additions:
        return
    low, plate, high = unit.range
    effect, owner = _one(problem, unit.name), problem.columns.index(unit.name)
    ends = (("high end", 1.0, high, high - plate), ("low end", -1.0, -low, plate - low))
    for quantity, sign, limit, side in ends:
        label = Label(RowKind.RANGE, unit.name, quantity, "N")
        scale = max(side, 1e-3 * plate, 1.0)
        yield Row(label, sign * unit.setting, sign * effect, limit, scale, owner=owner)


def _thread(problem: PlanProblem, unit: UnitLimits) -> Iterator[Row]:
    if not unit.step:
        return
    effect, owner = _one(problem, unit.name) / unit.step, problem.columns.index(unit.name)
    ends = (("increasing", 1.0, unit.steps_up), ("decreasing", -1.0, unit.steps_down))
    for quantity, sign, steps in ends:
        if steps is not None and np.isfinite(steps):
            label = Label(RowKind.THREAD, unit.name, quantity, "steps")
            scale = max(float(steps), 1.0)
            yield Row(label, 0.0, sign * effect, steps, scale, owner=owner, counts=False)


def _target(problem: PlanProblem, target: Target) -> Iterator[Row]:
    now, effect = problem.by_name[target.name].setting, _one(problem, target.name)
    for sign in (1.0, -1.0):
        label = Label(RowKind.TARGET, target.name, "set load", "N")
        limit = sign * target.load + target.tolerance
        scale = max(target.tolerance, 1.0)
        yield Row(label, sign * now, sign * effect, limit, scale, counts=False)


def _beam(problem: PlanProblem, pair: Trapeze, tolerance: float, *, between: bool) -> Iterator[Row]:
    """Yield both sides of both shares: share = part of the pipe's load + half the beam.

    With pipe load W = F₁ + F₂ − B, share₁ = W b/(a + b) + B/2; limit |F₁ − share₁| ≤ t share₁.

    Source: statics, moments about each unit.
    """
    span = pair.to_first + pair.to_second
    both = _one(problem, pair.first) + _one(problem, pair.second)
    settings = [problem.by_name[name].setting for name in (pair.first, pair.second)]
    pipe, half = sum(settings) - pair.beam_weight, pair.beam_weight / 2.0
    parts = (pair.to_second / span, pair.to_first / span)
    for name, now, part in zip((pair.first, pair.second), settings, parts, strict=True):
        label = Label(RowKind.TRAPEZE, name, "set load against its share by moments", "N")
        share, growth = part * pipe + half, part * both
        scale = max(tolerance * abs(share), 1.0)
        for sign in (1.0, -1.0):
            edge = 1.0 + sign * tolerance
            base = sign * (now - edge * share)
            effect = sign * (_one(problem, name) - edge * growth)
            yield Row(
                label, base, effect, 0.0, scale, counts=False, final=not between, working=between
            )
