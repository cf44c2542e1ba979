"""Starts and stops of lines are recorded, and rules count days from them; both databases.

Who may record is common practice, no source; 14 days to the walk in operation is the site setting
walk_after_change (common practice, no source).
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from sqlalchemy import insert

from supports.errors import BadInput, NotAllowed, NotFound
from supports.model import LineRunEvent, Reading, Unit
from supports.operations.line_runs import LineRan, record_line_run
from supports.queries.line_runs import events_of, newest_runs
from supports.queries.lookups import line_of, unit_of
from supports.queries.rule_runs import ask_register
from supports.queries.started_up import started_up
from supports.rules.catalogue import rule_of
from supports.rules.frame import Subject
from supports.rules.rule import Code
from supports.vocabulary import LineRun, PlantState
from tests.operations.road import Road, road_on


@pytest.fixture
def road(register) -> Road:
    return road_on(register)


def ran(road: Road, what: LineRun, on: date, *, by: str = "OP", **words: str) -> None:
    record_line_run(road.register, LineRan("L-1", what, on, **words), acting=by, now=road.now)


def answers(road: Road, rule: str) -> list[Code]:
    with road.register.reading() as session:
        (asked,) = ask_register(session, road.now.date(), rules=(rule_of(rule),)).asked
    return [Code(code) for code in asked.codes]


def read_hot(road: Road, tag: str, on: date) -> None:
    with road.register.reading() as session:
        unit = unit_of(session, tag)
        assert isinstance(unit, Unit)
        key = unit.id
    with road.register.engine.begin() as connection:
        connection.execute(
            insert(Reading),
            {"unit_id": key, "read_on": on, "plant_state": PlantState.OPERATING_STEADY,
             "pointer": 0.1, "read_by": "IN", "method": "scale", "occasion": "walkdown"},
        )  # fmt: skip


def test_starts_and_stops_stay_on_record_with_who_says_so(road):
    today = road.now.date()
    ran(road, LineRun.START_UP, today - timedelta(days=9), told_by="shift log 412")
    ran(road, LineRun.SHUT_DOWN, today - timedelta(days=2))
    with road.register.reading() as session:
        line = line_of(session, "L-1").id
        first, second = events_of(session, line)
        assert newest_runs(session) == {line: (today - timedelta(days=2), False)}
    assert (first.what, first.told_by, first.recorded_by) == ("start-up", "shift log 412", "OP")
    assert (second.what, second.told_by) == ("shut-down", "OP")
    assert road.last_batch() == ("OP", "record a shut-down")


@pytest.mark.parametrize("person", ["T1", "PL", "S1", "IN"])
def test_only_operations_or_who_answers_for_the_change_records(road, person):
    with pytest.raises(NotAllowed, match="may record a start-up"):
        ran(road, LineRun.START_UP, road.now.date(), by=person)
    assert road.refusals() == [(person, "record a start-up")]


def test_a_day_to_come_a_double_and_an_unknown_line_are_refused(road):
    with pytest.raises(BadInput, match="day to come"):
        ran(road, LineRun.START_UP, road.now.date() + timedelta(days=1))
    ran(road, LineRun.START_UP, road.now.date())
    with pytest.raises(BadInput, match="is on record"):
        ran(road, LineRun.START_UP, road.now.date())
    unknown = LineRan("L-99", LineRun.START_UP, road.now.date())
    with pytest.raises(NotFound):
        record_line_run(road.register, unknown, acting="OP", now=road.now)


def test_a_change_is_walked_within_days_of_its_start_up_or_the_rule_says_so(road):
    rule = "no-hot-walk-after-change"
    ran(road, LineRun.START_UP, road.now.date() - timedelta(days=30))  # before the work: no matter
    road.given_out()
    road.worked()
    assert answers(road, rule) == [Code.CANNOT_JUDGE]
    road.later(3)
    ran(road, LineRun.START_UP, road.now.date())
    began = road.now.date()
    road.later(14)
    assert answers(road, rule) == [Code.NOT_APPLICABLE]
    road.later(1)
    assert answers(road, rule) == [Code.FAILS]
    read_hot(road, "C1", began + timedelta(days=1))
    read_hot(road, "C2", began + timedelta(days=1))
    read_hot(road, "C3", began - timedelta(days=1))  # hot, but before the start
    with road.register.reading() as session:
        (since,) = started_up(session).values()
        assert since.on == began
        assert since.not_walked == {unit_of(session, "C3").id}
    read_hot(road, "C3", began)
    assert answers(road, rule) == [Code.PASSES]


def test_a_start_tells_that_the_line_runs_although_nobody_has_read_it(road):
    road.stop("C1", "P-1", "in")
    assert answers(road, "lock-in-while-running").count(Code.CANNOT_JUDGE) == 1
    ran(road, LineRun.START_UP, road.now.date())
    assert answers(road, "lock-in-while-running").count(Code.FAILS) == 1
    road.later()
    ran(road, LineRun.SHUT_DOWN, road.now.date())
    assert answers(road, "lock-in-while-running").count(Code.FAILS) == 0
    with road.register.reading() as session:
        rows = ask_register(session, road.now.date(), rules=()).plant.frames[Subject.UNIT]
    assert rows["line_running"][0] == 0.0


def test_starts_are_never_rewritten(road):
    ran(road, LineRun.START_UP, road.now.date())
    with pytest.raises(Exception, match="history is added"), road.register.engine.begin() as c:
        c.exec_driver_sql(f"UPDATE {LineRunEvent.__tablename__} SET id = 9")  # noqa: S608  ours
