"""A variable spring is ordered, read and put back by the load of the line state of the work.

Figures by hand: rate 80 N/mm, the pipe rises 15 mm when hot, so shut down the scale shows
80 x 15 = 1.2 kN more than operating. From 12.0 to 13.5 kN operating is from 13.2 to 14.7 kN shut
down; 1.5 kN / 80 N/mm = 18.75 mm, which is 3.125 turns of an M24 turnbuckle (2 x 3 mm a turn):
3 turns and 1 flat, to the nearest flat. The window is 5 % of the operating load, 0.675 kN.
"""

from __future__ import annotations

import pytest
from sqlalchemy import select

from supports.errors import BadInput, NotAllowed, NotReady
from supports.model import WorkOrderLine
from supports.operations.changes import Decision, Emergency, SafeAct, call_off, make_safe
from supports.operations.work_orders import write_undo_order, write_work_order
from supports.queries.lookups import change_of, unit_of
from supports.queries.orders import lines_of_change, name_of_line
from supports.queries.support_views import support_views
from supports.rules.variable_rules import present_hot
from supports.rules.workflow import LineState
from supports.vocabulary import PlantState
from tests.operations.plant import REQUIRED, TAGS, add_variable, calculate
from tests.operations.road import DRAINED, Road
from tests.stages import at_stage

OPERATING = PlantState.OPERATING_STEADY


@pytest.fixture
def sprung(road) -> Road:
    """Give the road of a change that also re-sets a variable spring."""

    def walked() -> None:
        with road.register.writing("KK", "", road.now, action="furnish") as writing:
            add_variable(writing, "L-1", "V1")
            loads = dict.fromkeys(TAGS, REQUIRED) | {"V1": 13_500.0}
            calculate(writing, "L-1", "C-1", "C", loads, up={"V1": 0.015})
        road.note()
        road.sift()
        road.describe()
        road.assess("C")
        road.say(Decision.CHECK, by="S2")
        road.say(Decision.APPROVE, by="RE")

    at_stage(road.register, "spring approved", walked)
    return road


def ordered(road: Road, tag: str = "V1") -> WorkOrderLine:
    """Return the newest line of a unit that is not withdrawn."""
    with road.register.reading() as session:
        lines = lines_of_change(session, change_of(session, road.number).id)
        newest = [one for one in lines if name_of_line(session, one) == f"{tag}/A"][-1]
        session.refresh(newest)
        session.expunge(newest)
        return newest


def write(road: Road, line_state: str) -> Road:
    road.order = write_work_order(
        road.register, road.number, line_state=line_state, acting="PL", now=road.now
    )
    return road


@pytest.mark.parametrize(
    ("line_state", "start", "wanted"),
    [(DRAINED, 13_200.0, 14_700.0), (OPERATING, 12_000.0, 13_500.0)],
)
def test_the_order_speaks_of_the_line_state_of_the_work(sprung, line_state, start, wanted):
    line = ordered(write(sprung, line_state))
    assert (line.from_load, line.to_load) == pytest.approx((start, wanted))
    assert (line.window_low, line.window_high) == pytest.approx((wanted - 675.0, wanted + 675.0))
    assert (line.turns, line.flats) == (3, 1)
    assert line.direction == "shorten the rod by 18.8 mm"
    constant = ordered(sprung, "C1")
    assert (constant.from_load, constant.to_load) == (20_000.0, 22_100.0)


@pytest.mark.parametrize("line_state", ["bare", "cold and drained; flange open", "unknown"])
def test_no_order_is_written_for_a_state_where_the_scale_cannot_be_foretold(sprung, line_state):
    with pytest.raises(NotReady, match="what V1 reads with the line") as told:
        write(sprung, line_state)
    assert "shut down, drained" in str(told.value)
    with sprung.register.reading() as session:
        assert not session.scalars(select(WorkOrderLine)).all()


def test_a_right_reading_shut_down_is_taken_and_is_the_new_setting(sprung):
    write(sprung, DRAINED).hand_over()
    assert sprung.found("V1", 13_200.0) == LineState.IN_HAND
    assert sprung.left("V1", 14_700.0) == LineState.TO_BE_CHECKED
    with sprung.register.reading() as session:
        unit = unit_of(session, "V1")
        (view,) = support_views(session, [ordered(sprung).point_id])
        assert view.units[0].id == unit.id
        assert present_hot(view.units[0], 0.015) == pytest.approx(13_500.0)


def test_the_operating_load_read_shut_down_goes_back_to_the_engineer(sprung):
    write(sprung, DRAINED).hand_over()
    assert sprung.found("V1", 12_000.0) == LineState.BACK_TO_ENGINEER


def test_an_as_left_reading_at_the_operating_load_is_out_of_window_shut_down(sprung):
    write(sprung, DRAINED).hand_over()
    sprung.found("V1", 13_200.0)
    assert sprung.left("V1", 13_500.0) == LineState.OUT_OF_WINDOW


@pytest.mark.parametrize(
    ("found", "state"),
    [
        (13_874.0, LineState.IN_HAND),
        (13_876.0, LineState.BACK_TO_ENGINEER),
        (12_526.0, LineState.IN_HAND),
        (12_524.0, LineState.BACK_TO_ENGINEER),
    ],
)
def test_the_as_found_window_is_as_wide_as_that_for_as_left(sprung, found, state):
    write(sprung, DRAINED).hand_over()
    assert sprung.found("V1", found) == state


@pytest.mark.parametrize(
    ("line_state", "start", "wanted"),
    [(DRAINED, 14_700.0, 13_200.0), (OPERATING, 13_500.0, 12_000.0)],
)
def test_the_way_back_is_told_in_the_state_of_its_own_order(sprung, line_state, start, wanted):
    write(sprung, DRAINED).hand_over()
    sprung.found("V1", 13_200.0)
    sprung.left("V1", 14_700.0)
    call_off(sprung.register, sprung.number, acting="RE", reason="cancelled", now=sprung.now)
    write_undo_order(
        sprung.register, sprung.number, line_state=line_state, acting="PL", now=sprung.now
    )
    line = ordered(sprung)
    assert (line.from_load, line.to_load) == pytest.approx((start, wanted))
    assert (line.window_low, line.window_high) == pytest.approx((wanted - 600.0, wanted + 600.0))
    assert (line.turns, line.flats, line.direction) == (3, 1, "lengthen the rod by 18.8 mm")


def safe(road: Road, load: float, state: PlantState) -> str:
    back = Emergency(
        ("L-1",), "sagging", SafeAct.BACK_TO_APPROVED, "OP", "RE", tag="V1", load=load,
        plant_state=state,
    )  # fmt: skip
    return make_safe(road.register, back, acting="FO", now=road.now)


def test_an_emergency_knows_the_approved_load_in_the_state_of_the_line(sprung):
    with pytest.raises(BadInput, match="its load depends on the state of the line"):
        safe(sprung, 13_200.0, PlantState.UNKNOWN)
    with pytest.raises(NotAllowed, match="no new value"):
        safe(sprung, 13_200.0, OPERATING)
    assert safe(sprung, 12_000.0, OPERATING).startswith("CH-")
