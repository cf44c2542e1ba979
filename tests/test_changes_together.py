"""Many rows changed together end as they would one by one, and the trail tells each change."""

from __future__ import annotations

import datetime as dt
import random

import pytest
from sqlalchemy import select

from supports.audit import RowChange, first_break
from supports.model import AuditEntry, Unit

NOW = dt.datetime(2031, 5, 4)  # noqa: DTZ001  the register keeps UTC without zone
COLUMNS = ("serial", "kind", "series")
TABLE = Unit.__table__


def some_changes(seed, rows, count):
    """Return changes of several columns, often of one row after the other, and what they end in."""
    rng = random.Random(seed)  # noqa: S311  no secret
    now = {row: {"kind": "constant hanger", "serial": None, "series": None} for row in rows}
    changes = []
    for number in range(count):
        row = rng.choice(rows)
        after = {
            name: rng.choice((None, f"{name} {number}"))
            for name in rng.sample(COLUMNS, rng.randint(1, len(COLUMNS)))
        }
        if after.get("kind", "") is None:
            after["kind"] = f"kind {number}"
        changes.append(RowChange(TABLE, {"id": row, **now[row]}, after))
        now[row] = {**now[row], **after}
    return changes, now


@pytest.mark.parametrize(("seed", "count"), [(1, 1), (2, 5), (3, 40), (4, 200)])
def test_changes_together_end_as_one_by_one(register, seed, count):
    changes, wanted = some_changes(seed, [1, 2, 3], count)
    with register.writing("tester", "a test", NOW, action="units") as writing:
        writing.session.add_all(Unit(kind="constant hanger") for _ in range(3))
    with register.writing("tester", "a test", NOW, action="together") as writing:
        writing.trail.update_rows(changes)
    with register.reading() as session:
        found = {u.id: {n: getattr(u, n) for n in COLUMNS} for u in session.scalars(select(Unit))}
        entries = session.scalars(select(AuditEntry).order_by(AuditEntry.id))
        told = [(e.row_id, e.before, e.after) for e in entries if e.before]
        versions = dict(session.execute(select(Unit.id, Unit.row_version)).all())
        assert first_break(session) is None
    assert found == wanted
    asked = [(c.before["id"], {name: c.before[name] for name in c.after}, c.after) for c in changes]
    assert told == asked
    times = [c.before["id"] for c in changes]
    assert versions == {row: 1 + times.count(row) for row in (1, 2, 3)}
