"""Continuous and single-span beams and the horizontal L-bend against closed forms.

Continuous equal spans: reactions and support moments as any handbook of beam formulae tabulates
them (as fractions). Single spans and the guided cantilever: the same tables, from memory. L-bend:
unit-load method by hand, checked with an independent 12 × 12 frame solution. Closed forms are held
to 1e-9, both ways.
"""

from fractions import Fraction
from math import inf

import numpy as np
import pytest

from supports.calc.line.line import Line
from supports.calc.line.parts import LumpedMass, Masses, Node, Pipe, Section, Theory
from supports.calc.line.restraints import Anchor, Guide, Support
from supports.calc.line.results import LineResult
from supports.calc.line.solver import solve
from supports.calc.line.states import State, added, cold
from supports.verification.beams import SPANS
from tests.calc.line.example import STIFF, G, held, spine, straight

EI = STIFF.modulus * STIFF.second_moment
W, L = 1500.0, 6.0
EXACT = 1e-9


def point_load(node: str, newtons: float) -> State:
    return added(cold(), LumpedMass("load", node, newtons / G))


def loads(result: LineResult) -> list[float]:
    return [s.load for s in result.supports.values()]


@pytest.mark.parametrize("spans", SPANS)
def test_continuous_equal_spans(spans: int) -> None:
    places = tuple(i * L for i in range(spans + 1))
    supports = tuple(held(f"S{i}", f"N{x:g}") for i, x in enumerate(places))
    line = straight(places, (spine("N0"), *supports), newton_per_metre=W)
    result = solve(line, [cold()])[0]
    reactions, moments = SPANS[spans]
    assert loads(result) == pytest.approx([Fraction(r) * W * L for r in reactions], rel=EXACT)
    bending = np.abs(result.end_forces[:-1, 4])
    assert bending == pytest.approx([Fraction(m) * W * L**2 for m in moments], rel=EXACT)


@pytest.mark.parametrize(
    ("spans", "coefficient", "place"),
    [(2, 0.0703, 0.375), (3, 0.080, 0.400), (4, 0.0772, 0.393), (5, 0.0779, 0.395)],
)
def test_largest_sagging_moment_of_the_end_span(
    spans: int, coefficient: float, place: float
) -> None:
    """Printed to three figures: half a unit of the last digit."""
    places = (0.0, place * L, *(i * L for i in range(1, spans + 1)))
    supports = tuple(held(f"S{i}", f"N{i * L:g}") for i in range(spans + 1))
    line = straight(places, (spine("N0"), *supports), newton_per_metre=W)
    result = solve(line, [cold()])[0]
    assert abs(result.end_forces[0, 4]) / (W * L**2) == pytest.approx(coefficient, abs=6e-5)


def single(supports: tuple[Support, ...], places: tuple[float, ...], w: float = W) -> Line:
    return straight(places, supports, newton_per_metre=w)


def test_simply_supported() -> None:
    line = single((spine("N0"), held("A", "N0"), held("B", "N6")), (0, 3, 6))
    result = solve(line, [cold()])[0]
    assert loads(result) == pytest.approx([W * L / 2] * 2, rel=EXACT)
    assert -result.movement("N3")[2] == pytest.approx(5 * W * L**4 / (384 * EI), rel=EXACT)
    assert abs(result.end_forces[0, 4]) == pytest.approx(W * L**2 / 8, rel=EXACT)


def test_two_supports_with_a_point_load() -> None:
    """A published check: P = 10 at 17 and 3 from supports 20 apart gives 1.5 and 8.5."""
    line = single((spine("N0"), held("A", "N0"), held("B", "N20")), (0, 17, 20), 0.0)
    result = solve(line, [point_load("N17", 10.0)])[0]
    assert loads(result) == pytest.approx([1.5, 8.5], rel=EXACT)


def test_propped_cantilever() -> None:
    line = single((Anchor("A", "N0"), held("B", "N6")), (0, 2, 3, 6))
    result = solve(line, [cold()])[0]
    assert loads(result) == pytest.approx([3 / 8 * W * L], rel=EXACT)
    assert result.nozzles["A"][2] == pytest.approx(5 / 8 * W * L, rel=EXACT)
    assert -result.nozzles["A"][4] == pytest.approx(W * L**2 / 8, rel=EXACT)
    bare = single((Anchor("A", "N0"), held("B", "N6")), (0, 2, 3, 6), 0.0)
    middle = solve(bare, [point_load("N3", 8e3)])[0]
    assert loads(middle) == pytest.approx([5 / 16 * 8e3], rel=EXACT)
    assert -middle.nozzles["A"][4] == pytest.approx(3 / 16 * 8e3 * L, rel=EXACT)
    off = solve(bare, [point_load("N2", 8e3)])[0]
    assert loads(off) == pytest.approx([8e3 * 4 * (3 * L - 2) / (2 * L**3)], rel=EXACT)


def test_fixed_at_both_ends() -> None:
    anchors = (Anchor("A", "N0"), Anchor("B", "N6"))
    result = solve(single(anchors, (0, 3, 6)), [cold()])[0]
    assert result.nozzles["A"][2] == pytest.approx(W * L / 2, rel=EXACT)
    assert -result.nozzles["A"][4] == pytest.approx(W * L**2 / 12, rel=EXACT)
    assert -result.movement("N3")[2] == pytest.approx(W * L**4 / (384 * EI), rel=EXACT)
    p, a, b = 8e3, 2.0, 4.0
    result = solve(single(anchors, (0, 2, 6), 0.0), [point_load("N2", p)])[0]
    assert result.nozzles["A"][2] == pytest.approx(p * b**2 * (3 * a + b) / L**3, rel=EXACT)
    assert -result.nozzles["A"][4] == pytest.approx(p * a * b**2 / L**2, rel=EXACT)


def test_overhang() -> None:
    c = 2.0
    line = single((spine("N0"), held("A", "N0"), held("B", "N6")), (0, 6, 8))
    right = W * (L + c) ** 2 / (2 * L)
    left = W * (L**2 - c**2) / (2 * L)
    assert loads(solve(line, [cold()])[0]) == pytest.approx([left, right], rel=EXACT)
    bare = single((spine("N0"), held("A", "N0"), held("B", "N6")), (0, 6, 8), 0.0)
    tip = solve(bare, [point_load("N8", 900.0)])[0]
    assert loads(tip) == pytest.approx([-900 * c / L, 900 * (L + c) / L], rel=EXACT)


def test_cantilever_and_its_shear() -> None:
    line = single((Anchor("A", "N0"),), (0, 6))
    assert -solve(line, [cold()])[0].movement("N6")[2] == pytest.approx(
        W * L**4 / (8 * EI), rel=EXACT
    )
    soft = straight((0, 6), (Anchor("A", "N0"),), newton_per_metre=W, theory=Theory.TIMOSHENKO)
    shear = W * L**2 / (2 * 0.5 * STIFF.shear_modulus * STIFF.area)
    assert -solve(soft, [cold()])[0].movement("N6")[2] == pytest.approx(
        W * L**4 / (8 * EI) + shear, rel=EXACT
    )


def test_guided_cantilever() -> None:
    """F = 12 E I d / L³, M = 6 E I d / L²."""
    d = 0.02
    line = single((Anchor("A", "N0"), Anchor("B", "N6")), (0, 6), 0.0)
    moved = State("moved", movements={"B": (0, 0, d, 0, 0, 0)})
    six = solve(line, [moved])[0].nozzles["B"]
    assert six[2] == pytest.approx(12 * EI * d / L**3, rel=EXACT)
    assert abs(six[4]) == pytest.approx(6 * EI * d / L**2, rel=EXACT)


def test_fully_restrained_growth() -> None:
    """A published lecture: 6 in Schedule 40, 10 ft, 70 to 250 °F: 0.14 in, or 195,893 lb.

    A = 5.581 in², α = 6.5e-6 per °F, E = 30e6 psi; in pounds and inches throughout.
    """
    warm = Section(5.581, 28.1, 30e6, expansion=6.5e-6)
    free = straight((0, 120), (Anchor("A", "N0"),), section=warm)
    hot = State("hot", temperature=free.installed_at + 180.0)
    assert solve(free, [hot])[0].movement("N120")[0] == pytest.approx(0.1404, rel=1e-12)
    both = straight((0, 120), (Anchor("A", "N0"), Anchor("B", "N120")), section=warm)
    assert solve(both, [hot])[0].nozzles["A"][0] == pytest.approx(195_893, abs=0.5)


def l_bend(a: float, b: float, *ends: Support) -> Line:
    nodes = (Node("A", 0, 0, 0), Node("C", a, 0, 0), Node("E", a, b, 0))
    masses = Masses(W / G)
    legs = (Pipe("a", "A", "C", STIFF, masses), Pipe("b", "C", "E", STIFF, masses))
    return Line("L", nodes, legs, (Anchor("A", "A"), *ends), theory=Theory.EULER)


def tip_drop(a: float, b: float) -> float:
    return W / EI * (a**4 / 8 + a**3 * b / 3 + b**4 / 8 + 1.3 * a * b**3 / 2)


@pytest.mark.parametrize(("a", "b"), [(4.0, 4.0), (5.0, 2.0), (1.0, 7.0)])
def test_horizontal_l_bend_out_of_plane(a: float, b: float) -> None:
    result = solve(l_bend(a, b), [cold()])[0]
    assert -result.movement("E")[2] == pytest.approx(tip_drop(a, b), rel=EXACT)
    six = result.nozzles["A"]
    assert six[2] == pytest.approx(W * (a + b), rel=EXACT)
    assert abs(six[3]) == pytest.approx(W * b**2 / 2, rel=EXACT)
    assert abs(six[4]) == pytest.approx(W * (a**2 / 2 + a * b), rel=EXACT)


@pytest.mark.parametrize(("a", "b"), [(4.0, 4.0), (5.0, 2.0), (1.0, 7.0)])
def test_horizontal_l_bend_with_a_prop(a: float, b: float) -> None:
    result = solve(l_bend(a, b, held("prop", "E")), [cold()])[0]
    per_newton = ((a**3 + b**3) / 3 + 1.3 * a * b**2) / EI
    assert loads(result) == pytest.approx([tip_drop(a, b) / per_newton], rel=EXACT)
    if a == b:
        assert loads(result) == pytest.approx([37 / 59 * W * a], rel=EXACT)


def test_inclined_restraint() -> None:
    """A strut at 45° at the end of a cantilever: its force from two compliances by hand."""
    p = 1000.0
    strut = Guide("strut", "N6", (1.0, 0.0, 1.0))
    line = single((Anchor("A", "N0"), strut), (0, 6), 0.0)
    result = solve(line, [point_load("N6", p)])[0]
    bend, stretch = L**3 / (3 * EI), L / (STIFF.modulus * STIFF.area)
    expected = p * bend * 2**0.5 / (bend + stretch)
    assert loads(result) == pytest.approx([expected], rel=EXACT)


def test_anchor_of_finite_stiffness() -> None:
    """A cantilever on a turning spring: tip = P L³/3EI + P L²/k."""
    p, k = 1000.0, 5e6
    anchor = Anchor("A", "N0", (inf, inf, inf, inf, k, inf))
    result = solve(single((anchor,), (0, 6), 0.0), [point_load("N6", p)])[0]
    assert -result.movement("N6")[2] == pytest.approx(p * L**3 / (3 * EI) + p * L**2 / k, rel=EXACT)
