"""Registers as earlier revisions left them: every table filled, and a trail that holds."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from alembic import command
from alembic.script import ScriptDirectory
from sqlalchemy import URL, Connection, MetaData

import supports.database
from supports.database import Register
from supports.model import Area
from tests.rows import fill, read

NOW = datetime(2030, 5, 4, 8)  # noqa: DTZ001  the register keeps UTC without zone
FOUNDED = ("area", "audit_batch", "audit_entry", "alembic_version")

Rows = dict[str, list[dict[str, Any]]]


def revisions() -> list[str]:
    """Return all revisions, the oldest first."""
    script = ScriptDirectory(str(supports.database._scripts()))
    return [r.revision for r in script.walk_revisions()][::-1]


def made_at(url: URL, revision: str) -> Rows:
    """Make a register of a revision, fill each of its tables; return what it holds.

    Two batches are written through the trail, so that its chain can be walked after an upgrade.
    """
    register = Register(url)
    with supports.database._schema_connection(register.engine) as connection:
        command.upgrade(supports.database._alembic(connection), revision)
    for code in ("North", "South"):
        with register.writing("KK", "founded", NOW, action="area") as writing:
            writing.session.add(Area(code=code))
    with register.engine.begin() as connection:
        fill(connection, _tables(connection), besides=FOUNDED)
    held = rows_held(register)
    register.close()
    return held


def _tables(connection: Connection) -> MetaData:
    found = MetaData()
    found.reflect(connection)
    return found


def rows_held(register: Register) -> Rows:
    """Return every row of every table that is there."""
    with register.engine.connect() as connection:
        tables = _tables(connection)
        return {
            table.name: read(connection, table)
            for table in tables.sorted_tables
            if table.name != "alembic_version"
        }
