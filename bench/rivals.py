"""Writers against each other, against a full disk, and against a server that loses its power.

Each writer keeps what it was told was stored. Afterwards the register is held against that: what
was acknowledged is there, once; what was refused is not; the chain is whole.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import URL, func, select

from bench.own_server import OwnServer
from supports.audit import first_break
from supports.database import Register
from supports.errors import Conflict, DatabaseTrouble, SupportsError
from supports.model import Area, AuditBatch, Reading, SupportTag
from supports.operations.intake import bring_in
from supports.proposals import Plan, Record, SourceLine, compare
from supports.queries.existing import today
from tests.interrupted import NOW, WRITER
from tests.stored import FILE, LINE, SUPPORT, UNIT

WRITERS = 4
PAUSE = 1.5
"""How long the writers work between two losses of power [s]."""


@dataclass(frozen=True, slots=True)
class Ended:
    """How tries ended: stored, told in a sentence, not sure (lost while it was stored), wrong."""

    stored: int
    told: int
    wrong: int
    unsure: int = 0

    def __str__(self) -> str:
        """Return it as words."""
        unsure = f", {self.unsure} not sure until looked at" if self.unsure else ""
        return f"{self.stored} stored, {self.told} told{unsure}, {self.wrong} wrong"


def planned(register: Register, *records: Record) -> Plan:
    """Return the plan of some records against the register as it stands."""
    with register.reading() as session:
        return Plan(compare(records, today(session, {r.subject for r in records}).values))


def stored(register: Register, plan: Plan) -> None:
    """Store a plan."""
    bring_in(register, plan, FILE, acting=WRITER, reason="a bench", now=NOW)


def reading(number: int) -> Record:
    """Return a reading of a day of its own."""
    day = date.fromordinal(date(1990, 1, 1).toordinal() + number)
    values = {"read_on": day, "scale_load": 2e4, "read_by": "N."}
    key = ("PS-1", "A", day.isoformat(), "N.", "")
    return Record("reading", key, values, SourceLine("plant.xlsx", "reading", 2))


def support(tag: str) -> Record:
    """Return a support of a name of its own, with a long note."""
    return Record("support", (tag,), {"note": "x" * 20_000}, SourceLine("p.xlsx", "support", 2))


def importers_at_once(url: URL, pairs: int) -> Ended:
    """Let pairs of importers store the same reading, both having read the register before."""
    register = Register(url)
    stored(register, planned(register, LINE, SUPPORT, UNIT))
    met = {"stored": 0, "told": 0, "wrong": 0}
    for number in range(pairs):
        plans = [planned(register, reading(number)) for _ in range(2)]
        barrier = threading.Barrier(2)
        with ThreadPoolExecutor(2) as pool:
            ends = list(pool.map(lambda plan, b=barrier: _at_once(register, plan, b), plans))  # type: ignore[misc]
        for end in ends:
            met[end] += 1
        met["wrong"] += ends.count("stored") != 1
    met["wrong"] += _count(register, Reading) != pairs
    register.close()
    return Ended(**met)


def _at_once(register: Register, plan: Plan, barrier: threading.Barrier) -> str:
    barrier.wait()
    return _end(lambda: stored(register, plan), Conflict)


def _end(act: Callable[[], Any], expected: type[SupportsError]) -> str:
    try:
        act()
    except expected:
        return "told"
    except Exception as error:  # noqa: BLE001  whatever it is, it is to be counted
        print(f"   {type(error).__name__}: {error}")
        return "wrong"
    return "stored"


def _count(register: Register, model: type[Any]) -> int:
    with register.reading() as session:
        assert first_break(session) is None
        return session.scalar(select(func.count()).select_from(model)) or 0


def until_full(url: URL) -> Ended:
    """Import supports until three imports in a row were refused for want of room."""
    register = Register(url)
    met = {"stored": 0, "told": 0, "wrong": 0}
    refused = number = 0
    while refused < 3 and not met["wrong"]:
        number += 1
        end = _end(lambda n=number: _support_stored(register, f"PS-{n}"), DatabaseTrouble)  # type: ignore[misc]
        met[end] += 1
        refused = refused + 1 if end == "told" else 0
    found = _count(register, SupportTag)
    met["wrong"] += found != met["stored"]
    register.close()
    return Ended(**met)


def _support_stored(register: Register, tag: str) -> None:
    stored(register, planned(register, support(tag)))


def restarts_under_load(server: OwnServer, url: URL, times: int) -> Ended:
    """Let writers work while the server is shut down at once and started again, some times."""
    stop = threading.Event()
    with ThreadPoolExecutor(WRITERS) as pool:
        working = [pool.submit(_work, url, place, stop) for place in range(WRITERS)]
        for _ in range(times):
            time.sleep(PAUSE)
            server.stop("immediate")
            server.start()
        time.sleep(PAUSE)
        stop.set()
        ends = [one.result() for one in working]
    return _held(url, ends)


def _work(url: URL, place: int, stop: threading.Event) -> dict[str, str]:
    """Write one batch after the other until told to stop; return how each ended."""
    register = Register(url)
    met: dict[str, str] = {}
    while not stop.is_set():
        name = f"W{place}-{len(met)}"
        met[name] = _end(lambda n=name: _batch(register, n), DatabaseTrouble)  # type: ignore[misc]
        if met[name] == "told":
            time.sleep(0.05)
    register.close()
    return met


def _batch(register: Register, name: str) -> None:
    with register.writing(WRITER, name, NOW, action="load") as writing:
        writing.session.add(Area(code=name))


def _held(url: URL, ends: list[dict[str, str]]) -> Ended:
    """Hold what the register has against what the writers were told."""
    register = Register(url)
    with register.reading() as session:
        broken = first_break(session) is not None
        query = select(AuditBatch.reason).where(AuditBatch.action == "load")
        there = list(session.scalars(query))
    register.close()
    told = {name: end for one in ends for name, end in one.items()}
    acknowledged = {name for name, end in told.items() if end == "stored"}
    refused = {name for name, end in told.items() if end == "told"}
    lost, double = acknowledged - set(there), len(there) - len(set(there))
    unsure = refused & set(there)
    wrong = len(lost) + double + broken + sum(end == "wrong" for end in told.values())
    return Ended(len(acknowledged), len(refused), wrong, len(unsure))
