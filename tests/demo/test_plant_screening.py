"""The invented lines stand by the screening calculation as their papers say that they stand.

The scenario is invented: its masses and places were chosen so that the calculation bears the story
out. These are regression checks of that scenario and prove nothing of the calculation itself.
"""

from __future__ import annotations

import pytest

from demo.plant.demo_line import DEMO_NUMBER, DEMO_POINTS
from demo.plant.lines import lines
from demo.plant.points import points
from importers.weights import read_weights
from supports.calc.line.aims import Aim
from supports.calc.line.results import Standing
from supports.calc.line.review import nozzle_uses, review
from supports.calc.line.solver import solve_states
from supports.calc.line.states import cold
from supports.errors import NotReady
from supports.queries.route_views import route_view
from supports.rules.line.metal import OPERATING
from supports.rules.line.screening import ADDED, BEFORE, PLANNED, ready_line, screen
from supports.units import STANDARD_GRAVITY

SPRINGS = [p for p in DEMO_POINTS if p.kind.is_spring]
CARRIERS = [p for p in DEMO_POINTS if p.before is not None and p.after is not None]
STOPS = {Standing.BOTTOM, Standing.TOP}


def by_tag(points):
    """Return pytest's parameters of support points, named by their tags."""
    return pytest.mark.parametrize("point", points, ids=[point.tag for point in points])


@pytest.fixture(scope="module")
def line(plant_register, plant_files):
    with plant_register.reading() as session:
        route = route_view(session, DEMO_NUMBER)
    return ready_line(route, read_weights(plant_files[-1]))


@pytest.fixture(scope="module")
def screened(line):
    return screen(line, Aim.LEVEL)


@pytest.fixture(scope="module")
def shut_down(line):
    return solve_states(line.system, [cold(OPERATING)])[0]


def hanging(line, tag):
    """Return what hangs on the rods of a support, which the calculated load includes [N].

    The beam of a trapeze is no part of that load; the units are set to carry it besides.
    """
    view = next(one for one in line.route.supports if one.tag == tag)
    below = sum(
        piece.mass or 0.0
        for unit in view.units
        for piece in view.hardware
        if piece.branch == unit.position and piece.position > 2
    )
    return below * STANDARD_GRAVITY


def worst(result, nozzle):
    return max(use.use for use in nozzle_uses(result) if use.nozzle == nozzle and use.use)


@by_tag(CARRIERS)
def test_before_the_change_each_support_carries_what_revision_a_requires(point, line, screened):
    found = screened.results[BEFORE].supports[point.tag].load
    assert found + hanging(line, point.tag) == pytest.approx(point.before, rel=0.05)


@by_tag(SPRINGS)
def test_each_pointer_goes_its_design_way_from_shut_down_to_operation(point, screened, shut_down):
    hot = screened.results[BEFORE].supports[point.tag].movement
    way = hot - shut_down.supports[point.tag].movement
    assert way == pytest.approx(point.up, rel=0.15)
    assert shut_down.supports[point.tag].movement == pytest.approx(0.0, abs=0.005)


def test_before_the_change_no_unit_stands_on_a_stop(screened, shut_down):
    for result in (screened.results[BEFORE], shut_down):
        assert not {s.name for s in result.supports.values() if s.standing in STOPS}
        assert result.closure < 1e-9


@pytest.mark.parametrize("nozzle", ["N1", "N2"])
def test_before_the_change_the_nozzles_are_used_but_not_up(nozzle, screened):
    assert 0.4 < worst(screened.results[BEFORE], nozzle) < 0.9


def test_with_the_weight_added_the_pipe_sinks_and_a_nozzle_goes_over_its_limit(screened):
    # Invented: two units come down on their stops, the rod and the heater's nozzle take up more.
    before, loaded = screened.results[BEFORE], screened.results[ADDED]
    on_stop = {s.name for s in loaded.supports.values() if s.standing in STOPS}
    assert on_stop == {"PS-1023", "PS-1024"}
    sinks = {one.tag: one.sink for one in screened.supports}
    assert all(0.010 < sinks[f"PS-{n}"] < 0.060 for n in range(1019, 1026))
    assert loaded.supports["PS-1018"].load > 1.3 * before.supports["PS-1018"].load
    assert worst(loaded, "N1") < 1.0
    assert 1.1 < worst(loaded, "N2") < 1.5


@by_tag(CARRIERS)
def test_the_level_aim_asks_for_the_changes_of_revision_b(point, screened):
    before, after = (screened.results[s].supports[point.tag].load for s in (BEFORE, PLANNED))
    wanted = point.after - point.before
    assert after - before == pytest.approx(wanted, abs=max(100.0, 0.03 * wanted))


def test_re_set_the_line_is_back_at_its_level_and_the_nozzles_within_their_limits(screened):
    assert screened.required.missed < 1e-6
    for nozzle in ("N1", "N2"):
        now, then = (worst(screened.results[s], nozzle) for s in (PLANNED, BEFORE))
        assert now == pytest.approx(then, abs=0.02)


@pytest.fixture(scope="module")
def plant(plant_register):
    """Return the state before any change of each line, or None where something is missing."""
    with plant_register.reading() as session:
        routes = [route_view(session, one.number) for one in lines()]
    return {route.line.number: state_of(route) for route in routes}


def state_of(route):
    try:
        line = ready_line(route)
    except NotReady:
        return None
    return solve_states(line.system, [line.present])[0]


def test_most_lines_of_the_plant_stand_well_and_a_handful_does_not(plant):
    # Invented: as many as a first look over a plant may find, so that a reader finds something.
    found = {number: [f.code for f in review(state)] for number, state in plant.items() if state}
    assert 0 < len(plant) - len(found) <= 4
    assert 4 <= sum(bool(codes) for codes in found.values()) <= 9
    assert max(len(codes) for codes in found.values()) <= 3


def test_springs_of_the_plant_stand_where_their_plates_want_them(plant):
    found = {n: s.movement for state in plant.values() if state for n, s in state.supports.items()}
    springs = [p for p in points() if p.kind.is_spring and p.tag in found]
    off = sorted(abs(found[point.tag] - point.moves[2]) for point in springs)
    assert off[-1] < 0.025
    assert off[len(off) // 2] < 0.002


def test_what_is_carried_is_what_revision_a_says(plant):
    kept = [p for p in points() if p.load and p.kind.is_spring is False and plant[p.line.number]]
    near = [
        abs(plant[p.line.number].supports[p.tag].load / p.load - 1.0) < 0.05
        for p in kept
        if p.tag in plant[p.line.number].supports
    ]
    assert sum(near) > 0.9 * len(near) > 100
