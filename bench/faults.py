"""Imports killed with signal 9 at many random moments: each has stored all of its file, or nothing.

Run ``python -m bench.faults``, or ``python -m bench.faults 500`` for another count. The moments are
spread over the whole of an import, its commit included, on SQLite and on PostgreSQL. After each the
audit chain is verified, on SQLite the file's integrity too. Budget: not one half-written import.
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from sqlalchemy import URL

from importers.template import write_tables
from supports.database import Register, sqlite_url
from supports.model import Person
from tests.acceptance.sheets import one_constant
from tests.interrupted import NOW, WRITER, after, bring, counted, forked
from tests.postgres import NoServerError, find_server, own_database

TIMES = 60
SUPPORTS = 40
AT_MOST_HALF_WRITTEN = 0


def workbook(path: Path, name: str, order: int) -> Path:
    """Write a workbook with some hangers, each with a name and a place of its own."""
    sheets: dict[str, list[list[Any]]] = {}
    for number in range(SUPPORTS):
        one = one_constant(f"{name}-{number}", 20.0, 20.1, rod=60.0)
        one["Supports"][1][2] = order + number
        for sheet, rows in one.items():
            known = sheets.setdefault(sheet, [list(rows[0])])
            fresh = [list(row) for row in rows[1:] if list(row) not in known]
            known.extend(fresh if sheet not in {"Lines", "Calculations"} or len(known) < 2 else [])
    write_tables(path, sheets)
    return path


def databases(folder: Path) -> Iterator[tuple[str, URL]]:
    """Give the address of an empty database of each sort."""
    yield "SQLite", sqlite_url(folder / "register.db")
    try:
        server = find_server()
    except NoServerError as error:
        print(f"PostgreSQL: {error}")
        return
    with own_database(server) as url:
        yield "PostgreSQL", url


def found(url: URL) -> str:
    """Make a register and its writer; return its address as words."""
    register = Register(url)
    register.migrate()
    with register.writing(WRITER, "a bench", NOW, action="people") as writing:
        writing.session.add(Person(name=WRITER))
    register.close()
    return url.render_as_string(hide_password=False)


def whole_time(url: str, file: Path) -> float:
    """Return how long one import takes when nobody kills it [s]."""
    begin = time.perf_counter()
    forked(lambda: bring(Register(url), file, WRITER))
    return time.perf_counter() - begin


def half_written(url: str, folder: Path, times: int) -> dict[str, int]:
    """Kill imports at random moments; count those that left nothing, all, and anything else."""
    rng = random.Random(1)  # noqa: S311  moments, no secret
    longest = 1.1 * whole_time(url, workbook(folder / "first.xlsx", "FIRST", 0))
    before = _counts(url)
    met = {"nothing": 0, "all": 0, "half": 0}
    grown: dict[str, int] = {}
    for number in range(times):
        file = workbook(folder / "next.xlsx", f"N{met['all']}", SUPPORTS * (met["all"] + 1))
        ended = after(url, file, rng.uniform(0.0, longest))
        grew = {name: n - before[name] for name, n in ended.counts.items() if n != before[name]}
        if not grew:
            met["nothing"] += 1
        elif grew == (grown or grew):
            grown, before = grew, ended.counts
            met["all"] += 1
        else:
            met["half"] += 1
            print(f"   import {number}: {grew}, whole ones {grown}")
    return met


def _counts(url: str) -> dict[str, int]:
    register = Register(url)
    try:
        return counted(register)
    finally:
        register.close()


def main(times: int) -> None:
    """Print what was met and hold it to the budget."""
    halves = 0
    with tempfile.TemporaryDirectory() as name:
        for database, url in databases(Path(name)):
            met = half_written(found(url), Path(name), times)
            print(
                f"{database}: {times} imports killed at random moments: {met['nothing']} left "
                f"nothing, {met['all']} had stored all, {met['half']} were half-written"
            )
            halves += met["half"]
    assert halves <= AT_MOST_HALF_WRITTEN


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else TIMES)
