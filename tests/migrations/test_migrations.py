"""Revisions: from nothing to the present and back, on both databases, empty and populated."""

from __future__ import annotations

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, inspect, text

import supports.database
from supports.audit import first_break
from supports.database import Register
from supports.model import Base
from supports.tags import natural_key
from tests.old_registers import made_at, rows_held
from tests.old_registers import revisions as revisions_known
from tests.rows import fill, read


@pytest.fixture
def alembic(bare):
    """Give a connection in one transaction and a configuration that uses it."""
    with supports.database._schema_connection(bare.engine) as connection:
        yield connection, supports.database._alembic(connection)


def revisions(config: Config) -> list[str]:
    """Return all revisions, the oldest first."""
    return [r.revision for r in ScriptDirectory.from_config(config).walk_revisions()][::-1]


def tables(connection: Connection) -> set[str]:
    return set(inspect(connection).get_table_names()) - {"alembic_version"}


def differences(connection: Connection) -> list[object]:
    options = {"compare_type": True, "compare_server_default": True}
    context = MigrationContext.configure(connection, opts=options)
    return compare_metadata(context, Base.metadata)


def test_revisions_stand_in_one_line(alembic):
    _, config = alembic
    script = ScriptDirectory.from_config(config)
    assert script.get_heads() == [supports.database.newest_revision()]
    assert all(not r.is_branch_point and not r.is_merge_point for r in script.walk_revisions())


def test_an_empty_database_becomes_what_the_tables_of_the_model_say(bare):
    bare.migrate()
    bare.check()
    with bare.engine.connect() as connection:
        assert tables(connection) == set(Base.metadata.tables)
        assert differences(connection) == []


def test_a_difference_would_be_seen(bare):
    bare.migrate()
    with bare.engine.begin() as connection:
        connection.exec_driver_sql("ALTER TABLE person ADD COLUMN shoe_size INTEGER")
        assert "shoe_size" in str(differences(connection))


def test_each_revision_goes_up_down_and_up_again(alembic):
    connection, config = alembic
    for revision in revisions(config):
        command.upgrade(config, revision)
        command.downgrade(config, "-1")
        command.upgrade(config, revision)
    assert tables(connection) == set(Base.metadata.tables)


def test_going_down_leaves_nothing_behind(alembic):
    connection, config = alembic
    command.upgrade(config, "head")
    command.downgrade(config, "base")
    assert tables(connection) == set()
    if connection.dialect.name == "postgresql":
        query = "SELECT proname FROM pg_proc WHERE pronamespace = 'public'::regnamespace"
        assert connection.exec_driver_sql(query).all() == []


def test_an_upgrade_in_steps_from_every_revision_reaches_the_present(alembic):
    connection, config = alembic
    for revision in revisions(config):
        command.upgrade(config, revision)
    assert differences(connection) == []


def test_a_populated_register_keeps_every_row_and_value(bare):
    bare.migrate()
    with bare.engine.begin() as connection:
        wanted = fill(connection, Base.metadata)
    bare.migrate()
    with bare.engine.connect() as connection:
        for table in Base.metadata.sorted_tables:
            assert read(connection, table) == [wanted[table.name]], table.name


@pytest.mark.parametrize("revision", revisions_known())
def test_a_register_of_any_revision_keeps_its_rows_and_its_chain_through_an_upgrade(bare, revision):
    held = made_at(bare.url, revision)
    assert all(held.values())
    bare.migrate()
    bare.check()
    with bare.reading() as session:
        assert first_break(session) is None
    after = rows_held(bare)
    for table, rows in held.items():
        kept = [{name: row[name] for name in rows[0] if name in row} for row in after[table]]
        assert kept == [{name: row[name] for name in kept[0]} for row in rows], table
        assert set(kept[0]) == set(rows[0]), f"{table} lost a column"
    if "sort_key" not in held["support_tag"][0]:
        assert all(row["sort_key"] == natural_key(row["tag"]) for row in after["support_tag"])


def test_an_upgrade_that_fails_half_way_leaves_the_register_as_it_was(bare, monkeypatch):
    bare.migrate()

    class BrokenRevisionError(Exception):
        pass

    def half_way(connection: Connection) -> None:
        connection.exec_driver_sql("CREATE TABLE half_made (id INTEGER)")
        raise BrokenRevisionError

    monkeypatch.setattr(supports.database, "_upgrade", half_way)
    with pytest.raises(BrokenRevisionError):
        bare.migrate()
    bare.check()
    with bare.engine.connect() as connection:
        assert tables(connection) == set(Base.metadata.tables)


def unnamed(connection: Connection) -> list[str]:
    """Return tables with a constraint that has no name; SQLite gives none of its own."""
    here = inspect(connection)
    found = []
    for table in tables(connection):
        constraints = [
            here.get_pk_constraint(table),
            *here.get_foreign_keys(table),
            *here.get_unique_constraints(table),
            *here.get_check_constraints(table),
            *here.get_indexes(table),
        ]
        found += [table for constraint in constraints if not constraint["name"]]
    return found


def test_every_constraint_has_a_name_that_a_later_revision_can_use(bare):
    bare.migrate()
    with bare.engine.connect() as connection:
        assert unnamed(connection) == []


def test_a_constraint_without_a_name_would_be_seen(tmp_path):
    register = Register(supports.database.sqlite_url(tmp_path / "other.db"))
    with register.engine.begin() as connection:
        connection.exec_driver_sql("CREATE TABLE other (id INTEGER PRIMARY KEY, a TEXT UNIQUE)")
    with register.engine.connect() as connection:
        assert set(unnamed(connection)) == {"other"}
    register.close()


def beginnings(connection: Connection, table: str) -> dict[str, list[str]]:
    """Return the columns that each key or index of all rows holds, by its name."""
    here = inspect(connection)
    keys = {key["name"]: key["column_names"] for key in here.get_unique_constraints(table)}
    primary = here.get_pk_constraint(table)
    full = {
        index["name"]: index["column_names"]
        for index in here.get_indexes(table)
        if "where" not in " ".join(index["dialect_options"])
    }
    return {primary["name"]: primary["constrained_columns"], **keys, **full}


def foreign_keys(connection: Connection) -> list[tuple[str, str]]:
    """Return table and column of every foreign key."""
    here = inspect(connection)
    found = {table: here.get_foreign_keys(table) for table in tables(connection)}
    return [(table, key["constrained_columns"][0]) for table in found for key in found[table]]


def test_rows_are_looked_up_by_every_foreign_key(register):
    with register.engine.connect() as connection:
        keys = foreign_keys(connection)
        begun = {table: beginnings(connection, table).values() for table, _ in keys}
    assert len(keys) > 100
    assert [key for key in keys if all(columns[0] != key[1] for columns in begun[key[0]])] == []


def test_no_foreign_key_is_kept_in_two_indexes_for_nothing(register):
    twice = []
    with register.engine.connect() as connection:
        for table, column in foreign_keys(connection):
            begun = beginnings(connection, table)
            named = [name for name, columns in begun.items() if columns[0] == column]
            twice += [named for name in named if begun[name] == [column] and len(named) > 1]
    assert twice == []


def test_a_part_of_the_rows_is_no_index_of_a_foreign_key(register):
    with register.engine.connect() as connection:
        found = beginnings(connection, "unit_placement")
        assert "uq_unit_placement_present" not in found
        assert found["ix_unit_placement_assembly_id"] == ["assembly_id"]


def test_both_databases_name_their_constraints_alike(bare):
    bare.migrate()
    named = {c.name for t in Base.metadata.tables.values() for c in t.constraints if c.name}
    with bare.engine.connect() as connection:
        here = inspect(connection)
        found = set()
        for table in tables(connection):
            found.add(here.get_pk_constraint(table)["name"])
            found |= {c["name"] for c in here.get_foreign_keys(table)}
            found |= {c["name"] for c in here.get_unique_constraints(table)}
            found |= {c["name"] for c in here.get_check_constraints(table)}
    assert found == named


def test_a_screening_kept_as_issued_becomes_planned_and_other_calculations_stay(alembic):
    connection, config = alembic
    command.upgrade(config, "0002")
    kept = [("SCREENING-CH-1", "screening"), ("C-1", "screening"), ("C-2", "full analysis")]
    insert = text(
        "INSERT INTO calculation (id, number, revision, method, status, row_version) "
        "VALUES (:id, :number, '1', :method, 'issued', 1)"
    )
    for key, (number, method) in enumerate(kept, start=1):
        connection.execute(insert, {"id": key, "number": number, "method": method})
    command.upgrade(config, "0003")
    found = connection.exec_driver_sql("SELECT status, row_version FROM calculation ORDER BY id")
    assert [tuple(row) for row in found] == [("planned", 2), ("issued", 1), ("issued", 1)]
    command.downgrade(config, "0002")
    found = connection.exec_driver_sql("SELECT status FROM calculation ORDER BY id")
    assert [row[0] for row in found] == ["issued"] * 3
