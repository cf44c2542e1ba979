"""A plan is stored whole with its audit batch and source rows, or not at all; on both databases."""

from __future__ import annotations

import json
from dataclasses import astuple
from datetime import date

import pytest
from sqlalchemy import func, select

from supports.audit import first_break
from supports.errors import InputHasFaults, NotFound
from supports.findings import Finding, Severity
from supports.model import (
    Attachment,
    AuditBatch,
    AuditEntry,
    Base,
    ImportRun,
    Line,
    SourceRow,
    SupportPoint,
    SupportTag,
)
from supports.proposals import Verb
from supports.queries.as_of import register_as_of
from supports.queries.lookups import point_of
from supports.queries.record import history_of_row
from supports.queries.rows_and_record import departures
from tests.stored import FILE, LINE, NOW, SETTING, SUPPORT, UNIT, record, store, with_writer
from tests.test_audit import past_the_guards, write


@pytest.fixture
def register(register):
    return with_writer(register)


def counted(register):
    """Count the rows of every table that has any, but not the writer."""
    with register.reading() as session:
        tables = [t for t in Base.metadata.sorted_tables if t.name != "person"]
        counts = {t.name: session.scalar(select(func.count()).select_from(t)) for t in tables}
    return {name: count for name, count in counts.items() if count}


def test_a_plan_is_stored_with_its_batch_and_its_source_rows(register):
    store(register, LINE, SUPPORT, UNIT, SETTING)
    with register.reading() as session:
        batch = session.scalars(select(AuditBatch)).one()
        assert (batch.action, batch.actor, batch.reason) == ("import", "N. N.", "a test")
        run = session.scalars(select(ImportRun)).one()
        assert (run.file_name, run.file_hash) == (FILE.name, FILE.digest)
        rows = session.scalars(select(SourceRow)).all()
        assert {row.sheet for row in rows} == {"line", "support", "unit", "setting"}
        assert session.scalars(select(Line)).one().row_version == 1
    counts = counted(register)
    plumbing = {"audit_batch", "audit_entry"}
    written = sum(count for name, count in counts.items() if name not in plumbing)
    assert counts["audit_entry"] == written


def test_every_row_of_facts_names_its_source_row(register):
    store(register, LINE, SUPPORT, UNIT, SETTING)
    with register.reading() as session:
        query = select(AuditEntry.table_name).where(AuditEntry.source_row_id.is_(None))
        assert set(session.scalars(query)) == {"import_run", "source_row"}


def altered_rows(register):
    """Return the source rows that do not say what the record says, as lines."""
    with register.reading() as session:
        return [str(one) for one in departures(session) if one.table == "source_row"]


def cells_held(session):
    return {row.id: row.cells for row in session.scalars(select(SourceRow).order_by(SourceRow.id))}


def test_cells_as_found_stand_in_their_row_alone_and_the_record_tells_them_whole(register):
    """Stored in bulk or one by one."""
    read = store(register, LINE, SUPPORT).proposals[0].record.source.cells
    cells = {"tag": ["A", 'Ä "7"\n\\', ""]}
    write(register, SourceRow(import_run_id=1, sheet="by hand", row=2, cells=cells))
    with register.reading() as session:
        found = cells_held(session)
        assert found[1] == {name: list(astuple(cell)) for name, cell in read.items()}
        assert found[max(found)] == cells
        entries = session.scalars(select(AuditEntry).where(AuditEntry.table_name == "source_row"))
        assert [list(entry.after["cells"]) for entry in entries] == [["sha256"]] * 3
        told = [history_of_row(session, "source_row", row)[0].values for row in found]
        assert [v.after for one in told for v in one if v.field == "cells"] == [*found.values()]
        with register_as_of(session, NOW) as then:
            assert cells_held(then) == found


def test_cells_altered_in_their_row_are_found_by_the_record(register):
    store(register, LINE, SUPPORT)
    assert altered_rows(register) == []
    past_the_guards(register, """UPDATE source_row SET cells = '{"tag":["A","7",""]}' WHERE id=2""")
    said = "source row 2 says something else than the record: cells"
    assert altered_rows(register) == [said]
    with register.reading() as session:
        assert first_break(session) is None
        with register_as_of(session, NOW) as then:
            assert "sha256" in cells_held(then)[2]


def test_cells_gone_with_their_mark_in_their_place_are_found_by_the_record(register):
    store(register, LINE, SUPPORT)
    with register.reading() as session:
        recorded = session.scalars(select(AuditEntry).where(AuditEntry.table_name == "source_row"))
        mark = {one.row_id: one.after["cells"]["sha256"] for one in recorded}[2]
    cells = json.dumps({"sha256": mark})
    past_the_guards(register, "UPDATE source_row SET cells = '" + cells + "' WHERE id=2")  # noqa: S608  ours
    assert altered_rows(register) == ["source row 2 says something else than the record: cells"]


def test_cells_recorded_whole_by_an_earlier_revision_still_prove_themselves(register, monkeypatch):
    cells = {"code": ["A", "A1", ""]}
    monkeypatch.setattr("supports.audit.trail.mark_of", lambda document: document)
    write(register, ImportRun(file_name="a.xlsx", file_hash="0", read_at=NOW, read_by="N. N."))
    write(register, SourceRow(import_run_id=1, sheet="Areas", row=2, cells=cells))
    assert altered_rows(register) == []
    with register.reading() as session:
        assert first_break(session) is None
        with register_as_of(session, NOW) as then:
            assert cells_held(then) == {1: cells}
    past_the_guards(register, """UPDATE source_row SET cells = '{"code":["A","A2",""]}'""")
    assert len(altered_rows(register)) == 1


def test_the_same_plan_again_writes_nothing(register):
    store(register, LINE, SUPPORT, UNIT, SETTING)
    before = counted(register)
    assert store(register, LINE, SUPPORT, UNIT, SETTING).changes_nothing
    assert counted(register) == before


def test_a_plan_that_speaks_of_an_unknown_line_is_not_stored_at_all(register):
    lost = record("support", ("PS-2",), line="L-9")
    with pytest.raises(NotFound, match="L-9") as told:
        store(register, LINE, SUPPORT, lost)
    assert "plant.xlsx support" in str(told.value)
    assert counted(register) == {}


def test_a_finding_that_forbids_storing_is_respected(register):
    stop = Finding("unit-not-stated", Severity.STOP, "no unit")
    with pytest.raises(InputHasFaults) as told:
        store(register, LINE, findings=[stop])
    assert told.value.findings == (stop,)
    assert counted(register) == {}


def test_an_event_is_never_changed(register):
    store(register, LINE, SUPPORT, UNIT, SETTING)
    before = counted(register)
    other = record("setting", SETTING.key, happened_on=date(2030, 1, 1), load=21_000.0)
    with pytest.raises(InputHasFaults, match="never changed"):
        store(register, other)
    assert counted(register) == before


def test_a_change_keeps_what_was_before(register):
    store(register, LINE, SUPPORT)
    plan = store(register, record("line", ("L-1",), row=9, service="steam"))
    assert [p.verb for p in plan.proposals] == [Verb.CHANGE]
    with register.reading() as session:
        entry = session.scalars(select(AuditEntry).order_by(AuditEntry.id.desc())).first()
        assert (entry.before, entry.after) == ({"service": None}, {"service": "steam"})
        assert session.get_one(SourceRow, entry.source_row_id).row == 9
        line = session.scalars(select(Line)).one()
        assert (line.service, line.row_version) == ("steam", 2)


def test_a_support_moves_to_another_line(register):
    store(register, LINE, record("line", ("L-2",)), SUPPORT)
    store(register, record("support", ("PS-1",), line="L-2", node="40"))
    with register.reading() as session:
        place = session.scalars(select(Attachment)).one()
        assert session.get_one(Line, place.line_id).number == "L-2"
        assert (place.order_along, place.node) == (1, "40")


def test_a_former_tag_still_finds_the_support(register):
    store(register, LINE, SUPPORT, record("support", ("PS-1",), former_tag="OLD-1"))
    with register.reading() as session:
        points = session.scalars(select(SupportPoint.id)).all()
        assert [point_of(session, "OLD-1")] == points
        tags = session.scalars(select(SupportTag.tag).order_by(SupportTag.id)).all()
        assert tags == ["PS-1", "OLD-1"]


def test_ids_given_in_blocks_never_meet_those_given_one_by_one(register):
    many = [record("line", (f"L-{n}",), row=n + 2) for n in range(600)]
    store(register, *many)
    with register.writing("N. N.", "by hand", NOW, action="test") as writing:
        writing.session.add(Line(number="by hand"))
    store(register, *(record("line", (f"M-{n}",), row=n + 2) for n in range(3)))
    with register.reading() as session:
        assert session.scalar(select(func.count(Line.id.distinct()))) == 604
