"""Writing to the register: its trail and its guards against bare inserts, measured in one run.

Run ``python -m bench.register_writes``. Reference: the same rows through Python's own sqlite3,
one ``executemany`` in one transaction, into the same tables without trail. Ratios, not seconds,
are held to budgets: both sides then feel the same machine.
"""

from __future__ import annotations

import datetime as dt
import json
import sqlite3
import tempfile
import time
from pathlib import Path
from typing import Any

from sqlalchemy import select

from supports.audit import first_break
from supports.database import Register, sqlite_url
from supports.model import Area, AuditBatch, AuditEntry, Base

ROWS = 20_000
NOW = dt.datetime(2031, 5, 4, 3, 2, 1)  # noqa: DTZ001  the register keeps UTC without zone

AT_MOST_TIMES_BARE_INSERTS = 8.0
"""A row and its entry against a row and its entry written bare."""
AT_MOST_TIMES_ITS_WRITING = 3.0
"""Verifying the chain against having written it."""


def rows() -> list[dict[str, Any]]:
    """Return rows for the table of areas."""
    return [{"id": n, "code": f"A{n:06}", "name": "an area"} for n in range(1, ROWS + 1)]


def bare(path: Path, given: list[dict[str, Any]]) -> float:
    """Return the time of rows and entries through the driver alone [s]."""
    begin = time.perf_counter()
    connection = sqlite3.connect(path)
    area = "INSERT INTO area (id, code, name) VALUES (:id, :code, :name)"
    connection.executemany(area, given)
    batch = "INSERT INTO audit_batch VALUES (1, 'a', 'b', 'c', '2031-05-04 03:02:01', 'd', 'e')"
    connection.execute(batch)
    entry = "INSERT INTO audit_entry (batch_id, table_name, row_id, after) VALUES (1, 'area', ?, ?)"
    connection.executemany(entry, [(row["id"], json.dumps(row)) for row in given])
    connection.commit()
    connection.close()
    return time.perf_counter() - begin


def trailed(register: Register, given: list[dict[str, Any]]) -> float:
    """Return the time of the same rows through the trail, in bulk [s]."""
    begin = time.perf_counter()
    with register.writing("bench", "a bench", NOW, action="bulk") as writing:
        writing.trail.insert_rows(Base.metadata.tables[Area.__tablename__], given)
    return time.perf_counter() - begin


def verified(register: Register) -> float:
    """Return the time to walk the chain [s]."""
    begin = time.perf_counter()
    with register.reading() as session:
        assert first_break(session) is None
    return time.perf_counter() - begin


def main() -> None:
    """Print the ratios and hold them to their budgets."""
    given = rows()
    with tempfile.TemporaryDirectory() as folder:
        paths = [Path(folder) / name for name in ("bare.db", "trailed.db")]
        registers = [Register(sqlite_url(path)) for path in paths]
        for register in registers:
            register.migrate()
        reference = bare(paths[0], given)
        ours = trailed(registers[1], given)
        walk = verified(registers[1])
        with registers[1].reading() as session:
            assert len(session.scalars(select(AuditEntry.id)).all()) == ROWS
            assert len(session.scalars(select(AuditBatch.id)).all()) == 1
        for register in registers:
            register.close()
    print(f"{ROWS} rows with trail: {ours:.2f} s, {ours / reference:.1f} times bare inserts")
    print(f"verifying their chain: {walk:.2f} s, {walk / ours:.1f} times their writing")
    assert ours <= AT_MOST_TIMES_BARE_INSERTS * reference
    assert walk <= AT_MOST_TIMES_ITS_WRITING * ours


if __name__ == "__main__":
    main()
