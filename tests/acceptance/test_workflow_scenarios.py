"""Stories that a site would try on the first day: called off, out of window, past its date, pins.

The numbers are worked by hand from the plates of the example line (20 kN, 0.25 kN a turn, 17 to
23 kN) with the site's tolerance of 2 %; the rules of who and when are common practice, no source.
"""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlalchemy import select

from supports.errors import BadInput, NotAllowed, NotReady
from supports.model import WorkOrderLine
from supports.operations.changes import (
    Decision,
    ask_renewal,
    call_off,
    keep_as_is,
    put_in_force,
)
from supports.operations.closing import close_change
from supports.operations.work_orders import compare_line, copy_is_back, write_undo_order
from supports.queries.change_views import change_view
from supports.queries.lookups import change_of, work_order_of
from supports.queries.start_up import start_up_of
from supports.queries.temporary import temporary_standing
from supports.queries.work_order_views import orders_of_change
from supports.rules.workflow import LineState
from supports.rules.workflow.start_up import MayStart
from tests.operations.plant import calculate
from tests.operations.road import DRAINED, Road, road_on


@pytest.fixture
def road(register) -> Road:
    return road_on(register)


def start_up(road: Road, line: str = "L-1") -> tuple[MayStart, list[str]]:
    """Ask whether a line may start up; return the answer and the blockers."""
    with road.register.reading() as session:
        answer = start_up_of(session, road.now, line)
    return answer.answer, [f"{b.about}: {b.what}" for b in answer.blockers]


# A change called off half-way


@pytest.fixture
def half_way(road) -> Road:
    """Give a change of three units with C1 and C3 turned, C2 not begun."""
    return road.given_out().worked(("C1", "C3"))


def test_a_change_called_off_half_way_is_put_right_from_what_was_left(half_way):
    road = half_way
    done = call_off(road.register, road.number, acting="RE", reason="no valve", now=road.now)
    assert done.state == "called off, to be put right"
    assert done.to_put_right == ("C1/A", "C3/A")
    assert done.copies_to_recall == (f"{road.order} copy 1 (crew)",)
    first = road.order
    assert road.states() == {"C1": "to be put right", "C2": "withdrawn", "C3": "to be put right"}
    answer, named = start_up(road)
    assert answer is MayStart.NO
    assert named == [f"{tag}/A: to be put right under {first}" for tag in ("C1", "C3")]
    road.order = write_undo_order(
        road.register, road.number, line_state=DRAINED, acting="PL", now=road.now
    )
    undo = undo_lines(road)
    assert undo == {
        "C1": (22_100.0, 20_000.0, 8, 2, "anticlockwise from below"),
        "C3": (22_100.0, 20_000.0, 8, 2, "anticlockwise from below"),
    }
    road.hand_over()
    road.found("C1", 22_100.0)
    road.left("C1", 20_100.0)
    road.accept("C1")
    assert road.states(first)["C1"] == "undone"
    assert start_up(road)[0] is MayStart.NO
    with pytest.raises(NotReady, match="C3/A: is being set back and not finished"):
        close_change(road.register, road.number, acting="CO", now=road.now)
    back(road, "C3")
    assert start_up(road) == (MayStart.YES, [])


def back(road: Road, tag: str) -> None:
    road.found(tag, 22_100.0)
    road.left(tag, 20_000.0)
    road.accept(tag)


def undo_lines(road: Road) -> dict[str, tuple[object, ...]]:
    with road.register.reading() as session:
        orders = orders_of_change(session, change_view(session, road.number).id)
        lines = next(order.lines for order in orders if order.number == road.order)
    return {ln.tag: (ln.from_load, ln.to_load, ln.turns, ln.flats, ln.direction) for ln in lines}


def test_a_unit_of_a_called_off_change_may_be_kept_on_an_analysis(half_way):
    road = half_way
    call_off(road.register, road.number, acting="RE", reason="no valve", now=road.now)
    keep = {"analysis": "C-9 rev. A, mixed state", "now": road.now}
    with pytest.raises(NotAllowed):
        keep_as_is(road.register, road.order, ("C1", ""), acting="S1", **keep)
    with pytest.raises(BadInput, match="wants an analysis"):
        keep_as_is(road.register, road.order, ("C1", ""), acting="RE", analysis="", now=road.now)
    for tag in ("C1", "C3"):
        keep_as_is(road.register, road.order, (tag, ""), acting="RE", **keep)
    road.proved()
    close_change(road.register, road.number, acting="CO", now=road.now)
    assert road.state() == "closed"


def test_a_change_called_off_untouched_withdraws_its_packs_by_copy_number(road):
    road.given_out()
    with pytest.raises(NotAllowed, match="only change coordinator"):
        call_off(road.register, road.number, acting="RE", reason="no money", now=road.now)
    done = call_off(road.register, road.number, acting="CO", reason="no money", now=road.now)
    assert (done.state, done.to_put_right) == ("called off, untouched", ())
    assert done.copies_to_recall == (f"{road.order} copy 1 (crew)",)
    assert road.orders() == {"re-set": "withdrawn"}
    with pytest.raises(NotReady):
        road.found("C1")


def test_nobody_calls_off_while_a_unit_is_in_hand(road):
    road.given_out().found("C1")
    with pytest.raises(NotReady, match="somebody has a unit in hand"):
        call_off(road.register, road.number, acting="RE", reason="no valve", now=road.now)


# As-left out of its window


def test_an_as_left_out_of_window_takes_two_roles_two_people_and_a_nozzle_check(road):
    """21.4 against 22.1 kN: -3.17 %."""
    road.given_out().found("C1")
    assert road.left("C1", 21_400.0) == LineState.OUT_OF_WINDOW
    assert round((21_400.0 - 22_100.0) / 22_100.0, 4) == -0.0317
    with pytest.raises(NotAllowed):
        road.accept("C1", by="IN")
    with pytest.raises(BadInput, match="nozzles checked"):
        road.accept("C1", by="S1", reason="room enough")
    half = road.accept("C1", by="S1", reason="room enough", nozzle_check="N1 at 81 %")
    assert half == LineState.OUT_OF_WINDOW
    with pytest.raises(NotAllowed, match="another person"):
        road.accept("C1", by="S1", reason="I insist", nozzle_check="N1 at 81 %")
    with pytest.raises(NotAllowed, match="the other role"):
        road.accept("C1", by="S2", reason="I agree", nozzle_check="N1 at 81 %")
    with pytest.raises(NotReady):
        close_change(road.register, road.number, acting="CO", now=road.now)
    done = road.accept("C1", by="RE", reason="as S1 says")
    assert done == LineState.ACCEPTED_IN_WRITING
    assert ("S2", "accept as-left") in road.refusals()


# A temporary change and its date


@pytest.fixture
def in_force(road) -> Road:
    """Give a temporary change in force for thirty days."""
    until = road.now.date() + timedelta(days=30)
    road.given_out(duration="temporary", ends_on=until).worked().proved()
    put_in_force(road.register, road.number, acting="RE", now=road.now)
    return road


def standing(road: Road) -> str:
    with road.register.reading() as session:
        return temporary_standing(session, change_of(session, road.number), road.now.date())


def test_a_temporary_change_past_its_date_is_left_only_by_removal_or_approval(in_force):
    road = in_force
    assert road.orders() == {"removal": "written", "re-set": "accepted"}
    assert start_up(road)[0] is MayStart.YES
    assert "warning: 30 days left" in standing(road)
    road.later(24)
    assert "last warning: 6 days left" in standing(road)
    road.later(7)
    assert standing(road).startswith("past its date")
    assert start_up(road)[0] is MayStart.NO
    for person in ("RE", "CO"):
        with pytest.raises(NotReady, match="move the end date"):
            road.describe(by=person, five={}, ends_on=road.now.date() + timedelta(days=20))
    assert road.refusals()[-2:] == [("RE", "describe a change"), ("CO", "describe a change")]
    assert standing(road).startswith("past its date")


def test_a_temporary_change_is_renewed_once_by_a_fresh_assessment(in_force):
    road = in_force
    until = road.now.date() + timedelta(days=80)
    ask_renewal(
        road.register, road.number, until=until, acting="RE", reason="late parts", now=road.now
    )
    assert standing(road).startswith("ends on 2031-06-03")
    with pytest.raises(NotReady):
        road.say(Decision.APPROVE, by="RE")
    road.assess()
    road.say(Decision.CHECK, by="S2")
    assert road.say(Decision.APPROVE, by="RE") == "in force till its date"
    assert standing(road) == f"temporary till {until}"
    with pytest.raises(NotReady, match="renewed once already"):
        ask_renewal(
            road.register, road.number, until=until, acting="RE", reason="again", now=road.now
        )


def test_a_renewal_refused_leaves_the_old_date(in_force):
    road = in_force
    until = road.now.date() + timedelta(days=80)
    ask_renewal(
        road.register, road.number, until=until, acting="RE", reason="late parts", now=road.now
    )
    road.assess()
    road.say(Decision.CHECK, by="S2")
    state = road.say(Decision.REFUSE, by="RE", reason="take it out")
    assert state == "in force till its date"
    assert standing(road).startswith("ends on 2031-06-03")


def test_a_temporary_change_ends_with_its_removal(in_force):
    road = in_force
    with pytest.raises(NotReady, match="must stand at"):
        call_off(road.register, road.number, acting="RE", reason="done", now=road.now)
    with road.register.reading() as session:
        orders = orders_of_change(session, change_view(session, road.number).id)
        road.order = next(order.number for order in orders if order.kind == "removal")
    assert undo_lines(road)["C1"] == (22_100.0, 20_000.0, 8, 2, "anticlockwise from below")
    road.hand_over("S2")
    for tag in ("C1", "C2", "C3"):
        back(road, tag)
    assert road.state() == "done, to be proved"
    road.later()
    road.proved()
    close_change(road.register, road.number, acting="CO", now=road.now)
    assert road.state() == "closed"


# A calculation superseded in mid-work


@pytest.mark.parametrize(
    ("first", "state"), [(22_100.0, LineState.KEPT), (22_900.0, LineState.TO_BE_DONE_AGAIN)]
)
def test_a_calculation_superseded_in_mid_work_holds_the_rest_and_compares_what_is_done(
    road, first, state
):
    """C2 -0.6 kN in revision C; C1 as before, or so far off that 22.1 kN is outside 2 %."""
    road.given_out().worked(("C1",))
    with road.register.writing("KK", "", road.now, action="import") as writing:
        calculate(writing, "L-1", "C-1", "C", {"C1": first, "C2": 21_500.0, "C3": 22_100.0})
    with pytest.raises(NotReady, match="superseded by C-1"):
        road.found("C2")
    road.assess("C")
    assert road.states() == {"C1": "to be compared", "C2": "on hold", "C3": "on hold"}
    compare = {"acting": "S1", "reason": "held against rev. C", "now": road.now}
    with pytest.raises(NotReady, match="does not hold yet"):
        compare_line(road.register, road.order, ("C1", ""), **compare)
    road.say(Decision.CHECK, by="S2")
    assert road.say(Decision.APPROVE, by="RE") == "being done"
    with pytest.raises(NotReady, match="not settled against the new assessment"):
        road.issue()
    assert compare_line(road.register, road.order, ("C1", ""), **compare) == state
    old = road.order
    copy_is_back(road.register, old, 1, fate="destroyed", acting="PL", now=road.now)
    road.issue()
    again = {"C2", "C3"} if state is LineState.KEPT else {"C1", "C2", "C3"}
    assert set(road.states()) == again
    assert road.states(old)["C2"] == "withdrawn"
    with road.register.reading() as session:
        order = work_order_of(session, road.order)
        query = select(WorkOrderLine.to_load).where(WorkOrderLine.work_order_id == order.id)
        assert 21_500.0 in session.scalars(query).all()


def test_a_line_in_a_mixed_state_does_not_start_up(half_way):
    answer, named = start_up(half_way)
    assert answer is MayStart.NO
    assert named == ["CH-1: mixed state: 2 re-set, not yet C2/A"]
