"""Laws that every line obeys, on random lines: balance, reciprocity, superposition, symmetry."""

from dataclasses import replace
from math import cos, inf, sin

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from supports.calc.line.hot_and_cold import cold_settings
from supports.calc.line.influence import what_if
from supports.calc.line.influence_of_line import influence_table
from supports.calc.line.line import Line
from supports.calc.line.parts import (
    Bend,
    LumpedMass,
    Masses,
    Node,
    Part,
    Pipe,
    RigidPart,
    Section,
    Theory,
)
from supports.calc.line.restraints import Anchor, Constant, Guide, Rest, Rod, Support, Variable
from supports.calc.line.solver import factored_line, solve, solve_states
from supports.calc.line.states import State, added, cold, operating, planned
from supports.errors import NotFound

WALL = Section(0.0094, 1.16e-4, 2.0e11, expansion=12e-6)
MASSES = Masses(75.0, 20.0, {"water": 70.0})
QUICK = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
seeds = st.integers(0, 10_000)


def random_line(seed: int, *, one_way: bool = True) -> Line:
    """Two runs with a bend between, a rigid valve, a branch and every kind of support."""
    rng = np.random.default_rng(seed)
    a, b, c = rng.uniform(1.0, 3.0, 3)
    x, y = float(5 * a + 1.5), float(4 * b)
    nodes = [Node(f"A{i}", float(i * a), 0.0, 0.0) for i in range(6)]
    nodes += [Node("E", x, 1.5, 0.0)]
    nodes += [Node(f"B{i}", x, float(1.5 + i * b), 0.0) for i in range(1, 5)]
    nodes += [Node("V", x, float(y + 2.3), 0.0), Node("T", x, float(y + 2.3), float(c))]
    nodes += [Node("Z", float(2 * a), float(-c), float(c / 2))]
    straight = [(f"A{i}", f"A{i + 1}") for i in range(5)]
    straight += [("E", "B1"), ("B1", "B2"), ("B2", "B3"), ("B3", "B4"), ("V", "T"), ("A2", "Z")]
    parts: list[Part] = [Pipe(f"{s}-{e}", s, e, WALL, MASSES) for s, e in straight]
    parts.append(Bend("bend", "A5", "E", (x, 0.0, 0.0), WALL, MASSES, 0.0095, 0.157))
    parts.append(RigidPart("valve", "B4", "V", 300.0, (0.1, 0.0, 0.4), 12e-6))
    rest = Rest("rest", "B2", stiffness=1e9) if one_way else Variable("rest", "B2", 0.0, 1e9)
    rod = Rod("rod", "A3", stiffness=3e7) if one_way else Variable("rod", "A3", 0.0, 3e7)
    supports: tuple[Support, ...] = (
        Anchor("N1", "A0"),
        Anchor("N2", "T", (1e8, 1e8, 1e8, 1e7, 1e7, 1e7)),
        Constant("C1", "A4", float(rng.uniform(2e3, 9e3)), 0.05),
        Variable("V1", "B1", float(rng.uniform(2e3, 9e3)), 8e4),
        Variable("V2", "Z", 1e3, 5e4, offset=(0.0, 0.2, 0.3)),
        Guide("guide", "B3", (1.0, 0.0, 0.0)),
        rest,
        rod,
    )
    lump = LumpedMass("flange", "A1", 80.0, (0.0, 0.3, 0.0))
    theory = Theory.TIMOSHENKO if seed % 2 else Theory.EULER
    return Line(f"L{seed}", tuple(nodes), tuple(parts), supports, (lump,), theory)


STATES = (cold(), cold("water"), operating("water", 520.0, {"N1": (0.004, -0.002, 0.01, 0, 0, 0)}))


@QUICK
@given(seeds)
def test_every_state_balances(seed: int) -> None:
    for result in solve(random_line(seed), STATES):
        assert result.equilibrium < 1e-8
        assert abs(result.closure or 0.0) < 1e-9
        assert result.complementarity < 1e-8
        force = result.solved.settled.trial.force[result.row]
        shifts = [c for c in result.frame.components if not c.turning]
        pushes = [f for c, f in zip(result.frame.components, force, strict=True) if not c.turning]
        total = np.array(pushes) @ np.array([c.direction for c in shifts])
        assert total[:2] == pytest.approx([0.0, 0.0], abs=1e-8 * result.weight + 1e-3)
        assert total[2] == pytest.approx(result.weight, rel=1e-9)


@QUICK
@given(seeds)
def test_maxwell(seed: int) -> None:
    """The pointer of A per newton at B equals the pointer of B per newton at A (Maxwell)."""
    system = factored_line(random_line(seed))
    table = influence_table(system, solve_states(system, [cold("water")])[0])
    rows = [table.pointers.index(unit) for unit in table.units]
    square = table.pointer_effect[rows]
    assert np.abs(square - square.T).max() < 1e-9 * np.abs(square).max()


@QUICK
@given(seeds, st.floats(-2e3, 2e3), st.floats(-2e3, 2e3))
def test_superposition_and_influence(seed: int, first: float, second: float) -> None:
    """Linear supports: the table's answer is that of a fresh solution."""
    line = random_line(seed, one_way=False)
    system = factored_line(line)
    base = solve_states(system, [cold("water")])[0]
    table = influence_table(system, base)
    settings_now = {s.name: s.setting for s in line.springs}
    changes = {"C1": first, "V2": second}
    after = planned(cold("water"), {n: settings_now[n] + d for n, d in changes.items()})
    fresh = solve_states(system, [after])[0]
    predicted = what_if(table, table.changes(changes))
    assert predicted.loads == pytest.approx(
        [s.load for n, s in fresh.supports.items() if n != "guide"], abs=1e-5
    )
    assert predicted.nozzles[1] == pytest.approx(fresh.nozzles["N2"], abs=1e-5)


@QUICK
@given(seeds, st.floats(0.1, 6.2))
def test_turned_about_the_vertical(seed: int, angle: float) -> None:
    """A line turned on the plan carries the same."""
    line = random_line(seed)
    c, s = cos(angle), sin(angle)

    def turned(v: tuple[float, float, float]) -> tuple[float, float, float]:
        return (c * v[0] - s * v[1], s * v[0] + c * v[1], v[2])

    same_carried(line, moved(line, turned))


@QUICK
@given(seeds)
def test_mirrored(seed: int) -> None:
    line = random_line(seed)
    same_carried(line, moved(line, lambda v: (v[0], -v[1], v[2])))


def moved(line: Line, to) -> Line:
    nodes = tuple(Node(n.name, *to((n.x, n.y, n.z))) for n in line.nodes)
    parts = tuple(
        replace(p, corner=to(p.corner))
        if isinstance(p, Bend)
        else (replace(p, offset=to(p.offset)) if isinstance(p, RigidPart) else p)
        for p in line.parts
    )
    supports = tuple(
        replace(s, direction=to(s.direction))
        if isinstance(s, Guide)
        else (s if isinstance(s, Anchor) else replace(s, offset=to(s.offset)))
        for s in line.supports
    )
    masses = tuple(replace(m, offset=to(m.offset)) for m in line.masses)
    return replace(line, nodes=nodes, parts=parts, supports=supports, masses=masses)


def same_carried(line: Line, other: Line) -> None:
    states = (*STATES[:2], State("hot", "water", 520.0))
    for ours, theirs in zip(solve(line, states), solve(other, states), strict=True):
        scale = 1e-7 * ours.weight
        for name, support in ours.supports.items():
            assert theirs.supports[name].load == pytest.approx(support.load, abs=scale)
        for name in ("N1", "N2"):
            assert theirs.nozzles[name][2] == pytest.approx(ours.nozzles[name][2], abs=scale)
            a, b = np.array(ours.nozzles[name]), np.array(theirs.nozzles[name])
            assert np.linalg.norm(a[3:]) == pytest.approx(np.linalg.norm(b[3:]), abs=scale)


@QUICK
@given(seeds, st.floats(0.01, 100.0))
def test_scaled_units(seed: int, factor: float) -> None:
    """Moduli, masses, settings and rates times a factor: loads scale, movements stay."""
    line = random_line(seed)
    wall = replace(WALL, modulus=WALL.modulus * factor)
    masses = Masses(75.0 * factor, 20.0 * factor, {"water": 70.0 * factor})
    parts = tuple(
        replace(p, mass=p.mass * factor)
        if isinstance(p, RigidPart)
        else replace(p, section=wall, masses=masses)
        for p in line.parts
    )
    lumps = tuple(replace(m, mass=m.mass * factor) for m in line.masses)
    supports = tuple(scaled(s, factor) for s in line.supports)
    big = replace(line, parts=parts, supports=supports, masses=lumps)
    for ours, theirs in zip(solve(line, STATES), solve(big, STATES), strict=True):
        for name, support in ours.supports.items():
            other = theirs.supports[name]
            assert other.load / factor == pytest.approx(support.load, abs=1e-6 * ours.weight)
            assert other.movement == pytest.approx(support.movement, abs=1e-8)


def scaled(support: Support, factor: float) -> Support:
    match support:
        case Anchor():
            stiff = tuple(k if k == inf else k * factor for k in support.stiffness)
            return replace(support, stiffness=stiff)
        case Constant():
            return replace(support, setting=support.setting * factor)
        case Variable():
            new = {"setting": support.setting * factor, "rate": support.rate * factor}
            return replace(support, **new)
    return replace(support, stiffness=support.stiffness * factor)


@QUICK
@given(seeds)
def test_cold_is_hot_plus_rate_times_travel(seed: int) -> None:
    """With cold = hot + k × travel the operating run must reproduce the travel run."""
    line = random_line(seed, one_way=False)
    hot = {"C1": 5e3, "V1": 4e3, "V2": 2e3}
    found = cold_settings(line, STATES[2], hot)
    assert found.difference < 1e-10
    for name, force in hot.items():
        assert found.result.supports[name].load == pytest.approx(
            force, abs=1e-6 * found.result.weight
        )
    assert found.settings["V1"] == pytest.approx(4e3 + 8e4 * found.travel["V1"], rel=1e-12)
    assert found.settings["C1"] == 5e3
    with pytest.raises(NotFound, match="guide"):
        cold_settings(line, STATES[2], {"guide": 1.0})


@QUICK
@given(seeds, st.floats(50.0, 5e3))
def test_added_weight_is_carried_whole(seed: int, mass: float) -> None:
    line = random_line(seed)
    before, after = solve(line, [cold(), added(cold(), LumpedMass("new", "B3", mass))])
    up = sum(s.load for n, s in after.supports.items() if n != "guide")
    up += sum(six[2] for six in after.nozzles.values())
    assert after.weight - before.weight == pytest.approx(9.80665 * mass, rel=1e-12)
    assert up == pytest.approx(after.weight, rel=1e-9)
    assert after.supports["C1"].load == pytest.approx(before.supports["C1"].load, rel=1e-9)
