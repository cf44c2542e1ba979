"""Find the order of a re-set in which the worst moment on the way is least bad."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from itertools import combinations

import numpy as np

from supports.calc.reset_plan.field import Field, Spot
from supports.calc.reset_plan.holds import hold_rows, with_holds
from supports.calc.reset_plan.judge import Judge, working_judge
from supports.calc.reset_plan.lattice import FREE, WITH_HOLDS, Path, lattice_of, safest_path
from supports.calc.reset_plan.limits import Hold
from supports.calc.reset_plan.movers import Mover, movers_of
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.results import UnitPlan
from supports.calc.reset_plan.rounds import Way, written_down
from supports.calc.reset_plan.rows import stacked
from supports.calc.reset_plan.sequence import Safety, Sequence
from supports.calc.reset_plan.staying import least_worst, staying_path
from supports.errors import BadInput


@dataclass(frozen=True, slots=True)
class OrderWish:
    """How to look for an order.

    Parameters
    ----------
    parts, many_parts
        Parts into which each unit's turns are cut: for an exact search (as many of them as the
        search can bear), and for the search among many units.
    states
        Most part-done states that the exact search looks at.
    comfort
        Uses up to this [1] count as equally good, so that fewer visits are made.
    holds
        Props and stops that may be used where no order is safe without.
    """

    parts: int = 3
    many_parts: int = 6
    states: int = 20_000
    comfort: float = 0.0
    holds: tuple[Hold, ...] = ()


@dataclass(frozen=True, slots=True)
class Known:
    """Uses [1] by the full solve of part-done states, for one set of holds and one cutting."""

    holds: tuple[str, ...] = ()
    parts: int = 0
    uses: Mapping[Spot, float] = field(default_factory=dict)


def order_reset(
    problem: PlanProblem,
    units: tuple[UnitPlan, ...],
    wish: OrderWish | None = None,
    known: Iterable[Known] = (),
) -> Sequence:
    """Order the turns so that the worst use of any limit on the way is as small as it can be.

    Exact over thirds, halves or whole units, whichever the number of units allows; beyond that by
    staying at a unit while it is safe, with the gap to a bound. If no order is safe, single props
    and stops are tried, then two, then all of them. A line that is past a limit before the first
    turn is ordered by whole units, the first of which must bring it back.

    Parameters
    ----------
    problem
        Working states and limits [N], [m], [N·m].
    units
        What each unit gets, from a plan.
    wish
        How to look.
    known
        Part-done states whose use [1] the full solve found.

    Returns
    -------
    Sequence
        Steps, rounds and readings [N], [m]; `safety` says whether any limit is passed [1].

    Notes
    -----
    Between two states all results change in proportion, so judging the states judges the way.
    Source: superposition; bottleneck shortest path.
    """
    asked = wish or OrderWish()
    found = _ordered(problem, units, asked, (), known)
    if found.safety is Safety.SAFE:
        return found
    for holds in _hold_sets(asked.holds):
        tried = _ordered(problem, units, asked, holds, known)
        if tried.safety is Safety.PROP:
            return tried
    return found


def _hold_sets(holds: tuple[Hold, ...]) -> Iterable[tuple[Hold, ...]]:
    """Yield single holds, the least work first, then pairs, then all."""
    sets = [one for size in (1, 2) for one in combinations(holds, size)]
    sets += [holds] if len(holds) > 2 else []
    return sorted(sets, key=lambda some: (len(some), sum(hold.hours for hold in some)))


def _ordered(
    problem: PlanProblem,
    units: tuple[UnitPlan, ...],
    wish: OrderWish,
    holds: tuple[Hold, ...],
    known: Iterable[Known],
) -> Sequence:
    names = tuple(hold.name for hold in holds)
    free = working_judge(problem)
    overloaded = not holds and not free.worst(np.zeros(len(problem.columns))).passes
    parts, exact = _parts(problem, units, replace(wish, parts=1) if overloaded else wish)
    uses = {
        spot: use
        for one in known
        if (one.holds, one.parts) == (names, parts)
        for spot, use in one.uses.items()
    }
    ground = Field(
        movers_of(problem, units, parts),
        len(problem.columns),
        free,
        judge_with(problem, holds) if holds else None,
        uses,
    )
    path, bound = _path(ground, wish, exact=exact, held=bool(holds))
    proved = exact or path.worst <= bound * (1.0 + 1e-9)
    return written_down(problem, Way(ground, path, bound, proved, parts, holds))


def _path(ground: Field, wish: OrderWish, *, exact: bool, held: bool) -> tuple[Path, float]:
    """Return the order and the bound on its worst use [1]."""
    if not ground.movers:
        return Path(((FREE, -1),) if held else (), least_worst(ground, FREE)), 0.0
    if exact:
        lattice = lattice_of(tuple(mover.top for mover in ground.movers))
        path = safest_path(lattice, ground.on(lattice), wish.comfort, held=held)
        return path, path.worst
    bound = least_worst(ground, WITH_HOLDS if held else FREE)
    return staying_path(ground, wish.comfort, held=held), bound


def _parts(problem: PlanProblem, units: tuple[UnitPlan, ...], wish: OrderWish) -> tuple[int, bool]:
    """Return the finest cutting that the exact search can bear; else that for many units."""
    for parts in range(wish.parts, 0, -1):
        if _states(movers_of(problem, units, parts)) <= wish.states:
            return parts, True
    return wish.many_parts, False


def _states(movers: tuple[Mover, ...]) -> int:
    out = 1
    for mover in movers:
        out *= mover.top + 1
    return out


def judge_with(problem: PlanProblem, holds: tuple[Hold, ...]) -> Judge:
    """Return the limits that hold between the steps while `holds` are in, theirs included."""
    if not holds:
        return working_judge(problem)
    judge = working_judge(with_holds(problem, holds))
    rows = (*judge.lines.rows, *hold_rows(problem, holds))
    return Judge(stacked(rows, len(problem.columns)), judge.norms)


def judge_order(
    problem: PlanProblem, units: tuple[UnitPlan, ...], names: tuple[str, ...]
) -> Sequence:
    """Judge a given order, each unit turned at once: why one order is refused, another taken.

    Parameters
    ----------
    names
        Units in the order of turning; a beam's two units count as one, under either name.

    Returns
    -------
    Sequence
        Its steps with the limit used most after each [1].

    Raises
    ------
    BadInput
        The order does not name each unit of the plan once.

    Notes
    -----
    Source: superposition.
    """
    movers = movers_of(problem, units, 1)
    ground = Field(movers, len(problem.columns), working_judge(problem))
    place = {name: number for number, mover in enumerate(movers) for name in mover.names}
    order = tuple(dict.fromkeys(place.get(name, -1) for name in names))
    if sorted(order) != list(range(len(movers))):
        raise BadInput(
            "an order must name each unit of the plan once",
            found=", ".join(names),
            expected=", ".join(place),
        )
    moves = tuple((FREE, mover) for mover in order for _ in range(movers[mover].top))
    return written_down(
        problem, Way(ground, Path(moves, 0.0), 0.0, proved=False, parts=1, holds=())
    )
