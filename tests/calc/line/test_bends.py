"""The arc element against chords, against hand formulae, and the flexibility factor."""

from dataclasses import replace
from itertools import pairwise
from math import cos, pi, sin, tan

import pytest

from supports.calc.line.bends import bend_flexibility
from supports.calc.line.line import Line
from supports.calc.line.parts import Bend, LumpedMass, Masses, Node, Part, Pipe, Section, Theory
from supports.calc.line.restraints import Anchor
from supports.calc.line.solver import solve
from supports.calc.line.states import State, added, cold
from tests.calc.line.example import G

WALL = Section(9.41e-3, 1.161e-4, 2.0e11, expansion=12e-6)
MASSES = Masses(146.0)
EI = WALL.modulus * WALL.second_moment
R = 0.4572


def lone_bend(angle: float, radius: float, flexibility: float | None = 1.0) -> Line:
    """One bend from an anchor: flat, starting along x, turning to the left."""
    reach = radius * tan(angle / 2)
    end = Node("B", radius * sin(angle), radius * (1 - cos(angle)), 0.0)
    corner = (reach, 0.0, 0.0)
    bend = Bend("b", "A", "B", corner, WALL, MASSES, 0.00953, 0.157135, flexibility)
    return Line(
        "bend", (Node("A", 0, 0, 0), end), (bend,), (Anchor("N", "A"),), theory=Theory.EULER
    )


def chords(angle: float, radius: float, count: int, flexibility: float = 1.0) -> Line:
    turn = [angle * i / count for i in range(count + 1)]
    nodes = [Node(f"C{i}", radius * sin(t), radius * (1 - cos(t)), 0) for i, t in enumerate(turn)]
    nodes[-1] = replace(nodes[-1], name="B")
    parts: tuple[Part, ...] = tuple(
        Pipe(f"p{i}", a.name, b.name, WALL, MASSES, flexibility)
        for i, (a, b) in enumerate(pairwise(nodes))
    )
    return Line("chords", tuple(nodes), parts, (Anchor("N", "C0"),), theory=Theory.EULER)


def tip(line: Line, force: float = 5000.0) -> tuple[float, ...]:
    load = added(cold(), LumpedMass("load", "B", force / G, (0.1, 0.2, 0.0)))
    return solve(line, [load])[0].movement("B")


def test_quarter_bend_by_hand() -> None:
    """A quarter of a ring, vertical load at its free end, no flexibility factor.

    Drop = P R³ [π/4 / EI + (3π/4 − 2) / GJ]: Castigliano, as in any text on curved bars.
    """
    p, radius = 1000.0, 3.0
    light = lone_bend(pi / 2, radius)
    bend = replace(light.parts[0], masses=Masses(0.0))
    result = solve(replace(light, parts=(bend,)), [added(cold(), LumpedMass("load", "B", p / G))])[
        0
    ]
    gj = 2 * WALL.shear_modulus * WALL.second_moment
    drop = p * radius**3 * (pi / 4 / EI + (3 * pi / 4 - 2) / gj)
    assert -result.movement("B")[2] == pytest.approx(drop, rel=1e-9)


@pytest.mark.parametrize("angle", [0.3, pi / 2, 2.6])
def test_many_chords_tend_to_the_arc(angle: float) -> None:
    """400 chords agree to the square of their length; weight and load act out of the plane.

    More chords come no nearer: rounding grows with the fourth power of their count, and differs
    from one processor to another.
    """
    exact, near = tip(lone_bend(angle, R)), tip(chords(angle, R, 400))
    assert near[2:5] == pytest.approx(exact[2:5], rel=1e-4)


@pytest.mark.parametrize(("count", "least", "most"), [(2, 0.003, 0.10), (4, 0.0005, 0.03)])
def test_few_chords_err(count: int, least: float, most: float) -> None:
    """A bend as a few chords is near, and not the same: the model must say which it is."""
    exact = tip(lone_bend(pi / 2, R))[2]
    error = abs(tip(chords(pi / 2, R, count))[2] / exact - 1.0)
    assert least < error < most


def test_factor_for_a_chord_as_given() -> None:
    """Chords with the factor of the bend tend to the bend with that factor."""
    exact, near = tip(lone_bend(pi / 2, R, 9.0)), tip(chords(pi / 2, R, 400, 9.0))
    assert near[2:5] == pytest.approx(exact[2:5], rel=1e-4)


def test_flexibility_factor() -> None:
    """DN 300 standard wall, R = 1.5 D: h = t R / r² = 0.1765, 1.65 / h = 9.35 (by hand)."""
    assert bend_flexibility(0.00953, 0.4572, 0.157135) == pytest.approx(9.350, abs=0.001)
    assert bend_flexibility(0.05, 2.0, 0.1) == 1.0
    own = tip(lone_bend(pi / 2, R, None))
    assert own == pytest.approx(tip(lone_bend(pi / 2, R, 9.3504)), rel=1e-5)


def test_mass_lies_on_the_arc() -> None:
    """Weight = w R π/2; centre of gravity 2R/π from the centre on both axes."""
    line = lone_bend(pi / 2, 1.0)
    result = solve(line, [cold()])[0]
    weight = MASSES.metal * G * pi / 2
    assert result.weight == pytest.approx(weight, rel=1e-12)
    six = result.nozzles["N"]
    assert -six[4] == pytest.approx(weight * 2 / pi, rel=1e-9)
    assert six[3] == pytest.approx(weight * (1 - 2 / pi), rel=1e-9)


def test_free_growth_of_a_bend() -> None:
    hot = State("hot", temperature=393.15)
    line = lone_bend(pi / 2, 1.0)
    light = replace(line, parts=(replace(line.parts[0], masses=Masses(0.0)),))
    moved = solve(light, [hot])[0].movement("B")
    assert moved == pytest.approx((1.2e-3, 1.2e-3, 0, 0, 0, 0), abs=1e-12)
