"""Scope, hours and tasks of a turnaround, worked by hand; hours are guesses (no source)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from supports.rules.turnaround.effort import effort_of, scaffolds, totals
from supports.rules.turnaround.norms import proposed_norms
from supports.rules.turnaround.schedule import Placed, breaches, critical_tasks, moment
from supports.rules.turnaround.scope import (
    Action,
    Before,
    Material,
    Reason,
    Scope,
    Source,
    Where,
    merged,
)
from supports.rules.turnaround.tasks import Means, Task, Trade, Window, tasks_of

NORMS = proposed_norms()
MEANS = Means(date(2031, 5, 5), date(2031, 5, 18), 10.0, 2, 6, 3, 1, 1)
DRAINED = "shut down, drained"


def where(name: str, *, line: str = "L-1", along: int = 1, unit: bool = True, **more) -> Where:
    number = sum(ord(sign) << place for place, sign in enumerate(name))
    said = {"height": 1.0, "scaffold_group": ""} | more
    return Where(number, number if unit else None, name, name, line, along, **said)


def asked(order: str = "WO-1", action: Action = Action.RE_SET, **more) -> Reason:
    said = {"state_needed": DRAINED, "order_no": 1} | more
    return Reason(Source.CHANGE, order, str(action), action, change="CH-1", **said)


FOUND = Reason(Source.WALKDOWN, "WF-1", "ACT, corrosion", Action.MEND)
RULE = Reason(Source.RULE, "rod-over-rating", "STOP, over its rating", Action.MEND)


def scope(*wishes, **more) -> Scope:
    return Scope(items=tuple(merged(wishes)), **more)


def names(made: Scope) -> dict[str, list[str]]:
    return {one.where.name: [r.reference for r in one.reasons] for one in made.items}


# The example of the trade: C1 5.0, C2 24.0, V1 3.0 man-hours; scaffolds 12 and 8; 52 in all


def test_hours_of_the_worked_example_add_up():
    made = scope(
        (where("C1", scaffold_group="S1", height=4.0), asked(action=Action.RE_SET)),
        (where("C2", scaffold_group="S1", height=4.0), asked(action=Action.REPLACE)),
        (where("V1", scaffold_group="S2", height=2.0), asked(action=Action.TAKE_UP)),
    )
    by_name = {one.where.name: effort_of(one, NORMS).fitters for one in made.items}
    assert by_name == {"C1": 5.0, "C2": 24.0, "V1": 3.0}
    # 4 + 2 x 4 m = 12, 4 + 2 x 2 m = 8
    assert {one.name: one.hours for one in scaffolds(made, NORMS)} == {"S1": 12.0, "S2": 8.0}
    sums = totals(made, NORMS)
    assert (sums.fitters, sums.scaffold, sums.fitters + sums.scaffold) == (32.0, 20.0, 52.0)
    # Inspection 3 x 0.5; growth 15 % of 32 stands apart.
    assert (sums.inspection, sums.presence) == (1.5, 0.0)
    assert sums.whole == pytest.approx(53.5)
    assert sums.growth == pytest.approx(4.8)


def test_a_unit_asked_for_three_times_is_one_item_with_three_reasons():
    made = scope(
        (where("C1"), asked()), (where("C1"), FOUND), (where("C1"), RULE), (where("C1"), RULE)
    )
    assert names(made) == {"C1": ["WO-1", "WF-1", "rod-over-rating"]}
    assert len(made.items) == 1


def test_a_wish_for_a_whole_support_joins_its_unit():
    unit, whole = where("C1"), where("C1", unit=False)
    whole = replace(whole, point_id=unit.point_id)
    assert names(scope((whole, RULE), (unit, asked()))) == {"C1": ["rod-over-rating", "WO-1"]}


def test_who_sets_a_unit_sees_to_what_rules_found_but_not_to_what_an_inspector_found():
    by_rule = scope((where("C1"), asked()), (where("C1"), RULE)).items[0]
    by_walk = scope((where("C1"), asked()), (where("C1"), FOUND)).items[0]
    assert by_rule.actions == (Action.RE_SET,)
    assert by_walk.actions == (Action.RE_SET, Action.MEND)
    assert effort_of(by_walk, NORMS).fitters == pytest.approx(2 * 2.5 + 2 * 2.0)
    reading = scope((where("C1"), asked(action=Action.READ)), (where("C1"), FOUND)).items[0]
    assert reading.actions == (Action.MEND,)


def test_crew_and_hours_of_a_planned_order_go_before_the_norms():
    item = scope((where("C1"), asked(crew=3, hours=4.0, holds=("round 1",)))).items[0]
    effort = effort_of(item, NORMS)
    assert (effort.crew, effort.hours, effort.fitters, effort.presence) == (3, 4.0, 12.0, 0.5)


def test_a_scaffold_laid_down_by_a_planner_goes_before_the_norms():
    made = scope((where("C1", scaffold_group="S1", height=None), asked()))
    assert scaffolds(made, NORMS)[0].hours is None
    assert totals(made, NORMS).scaffolds_not_known == 1
    known = replace(made, scaffold_hours=(("S1", 9.0),))
    assert scaffolds(known, NORMS)[0].hours == 9.0


@pytest.mark.parametrize(("height", "built"), [(1.99, []), (2.0, ["at C1"]), (None, ["at C1"])])
def test_a_support_of_no_group_gets_its_own_scaffold_where_it_is_high(height, built):
    made = scope((where("C1", height=height), asked()))
    assert [one.name for one in scaffolds(made, NORMS)] == built


# Tasks


def planned(made: Scope, windows=()):
    found = tasks_of(made, NORMS, MEANS, windows)
    return {task.name: task for task in found.tasks}, dict(found.not_planned)


def test_one_crew_goes_along_a_line_in_order_of_turning_and_comes_back_to_a_scaffold():
    """C3, C1, C2 with C1 on another scaffold: S1 stands till the second pass."""
    made = scope(
        (where("C1", along=1, scaffold_group="S2", height=3.0), asked(order_no=2)),
        (where("C2", along=2, scaffold_group="S1", height=3.0), asked(order_no=3)),
        (where("C3", along=3, scaffold_group="S1", height=3.0), asked(order_no=1)),
    )
    tasks, left = planned(made)
    assert left == {}
    work = [task for name, task in tasks.items() if name.startswith("work")]
    assert [task.units for task in work] == [("C3",), ("C1",), ("C2",)]
    assert {task.chain for task in work} == {"line L-1"}
    assert [task.after for task in work] == [
        ("up S1",),
        ("up S2", "work 001"),
        ("up S1", "work 002"),
    ]
    assert set(tasks["down S1"].after) == {"work 001", "look 001", "work 003", "look 003"}
    # 2.5 h are 10 quarters; 10 man-h of scaffold, 65 % up by 3 people: 2.17 h, 9 quarters
    assert (work[0].length, tasks["up S1"].length, tasks["look 001"].length) == (10, 9, 2)


def test_orders_wait_for_each_other_and_for_their_parts():
    made = scope(
        (where("C1"), asked("WO-1")),
        (where("D1", line="L-2"), asked("WO-2")),
        befores=(Before("WO-1", "WO-2 first", "WO-2"),),
        materials=(Material("WO-2", "rod", 1, "ordered", date(2031, 5, 7)),),
    )
    tasks, _ = planned(made)
    by_unit = {task.units: task for name, task in tasks.items() if name.startswith("work")}
    assert by_unit["C1",].after == (by_unit["D1",].name,)
    # Due on the 7th: from the 8th on, three days of 40 quarters after the 5th.
    assert by_unit["D1",].windows == ((120, MEANS.horizon),)


def test_work_lies_where_the_line_is_in_the_state_needed():
    windows = [
        Window("L-1", DRAINED, date(2031, 5, 7), date(2031, 5, 8)),
        Window("L-2", DRAINED, date(2031, 5, 5), date(2031, 5, 18)),
    ]
    tasks, left = planned(
        scope((where("C1"), asked()), (where("E1", line="L-3"), asked())), windows
    )
    assert [t.windows for n, t in tasks.items() if n.startswith("work")] == [((80, 160),)]
    assert left == {"E1": f"no time is left for it while line L-3 is '{DRAINED}'"}


@pytest.mark.parametrize(
    ("made", "why"),
    [
        (
            scope((where("C1"), asked()), (where("C1"), asked("WO-2", state_needed="bare"))),
            f"its reasons need different states: {DRAINED} and bare",
        ),
        (
            scope((where("C1"), asked()), materials=(Material("WO-1", "rod", 1, "late"),)),
            "rod is late and has no day of delivery",
        ),
        (
            scope((where("C1", height=None), asked())),
            "its height is not known, so that its scaffold cannot be told",
        ),
    ],
)
def test_what_cannot_be_planned_says_why(made, why):
    tasks, left = planned(made)
    assert (tasks, left) == ({}, {"C1": why})


# A schedule is held against what it must keep


def task(name: str, length: int = 4, **more) -> Task:
    said = {"trade": Trade.FITTERS, "people": 2, "windows": ((0, 100),), "chain": name} | more
    return Task(name, length=length, **said)


@pytest.mark.parametrize(
    ("placed", "broken"),
    [
        ((Placed(task("a"), 0, 1), Placed(task("b"), 4, 1)), []),
        ((Placed(task("a"), 98, 1),), ["a lies outside the times allowed"]),
        (
            (Placed(task("a"), 0, 1), Placed(task("b", after=("a",)), 3, 2)),
            ["b begins before a is over"],
        ),
        ((Placed(task("a"), 0, 3),), ["a has no crew"]),
        (
            (Placed(task("a", chain="c"), 0, 1), Placed(task("b", chain="c"), 4, 2)),
            ["c is worked by more than one crew"],
        ),
        ((Placed(task("a"), 0, 1), Placed(task("b"), 3, 1)), ["crew 1 is at a and b at once"]),
        (
            (Placed(task("a", people=4), 0, 1), Placed(task("b", people=3), 3, 2)),
            ["more fitters are needed at once than there are"],
        ),
        (
            (Placed(task("a", engineer=True), 0, 1), Placed(task("b", engineer=True), 0, 2)),
            ["more engineers are needed at once than there are"],
        ),
    ],
)
def test_every_breach_of_a_schedule_is_found(placed, broken):
    assert list(breaches(MEANS, placed)) == broken


def test_critical_is_what_leads_without_slack_to_the_end():
    """A then b by crew 1 to the end at 8; c by crew 2 ends at 6 and could slip."""
    placed = (
        Placed(task("a"), 0, 1), Placed(task("b", after=("a",)), 4, 1), Placed(task("c", 6), 0, 2)
    )  # fmt: skip
    assert critical_tasks(MEANS, placed) == ("a", "b")


def test_quarters_of_an_hour_are_told_on_the_clock():
    assert f"{moment(MEANS, 0):%m-%d %H:%M}" == "05-05 07:00"
    assert f"{moment(MEANS, 42):%m-%d %H:%M}" == "05-06 07:30"
    assert f"{moment(MEANS, 40, is_end=True):%m-%d %H:%M}" == "05-05 17:00"
    assert f"{moment(MEANS, 40):%m-%d %H:%M}" == "05-06 07:00"
