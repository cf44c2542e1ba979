"""Random lines of the line solver, invented: straight runs with offsets, springs, rods, nozzles."""

from itertools import pairwise
from math import inf

import numpy as np

from supports.calc.line.band import Factored
from supports.calc.line.line import Line
from supports.calc.line.parts import LumpedMass, Masses, Node, Pipe, Section
from supports.calc.line.restraints import Anchor, Constant, NozzleLimits, Rod, Support, Variable
from supports.calc.line.solver import factored_line, solve_states
from supports.calc.line.states import State, cold, planned
from supports.calc.reset_plan.limits import NozzleCheck, SupportLimits, UnitLimits
from supports.calc.reset_plan.line_resolve import LineResolve, states_of_line
from supports.calc.reset_plan.problem import PlanProblem

PIPE = Section(0.0124, 1.6e-4, 2.0e11, 0.3, 12e-6)
"""About DN 300, from memory; any stiff pipe will do."""

SPAN = 5.0
COLD, HOT = "cold", "operating"


def line_of(units: int, seed: int) -> Line:
    """Return a line of `units` springs, a rod behind every third, turning at every sixth span."""
    dice = np.random.default_rng(seed)
    at, ahead, nodes = np.zeros(3), np.array([1.0, 0.0, 0.0]), [Node("N0", 0.0, 0.0, 0.0)]
    supports: list[Support] = [Anchor("first", "N0")]
    count = 0
    for number in range(1, 2 * units + units // 3 + 2):
        at = at + ahead * SPAN / 2.0 * dice.uniform(0.9, 1.1)
        nodes.append(Node(f"N{number}", *map(float, at)))
        if number % 2 == 0 and count < units:
            name, node, count = f"U{count:03d}", f"N{number}", count + 1
            kind = dice.random() < 0.7
            supports.append(
                Constant(name, node, 9e3, 0.03) if kind else Variable(name, node, 9e3, 6e4)
            )
        elif number % 6 == 5 and number < 2 * units:
            supports.append(Rod(f"R{number}", f"N{number}", stiffness=3e7))
        if number % 12 == 0:
            ahead = np.array([-ahead[1], ahead[0], 0.0]) * dice.choice([-1.0, 1.0])
    supports.append(Anchor("last", nodes[-1].name))
    masses = Masses(110.0, 20.0, {"water": 40.0})
    parts = tuple(
        Pipe(f"P{i}", a.name, b.name, PIPE, masses) for i, (a, b) in enumerate(pairwise(nodes))
    )
    return Line("random", tuple(nodes), parts, tuple(supports))


def balanced(system: Factored) -> dict[str, float]:
    """Return settings [N] that hold the line near its level: each load with the spring locked."""
    springs = {spring.name: 0.0 for spring in system.frame.line.springs}
    (held,) = solve_states(system, [State("held", locked=springs)])
    return {name: max(held.supports[name].load, 3e3) for name in springs}


def problem_of(
    units: int, seed: int, hung: float = 700.0, room: float = 1.4
) -> tuple[PlanProblem, LineResolve, Factored]:
    """Return a problem: `hung` [kg] on three places, nozzles allowed `room` times a settled level.

    Two states, cold and operating; both nozzles with six components.
    """
    line = line_of(units, seed)
    system = factored_line(line)
    settings = balanced(system)
    dice = np.random.default_rng(seed + 1)
    places = dice.choice(np.arange(3, 2 * units), size=3, replace=False)
    masses = [LumpedMass(f"valve {p}", f"N{p}", hung / 3.0) for p in places]
    base = planned(cold(), settings, "settled")
    now = State(COLD, base.contents, settings=settings, extra_masses=tuple(masses))
    hot = State(HOT, "water", 330.0, settings=settings, extra_masses=tuple(masses))
    states, resolve = states_of_line(system, (now, hot), (COLD,))
    limits = nozzle_limits(system, [base, now, hot], room)
    return (
        PlanProblem(
            states,
            tuple(unit_of(name, setting) for name, setting in settings.items()),
            tuple(SupportLimits(s.name, high=6e4) for s in line.supports if isinstance(s, Rod)),
            limits,
        ),
        resolve,
        system,
    )


def unit_of(name: str, setting: float) -> UnitLimits:
    """Return a unit at its nameplate load, ±20 %, about 1.2 % of it a turn."""
    plate = setting
    return UnitLimits(
        name, setting, plate * 0.002, 6, plate * 0.8, plate, plate * 1.2, inf, inf, 0.0
    )


def nozzle_limits(system: Factored, states: list[State], room: float) -> tuple[NozzleCheck, ...]:
    """Return limits between the settled line and the loaded one, so that something must be done."""
    settled, *loaded = solve_states(system, states)
    out = []
    for name in settled.nozzles:
        least = np.abs(settled.nozzles[name])
        worst = np.max([np.abs(one.nozzles[name]) for one in loaded], axis=0)
        limit = np.maximum(np.maximum(least * room, worst * 0.85), [2e3] * 3 + [2e3] * 3)
        free = tuple(float(x) if i in {2, 3, 4} else None for i, x in enumerate(limit))
        out.append(NozzleCheck(name, NozzleLimits(free)))
    return tuple(out)
