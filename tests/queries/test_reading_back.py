"""Supports, their histories and the register in the words of the sheets; on both databases."""

from __future__ import annotations

from datetime import date

import pytest
from sqlalchemy import event, insert, select

from supports.errors import NotFound
from supports.model import Reading, SettingEvent, Unit
from supports.queries.existing import today
from supports.queries.lookups import line_of, point_of, unit_of
from supports.queries.provenance import where_from
from supports.queries.support_views import points_on_lines, support_views
from supports.queries.unit_history import (
    last_readings,
    present_settings,
    readings_of,
    settings_of,
)
from tests.stored import LINE, NOW, SETTING, SUPPORT, UNIT, record, store, with_writer

LATER = record(
    "setting", ("PS-1", "A", "2030-01-01", "2"), happened_on=date(2030, 1, 1), load=21_000.0,
    method="scale", set_by="N. N.",
)  # fmt: skip


@pytest.fixture
def filled(register):
    second = record("support", ("PS-10",), line="L-1", order_along=0, kind="guide")
    third = record("support", ("PS-2",), kind="rest")
    store(with_writer(register), LINE, SUPPORT, second, third, UNIT, SETTING, LATER)
    return register


def test_what_was_stored_is_read_in_the_words_of_the_sheets(filled):
    with filled.reading() as session:
        values = today(session).values
    for one in (LINE, SUPPORT, UNIT, SETTING, LATER):
        stored = values[one.subject, one.key]
        assert {name: stored[name] for name in one.values} == one.values


def test_two_events_of_a_day_are_told_apart_and_the_later_one_holds(filled):
    with filled.reading() as session:
        unit = unit_of(session, "PS-1")
        loads = [setting.load for setting in settings_of(session, [unit.id])[unit.id]]
        assert loads == [20_000.0, 21_000.0]
        assert present_settings(session, None)[unit.id].load == 21_000.0


@pytest.fixture
def often(filled):
    """Give a unit with years of events, two of them on one day, not written in order of time."""
    days = [date(2020, 1, 1 + (7 * n) % 28) for n in range(28)] + [date(2030, 2, 2)] * 2
    with filled.reading() as session:
        unit = unit_of(session, "PS-1").id
    event_of = {"unit_id": unit, "plant_state": "unknown", "method": "scale"}
    with filled.engine.begin() as connection:
        for n, day in enumerate(days, start=1):
            load = 100.0 * n
            connection.execute(
                insert(SettingEvent),
                {**event_of, "happened_on": day, "load": load, "set_by": "N. N."},
            )
            connection.execute(
                insert(Reading),
                {**event_of, "read_on": day, "scale_load": load, "read_by": "N. N.",
                 "occasion": "other"},
            )  # fmt: skip
    return filled, unit


def test_the_newest_event_of_a_unit_is_the_last_of_its_history(often):
    register, unit = often
    with register.reading() as session:
        for units in (None, [unit]):
            assert present_settings(session, units)[unit] == settings_of(session, units)[unit][-1]
            assert last_readings(session, units)[unit] == readings_of(session, units)[unit][-1]
        assert present_settings(session, None)[unit].load == 3_000.0
        assert last_readings(session, None)[unit].scale_load == 3_000.0
        assert present_settings(session, []) == last_readings(session, []) == {}


def test_the_newest_event_is_looked_up_by_its_index(often):
    register, unit = often
    if register.engine.dialect.name != "sqlite":
        pytest.skip("the words of the plan are those of SQLite")
    with register.reading() as session:
        plans = [_plan(session, act, [unit]) for act in (present_settings, last_readings)]
    for plan, index in zip(
        plans, ("ix_setting_event_unit_day", "ix_reading_unit_day"), strict=True
    ):
        assert index in plan
        assert "SCAN" not in plan


def _plan(session, act, units):
    """Return how the database goes about the query that an act makes."""
    asked = []

    def note(_connection, _cursor, statement, values, _context, _many):
        asked.append((statement, values))

    event.listen(session.get_bind(), "before_cursor_execute", note)
    act(session, units)
    event.remove(session.get_bind(), "before_cursor_execute", note)
    ((statement, values),) = [one for one in asked if one[0].startswith("SELECT")]
    rows = session.connection().exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", values)
    return "\n".join(row.detail for row in rows)


def test_supports_come_in_the_natural_order_of_their_tags(filled):
    with filled.reading() as session:
        assert [view.tag for view in support_views(session)] == ["PS-1", "PS-2", "PS-10"]
        points = points_on_lines(session, ["L-1"])
        assert [view.tag for view in support_views(session, points)] == ["PS-1", "PS-10"]
        assert support_views(session, []) == []


def test_an_area_is_a_fact_of_the_line_and_not_its_code_of_construction(register):
    coded = record("line", ("L-7",), area="South", code="the site's own code")
    store(with_writer(register), coded)
    with register.reading() as session:
        assert today(session).values["line", ("L-7",)] == coded.values


def test_a_wrong_name_is_answered_with_the_nearest(filled):
    with filled.reading() as session:
        with pytest.raises(NotFound, match="Did you mean L-1"):
            line_of(session, "L-11")
        with pytest.raises(NotFound, match="PS-1"):
            point_of(session, "PS-11")
        with pytest.raises(NotFound, match="0 units"):
            unit_of(session, "PS-2")


def test_a_tag_is_found_however_it_is_spaced_or_cased(filled):
    with filled.reading() as session:
        assert point_of(session, "ps 1") == point_of(session, "PS-1")


def test_a_value_tells_its_cell_and_one_set_by_hand_its_deed(filled):
    with filled.reading() as session:
        unit = session.scalars(select(Unit.id)).one()
        origin = where_from(session, "unit", unit, "serial")
        assert str(origin.place) == "plant.xlsx unit C2"
        assert origin.text == "0042"
        assert where_from(session, "unit", unit, "series") is None
    with filled.writing("M. M.", "seen on the plate", NOW, action="mend a unit") as writing:
        writing.session.get_one(Unit, unit).serial = "0043"
    with filled.reading() as session:
        origin = where_from(session, "unit", unit, "serial")
    assert (origin.value, origin.text, str(origin.place)) == ("0043", "", "")
    assert str(origin) == "mend a unit, by M. M. on 2031-05-04"
