"""Where a change adds weight: a node there, the pipe split, the loads right by statics."""

from __future__ import annotations

import pytest

from supports.calc.line.solver import solve_states
from supports.calc.line.states import added
from supports.errors import CannotCalculate
from supports.rules.line.build import built_line
from supports.rules.line.screening import ready_line
from supports.rules.line.weights import node_at
from tests.rules.line.routes import G, constant, straight_route, weight


def test_the_pipe_is_split_where_weight_comes_on():
    built, node = node_at(built_line(straight_route(0, 4, 10)), 7.0)
    assert node == "at 7.000 m"
    assert [(p.start, p.end) for p in built.line.parts] == [("0", "4"), ("4", node), (node, "10")]
    middle = next(n for n in built.line.nodes if n.name == node)
    assert (middle.x, middle.y, middle.z) == pytest.approx((7.0, 0.0, 5.0))


def test_a_place_at_a_node_splits_nothing():
    before = built_line(straight_route(0, 4, 10))
    built, node = node_at(before, 4.0004)
    assert node == "4"
    assert built.line is before.line


def test_a_place_off_the_line_is_refused():
    with pytest.raises(CannotCalculate, match=r"12\.000 m lies off line L-1"):
        node_at(built_line(straight_route(0, 4, 10)), 12.0)


def test_a_weight_without_a_place_is_refused():
    route = straight_route(0, 4, supports=(constant("C1", 4, 1000.0),))
    with pytest.raises(CannotCalculate, match="'valve' has no place along the line"):
        ready_line(route, [weight(100.0, None)])


def test_splitting_changes_no_load():
    route = straight_route(0, 4, 10, supports=(constant("C1", 4, 3000.0),))
    whole, split = ready_line(route), ready_line(route, [weight(1e-9, 7.0)])
    one, other = (solve_states(r.system, [r.present])[0].nozzles["N1"] for r in (whole, split))
    assert one == pytest.approx(other, rel=1e-9, abs=1e-3)


def test_an_added_weight_goes_to_the_nozzle_while_the_constant_keeps_its_load():
    route = straight_route(0, 4, 10, supports=(constant("C1", 4, 3000.0),))
    ready = ready_line(route, [weight(200.0, 7.0)])
    before, after = solve_states(ready.system, [ready.present, added(ready.present, *ready.masses)])
    assert after.nozzles["N1"][2] - before.nozzles["N1"][2] == pytest.approx(200.0 * G)
    assert after.nozzles["N1"][4] - before.nozzles["N1"][4] == pytest.approx(-200.0 * G * 7.0)
    assert after.supports["C1"].load == pytest.approx(3000.0)


def test_a_weight_beside_the_pipe_twists_it():
    route = straight_route(0, 4, 10, supports=(constant("C1", 4, 3000.0),))
    ready = ready_line(route, [weight(200.0, 7.0, off_axis=0.5)])
    before, after = solve_states(ready.system, [ready.present, added(ready.present, *ready.masses)])
    # 0.5 m to the left of a run to the east is north; weight there turns about −x.
    assert after.nozzles["N1"][3] - before.nozzles["N1"][3] == pytest.approx(200.0 * G * 0.5)


def test_weights_of_other_lines_do_not_count():
    route = straight_route(0, 4, 10, supports=(constant("C1", 4, 3000.0),))
    ready = ready_line(route, [weight(200.0, 7.0), weight(50.0, 2.0).__class__("L-2", "x", 50.0)])
    assert [mass.mass for mass in ready.masses] == [200.0]
