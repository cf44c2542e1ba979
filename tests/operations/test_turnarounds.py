"""A turnaround on a register: collected, frozen, planned, on paper; on both databases."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from icalendar import Calendar
from openpyxl import load_workbook
from sqlalchemy import select

from app.making.makers import make
from app.making.wanted import Wanted
from reports.catalogue import paper_of
from supports.errors import BadInput, Conflict, NotAllowed, NotFound, NotReady
from supports.model import SupportPoint, TurnaroundReason
from supports.operations.rule_runs import run_rules
from supports.operations.turnarounds import (
    Opening,
    add_by_hand,
    collect_scope,
    freeze_scope,
    lay_down_norm,
    lay_down_window,
    open_turnaround,
    plan_turnaround,
    take_out,
)
from supports.operations.work_orders import Before, Material, OrderPlan, plan_order
from supports.queries.turnarounds import norms_in_force, scope_of, turnaround_of
from supports.rules.turnaround.effort import totals
from supports.rules.turnaround.schedule import breaches
from supports.rules.turnaround.scope import Action
from supports.vocabulary import PlantState
from tests.operations.road import Road, road_on

STOP = Opening("spring stop", date(2031, 6, 2), date(2031, 6, 15), freeze_on=date(2031, 5, 20))


@pytest.fixture
def road(register) -> Road:
    """Give a change with its order given out, supports at 4 m on two scaffolds."""
    road = road_on(register).given_out()
    with register.writing("KK", "", road.now, action="heights") as writing:
        for place, point in enumerate(writing.session.scalars(select(SupportPoint))):
            point.height_above_floor = 4.0
            point.scaffold_group = "S1" if place < 2 else "S2"
    return road


@pytest.fixture
def opened(road) -> str:
    return open_turnaround(road.register, STOP, acting="PL", now=road.now)


def scope(road: Road, number: str):
    with road.register.reading() as session:
        return scope_of(session, turnaround_of(session, number), road.now.date())


def moment(road: Road, who: str = "PL"):
    return {"acting": who, "now": road.now}


def test_what_changes_and_rules_ask_for_is_joined_unit_by_unit(road, opened):
    run_rules(road.register, reason="before the stop", **moment(road, "S1"))
    found = collect_scope(road.register, opened, **moment(road))
    assert found.items == 3
    held = scope(road, opened)
    assert [one.where.name for one in held.items] == ["C1", "C2", "C3"]
    for item in held.items:
        assert item.orders == (road.order,)
        assert "constant-needs-re-set" in {reason.reference for reason in item.reasons}
        assert item.actions == (Action.RE_SET,)
    # 3 x 2 x 2.5 man-hours; two scaffolds of 4 + 2 x 4 h
    with road.register.reading() as session:
        sums = totals(held, norms_in_force(session, road.now.date()))
    assert (sums.fitters, sums.scaffold) == (15.0, 24.0)
    again = collect_scope(road.register, opened, **moment(road))
    assert (again.items, again.reasons) == (0, 0)


def test_what_comes_in_after_the_freeze_is_counted_and_what_is_done_drops_out(road, opened):
    with pytest.raises(NotReady, match="is empty"):
        freeze_scope(road.register, opened, **moment(road))
    collect_scope(road.register, opened, **moment(road))
    take_out(road.register, opened, ("C2", ""), reason="next stop", **moment(road))
    assert freeze_scope(road.register, opened, **moment(road)) == 2
    with pytest.raises(NotReady, match="is frozen"):
        freeze_scope(road.register, opened, **moment(road))
    assert add_by_hand(
        road.register, opened, ("C2", ""), Action.REPLACE, reason="cracked", **moment(road, "IN")
    )
    held = scope(road, opened)
    assert [one.where.name for one in held.after_freeze] == ["C2"]
    assert held.after_freeze[0].actions == (Action.REPLACE, Action.RE_SET)
    road.worked(("C1",))
    after = scope(road, opened)
    assert after.done == ("C1",)
    assert [one.where.name for one in after.items] == ["C2", "C3"]


def test_a_unit_added_after_the_freeze_is_told_apart(road, opened):
    for tag in ("C1", "C2"):
        add_by_hand(road.register, opened, (tag, ""), Action.MEND, reason="rust", **moment(road))
    freeze_scope(road.register, opened, **moment(road))
    found = collect_scope(road.register, opened, **moment(road))
    assert (found.items, found.after_freeze) == (1, 1)
    assert [one.where.name for one in scope(road, opened).after_freeze] == ["C3"]


def test_who_may_not_and_what_cannot_be_is_refused(road, opened):
    with pytest.raises(NotAllowed):
        collect_scope(road.register, opened, **moment(road, "T1"))
    with pytest.raises(NotFound, match="is not in the register"):
        collect_scope(road.register, "TA-9", **moment(road))
    with pytest.raises(BadInput, match="needs its reason"):
        add_by_hand(road.register, opened, ("C1", ""), Action.MEND, reason=" ", **moment(road))
    with pytest.raises(NotFound, match="not in the scope"):
        take_out(road.register, opened, ("C1", ""), reason="no", **moment(road))
    days = (date(2031, 6, 1), date(2031, 6, 3))
    drained = PlantState.SHUT_DOWN_DRAINED
    with pytest.raises(BadInput, match="within the turnaround"):
        lay_down_window(road.register, opened, drained, days, line="", **moment(road))
    late = Opening("x", date(2031, 6, 2), date(2031, 6, 1))
    with pytest.raises(BadInput, match="ends on the day it begins"):
        open_turnaround(road.register, late, **moment(road))
    with pytest.raises(BadInput, match="at least one of: crews"):
        open_turnaround(
            road.register, Opening("x", date(2031, 6, 2), date(2031, 6, 3), crews=0), **moment(road)
        )


def test_norms_are_laid_down_with_their_source(road, opened):
    collect_scope(road.register, opened, **moment(road))
    lay_down_norm(road.register, "re_set_hours", 3.0, source="last stop", **moment(road))
    with pytest.raises(Conflict, match="laid down today already, by PL"):
        lay_down_norm(road.register, "re_set_hours", 4.0, source="x", **moment(road))
    for name, number, words in (("re_set_crew", 1.5, "whole"), ("growth", 101, "not like that")):
        with pytest.raises(BadInput, match=words):
            lay_down_norm(road.register, name, number, source="x", **moment(road))
    with road.register.reading() as session:
        norms = norms_in_force(session, road.now.date())
    assert totals(scope(road, opened), norms).fitters == 3 * 2 * 3.0


@pytest.fixture
def planned(road, opened):
    """Give a plan with a window from the third day on, a part due and a job outside."""
    collect_scope(road.register, opened, **moment(road))
    plan = OrderPlan(
        crew=2, hours=9.0,
        materials=(Material("rod M30", 2, "late", date(2031, 6, 5)), Material("nut", 4, "have")),
        befores=(Before("pressure test"),),
    )  # fmt: skip
    plan_order(road.register, road.order, plan, **moment(road))
    days = (date(2031, 6, 4), date(2031, 6, 12))
    drained = PlantState.SHUT_DOWN_DRAINED
    lay_down_window(road.register, opened, drained, days, line="L-1", **moment(road, "OP"))
    return plan_turnaround(road.register, opened, **moment(road))


def test_a_plan_keeps_its_windows_its_parts_and_its_order_of_turning(road, opened, planned):
    revision, plan = planned
    assert revision == 1
    assert list(breaches(plan.schedule.means, plan.schedule.placed)) == []
    work = [one for one in plan.schedule.placed if one.task.name.startswith("work")]
    assert [unit for one in work for unit in one.task.units] == ["C1", "C2", "C3"]
    assert {one.crew for one in work} == {1}
    # The rods come on 5 June, so that work begins on the 6th: four days of 40 quarters.
    assert work[0].start == 160
    # 9 h of the order shared by three units, two people: 18 man-hours
    assert plan.totals.fitters == pytest.approx(18.0)
    assert plan.critical_units
    road.later()
    assert plan_turnaround(road.register, opened, **moment(road))[1].schedule == plan.schedule


def test_the_papers_say_the_same_sums_as_their_lists(road, opened, planned, tmp_path):
    plan = planned[1]
    paper = paper_of("turnaround-scope")
    with road.register.reading() as session:
        wanted = Wanted((opened,), tmp_path / "a", road.now, forms=paper.forms)
        files = {path.suffix: path for path in make(session, paper, wanted)}
        twice = make(session, paper, Wanted((opened,), tmp_path / "b", road.now, forms=paper.forms))
    assert {p.suffix: p.read_bytes() for p in twice} == {
        suffix: path.read_bytes() for suffix, path in files.items()
    }
    book = load_workbook(files[".xlsx"])
    sums = {row[0]: row[1] for row in book["Sums"].iter_rows(min_row=6, values_only=True)}
    rows = list(book["Scope"].iter_rows(min_row=5, values_only=True))
    at = rows[0].index("Fitters [man-h]")
    assert sum(row[at] for row in rows[1:]) == pytest.approx(sums["Fitters [man-h]"])
    built = list(book["Scaffolds"].iter_rows(min_row=6, values_only=True))
    assert sum(row[2] for row in built) == pytest.approx(sums["Scaffold [man-h]"])
    parts = ("Fitters [man-h]", "Scaffold [man-h]", "Inspection [man-h]",
             "Engineer's presence [man-h]")  # fmt: skip
    assert sum(sums[part] for part in parts) == pytest.approx(sums["All trades [man-h]"])
    assert sums["Materials late"] == 1
    text = files[".html"].read_text(encoding="utf-8")
    assert "pressure test" in text
    assert "CRITICAL" in text
    events = Calendar.from_ical(files[".ics"].read_bytes()).walk("VEVENT")
    assert len(events) == len(plan.schedule.placed)
    spans = sorted((e["DTSTART"].dt, e["DTEND"].dt) for e in events)
    assert all(begin < end <= begin + timedelta(days=3) for begin, end in spans)
    assert spans[0][0].date() >= STOP.begins_on


def test_a_paper_wants_a_plan(road, opened, tmp_path):
    paper = paper_of("turnaround-scope")
    with road.register.reading() as session, pytest.raises(NotReady, match="not planned yet"):
        make(session, paper, Wanted((opened,), tmp_path, road.now))


def test_reasons_stay_on_record(road, opened):
    collect_scope(road.register, opened, **moment(road))
    road.worked(("C1",))
    with road.register.reading() as session:
        kept = session.scalars(select(TurnaroundReason.reference)).all()
    assert kept == [road.order] * 3
