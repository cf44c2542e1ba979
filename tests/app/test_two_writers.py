"""Two people write at once, each in a process of their own: one is told, nothing is lost.

The test holds the row, or the file, until both are sure to have asked; then it lets go.
"""

from __future__ import annotations

import contextlib
import subprocess
import sys
import time

import psycopg
import pytest
from sqlalchemy import select, text

from supports.audit import first_break
from supports.model import AuditBatch, Reading, WorkOrder, WorkOrderLine
from tests.acceptance.walk import assessed, cleared
from tests.app.conftest import ROOT
from tests.postgres import address

PROGRAM = """
import pathlib, sys
from app.cli.main import main
import app.readings, supports.operations.unit_work
ready = pathlib.Path(sys.argv.pop(1))
ready.touch()
main()
"""
HOLD = {
    "work_order": "SELECT id FROM work_order FOR UPDATE",
    "work_order_line": "SELECT id FROM work_order_line FOR UPDATE",
}
LONGEST = 120.0
"""Seconds that a busy machine may take until both have asked."""


@pytest.fixture
def order(terminal):
    """Give a work order that is given out."""
    assessed(terminal.site)
    return cleared(terminal.site)


@contextlib.contextmanager
def held(register, table):
    """Hold what both want to write; give a way to count who waits for it on PostgreSQL."""
    if register.url.get_backend_name() == "sqlite":
        engine = register.engine.execution_options(writes=True)
        with engine.connect() as connection:
            connection.execute(text("SELECT 1"))
            yield None
            connection.rollback()
        return
    with psycopg.connect(address(register.url)) as connection:
        connection.execute(HOLD[table])
        with psycopg.connect(address(register.url), autocommit=True) as other:
            yield other
        connection.rollback()


def waiting(other) -> int:
    query = (
        "SELECT count(*) FROM pg_stat_activity WHERE wait_event_type = 'Lock' "
        "AND datname = current_database()"
    )
    return other.execute(query).fetchone()[0]


def until(done) -> None:
    """Wait for something, but not for ever."""
    end = time.monotonic() + LONGEST
    while not done():
        assert time.monotonic() < end, "the writers did not come so far"
        time.sleep(0.02)


def both(terminal, register, tmp_path, commands, table="work_order_line"):
    """Run commands at once, each in its own process; return exit codes and messages."""
    running, ready = [], []
    environment = terminal.environment({"SUPPORTS_LOCK_WAIT": f"{LONGEST}"})
    with held(register, table) as other:
        for place, (person, words) in enumerate(commands):
            ready.append(tmp_path / f"ready-{place}")
            running.append(
                subprocess.Popen(
                    [sys.executable, "-c", PROGRAM, str(ready[-1]), *words], cwd=ROOT,
                    env=environment | {"SUPPORTS_PERSON": person}, text=True,
                    stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                )
            )  # fmt: skip
        until(lambda: all(path.exists() for path in ready))
        if other is None:
            time.sleep(1.0)  # both stand before the file's lock
        else:
            until(lambda: waiting(other) == len(running))
    said = [one.communicate(timeout=LONGEST) for one in running]
    return [(one.returncode, *words) for one, words in zip(running, said, strict=True)]


def found(order: str, load: str) -> list[str]:
    state = ["--plant-state", "shut down, drained", "--pointer", "40 mm"]
    return ["work-order", "as-found", order, "PS-1024", "--load", load, *state]


def test_of_two_who_begin_at_one_unit_one_is_told(terminal, register, order, tmp_path):
    ends = both(
        terminal,
        register,
        tmp_path,
        [("T1", found(order, "20.0 kN")), ("T2", found(order, "20.1 kN"))],
    )
    codes = sorted(code for code, _, _ in ends)
    told = next(err for code, _, err in ends if code != 0)
    assert "Traceback" not in told
    if register.url.get_backend_name() == "sqlite":
        assert codes == [0, 5]
        assert "it stands at: in hand" in told
    else:
        assert codes == [0, 6]
        assert "somebody else changed the same row meanwhile. Look at it again and repeat" in told
    with register.reading() as session:
        reading = session.scalars(select(Reading).where(Reading.occasion == "as found")).one()
        line = session.scalars(select(WorkOrderLine)).one()
        assert line.state == "in hand"
        assert reading.read_by in {"T1", "T2"}
        assert first_break(session) is None


def test_who_was_told_repeats_and_nothing_is_lost(terminal, register, order, tmp_path):
    """Crew and scaffold of one order are laid down at once: in the end both stand."""
    plans = {
        "PL": ["work-order", "plan", order, "--crew", "3"],
        "CO": ["work-order", "plan", order, "--scaffold", "SC-9"],
    }
    ends = both(terminal, register, tmp_path, list(plans.items()), table="work_order")
    for person, (code, _, told) in zip(plans, ends, strict=True):
        if code != 0:
            assert (code, "Look at it again and repeat" in told) == (6, True)
            assert terminal(*plans[person], SUPPORTS_PERSON=person).code == 0
    with register.reading() as session:
        row = session.scalars(select(WorkOrder)).one()
        assert (row.crew, row.scaffold_group) == (3, "SC-9")
        assert session.scalars(select(AuditBatch.action)).all().count("plan a work order") == 2
        assert first_break(session) is None
