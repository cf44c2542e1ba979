"""Two people bring in the same at once: it is stored once, and the later one is told.

Both read the register before either stores, which is the worst that can happen; on PostgreSQL the
second stands before the lock of imports while the first stores.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import date
from threading import Barrier

import pytest
from sqlalchemy import func, select

from supports.audit import first_break
from supports.errors import Conflict, SupportsError
from supports.model import AuditBatch, Reading, SettingEvent, SupportPoint
from supports.operations.intake import bring_in
from supports.proposals import Plan, compare
from supports.queries.existing import today
from tests.stored import FILE, LINE, NOW, SETTING, SUPPORT, UNIT, record, store, with_writer

READING = record(
    "reading", ("PS-1", "A", "2030-02-01", "N. N.", ""), read_on=date(2030, 2, 1),
    scale_load=20_100.0, read_by="N. N.",
)  # fmt: skip
EVENTS = (SETTING, READING)
TIMES = 6


@pytest.fixture
def register(register):
    """Give a register with a hanger on which nothing was set or read yet."""
    store(with_writer(register), LINE, SUPPORT, UNIT)
    return register


def planned(register, *records) -> Plan:
    with register.reading() as session:
        return Plan(compare(records, today(session).values))


def at_once(register, *plans: Plan) -> list[str]:
    """Store plans at once, each in a thread; return how each ended."""
    barrier = Barrier(len(plans))

    def storing(plan: Plan) -> str:
        barrier.wait()
        try:
            bring_in(register, plan, FILE, acting="N. N.", reason="a test", now=NOW)
        except SupportsError as error:
            return f"{type(error).__name__}: {error}"
        return "stored"

    with ThreadPoolExecutor(len(plans)) as pool:
        return sorted(pool.map(storing, plans))


def rows(register, model) -> int:
    with register.reading() as session:
        assert first_break(session) is None
        return session.scalar(select(func.count()).select_from(model))


def test_events_brought_in_twice_at_once_are_stored_once(register):
    plans = [planned(register, *EVENTS) for _ in range(2)]
    before = rows(register, AuditBatch)
    told, stored = at_once(register, *plans)
    assert stored == "stored"
    assert told.startswith("Conflict: plant.xlsx: somebody else stored all of this meanwhile")
    assert (rows(register, SettingEvent), rows(register, Reading)) == (1, 1)
    assert rows(register, AuditBatch) == before + 1


def test_many_pairs_of_importers_leave_each_event_once(register):
    for n in range(TIMES):
        day = date(2031, 1, 1 + n)
        event = record(
            "reading", ("PS-1", "A", day.isoformat(), "N. N.", ""), read_on=day, scale_load=2e4,
            read_by="N. N.",
        )  # fmt: skip
        plans = [planned(register, event) for _ in range(2)]
        assert at_once(register, *plans)[-1] == "stored"
        assert rows(register, Reading) == n + 1


def test_what_the_other_did_not_bring_is_stored_by_whoever_has_it(register):
    both, one = planned(register, *EVENTS), planned(register, SETTING)
    at_once(register, both, one)
    assert (rows(register, SettingEvent), rows(register, Reading)) == (1, 1)


def test_another_value_stored_meanwhile_is_not_overwritten(register):
    mine = planned(register, record("support", ("PS-1",), floor="2"))
    store(register, record("support", ("PS-1",), floor="3"))
    with pytest.raises(Conflict, match="another floor meanwhile; found 3; expected nothing"):
        bring_in(register, mine, FILE, acting="N. N.", reason="late", now=NOW)
    with register.reading() as session:
        assert session.scalars(select(SupportPoint.floor)).one() == "3"
