"""Lines at the desk: drawn, through a change, and with a weight moved along."""

from __future__ import annotations

import html
import re

import orjson
import pytest

from supports.errors import BadInput
from supports.operations.changes import add_weights
from supports.queries.route_views import route_view
from supports.rules.line.moving_weight import moving_weight
from tests.operations.road import Road
from tests.rules.planning_lines import NUMBER, valve
from tests.web.desks import signed_in

GRAVITY = 9.80665
"""Standard gravity [m/s²], ISO 80000-3."""


@pytest.fixture
def hung(staffed):
    with staffed.reading() as session:
        return moving_weight(route_view(session, NUMBER), 500.0)


def test_what_hangs_at_a_rod_is_carried_by_the_rod(hung):
    """By statics: a load on a rigid support goes into it and nowhere else."""
    rods = [tag for tag in hung.without.loads if tag == "R1"]
    assert rods
    for rod in rods:
        here = hung.stations[hung.nearest(hung.at[rod])]
        assert here.along == pytest.approx(hung.at[rod])
        for tag, load in here.loads.items():
            more = load - hung.without.loads[tag]
            wanted = 500.0 * GRAVITY if tag == rod else 0.0
            assert more == pytest.approx(wanted, abs=1.0)


def test_a_constant_carries_the_same_wherever_the_weight_hangs(hung):
    """By definition of a constant support, as long as it stays off its stops."""
    constants = [tag for tag in hung.without.loads if tag.startswith("C")]
    assert constants
    for one in hung.stations:
        for tag in set(constants) - set(one.changed):
            assert one.loads[tag] == pytest.approx(hung.without.loads[tag])


def test_half_the_weight_makes_half_the_difference_while_nothing_lifts(staffed, hung):
    """By superposition."""
    with staffed.reading() as session:
        half = moving_weight(route_view(session, NUMBER), 250.0)
    linear = [n for n, one in enumerate(hung.stations) if not one.changed]
    assert linear
    for n in linear:
        whole, part = hung.stations[n], half.stations[n]
        for tag, load in hung.without.loads.items():
            assert whole.loads[tag] - load == pytest.approx(
                2.0 * (part.loads[tag] - load), abs=1e-3
            )


def test_no_weight_is_no_question(staffed):
    with staffed.reading() as session, pytest.raises(BadInput, match="no weight"):
        moving_weight(route_view(session, NUMBER), 0.0)


def test_the_page_shows_the_station_asked_for_and_brings_all_others(staffed):
    visitor = signed_in(staffed, "S1")
    text = visitor.look(f"/lines/{NUMBER}/weight?mass=500+kg&station=3").text
    data = orjson.loads(html.unescape(re.search(r'data-answers="([^"]*)"', text)[1]))
    shown = [float(one) for one in re.findall(r"data-load>(-?[\d.]+)<", text)]
    assert shown == pytest.approx(data["loads"][3])
    typed = visitor.look(f"/lines/{NUMBER}/weight?mass=500+kg&along=4+m").text
    assert '<span id="place">4.00</span>' in typed


@pytest.mark.parametrize("mass", ["500", "heavy", "0 kg", "500 kN"])
def test_a_weight_that_cannot_be_read_is_told(staffed, mass):
    answer = signed_in(staffed, "S1").look(f"/lines/{NUMBER}/weight?mass={mass}")
    assert answer.status_code == 400
    assert "Not done" in answer.text


def test_a_line_is_drawn_straight_and_in_three_axes(staffed):
    visitor = signed_in(staffed, "S1")
    text = visitor.look(f"/lines/{NUMBER}").text
    assert text.count("<svg") >= 2
    assert f"/lines/{NUMBER}" in visitor.look("/lines").text
    assert "<svg" not in visitor.look("/lines?text=nothing").text


def test_before_and_after_a_change_needs_an_aim(staffed):
    road = Road(staffed)
    road.note()
    road.sift()
    add_weights(staffed, road.number, [valve(line=NUMBER)], acting="S1", now=road.now)
    number = road.number
    visitor = signed_in(staffed, "S1")
    missing = visitor.look(f"/lines/{NUMBER}/change?change={number}")
    assert missing.status_code == 400
    assert "no aim is given" in missing.text
    asked = f"/lines/{NUMBER}/change?change={number}&aim=pipe+back+to+its+level"
    text = visitor.look(asked).text
    assert "By screening" in text
    assert text.count("<svg") == 2
    assert visitor.look(f"/lines/{NUMBER}/change?change=CH-0").status_code == 404


def test_a_line_that_is_not_there_is_answered_with_the_nearest(staffed):
    answer = signed_in(staffed, "S1").look("/lines/L-1x")
    assert answer.status_code == 404
