"""Required loads of springs, by an aim that the engineer chooses and that is recorded.

Three reasonable aims give three different sets of loads for the same added weight, and with them
different verdicts on a unit's range. There is no default.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from supports.calc.line.aims import Aim
from supports.calc.line.band import Factored
from supports.calc.line.influence import InfluenceTable
from supports.calc.line.influence_of_line import influence_table
from supports.calc.line.results import LineResult
from supports.calc.line.solver import solve_states
from supports.calc.line.states import State, planned
from supports.calc.line.vectors import FloatArray
from supports.errors import BadInput, NoConvergence
from supports.sentences import Sentence, joined

_ROUNDS = 20
_SETTLED = 1e-9


@dataclass(frozen=True, slots=True)
class RequiredLoads:
    """Set loads that serve an aim, and the line with them.

    Parameters
    ----------
    settings
        Set load [N] of each adjustable spring: what its scale must show at the model's level for a
        variable, at any level for a constant.
    changes
        The same less the present setting [N].
    missed
        What is left of the aim: nozzle force [N] or moment divided by the arm [N], or 0; for the
        level aim the largest distance from the level [m].
    """

    aim: Aim
    settings: Mapping[str, float]
    changes: Mapping[str, float]
    result: LineResult
    missed: float


@dataclass(frozen=True, slots=True)
class Wish:
    """An aim with what it needs to be reached.

    Parameters
    ----------
    adjustable
        Springs that may be re-set; the others act as they are.
    levels
        Pointer [m] of the level aim; absent is 0, the level of the model.
    nozzles
        Nozzles that count; empty means all.
    components
        Which of Fx to Mz (0 to 5) count.
    arm
        Length [m] that makes a moment comparable with a force.
    """

    aim: Aim
    adjustable: tuple[str, ...]
    levels: Mapping[str, float] | None = None
    nozzles: tuple[str, ...] = ()
    components: tuple[int, ...] = (0, 1, 2, 3, 4, 5)
    arm: float = 1.0


def required_loads(
    system: Factored, state: State, wish: Wish, reference: LineResult | None = None
) -> RequiredLoads:
    """Return the set loads that serve `wish` in `state` (screening calculation).

    Parameters
    ----------
    system
        The factored line.
    state
        The state in which the aim must be met, with present settings.
    reference
        For the aim of least change: the state whose nozzle loads are to be kept.

    Raises
    ------
    BadInput
        A spring is not on the line, or the aim of least change has no reference.
    NoConvergence
        Supports keep lifting and landing.

    Source: level: reactions of rigid supports put in place of the springs; nozzle: least squares on
    the influence table, repeated until no support changes its status.
    """
    present = _present(system, state, wish.adjustable)
    if wish.aim is Aim.KEEP:
        found, missed = present, 0.0
    elif wish.aim is Aim.LEVEL:
        found, missed = _level(system, state, wish), 0.0
    else:
        found, missed = _by_nozzle(system, state, wish, _target(system, wish, reference))
    after = solve_states(system, [planned(state, found)])[0]
    if wish.aim is Aim.LEVEL:
        missed = _off_level(after, wish)
    changes = {name: found[name] - present[name] for name in found}
    return RequiredLoads(wish.aim, found, changes, after, missed)


def _present(system: Factored, state: State, names: Sequence[str]) -> dict[str, float]:
    springs = {spring.name: spring for spring in system.frame.line.springs}
    absent = [name for name in names if name not in springs]
    if absent or not names:
        raise BadInput(
            "the springs that may be re-set must be springs of the line",
            where=Sentence("line {line}", line=system.frame.line.name),
            found=joined(absent, ", ") or "none named",
            expected=Sentence("one or more of {names}", names=joined(springs, ", ")),
        )
    return {name: state.settings.get(name, springs[name].setting) for name in names}


def _level(system: Factored, state: State, wish: Wish) -> dict[str, float]:
    """Hold the adjustable springs at their levels, read what they carry, and undo the rate."""
    at = {name: (wish.levels or {}).get(name, 0.0) for name in wish.adjustable}
    held = replace(state, locked={**state.locked, **at})
    result = solve_states(system, [held])[0]
    rate = {c.support: c.rate for c in system.frame.components}
    return {name: result.supports[name].load + rate[name] * at[name] for name in at}


def _off_level(after: LineResult, wish: Wish) -> float:
    levels = wish.levels or {}
    off = [after.supports[name].movement - levels.get(name, 0.0) for name in wish.adjustable]
    return max(map(abs, off))


def _target(system: Factored, wish: Wish, reference: LineResult | None) -> FloatArray:
    names = _counted(system, wish)
    if wish.aim is Aim.NOZZLE_FREE:
        return np.zeros((len(names), 6))
    if reference is None:
        raise BadInput(
            "the aim of least change needs the state whose nozzle loads are to be kept",
            where=Sentence("line {line}", line=system.frame.line.name),
        )
    return np.array([reference.nozzles[name] for name in names])


def _counted(system: Factored, wish: Wish) -> tuple[str, ...]:
    every = tuple(anchor.name for anchor in system.frame.line.anchors)
    unknown = [name for name in wish.nozzles if name not in every]
    if unknown or not every:
        raise BadInput(
            "an aim at nozzles needs nozzles of the line",
            where=Sentence("line {line}", line=system.frame.line.name),
            found=joined(unknown, ", ") or "a line without nozzles",
            expected=joined(every, ", "),
        )
    return wish.nozzles or every


def _by_nozzle(
    system: Factored, state: State, wish: Wish, target: FloatArray
) -> tuple[dict[str, float], float]:
    """Least squares on the influence table, again after each lift-off, until nothing changes."""
    now = _present(system, state, wish.adjustable)
    for _ in range(_ROUNDS):
        result = solve_states(system, [planned(state, now)])[0]
        table = influence_table(system, result)
        matrix, gap = _nozzle_system(table, wish, target)
        step = np.linalg.lstsq(matrix, gap, rcond=1e-10)[0]
        scale = max(result.weight, float(np.abs(list(now.values())).max()))
        if np.abs(step).max(initial=0.0) <= _SETTLED * scale:
            return now, float(np.abs(gap).max(initial=0.0))
        now = {name: now[name] + float(d) for name, d in zip(now, step, strict=True)}
    raise NoConvergence(
        "the required loads do not settle, as supports keep lifting and landing",
        where=Sentence("line {line}, {name}", line=system.frame.line.name, name=state.name),
        remedy="Choose other springs, or the aim of the level",
    )


def _nozzle_system(
    table: InfluenceTable, wish: Wish, target: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return the least-squares matrix [1] and what is to be gained [N], moments over the arm."""
    names = wish.nozzles or table.nozzles
    rows = [table.nozzles.index(name) for name in names]
    columns = [table.units.index(name) for name in wish.adjustable]
    counted = list(wish.components)
    size = np.array([1.0, 1.0, 1.0, wish.arm, wish.arm, wish.arm])[counted]
    effect = table.nozzle_effect[np.ix_(rows, counted, columns)] / size[:, None]
    present = table.nozzle_base[np.ix_(rows, counted)]
    gap = (target[:, counted] - present) / size
    return effect.reshape(-1, len(columns)), gap.ravel()
