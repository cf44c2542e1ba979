"""Tampering by somebody who knows the program well: what finds it, beside the chain alone."""

from __future__ import annotations

from typing import Any

import pytest
from sqlalchemy import select

from app.copies import keep_copy
from supports.audit import GENESIS, first_break, head
from supports.audit.chain import Deed, Entry, _entry, _stored, chain_hash
from supports.database import Register, sqlite_url
from supports.freezing import written
from supports.model import AuditBatch, Person
from supports.operations.copying import compare_registers
from supports.queries.rows_and_record import departures
from tests.test_audit import TAMPERINGS, past_the_guards, write


def rehashed(register: Register, since: int) -> None:
    """Write the chain anew from a batch on, as somebody does who knows the program."""
    previous = GENESIS
    with register.reading() as session:
        batches = session.scalars(select(AuditBatch).order_by(AuditBatch.id)).all()
        new = []
        for batch in batches:
            deed = Deed(batch.action, batch.actor, batch.reason or "", batch.written_at)
            digest = chain_hash(previous, deed, map(_entry_as_written, _stored(session, batch.id)))
            if batch.id >= since:
                new.append((batch.id, previous, digest))
            previous = digest
    for number, before, digest in reversed(new):
        chained = f"previous_hash = '{before}', hash = '{digest}' WHERE id = {number}"
        past_the_guards(register, f"UPDATE audit_batch SET {chained}")  # noqa: S608  our own hashes


def _entry_as_written(row: Any) -> Entry:
    return _entry(row, written)


def test_a_tail_chained_anew_shows_in_the_printed_head_and_in_a_backup(register, tmp_path):
    """The chain alone cannot tell: each batch follows. What left the house before it can."""
    for name in ("Ada", "Bea", "Cleo"):
        write(register, Person(name=name))
    kept = keep_copy(register, tmp_path / "kept.db")
    with register.reading() as session:
        printed = head(session)
    past_the_guards(register, TAMPERINGS["a row's new values"])
    past_the_guards(register, "UPDATE person SET name = 'Eve' WHERE id = 2")
    rehashed(register, 2)
    with register.reading() as session:
        assert first_break(session) is None
        assert head(session) != printed
    here, there = compare_registers(register, Register(sqlite_url(tmp_path / "kept.db")))
    assert there == kept
    assert here.fingerprint != kept.fingerprint


REORDERED = {
    "batches": (
        "UPDATE audit_batch SET id = 9 WHERE id = 2",
        "UPDATE audit_batch SET id = 2 WHERE id = 3",
        "UPDATE audit_batch SET id = 3 WHERE id = 9",
    ),
    "entries": (
        "UPDATE audit_entry SET id = 9 WHERE id = 2",
        "UPDATE audit_entry SET id = 2 WHERE id = 3",
        "UPDATE audit_entry SET id = 3 WHERE id = 9",
    ),
}


@pytest.mark.parametrize("what", REORDERED)
def test_a_record_put_in_another_order_is_found(register, what):
    write(register, Person(name="Ada"))
    write(register, Person(name="Bea"), Person(name="Cleo"))
    write(register, Person(name="Dora"))
    for statement in REORDERED[what]:
        past_the_guards(register, statement)
    with register.reading() as session:
        assert getattr(first_break(session), "id", None) == 2


BESIDES = {
    "UPDATE person SET name = 'Eve' WHERE id = 2":
        "person 2 says something else than the record: name",
    "DELETE FROM person WHERE id = 2": "person 2 is on record and was taken out",
    "INSERT INTO person (id, name) VALUES (9, 'Eve')": "person 9 is on no record",
}  # fmt: skip


@pytest.mark.parametrize("statement", BESIDES)
def test_a_row_changed_past_the_program_no_longer_says_what_the_record_says(register, statement):
    for name in ("Ada", "Bea"):
        write(register, Person(name=name))
    with register.reading() as session:
        assert list(departures(session)) == []
    past_the_guards(register, statement)
    with register.reading() as session:
        assert first_break(session) is None
        assert [str(one) for one in departures(session)] == [BESIDES[statement]]


def test_an_entry_made_to_read_as_two_is_found(register):
    """The hash runs over text: what names a table or a row must not bring an entry of its own."""
    write(register, Person(name="Ada"), Person(name="Bea"))
    smuggled = """person",1,None,{"id":1,"name":"Ada"},None]\n["person"""
    past_the_guards(register, "DELETE FROM audit_entry WHERE row_id = 1")
    past_the_guards(register, f"UPDATE audit_entry SET table_name = '{smuggled}'")  # noqa: S608  our own text
    with register.reading() as session:
        assert first_break(session) is not None


def test_an_entry_that_is_no_json_is_a_break_and_no_mishap(register):
    write(register, Person(name="Ada"))
    if register.url.get_backend_name() != "sqlite":
        pytest.skip("a server keeps JSON as JSON")
    past_the_guards(register, """UPDATE audit_entry SET after = '{"name":'""")
    with register.reading() as session:
        assert first_break(session) is not None
