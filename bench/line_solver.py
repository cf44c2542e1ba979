"""Screening statics of a line: ratios against references, measured in one run.

Run ``python -m bench.line_solver``. References: PyNiteFEA on the same model, SciPy's sparse LU on
the same matrices, a fresh solution against a what-if. Ratios, not seconds, are held to budgets:
both sides then feel the same machine. Best of several runs, so that a busy machine does not decide.
All movements and forces are worked out, as the references do.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

import numpy as np
from Pynite import FEModel3D
from scipy.sparse import csc_array, diags_array
from scipy.sparse.linalg import splu

from supports.calc.line.band import Factored, factored
from supports.calc.line.frame import frame_of
from supports.calc.line.influence import what_if
from supports.calc.line.influence_of_line import influence_table
from supports.calc.line.line import Line
from supports.calc.line.loads import loads_of
from supports.calc.line.parts import Masses, Node, Pipe, Section, Theory
from supports.calc.line.restraints import Anchor, Constant, Rest, Rod, Support, Variable
from supports.calc.line.results import LineResult
from supports.calc.line.solver import solve, solve_states
from supports.calc.line.states import State, cold, planned

SECTION = Section(0.0094, 1.16e-4, 2.0e11, expansion=12e-6)
MASSES = Masses(75.0, 20.0, {"water": 70.0, "oil": 55.0})
STATES = (cold(), cold("water"), cold("oil"))
G = 9.80665

AT_LEAST_FASTER_THAN_PYNITE = 100.0
AT_MOST_TIMES_SPARSE_LU = 3.0
AT_LEAST_WHAT_IF_CHEAPER = 200.0
AT_MOST_GROWTH = 200.0
"""Linear growth is 100, quadratic 10,000; the large line leaves the processor's cache."""

PLANT = 2_000


def random_line(seed: int, nodes: int = 60, supports: int = 10) -> Line:
    """Return straight runs with an anchor at each end and `supports` between them.

    Runs go east, north, east, up or down and never back, so that no two pipes touch: the reference
    program joins members that pass through a node.
    """
    rng = np.random.default_rng(seed)
    steps = np.zeros((nodes - 1, 3))
    for number, first in enumerate(range(0, nodes - 1, 8)):
        run, axis = steps[first : first + 8], (0, 1, 0, 2)[number % 4]
        sign = float(rng.choice([-1.0, 1.0])) if axis == 2 else 1.0
        run[:, axis] = sign * rng.uniform(1.0, 2.0, len(run))
    xyz = np.vstack([np.zeros(3), np.cumsum(steps, axis=0)])
    names = [f"N{i}" for i in range(nodes)]
    places = np.linspace(3, nodes - 4, supports).astype(int)
    held = [_support(j, names[place]) for j, place in enumerate(places)]
    return Line(
        f"L{seed}",
        tuple(Node(n, *map(float, p)) for n, p in zip(names, xyz, strict=True)),
        tuple(Pipe(f"P{i}", names[i], names[i + 1], SECTION, MASSES) for i in range(nodes - 1)),
        (Anchor("A", names[0]), Anchor("B", names[-1]), *held),
        theory=Theory.EULER,
    )


def _support(order: int, node: str) -> Support:
    name = f"S{node}"
    kinds: tuple[Support, ...] = (
        Constant(name, node, 9e3, 0.05),
        Variable(name, node, 9e3, 8e4),
        Rod(name, node, stiffness=3e7),
        Rest(name, node, stiffness=1e8),
    )
    return kinds[order % len(kinds)]


def in_pynite(line: Line) -> FEModel3D:
    """Build the same line in PyNiteFEA: one-way springs, one load combination a state."""
    model = FEModel3D()
    model.add_material("pipe", SECTION.modulus, SECTION.shear_modulus, SECTION.poisson, 0.0)
    second = SECTION.second_moment
    model.add_section("pipe", SECTION.area, second, second, 2.0 * second)
    for node in line.nodes:
        model.add_node(node.name, node.x, node.y, node.z)
    weights = {s.name: G * (95.0 + MASSES.contents.get(s.contents, 0.0)) for s in STATES}
    for part in line.parts:
        model.add_member(part.name, part.start, part.end, "pipe", "pipe")
        for case, weight in weights.items():
            model.add_member_dist_load(part.name, "FZ", -weight, -weight, case=case)
    for support in line.supports:
        _hold(model, support, tuple(weights))
    for case in weights:
        model.add_load_combo(case, {case: 1.0})
    return model


def _hold(model: FEModel3D, support: Support, cases: tuple[str, ...]) -> None:
    match support:
        case Anchor():
            model.def_support(support.node, *(True,) * 6)
        case Constant() | Variable():
            for case in cases:
                model.add_node_load(support.node, "FZ", support.setting, case=case)
            if isinstance(support, Variable):
                model.def_support_spring(support.node, "DZ", support.rate)
        case Rod() | Rest():
            model.def_support_spring(support.node, "DZ", support.stiffness, "-")


def best(work: Callable[[], Any], times: int) -> float:
    """Return the shortest of several runs [s]."""
    out = []
    for _ in range(times):
        begin = time.perf_counter()
        work()
        out.append(time.perf_counter() - begin)
    return min(out)


def against_pynite(seed: int) -> tuple[float, float, float]:
    """Return how often quicker we are: solved, read and solved; and the largest disagreement.

    The two sides take turns, so that a busy machine slows both; the middle of the turns counts.
    """
    line = random_line(seed)
    frame = frame_of(line)
    ratios = []
    for _ in range(7):
        model = in_pynite(line)
        theirs = best(model.analyze, 1)
        solved = best(lambda: solve_states(factored(frame), STATES)[0].node_movements, 20)
        whole = best(lambda: solve(line, STATES)[0].node_movements, 20)
        ratios.append((theirs / solved, theirs / whole))
    middle = np.median(ratios, axis=0)
    return float(middle[0]), float(middle[1]), _apart(solve(line, STATES), model)


def _apart(results: tuple[LineResult, ...], model: FEModel3D) -> float:
    """Return the largest difference of a vertical movement as a share of the largest movement."""
    out = 0.0
    for result in results:
        name = result.state.name
        theirs = np.array([model.nodes[n.name].DZ[name] for n in result.frame.line.nodes])
        gap = np.abs(theirs - result.node_movements[:, 2]).max()
        out = max(out, float(gap / np.abs(theirs).max()))
    return out


def sparse_of(system: Factored) -> csc_array:
    """Return the factored matrix, ground springs and all, as SciPy would be handed it."""
    width, size = system.band.shape
    below = [system.band[k, : size - k] for k in range(width)]
    lower = diags_array(below, offsets=[-k for k in range(width)], format="csc")
    return csc_array(lower @ lower.T)


def against_sparse_lu() -> tuple[float, float]:
    """Return our seconds for a plant, and their ratio to bare SciPy's, line by line in turn."""
    ours = theirs = 0.0
    for seed in range(PLANT):
        line = random_line(seed)
        system = factored(frame_of(line))
        matrix, loads = sparse_of(system), loads_of(system.frame, STATES).on_unknowns
        begin = time.perf_counter()
        assert solve(line, STATES)[0].node_movements.size
        middle = time.perf_counter()
        splu(matrix).solve(loads)
        theirs += time.perf_counter() - middle
        ours += middle - begin
    return ours, ours / theirs


def what_if_cheaper() -> float:
    """Return how often cheaper a what-if is than a fresh solution of one state."""
    line = random_line(3)
    system = factored(frame_of(line))
    table = influence_table(system, solve_states(system, STATES[:1])[0])
    changes = table.changes({table.units[0]: 500.0})
    setting = line.springs[0].setting + 500.0
    state: State = planned(STATES[0], {table.units[0]: setting})
    cheap = best(lambda: [what_if(table, changes) for _ in range(1000)], 5) / 1000
    return best(lambda: solve(line, [state]), 40) / cheap


def growth() -> tuple[float, float]:
    """Return how the time grows from 60 to 6,000 nodes, and the balance left at 6,000."""
    small, large = random_line(5), random_line(5, nodes=6_000)
    turns = [
        best(lambda: solve(large, STATES), 1) / best(lambda: solve(small, STATES), 10)
        for _ in range(7)
    ]
    return float(np.median(turns)), max(result.equilibrium for result in solve(large, STATES))


def main() -> None:
    """Print the ratios and hold them to their budgets."""
    solved, whole, apart = against_pynite(1)
    print(f"PyNiteFEA / ours, three states: {solved:.0f} (with reading the line {whole:.0f})")
    print(f"  largest difference of a movement: {apart:.1e}")
    seconds, ratio = against_sparse_lu()
    print(f"{PLANT} lines, three states: {seconds:.2f} s, {ratio:.2f} times bare sparse LU")
    cheaper = what_if_cheaper()
    print(f"what-if cheaper than a fresh solution: {cheaper:.0f} times")
    grown, left = growth()
    print(f"60 to 6,000 nodes: {grown:.0f} times the time; unbalance left {left:.1e}")
    assert solved >= AT_LEAST_FASTER_THAN_PYNITE
    assert apart < 1e-6
    assert ratio <= AT_MOST_TIMES_SPARSE_LU
    assert cheaper >= AT_LEAST_WHAT_IF_CHEAPER
    assert grown <= AT_MOST_GROWTH


if __name__ == "__main__":
    main()
