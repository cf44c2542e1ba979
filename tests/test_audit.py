"""The trail: every row before and after, chained, and what happens when somebody tampers."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
import sqlite3
from typing import Any

import psycopg
import pytest
from sqlalchemy import delete, insert, inspect, select, text, update
from sqlalchemy.exc import DatabaseError

from supports.audit import GENESIS, RowChange, first_break, head
from supports.database import Register
from supports.errors import NotAllowed
from supports.freezing import canonical
from supports.model import (
    Area,
    AuditBatch,
    AuditEntry,
    Base,
    Change,
    ImportRun,
    Nameplate,
    Person,
    SiteSetting,
    SourceRow,
    Unit,
)
from tests.postgres import address
from tests.rows import fill, read

NOW = dt.datetime(2031, 5, 4, 3, 2, 1, 654321)  # noqa: DTZ001  the register keeps UTC without zone

HISTORY = tuple(
    sorted(m.class_.__tablename__ for m in Base.registry.mappers if m.class_.append_only)
)

NASTY: list[Any] = [
    0.1,
    -0.0,
    0.1 + 0.2,
    1e22,
    1e-300,
    5e-324,
    1.7976931348623157e308,
    123456789.12345679,
    9007199254740993,
    3,
    3.0,
    True,
    False,
    None,
    "",
    "3",
    "Ä \N{SNOWMAN} \N{MUSICAL SYMBOL G CLEF}",
    "a\tb\nc\\d\"e'f",
    [],
    {},
    {"b": 1.0, "a": [1, {"é": None}]},
]
"""Values whose writing differs between programs: signed zero, limits of floats, order of keys."""


def write(register: Register, *rows: Base, source: int | None = None) -> None:
    with register.writing("tester", "a test", NOW, action="add") as writing:
        writing.trail.source_row_id = source
        writing.session.add_all(rows)


def entries(register: Register) -> list[AuditEntry]:
    with register.reading() as session:
        found = list(session.scalars(select(AuditEntry).order_by(AuditEntry.id)))
        session.expunge_all()
        return found


def past_the_guards(register: Register, statement: str) -> None:
    """Run a statement as an administrator with bad intent: triggers off."""
    if register.url.get_backend_name() == "postgresql":
        with psycopg.connect(address(register.url), autocommit=True) as connection:
            connection.execute("SET session_replication_role = replica")
            connection.execute(statement)
        return
    connection = sqlite3.connect(str(register.url.database))
    triggers = connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
    for (name,) in triggers.fetchall():
        connection.execute(f"DROP TRIGGER {name}")
    connection.execute(statement)
    connection.commit()
    connection.close()


# What a batch holds


def test_a_new_row_is_recorded_whole_and_a_change_with_what_it_changed(register):
    write(register, Person(name="Ada", initials="A"))
    with register.writing("tester", "a test", NOW, action="rename") as writing:
        writing.session.scalars(select(Person)).one().name = "Ada B"
    new, changed = entries(register)
    assert (new.table_name, new.row_id, new.before) == ("person", 1, None)
    assert new.after == {"id": 1, "name": "Ada", "initials": "A"}
    assert (changed.table_name, changed.row_id) == ("person", 1)
    assert (changed.before, changed.after) == ({"name": "Ada"}, {"name": "Ada B"})


def test_a_batch_says_who_why_and_when(register):
    write(register, Person(name="Ada"))
    with register.reading() as session:
        batch = session.scalars(select(AuditBatch)).one()
        said = (batch.action, batch.actor, batch.reason, batch.written_at, batch.previous_hash)
    assert said == ("add", "tester", "a test", NOW, GENESIS)


def test_a_row_touched_but_not_changed_leaves_no_entry(register):
    write(register, Person(name="Ada"))
    with register.writing("tester", "a test", NOW, action="same") as writing:
        writing.session.scalars(select(Person)).one().name = "Ada"
    assert len(entries(register)) == 1


def test_rows_written_in_bulk_are_recorded_as_rows_written_one_by_one(register):
    write(register, Area(code="A1", name="one"), Area(code="A2"))
    with register.writing("tester", "a test", NOW, action="bulk") as writing:
        ids = writing.trail.new_ids(Area.__table__, 2)
        rows = [
            {"id": ids[0], "code": "B1", "name": "one"},
            {"id": ids[1], "code": "B2", "name": None},
        ]
        writing.trail.insert_rows(Area.__table__, rows)
    one_by_one, in_bulk = entries(register)[:2], entries(register)[2:]
    assert ids == [3, 4]
    for single, bulk in zip(one_by_one, in_bulk, strict=True):
        assert single.after.keys() == bulk.after.keys()
        assert (single.table_name, single.before) == (bulk.table_name, bulk.before)


@pytest.mark.parametrize("count", [1, 24, 25, 26, 2_001, 2_030])
def test_as_many_rows_and_entries_as_were_handed_over_come_back(register, count):
    """Rows of few columns go to SQLite several in a statement, the last ones alone."""
    codes = [f"A{n}" for n in range(count)]
    with register.writing("tester", "a test", NOW, action="bulk") as writing:
        ids = writing.trail.new_ids(Area.__table__, count)
        rows = [{"id": one, "code": code} for one, code in zip(ids, codes, strict=True)]
        writing.trail.insert_rows(Area.__table__, rows)
    with register.reading() as session:
        assert list(session.scalars(select(Area.code).order_by(Area.id))) == codes
        assert first_break(session) is None
    told = [(entry.row_id, entry.after["code"]) for entry in entries(register)]
    assert told == list(zip(ids, codes, strict=True))


def test_a_bulk_change_counts_the_version_and_is_recorded(register):
    change = Change(
        number="C-1",
        title="Heavier valve",
        duration="permanent",
        state="draft",
        requested_by="tester",
        requested_on=NOW.date(),
    )
    write(register, change)
    with register.writing("tester", "a test", NOW, action="bulk") as writing:
        before, after = {"id": 1, "ends_on": None}, {"ends_on": dt.date(2032, 1, 1)}
        writing.trail.update_rows([RowChange(Change.__table__, before, after)])
    with register.reading() as session:
        stored = session.scalars(select(Change)).one()
        assert (stored.ends_on, stored.row_version) == (dt.date(2032, 1, 1), 2)
    assert entries(register)[-1].before == {"ends_on": None}
    assert entries(register)[-1].after == {"ends_on": "2032-01-01"}


def test_an_entry_names_the_sheet_row_it_came_from(register):
    run = ImportRun(file_name="areas.xlsx", file_hash="0", read_at=NOW, read_by="tester")
    write(register, run)
    write(register, SourceRow(import_run_id=1, sheet="Areas", row=2, cells={"code": "A1"}))
    write(register, Area(code="A1"), source=1)
    assert [e.source_row_id for e in entries(register)] == [None, None, 1]


# Numbers and words go through both databases unharmed


@pytest.mark.parametrize("position", range(len(NASTY)))
def test_a_value_comes_back_as_it_went_and_the_chain_holds(register, position):
    wanted = {"value": NASTY[position]}
    setting = SiteSetting(
        name="n", scope="", value=wanted, owner="tester", valid_from=NOW.date(), source=None
    )
    write(register, setting)
    with register.reading() as session:
        assert canonical(session.scalars(select(SiteSetting.value)).one()) == canonical(wanted)
        assert first_break(session) is None


def test_equal_numbers_have_one_writing_and_unequal_things_do_not():
    assert canonical({"b": 3, "a": 1}) == canonical({"a": 1.0, "b": 3.0})
    apart = [3, "3", "3.0", True, None, [3], {"3": 3}, 3.0000000000000004]
    assert len({canonical(value) for value in apart}) == len(apart)


def test_what_is_written_in_bulk_comes_back_and_its_chain_holds(register):
    write(register, Unit(kind="constant hanger"), Unit(kind="variable hanger"))
    plates = [
        {"id": 1, "unit_id": 1, "nameplate_load": 2e4, "movement": -0.0, "rate": 1e22},
        {"id": 2, "unit_id": 2, "nameplate_load": 0.1 + 0.2, "movement": 1e-7, "rate": None},
    ]
    common = {"source": "plate", "scale_unit": "kN", "pointer_unit": "mm", "provisional": "no"}
    table = [[18e3, 270.0], [20e3, 290.5]]
    rows = [{**plate, **common, "load_per_turn_table": table, "row_version": 1} for plate in plates]
    with register.writing("tester", "a test", NOW, action="bulk") as writing:
        writing.trail.insert_rows(Nameplate.__table__, rows)
        run = {
            "id": 1,
            "file_name": "f",
            "file_hash": "0",
            "read_at": NOW,
            "read_by": "Ä \N{SNOWMAN}",
        }
        writing.trail.insert_rows(ImportRun.__table__, [run])
    with register.reading() as session:
        stored = session.scalars(select(Nameplate).order_by(Nameplate.id)).all()
        assert [(p.nameplate_load, p.movement, p.rate) for p in stored] == [
            (2e4, 0.0, 1e22),
            (0.1 + 0.2, 1e-7, None),
        ]
        assert [p.load_per_turn_table for p in stored] == [table, table]
        assert session.scalars(select(ImportRun.read_at)).one() == NOW
        assert first_break(session) is None
    first = entries(register)[2]
    wanted = {name: value for name, value in rows[0].items() if value is not None}
    assert canonical(first.after) == canonical(wanted)


# What the session refuses


def test_deleting_a_row_is_refused(register):
    write(register, Person(name="Ada"))

    def remove() -> None:
        with register.writing("tester", "a test", NOW, action="remove") as writing:
            writing.session.delete(writing.session.scalars(select(Person)).one())

    with pytest.raises(NotAllowed, match="never deleted"):
        remove()
    assert len(entries(register)) == 1


@pytest.mark.parametrize("statement", [update(Person).values(name="X"), delete(Person)])
def test_writing_past_the_trail_is_refused(register, statement):
    write(register, Person(name="Ada"))

    def in_bulk() -> None:
        with register.writing("tester", "a test", NOW, action="bulk") as writing:
            writing.session.execute(statement)

    with pytest.raises(NotAllowed, match="no trail"):
        in_bulk()
    with register.reading() as session:
        assert session.scalars(select(Person.name)).all() == ["Ada"]


# What the database itself refuses


REWRITES = {
    "update": "UPDATE {} SET id = 7",
    "delete": "DELETE FROM {}",
}


def refused(register, statement: str) -> bool:
    """Return whether a statement is refused because history is added, never changed."""
    try:
        with register.engine.begin() as connection:
            connection.execute(text(statement))
    except DatabaseError as error:
        return "history is added, never changed" in str(error)
    return False


@pytest.mark.parametrize("verb", REWRITES)
def test_history_cannot_be_rewritten_by_plain_sql(register, verb):
    with register.engine.begin() as connection:
        fill(connection, Base.metadata)
    assert [one for one in HISTORY if not refused(register, REWRITES[verb].format(one))] == []
    with register.engine.connect() as connection:
        for one in HISTORY:
            stored = read(connection, Base.metadata.tables[one])
            assert [row["id"] for row in stored] == [1], one


def test_history_cannot_be_emptied_in_one_stroke_on_postgresql(both):
    _, register = both
    with register.engine.begin() as connection:
        fill(connection, Base.metadata)
    assert [one for one in HISTORY if not refused(register, f"TRUNCATE {one} CASCADE")] == []


def test_the_guards_stand_on_every_table_of_history_and_on_no_other(register):
    with register.engine.connect() as connection:
        if register.url.get_backend_name() == "sqlite":
            query = "SELECT DISTINCT tbl_name FROM sqlite_master WHERE type = 'trigger'"
        else:
            query = "SELECT DISTINCT event_object_table FROM information_schema.triggers"
        guarded = set(connection.execute(text(query)).scalars())
        assert guarded == set(HISTORY) <= set(inspect(connection).get_table_names())


# What the chain finds when somebody got past all that


TAMPERINGS = {
    "a row's new values": 'UPDATE audit_entry SET after = \'{"name": "Eve"}\' WHERE batch_id = 2',
    "a row's old values": 'UPDATE audit_entry SET before = \'{"name": "Eve"}\' WHERE batch_id = 2',
    "which row": "UPDATE audit_entry SET row_id = 1 WHERE batch_id = 2",
    "which table": "UPDATE audit_entry SET table_name = 'area' WHERE batch_id = 2",
    "an entry taken out": "DELETE FROM audit_entry WHERE batch_id = 2",
    "an entry put in": (
        "INSERT INTO audit_entry (batch_id, table_name, row_id, after) "
        "VALUES (2, 'person', 9, '{\"name\": \"Eve\"}')"
    ),
    "who": "UPDATE audit_batch SET actor = 'Eve' WHERE id = 2",
    "why": "UPDATE audit_batch SET reason = 'because' WHERE id = 2",
    "when": "UPDATE audit_batch SET written_at = '2031-05-04 03:02:02' WHERE id = 2",
    "the hash": "UPDATE audit_batch SET hash = upper(hash) WHERE id = 2",
}


@pytest.mark.parametrize("what", TAMPERINGS)
def test_tampering_is_found_where_it_was_done(register, what):
    for name in ("Ada", "Bea", "Cleo"):
        write(register, Person(name=name))
    with register.reading() as session:
        assert first_break(session) is None
    past_the_guards(register, TAMPERINGS[what])
    with register.reading() as session:
        broken = first_break(session)
        assert broken is not None
        assert broken.id == 2


def by_the_former_writing(previous: str, said: tuple[str, str, str], entry: list[Any]) -> str:
    """Hash a batch as it was done before rows were written in bulk, by the standard library."""

    def floats(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: floats(item) for key, item in value.items()}
        return float(value) if isinstance(value, int) else value

    parts = (previous, *said, NOW.isoformat(), [floats(part) for part in entry])
    written = (json.dumps(p, sort_keys=True, separators=(",", ":")).encode() for p in parts)
    return hashlib.sha256(b"".join(written)).hexdigest()


@pytest.mark.parametrize("after", ['{"id": 1, "name": "Ada"}', '{"id": 1, "name": "Eve"}'])
def test_a_batch_of_the_former_writing_still_proves_itself_and_tampering(register, after):
    entry = ["person", 1, None, {"name": "Ada", "id": 1}, None]
    digest = by_the_former_writing(GENESIS, ("add", "tester", "a test"), entry)
    with register.engine.begin() as connection:
        batch = {"action": "add", "actor": "tester", "reason": "a test", "written_at": NOW}
        chained = {**batch, "previous_hash": GENESIS, "hash": digest}
        connection.execute(insert(AuditBatch), [chained])
        columns = "INSERT INTO audit_entry (batch_id, table_name, row_id, before, after)"
        connection.execute(
            text(f"{columns} VALUES (1, 'person', 1, 'null', :after)"), {"after": after}
        )
    write(register, Person(name="Bea"))
    with register.reading() as session:
        broken = first_break(session)
        assert (broken.id if broken else None) == (1 if "Eve" in after else None)


def test_a_batch_taken_out_is_found_at_the_one_that_followed(register):
    for name in ("Ada", "Bea", "Cleo"):
        write(register, Person(name=name))
    past_the_guards(register, "DELETE FROM audit_entry WHERE batch_id = 2")
    past_the_guards(register, "DELETE FROM audit_batch WHERE id = 2")
    with register.reading() as session:
        broken = first_break(session)
        assert broken is not None
        assert broken.id == 3


def test_the_newest_batches_taken_out_show_only_in_the_head(register):
    """The chain alone cannot tell; so issued papers print its head."""
    for name in ("Ada", "Bea"):
        write(register, Person(name=name))
    with register.reading() as session:
        printed = head(session)
    past_the_guards(register, "DELETE FROM audit_entry WHERE batch_id = 2")
    past_the_guards(register, "DELETE FROM audit_batch WHERE id = 2")
    with register.reading() as session:
        assert first_break(session) is None
        assert head(session) != printed
