"""Temporary props: numbered, counted, asked for by plans, in nobody's way unless they are in."""

from __future__ import annotations

from dataclasses import replace

import pytest

from supports.errors import BadInput, NotReady
from supports.operations.closing import closing_blockers
from supports.operations.props import PropMove, move_prop
from supports.operations.travel_stops import StopMove, move_stop
from supports.queries.history import change_history
from supports.queries.leaving import history_tables
from supports.queries.lookups import change_of, work_order_of
from supports.queries.plans import chosen_plan
from supports.queries.props import holds_wanting, props_in
from supports.queries.start_up import start_up_of
from supports.rules.reset_planning.content import HoldSaid
from supports.rules.reset_planning.holds_named import PROP
from supports.rules.workflow.start_up import MayStart
from tests.operations.planned_line import approved
from tests.operations.plans_made import LINE, choose, first_units, make, record, write
from tests.operations.road import Road


@pytest.fixture
def ordered(register) -> tuple[Road, str]:
    """Give a road with the order of a chosen plan given out; the plan asks for a prop."""
    road = approved(register)
    number = make(road)
    choose(road, number)
    road.order = write(road)
    road.hand_over()
    return road, number


def place_of_prop(road: Road, number: str) -> float:
    """Return where the plan asks for a prop [m]."""
    (hold,) = record(road, number).content.alternatives[0].holds
    assert hold.what == PROP
    return float(hold.name.removeprefix("prop at ").removesuffix(" m"))


def put(road: Road, direction: str, *, number: str = "P-1", along: float | None = None) -> None:
    reason = "before the weight is let go" if direction == "in" else "round 2 is read"
    move = PropMove(LINE, number, direction, reason, along)
    move_prop(road.register, move, acting="FO", now=road.now)


def start(road: Road):
    with road.register.reading() as session:
        return start_up_of(session, road.now, LINE)


def test_work_by_a_plan_waits_for_its_props(ordered):
    road, number = ordered
    found = first_units(road, number)["C1"].scale_before
    place = place_of_prop(road, number)
    with pytest.raises(NotReady, match=f"asks for a prop at {place:.2f} m of {LINE}"):
        road.found("C1", found)
    put(road, "in", along=place + 1.0)  # at another place it is another prop
    with pytest.raises(NotReady, match="none is in: supports props in"):
        road.found("C1", found)
    put(road, "in", number="P-2", along=place)
    road.found("C1", found)


def test_a_prop_taken_out_by_the_plan_is_not_asked_for_again(ordered):
    road, number = ordered
    put(road, "in", along=place_of_prop(road, number))
    put(road, "out")
    road.found("C1", first_units(road, number)["C1"].scale_before)


def test_a_line_does_not_start_up_and_a_change_is_not_closed_over_a_prop(ordered):
    road, number = ordered
    put(road, "in", along=place_of_prop(road, number))
    answer = start(road)
    assert (answer.answer, answer.props_in) == (MayStart.NO, 1)
    named = [str(one) for one in answer.blockers if "prop P-1: in at" in str(one)]
    assert len(named) == 1
    assert "put in by FO" in named[0]
    with road.register.reading() as session:
        change = change_of(session, road.number)
        blockers = closing_blockers(session, change, road.now.date())
        told = [words for one in change_history(session, change) for words in one.said]
        assert len(history_tables(session)["Props"]) == 2
    assert any("prop P-1 is in at" in words for words in blockers)
    assert any("prop P-1 in at" in words for words in told)
    put(road, "out")
    assert start(road).props_in == 0
    with road.register.reading() as session:
        assert props_in(session) == []


def stop(road: Road, tag: str, direction: str) -> None:
    move = StopMove(tag, "", "TP-1", direction, "the plan asks for it")
    move_stop(road.register, move, acting="FO", now=road.now)


def test_a_travel_stop_that_a_plan_holds_by_gates_work_heat_up_and_closing(ordered, monkeypatch):
    road, number = ordered
    found = first_units(road, number)["C1"].scale_before

    def held_by_a_stop(plan, choice):
        chosen = chosen_plan(plan, choice)
        held = replace(chosen.alternative, holds=(HoldSaid("V1", "travel stop", 0.0, 1e3, 1, 2),))
        return replace(chosen, alternative=held)

    monkeypatch.setattr("supports.queries.props.chosen_plan", held_by_a_stop)
    with pytest.raises(NotReady, match=f"the travel stop of V1 on {LINE}, and none is in"):
        road.found("C1", found)
    stop(road, "V1", "in")
    road.found("C1", found)
    assert (start(road).answer, start(road).stops_in) == (MayStart.NO, 1)
    with road.register.reading() as session:
        change = change_of(session, road.number)
        assert "V1/A: travel stop TP-1 is in" in closing_blockers(session, change, road.now.date())
    stop(road, "V1", "out")
    assert start(road).stops_in == 0
    with road.register.reading() as session:
        assert not list(holds_wanting(session, work_order_of(session, road.order).id))


@pytest.mark.parametrize(
    ("move", "error", "words"),
    [
        (PropMove(LINE, "", "in", "why", 5.0), BadInput, "a prop has a number"),
        (PropMove(LINE, "P-1", "in", "", 5.0), BadInput, "why the prop goes in"),
        (PropMove(LINE, "P-1", "in", "why"), BadInput, "where the prop stands"),
        (PropMove(LINE, "P-1", "aside", "why", 5.0), BadInput, "'in' or 'out'"),
        (PropMove(LINE, "P-1", "out", "why"), NotReady, "is not in under L-1"),
    ],
)
def test_what_is_no_move_of_a_prop_is_refused(ordered, move, error, words):
    road, _ = ordered
    with pytest.raises(error, match=words):
        move_prop(road.register, move, acting="FO", now=road.now)


def test_a_prop_stands_at_one_place_at_a_time(ordered):
    road, _ = ordered
    put(road, "in", along=5.0)
    with pytest.raises(NotReady, match="P-1 is in already"):
        put(road, "in", along=6.0)
