"""Plans in the register: made, chosen, followed by an order, made again, the way back, void."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from supports.errors import BadInput, NotAllowed, NotReady
from supports.model import SettingEvent, Signature, WorkOrderLine
from supports.operations.acceptance import release_to_technician
from supports.operations.changes import Decision, call_off
from supports.operations.limits import Wanted, lay_down_limit
from supports.operations.plans import (
    Asked,
    make_reset_plan,
    making,
    plan_again,
    plan_the_way_back,
)
from supports.operations.work_orders import check_order, write_undo_order
from supports.queries.history import change_history
from supports.queries.lookups import change_of, plan_of
from supports.queries.plans import void_reasons
from supports.queries.work_order_views import work_order_view
from supports.rules.reset_planning.wish import PlanAim, PlanKind
from supports.rules.workflow import LineState
from supports.vocabulary import PlantState
from tests.operations.planned_line import approved
from tests.operations.plans_made import (
    DRAINED,
    LINE,
    WHY,
    choose,
    first_units,
    make,
    put_props,
    record,
    write,
)
from tests.operations.road import Road
from tests.stages import at_stage


def order_view(road: Road, number: str):
    with road.register.reading() as session:
        return work_order_view(session, number)


@pytest.fixture
def road(register) -> Road:
    return approved(register)


@pytest.fixture
def planned(road) -> tuple[Road, str]:
    """Give a road with a plan chosen."""

    def walked() -> str:
        number = make(road)
        choose(road, number)
        return number

    return road, at_stage(road.register, "valve planned", walked)


@pytest.fixture
def ordered(planned) -> tuple[Road, str]:
    """Give a road with the order of a chosen plan given out."""
    road, number = planned

    def walked() -> str:
        road.order = write(road)
        road.hand_over()
        put_props(road, number)
        return road.order

    road.order = at_stage(road.register, "valve ordered", walked)
    return road, number


def set_elsewhere(road: Road) -> None:
    """Set C1 500 N higher by work that has nothing to do with the plan."""
    with road.register.writing("KK", "", road.now, action="other work") as writing:
        first = writing.session.scalars(select(SettingEvent).order_by(SettingEvent.id)).first()
        writing.session.add(
            SettingEvent(
                unit_id=first.unit_id, happened_on=road.now.date(), load=first.load + 500.0,
                method=first.method, plant_state=first.plant_state, set_by="T2",
            )
        )  # fmt: skip


def test_a_plan_is_kept_with_what_was_asked_and_what_it_stands_on(road):
    wanted = Wanted("plan_friction", 80.0, "measured at the site")
    lay_down_limit(road.register, wanted, acting="RE", now=road.now)
    plan = record(road, make(road, flats=3))
    assert plan.number == "PL-2031-001"
    assert (plan.change, plan.line, plan.made_by) == ("CH-1", LINE, "S1")
    assert (plan.assessment_revision, plan.calculation) == (1, "C-1 rev. B")
    assert plan.wish.steps_per_turn == 2
    assert plan.wish.friction_share == pytest.approx(0.8)
    assert plan.content.friction_share == pytest.approx(0.8)
    assert {"plan_visit", "scaffold_group", "scaffold_metre", "reach", "plan_friction"} <= set(
        plan.assumed
    )
    assert plan.void == ()
    assert plan.chosen is None


def test_a_plan_that_cannot_be_done_is_kept_and_cannot_be_chosen(road):
    number = make(road, aim=PlanAim.LEVEL)
    assert not record(road, number).content.alternatives[0].can_be_done
    with pytest.raises(NotReady, match="cannot be done"):
        choose(road, number)
    assert record(road, number).chosen is None


def test_an_alternative_that_is_not_there_cannot_be_chosen(road):
    number = make(road)
    with pytest.raises(BadInput, match="no such alternative"):
        choose(road, number, 2)


def test_only_a_stress_engineer_makes_and_only_the_responsible_engineer_chooses(road):
    for who in ("PL", "RE", "T1", "nobody"):
        with pytest.raises(NotAllowed):
            make(road, by=who)
        assert road.refusals()[-1] == (who, "make a re-set plan")
    number = make(road)
    for who in ("S1", "S2", "PL", "T1", "nobody"):
        with pytest.raises(NotAllowed):
            choose(road, number, by=who)
        assert road.refusals()[-1] == (who, "choose a re-set plan")


def test_a_choice_wants_a_reason_and_is_signed(road):
    number = make(road)
    with pytest.raises(BadInput, match="with a reason"):
        choose(road, number, reason="  ")
    assert choose(road, number) == "fewest units"
    made = record(road, number).chosen
    assert (made.alternative, made.by, made.reason) == ("fewest units", "RE", WHY)
    with road.register.reading() as session:
        signed = session.scalars(select(Signature).where(Signature.subject == "plan choice")).one()
        assert signed.covers["plan"] == record(road, number).fingerprint


def test_what_was_asked_must_be_something_that_can_be_planned(road):
    for wrong in ({"flats": 2}, {"friction": 1.5}, {"work_state": PlantState.OPERATING_PART_LOAD}):
        with pytest.raises(BadInput):
            make(road, **wrong)
    with pytest.raises(BadInput, match="does not touch line"):
        make_reset_plan(
            road.register, "CH-1", "L-9", Asked(PlanAim.LIMITS), acting="S1", now=road.now
        )


def test_the_order_takes_turns_order_window_and_line_state_from_the_plan(planned):
    road, number = planned
    units = first_units(road, number)
    order = order_view(road, write(road))
    assert order.line_state_needed == DRAINED
    first, second, last = order.lines
    steps = [s.name for s in record(road, number).content.alternatives[0].steps if s.turns]
    assert [first.tag, second.tag] == list(dict.fromkeys(steps))
    for line in (first, second):
        unit = units[line.tag]
        assert (line.turns, line.flats) == (unit.turns, unit.flats)
        assert (line.from_load, line.to_load) == (unit.scale_before, unit.scale_after)
        assert (line.window_low, line.window_high) == (unit.window_low, unit.window_high)
        assert line.direction == "clockwise"
        assert "round 1" in line.remark
    assert "prop at 7.00 m" in first.waits_for
    assert second.waits_for == f"after {first.tag}"
    assert (last.tag, last.action) == ("V1", "read only")
    assert record(road, number).orders == (order.number,)


def test_another_line_state_than_the_plans_is_refused(planned):
    road, _ = planned
    with pytest.raises(NotReady, match="in the state that it was made for"):
        write(road, str(PlantState.OPERATING_STEADY))


def test_without_a_chosen_plan_the_order_is_the_assessments(road):
    make(road)
    order = order_view(road, write(road))
    assert order.line_state_needed == DRAINED
    assert [line.tag for line in order.lines] == ["C1", "C2", "V1"]
    assert not any(line.waits_for for line in order.lines)


def test_the_checker_holds_the_order_against_the_plan(planned):
    road, _ = planned
    number = write(road)
    with road.register.writing("KK", "", road.now, action="a slip of the pen") as writing:
        line = writing.session.scalars(select(WorkOrderLine).order_by(WorkOrderLine.id)).first()
        line.turns += 1
    with pytest.raises(NotReady, match="figures differ"):
        check_order(road.register, number, acting="S2", now=road.now)


def test_a_newer_assessment_voids_the_plan_and_holds_its_order(ordered):
    road, number = ordered
    road.later()
    road.assess()
    plan = record(road, number)
    assert plan.void == ("assessment 1 was superseded by 2",)
    assert set(road.states().values()) == {LineState.ON_HOLD}
    with pytest.raises(NotReady):
        road.found("C1", first_units(road, number)["C1"].scale_before)


def test_a_void_plan_gets_no_order_and_is_not_chosen(planned):
    road, number = planned
    road.assess()
    with pytest.raises(NotReady, match="superseded"):
        choose(road, number)
    road.say(Decision.CHECK, by="S2")
    road.say(Decision.APPROVE, by="RE")
    with pytest.raises(NotReady, match="is void"):
        write(road)


def test_a_unit_set_by_other_work_voids_the_plan(planned):
    road, number = planned
    set_elsewhere(road)
    (why,) = record(road, number).void
    assert why.startswith("C1/A was set from 8.69 kN to 9.19 kN since")
    with pytest.raises(NotReady, match="was set from"):
        write(road)


def test_a_plan_whose_content_was_altered_is_void(planned):
    road, number = planned
    with road.register.reading() as session:
        plan = plan_of(session, number)
        session.expunge(plan)
        plan.content = {**plan.content, "aim": "another aim"}
        assert "fingerprint differs" in next(iter(void_reasons(session, plan)))


def test_the_history_of_the_change_tells_of_plans_and_choices(planned):
    road, _ = planned
    with road.register.reading() as session:
        events = [str(one) for one in change_history(session, change_of(session, road.number))]
    assert any("make a re-set plan" in words for words in events)
    assert any("choose a re-set plan" in words and WHY in words for words in events)


def found_off(road: Road, number: str, by: float = 600.0) -> float:
    """Find C1 away from what the plan took for granted; return what was read [N]."""
    load = first_units(road, number)["C1"].scale_before + by
    assert road.found("C1", load) is LineState.BACK_TO_ENGINEER
    return load


def test_found_elsewhere_it_waits_for_a_plan_made_again_and_the_earlier_one_is_kept(ordered):
    road, number = ordered
    load = found_off(road, number)
    with pytest.raises(NotReady, match="found elsewhere than its plan took for granted"):
        release_to_technician(
            road.register, road.order, "C1", "", acting="S1", reason="go on", now=road.now
        )
    second = plan_again(road.register, road.order, acting="S1", now=road.now)
    plan = record(road, second)
    assert plan.content.kind is PlanKind.AS_FOUND
    assert (plan.follows, plan.read_from) == (number, road.order)
    assert plan.content.shifted[0].by == pytest.approx(600.0)
    assert record(road, number).content.alternatives[0].units  # kept as it was
    c1 = next(u for u in plan.content.alternatives[0].units if u.name == "C1")
    assert c1.scale_before == pytest.approx(load)
    assert c1.turns < first_units(road, number)["C1"].turns


def test_the_new_plan_takes_the_place_of_the_earlier_in_a_new_order(ordered):
    road, number = ordered
    load, earlier = found_off(road, number), road.order
    second = plan_again(road.register, earlier, acting="S1", now=road.now)
    choose(road, second, reason="from what was found")
    assert record(road, number).void == (f"{second} was chosen in its place",)
    assert set(road.states(earlier).values()) <= {LineState.ON_HOLD, LineState.READ}
    road.order = write(road)
    road.hand_over()
    line = next(one for one in order_view(road, road.order).lines if one.tag == "C1")
    assert line.from_load == pytest.approx(load)
    assert road.found("C1", load) is LineState.IN_HAND
    # a reading of another unit off the plan: what C1 was found at is not forgotten
    c2 = first_units(road, second)["C2"].scale_before
    assert road.found("C2", c2 + 300.0) is LineState.BACK_TO_ENGINEER
    third = record(road, plan_again(road.register, road.order, acting="S1", now=road.now))
    begin = {u.name: u.setting_before for u in third.content.alternatives[0].units}
    assert begin["C1"] == pytest.approx(load)
    assert begin["C2"] == pytest.approx(c2 + 300.0)
    assert third.follows == second


def test_readings_that_agree_are_nothing_to_plan_again(ordered):
    road, number = ordered
    assert road.found("C1", first_units(road, number)["C1"].scale_before) is LineState.IN_HAND
    with pytest.raises(NotReady, match="nothing to plan again"):
        plan_again(road.register, road.order, acting="S1", now=road.now)


def turned(road: Road, number: str, tag: str) -> None:
    unit = first_units(road, number)[tag]
    road.found(tag, unit.scale_before)
    road.left(tag, unit.scale_after)


def test_the_plan_stands_while_its_own_turns_are_given(ordered):
    road, number = ordered
    turned(road, number, "C1")
    assert record(road, number).void == ()
    assert road.found("C2", first_units(road, number)["C2"].scale_before) is LineState.IN_HAND


def test_called_off_half_way_the_way_back_has_its_own_plan_and_order(ordered):
    road, number = ordered
    turned(road, number, "C1")
    with pytest.raises(NotReady, match="called off half-way"):
        back(road)
    call_off(road.register, road.number, acting="RE", reason="no valve", now=road.now)
    with pytest.raises(NotReady, match="goes on"):
        make(road)
    second = back(road)
    plan = record(road, second)
    (unit,) = plan.content.alternatives[0].units
    first = first_units(road, number)["C1"]
    assert plan.content.kind is PlanKind.UNDO
    assert plan.follows == number
    assert (unit.name, unit.turns, unit.flats) == ("C1", first.turns, first.flats)
    assert not unit.increases
    choose(road, second, reason="back to where it was")
    undo = order_view(
        road,
        write_undo_order(road.register, road.number, line_state="", acting="PL", now=road.now),
    )
    (line,) = undo.lines
    assert (line.tag, line.turns, line.flats) == ("C1", unit.turns, unit.flats)
    assert line.direction == "against the direction that increases (clockwise)"
    assert undo.line_state_needed == DRAINED
    assert line.to_load == pytest.approx(first.scale_before, abs=5.1)
    assert record(road, second).orders == (undo.number,)


def back(road: Road) -> str:
    return plan_the_way_back(
        road.register, road.number, LINE, weight_on=False, work_state=None, acting="S1",
        now=road.now,
    )  # fmt: skip


def test_somebody_who_sets_a_unit_meanwhile_stops_the_plan_being_kept(road, monkeypatch):
    def slow(*words):
        content = planned_content(*words)
        set_elsewhere(road)
        return content

    planned_content = making.make_plan
    monkeypatch.setattr(making, "make_plan", slow)
    with pytest.raises(NotReady, match="set anew while the plan was made"):
        make(road)


def test_both_databases_keep_the_same_plan(road):
    plan = record(road, make(road))
    kept.add(plan.fingerprint)
    assert len(kept) == 1


kept: set[str] = set()
