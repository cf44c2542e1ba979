"""Faults of a route come as findings with file, sheet and row; nothing is assumed away."""

from __future__ import annotations

from dataclasses import replace

import pytest

from supports.findings import Severity
from supports.rules.line.overview import overview
from supports.rules.line.route_check import route_findings
from supports.snapshots import RouteElementView, RouteEndView, RouteNodeView
from supports.vocabulary import EndKind, RoutePiece
from tests.rules.line.routes import constant, limits, line, straight_route
from tests.rules.line.test_build import elbow

HELD = (constant("C1", 4, 3000.0),)
PIPE = RouteElementView("0", "99", RoutePiece.PIPE)


def sound(**changed):
    """Return a route without faults, then changed."""
    return straight_route(0, 4, 10, **{"supports": HELD, **changed})


def codes(route):
    """Return the codes found."""
    return [finding.code for finding in route_findings(route)]


def test_a_sound_route_has_no_findings():
    assert codes(sound()) == []


def with_element(number, **changed):
    """Return the elements of a sound route, one of them changed."""
    elements = list(sound().elements)
    elements[number] = replace(elements[number], **changed)
    return tuple(elements)


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({"material": ""}, "line-fact-missing"),
        ({"line": line(operating_temperature=None)}, "line-fact-missing"),
        ({"line": line(wall=None)}, "piece-without-size"),
        ({"elements": with_element(1, piece=RoutePiece.VALVE)}, "body-without-mass"),
        ({"elements": with_element(1, to_node="99")}, "node-unknown"),
        ({"elements": with_element(1, to_node="4")}, "length-zero"),
        ({"elements": (*sound().elements, sound().elements[0])}, "piece-twice"),
        ({"ends": (RouteEndView("99", EndKind.NOZZLE),)}, "node-unknown"),
        ({"material": "unobtainium"}, "cannot-be-built"),
        ({"insulation": ""}, "cannot-be-screened"),
        ({"supports": (constant("C1", 4, None),)}, "cannot-be-screened"),
        ({"ends": ()}, "line-without-ends"),
    ],
)
def test_each_fault_has_its_code(changed, code):
    assert code in codes(sound(**changed))


def test_a_finding_names_file_sheet_and_row():
    elements = with_element(1, piece=RoutePiece.VALVE)
    found = next(f for f in route_findings(sound(elements=elements)))
    assert str(found.place) == "routes.xlsx Line elements row 3"
    assert found.subject == "valve 4 to 10"
    assert "missing: mass" in found.what


def test_a_node_without_height_cannot_be_judged():
    nodes = (*sound().nodes[:2], RouteNodeView("10", 10.0, 0.0, None))
    found = route_findings(sound(nodes=nodes))
    assert [(f.code, f.subject) for f in found] == [("node-without-place", "node 10")]
    assert "missing: elevation" in found[0].what


def test_a_bend_whose_pieces_do_not_meet_is_looked_at():
    route = elbow()
    bent = (*route.nodes[:3], RouteNodeView("40", 5.2, 4.0, 5.0))
    found = {f.code: f for f in route_findings(replace(route, nodes=bent))}
    assert found["bend-askew"].severity is Severity.LOOK


def test_a_bend_of_another_radius_than_given_is_looked_at():
    route = elbow()
    wrong = replace(route.elements[1], bend_radius=0.75)
    changed = replace(route, elements=(route.elements[0], wrong, route.elements[2]))
    found = {f.code: f for f in route_findings(changed)}
    assert "0.500 m by its nodes, 0.750 m given" in found["bend-radius-differs"].found
    assert "bend-radius-differs" not in codes(route)


def test_an_overview_of_a_faulty_line_says_so_and_calculates_nothing():
    seen = overview(sound(material=""), 0.05)
    assert not seen.screened
    assert seen.verdict.endswith(": cannot judge (missing: L-1: material)")
    assert [f.code for f in seen.findings] == ["line-fact-missing"]


def test_an_overview_cannot_judge_closure_without_loads_on_record():
    seen = overview(sound(nozzles=(limits(),)), 0.05)
    assert seen.screened
    assert any("cannot judge (missing: load on record of C1)" in fact for fact in seen.facts)
    assert "worst nozzle use N1" in seen.verdict
