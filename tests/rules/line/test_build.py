"""A route of the register becomes a line whose loads can be worked out by hand.

Closed forms: equilibrium of a cantilever (statics), the propped cantilever R = 3 w L / 8 (any table
of beam formulae, from memory), geometry of the circle. Nothing here comes from this program.
"""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt

import pytest

from supports.calc.line.parts import Bend
from supports.calc.line.restraints import Guide
from supports.calc.line.solver import solve_states
from supports.errors import CannotCalculate, NotReady
from supports.rules.line.build import built_line
from supports.rules.line.screening import common_states, ready_line
from supports.snapshots import RouteElementView, RouteEndView, RouteNodeView
from supports.vocabulary import EndKind, InService, RoutePiece, SupportKind
from tests.rules.line.routes import MASS, G, constant, line, point, straight_route

W = MASS * G


def present(route):
    """Return the operating state of a route."""
    ready = ready_line(route)
    return solve_states(ready.system, [ready.present])[0]


def test_a_cantilever_on_a_constant_is_in_balance():
    result = present(straight_route(0, 4, 10, supports=(constant("C1", 4, 3000.0),)))
    force, moment = result.nozzles["N1"][2], result.nozzles["N1"][4]
    assert force == pytest.approx(W * 10 - 3000.0, rel=1e-9)
    # A load that pulls down at +x turns about +y; the nozzle gives the opposite.
    assert moment == pytest.approx(-(W * 10 * 5 - 3000.0 * 4), rel=1e-9)


def test_a_propped_cantilever_leaves_three_eighths_at_the_rest():
    rest = point("R1", SupportKind.REST, 20)
    result = present(straight_route(0, 20, supports=(rest,)))
    assert result.supports["R1"].load == pytest.approx(3 / 8 * W * 20, rel=0.005)


def test_the_weight_is_that_of_pipe_and_content_by_state():
    ready = ready_line(straight_route(0, 10, supports=(constant("C1", 10, 3000.0),)))
    empty, full, operating, test = solve_states(ready.system, common_states(ready))
    water = pi / 4.0 * (0.3239 - 2 * 0.00953) ** 2 * 1000.0
    assert empty.weight == pytest.approx(80.0 * G * 10)
    assert full.weight == operating.weight == pytest.approx(100.0 * G * 10)
    assert test.weight == pytest.approx((80.0 + water) * G * 10, rel=0.005)  # density 998-1000


def test_a_piece_of_another_size_is_weighed_by_its_own_size():
    route = straight_route(0, 5, 10)
    small = replace(route.elements[1], outside_diameter=0.2191, wall=0.00818)
    built = built_line(replace(route, elements=(route.elements[0], small)))
    ring = pi / 4.0 * (0.2191**2 - (0.2191 - 2 * 0.00818) ** 2)
    first, second = (part.masses for part in built.line.parts)
    assert first.metal == 80.0
    assert second.metal == pytest.approx(ring * 7850.0, rel=0.01)  # steel, any handbook
    bores = ((0.2191 - 2 * 0.00818) / (0.3239 - 2 * 0.00953)) ** 2
    assert second.contents["operating"] == pytest.approx(20.0 * bores)


def elbow():
    """Return a level line east, then north, with an elbow of 0.5 m radius."""
    at = {"10": (0.0, 0.0), "20": (4.0, 0.0), "30": (4.5, 0.5), "40": (4.5, 4.0)}
    nodes = tuple(RouteNodeView(n, x, y, 5.0) for n, (x, y) in at.items())
    pieces = (
        RouteElementView("10", "20", RoutePiece.PIPE),
        RouteElementView("20", "30", RoutePiece.BEND, bend_radius=0.5),
        RouteElementView("30", "40", RoutePiece.PIPE),
    )
    ends = (RouteEndView("10", EndKind.NOZZLE, "N1"),)
    return straight_route(0, 1, nodes=nodes, elements=pieces, ends=ends)


def test_a_bend_takes_its_corner_from_its_tangents():
    built = built_line(elbow())
    bend = built.line.parts[1]
    assert isinstance(bend, Bend)
    assert bend.corner == pytest.approx((4.5, 0.0, 5.0))
    assert built.distances["30"] == pytest.approx(4.0 + 0.5 * pi / 2.0)


def test_a_bend_of_half_a_right_angle_too():
    route = elbow()
    far = 4.0 + 0.5 * (sqrt(2.0) - 1.0)  # tangent length R tan(22.5°)
    end = (far + 0.5 * (sqrt(2.0) - 1.0) / sqrt(2.0), 0.5 * (sqrt(2.0) - 1.0) / sqrt(2.0))
    nodes = (
        *route.nodes[:2],
        RouteNodeView("30", end[0], end[1], 5.0),
        RouteNodeView("40", end[0] + 2.0, end[1] + 2.0, 5.0),
    )
    bend = built_line(replace(route, nodes=nodes)).line.parts[1]
    assert isinstance(bend, Bend)
    assert bend.corner == pytest.approx((far, 0.0, 5.0))


def test_a_bend_without_a_straight_piece_is_refused():
    route = elbow()
    alone = replace(route, elements=(route.elements[1],), nodes=route.nodes[1:3], ends=())
    with pytest.raises(CannotCalculate, match="bend 20 to 30 has no straight piece"):
        built_line(alone)


def test_a_guide_holds_across_and_a_line_stop_along():
    supports = (
        point("G1", SupportKind.GUIDE, 4),
        point("S1", SupportKind.LINE_STOP, 8),
    )
    found = {
        s.name: s for s in built_line(straight_route(0, 4, 8, supports=supports)).line.supports
    }
    assert isinstance(found["G1"], Guide)
    assert found["G1"].direction == (0.0, 1.0, 0.0)
    assert found["S1"].direction == (1.0, 0.0, 0.0)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"material": ""}, "material or operating temperature"),
        ({"line": line(operating_temperature=None)}, "material or operating temperature"),
        ({"material": "unobtainium"}, "unobtainium"),
        ({"line": line(wall=None)}, "piece 0 to 4 has no size"),
    ],
)
def test_what_the_pipe_is_must_be_known(changed, words):
    with pytest.raises(CannotCalculate, match=words):
        built_line(straight_route(0, 4, **changed))


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"insulation": ""}, "insulation"),
        ({"line": line(content_mass_per_length=None)}, "content"),
    ],
)
def test_a_weight_that_is_not_known_is_no_zero(changed, words):
    route = straight_route(0, 4, supports=(constant("C1", 4, 1000.0),), **changed)
    with pytest.raises(NotReady, match=rf"cannot be screened \(missing: {words}"):
        ready_line(route)


def test_what_is_missing_at_supports_is_named_support_by_support():
    supports = (constant("C1", 4, None), constant("C2", 8, 1000.0), constant("C3", 9, 1.0))
    with pytest.raises(NotReady) as told:
        ready_line(straight_route(0, 4, 8, supports=supports))
    assert "C1: present setting" in str(told.value)
    assert "C3: its node on the route" in str(told.value)
    assert "C2" not in str(told.value)


def test_an_anchor_where_the_line_ends_is_held_once():
    anchored = (point("A1", SupportKind.ANCHOR, 0), point("R1", SupportKind.REST, 8))
    route = straight_route(0, 8, supports=anchored)
    built = built_line(route)
    assert [s.name for s in built.line.supports] == ["N1", "R1"]
    assert any("A1 stands where N1 holds already" in note for note in built.notes)
    assert present(route).closure == pytest.approx(0.0, abs=1e-9)


def test_a_support_taken_away_does_not_hold():
    gone = constant("C1", 4, 3000.0, in_service=InService.REMOVED)
    result = present(straight_route(0, 4, 10, supports=(gone,)))
    assert result.nozzles["N1"][2] == pytest.approx(W * 10)


def test_a_support_that_was_not_found_cannot_be_judged():
    lost = constant("C1", 4, 3000.0, in_service=InService.NOT_FOUND)
    with pytest.raises(NotReady, match="C1: whether it is there"):
        ready_line(straight_route(0, 4, 10, supports=(lost,)))
