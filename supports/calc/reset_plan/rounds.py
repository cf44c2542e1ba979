"""Write an order down: steps, rounds, readings after each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from supports.calc.line.influence import FloatArray, what_if
from supports.calc.reset_plan.field import WHOLE, Field
from supports.calc.reset_plan.holds import with_holds
from supports.calc.reset_plan.judge import NOTHING_USED, Use
from supports.calc.reset_plan.lattice import FREE, WITH_HOLDS, Path
from supports.calc.reset_plan.limits import Hold
from supports.calc.reset_plan.problem import PlanProblem, PlanState
from supports.calc.reset_plan.rows import columns_of
from supports.calc.reset_plan.sequence import Reading, Round, Safety, Sequence, Step, StepKind


@dataclass(frozen=True, slots=True)
class Way:
    """An order as found, with the field it was found on."""

    field: Field
    path: Path
    bound: float
    proved: bool
    parts: int
    holds: tuple[Hold, ...]


def written_down(problem: PlanProblem, way: Way) -> Sequence:
    """Turn an order into steps, rounds and readings."""
    steps = tuple(_steps(problem, way))
    rounds = tuple(
        _round(problem, way, number, part) for number, part in enumerate(_rounds(steps), start=1)
    )
    nothing = (0,) * len(way.field.movers)
    start = way.field.worst(FREE, nothing)
    worst = max((step.worst for step in steps), key=lambda use: use.share, default=start)
    names = tuple(hold.name for hold in way.holds)
    return Sequence(
        _safety(start, worst, held=bool(names)),
        rounds,
        start,
        worst,
        way.bound,
        way.proved,
        way.parts,
        names,
    )


def _safety(start: Use, worst: Use, *, held: bool) -> Safety:
    if not worst.passes:
        return Safety.UNSAFE
    if held:
        return Safety.PROP
    return Safety.SAFE if start.passes else Safety.START


def _steps(problem: PlanProblem, way: Way) -> Iterator[Step]:
    levels = [0] * len(way.field.movers)
    for hold in way.holds:
        worst = way.field.worst(WITH_HOLDS, tuple(levels))
        yield _hold_step(StepKind.PUT_IN, hold.name, worst, tuple(levels), WITH_HOLDS)
    for mode, mover, count in _merged(way):
        if mover < 0:
            worst = way.field.worst(FREE, tuple(levels))
            for hold in way.holds:
                yield _hold_step(StepKind.TAKE_OUT, hold.name, worst, tuple(levels), FREE)
        elif way.field.movers[mover].paired:
            yield from _both(problem, way.field, mode, mover, levels)
        else:
            yield _turn(problem, way.field, mode, mover, levels, count)


def _merged(way: Way) -> Iterator[tuple[int, int, int]]:
    """Yield mode, mover and levels at a time; staying at a unit is one step, a beam's is not."""
    moves = list(way.path.moves)
    while moves:
        mode, mover = moves[0]
        count = 1
        single = mover >= 0 and not way.field.movers[mover].paired
        while single and moves[count : count + 1] == [(mode, mover)]:
            count += 1
        yield mode, mover, count
        del moves[:count]


def _hold_step(kind: StepKind, name: str, worst: Use, levels: tuple[int, ...], mode: int) -> Step:
    return Step(kind, name, 0, 0.0, None, worst, levels, WHOLE, mode)


def _turn(
    problem: PlanProblem, field: Field, mode: int, mover: int, levels: list[int], count: int
) -> Step:
    """Turn one unit up by `count` levels; the worst on the way is that of any level passed."""
    start = levels[mover]
    uses = []
    for level in range(start + 1, start + count + 1):
        levels[mover] = level
        uses.append(field.worst(mode, tuple(levels)))
    worst = max(uses, key=lambda use: use.share)
    return _unit_step(problem, field, mode, (mover, 0, start), levels, WHOLE, worst)


def _both(
    problem: PlanProblem, field: Field, mode: int, mover: int, levels: list[int]
) -> Iterator[Step]:
    """Turn a beam's two units by one level, one after the other."""
    start = levels[mover]
    levels[mover] += 1
    for unit, half in ((0, mover), (1, WHOLE)):
        worst = field.worst(mode, tuple(levels), half)
        yield _unit_step(problem, field, mode, (mover, unit, start), levels, half, worst)


def _unit_step(
    problem: PlanProblem,
    field: Field,
    mode: int,
    turned: tuple[int, int, int],
    levels: list[int],
    half: int,
    worst: Use,
) -> Step:
    number, place, start = turned
    mover = field.movers[number]
    unit = problem.by_name[mover.names[place]]
    steps = int(mover.levels[levels[number], place] - mover.levels[start, place])
    setting = unit.setting + float(mover.changes[levels[number], place])
    turns = steps / unit.steps_per_turn
    return Step(StepKind.TURN, unit.name, steps, turns, setting, worst, tuple(levels), half, mode)


def _rounds(steps: tuple[Step, ...]) -> list[tuple[Step, ...]]:
    """Begin a new round when a unit would be visited again, and after props and stops."""
    out: list[list[Step]] = []
    for step in steps:
        seen = {one.name for one in out[-1]} if out else set()
        same_kind = bool(out) and (out[-1][-1].kind is step.kind)
        if out and same_kind and step.name not in seen:
            out[-1].append(step)
        else:
            out.append([step])
    return [tuple(part) for part in out]


def _round(problem: PlanProblem, way: Way, number: int, steps: tuple[Step, ...]) -> Round:
    last = steps[-1]
    held = with_holds(problem, way.holds) if last.mode == WITH_HOLDS else problem
    changes = way.field.changes(np.array([last.levels], dtype=np.int64), last.half)[0]
    turned = {step.name for step in steps if step.kind is StepKind.TURN}
    readings = tuple(
        reading
        for state in held.states
        if state.working
        for reading in _readings(held, state, changes, turned)
    )
    worst = max((step.worst for step in steps), key=lambda use: use.share, default=NOTHING_USED)
    return Round(number, steps, worst, readings)


def _readings(
    problem: PlanProblem, state: PlanState, changes: FloatArray, turned: set[str]
) -> Iterator[Reading]:
    """Yield what every support shows: load ± friction, setting, pointer."""
    table, columns = state.table, columns_of(problem)
    shown = what_if(table, changes)
    band = np.abs(table.effect) @ ((columns.setting + changes) * columns.friction)
    settings = dict(zip(table.units, columns.setting + changes, strict=True))
    pointers = dict(zip(table.pointers, shown.pointers, strict=True))
    for at, name in enumerate(table.supports):
        load, half = float(shown.loads[at]), float(band[at])
        setting = float(settings[name]) if name in problem.by_name else None
        pointer = float(pointers[name]) if name in pointers else None
        yield Reading(
            state.name, name, load, load - half, load + half, setting, pointer, name in turned
        )
