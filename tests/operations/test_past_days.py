"""The register of a past day played again from the trail, held against what was read that day."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from app.past import as_of_day, differences_between
from supports.audit import first_break
from supports.errors import BadInput, NotFound
from supports.operations.site import found_register
from supports.queries.as_of import register_as_of, rows_as_of
from supports.queries.audit_head import clocks_set_back
from supports.queries.change_views import change_view
from supports.queries.differences import differences, rows_of_point
from supports.queries.lookups import point_of
from supports.queries.plant_days import end_of_day
from supports.queries.rows_and_record import departures
from supports.queries.support_views import support_views


def seen(session, road):
    """Return what today's queries say of supports and change."""
    return support_views(session), change_view(session, road.number)


def test_a_past_day_answers_as_the_day_itself_did(road):
    road.approved()
    with road.register.reading() as session:
        that_day, moment = seen(session, road), road.now
    road.later()
    road.issue().worked()
    with road.register.reading() as session:
        assert seen(session, road) != that_day
        with register_as_of(session, moment) as then:
            assert seen(then, road) == that_day


def test_the_present_played_again_is_the_present_on_every_table(road):
    from sqlalchemy import select

    from supports.model import Base

    road.given_out().worked().proved()
    untold = {"audit_batch", "audit_entry", "refusal"}
    with road.register.reading() as session, register_as_of(session, road.now) as then:
        assert list(departures(session)) == []
        for table in Base.metadata.sorted_tables:
            if table.name in untold:
                continue
            columns = [c for c in table.columns if c.name != "row_version"]
            query = select(*columns).order_by(table.c.id)
            assert then.execute(query).all() == session.execute(query).all(), table.name


def test_what_was_not_there_yet_is_not_shown(road):
    before = road.now
    road.later()
    road.note()
    with road.register.reading() as session:
        assert "change" not in rows_as_of(session, before)
        with pytest.raises(NotFound):
            list(as_of_day(session, before, ("", "", road.number)).lines)


def test_the_difference_of_two_days_is_by_field_and_names_who(road):
    start = road.now
    road.later()
    road.given_out().worked(("C1",))
    with road.register.reading() as session:
        found = differences(session, start, road.now, set(rows_of_point(session, 1)))
    told = {(one.row[0], one.field): (one.before, one.after, one.last_by) for one in found}
    assert told["setting_event", "load"] == (None, 22_100.0, "T1")
    assert not any(one.row[0] == "change" for one in found)


def test_changed_and_changed_back_does_not_differ(road):
    start = road.now
    road.later()
    for name in ("pressed", None):
        with road.register.writing("KK", "", road.now, action="write") as writing:
            from supports.model import SupportPoint

            writing.session.get_one(SupportPoint, point_of(writing.session, "C1")).note = name
    with road.register.reading() as session:
        assert differences(session, start, road.now) == []


def test_the_key_that_seals_forms_is_told_to_nobody(road):
    start = road.now
    road.later()
    sealed = {"plant": "Test Works", "form_key": "k" * 32, "acting": "KK"}
    found_register(road.register, **sealed, now=road.now)
    with road.register.reading() as session:
        told = "\n".join(map(str, differences(session, start, road.now)))
    assert "Test Works" in told
    assert "'form key'" in told
    assert "k" * 32 not in told


def test_pages_of_the_past_say_the_day_and_count(road):
    start = road.now
    road.later()
    road.approved()
    with road.register.reading() as session:
        first, last = end_of_day(session, start), end_of_day(session, road.now)
        page = list(as_of_day(session, last, ("C1", "", "")).lines)
        of_line = list(as_of_day(session, last, ("", "L-1", "")).lines)
        change = list(as_of_day(session, last, ("", "", road.number)).lines)
        told = list(differences_between(session, (first, last), ("", "", "")).lines)
    assert page[0] == "As of the end of 2031-05-05:"
    assert of_line[-1] == "3 supports."
    assert any("cleared to build" in line for line in change)
    assert told[-1].startswith(f"{len(told) - 1} fields differ")


@pytest.mark.parametrize("about", [("", "", ""), ("C1", "L-1", "")])
def test_one_thing_is_asked_for(road, about):
    with road.register.reading() as session, pytest.raises(BadInput, match="one of --support"):
        list(as_of_day(session, road.now, about).lines)


def test_two_days_stand_in_order(road):
    early = datetime(2031, 1, 1)  # noqa: DTZ001  the register keeps UTC without zone
    with road.register.reading() as session, pytest.raises(BadInput, match="before the first"):
        list(differences_between(session, (road.now, early), ("", "", "")).lines)


def test_a_clock_set_back_leaves_past_days_whole_and_is_told(road):
    """What was noted by a clock that ran ahead, and went on by the right one, hangs together."""
    ahead = road.now + timedelta(days=400)
    right, road.now = road.now, ahead
    road.note()
    road.now = right + timedelta(hours=1)
    road.sift()
    later = road.now + timedelta(minutes=1)
    with road.register.reading() as session:
        assert first_break(session) is None
        assert [(one.says, one.after) for one in clocks_set_back(session)] == [(road.now, ahead)]
        with register_as_of(session, later) as then:
            assert change_view(then, road.number) == change_view(session, road.number)
        found = differences(session, right, later)
        assert {one.field for one in found if one.row[0] == "change"} >= {"number", "stretch"}
        assert differences(session, later, ahead) == []


def test_a_clock_that_runs_on_is_not_told(road):
    road.approved()
    with road.register.reading() as session:
        assert clocks_set_back(session) == []
