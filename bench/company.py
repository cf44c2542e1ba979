"""A company on PostgreSQL: 20 plants, up to 1,000,000 supports and 10,000,000 readings.

Run ``python -m bench.company``, or ``python -m bench.company 10000 100000 1000000`` for more. The
rows are invented from a seed and handed over by COPY into a database of their own, which goes at
the end; the trail of these rows is not made. Then each page of a user is asked for and told in
processor time and in blocks of 8 kB that the server looked at (EXPLAIN (ANALYZE, BUFFERS) of every
query): both hold on a busy machine, unlike a stopwatch. Budget: from the smallest to the largest
register no page of constant length grows by more than its factor.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import psycopg
from psycopg import sql
from sqlalchemy import URL, Connection, Engine, event, func, select, text
from sqlalchemy.orm import Session

from app.intake import read_against
from bench.company_rows import PER_LINE, PLANTS, TODAY, Company, tables
from importers.template import write_tables
from supports.database import Register
from supports.model import Attachment, Base, Line, Reading, SupportPoint
from supports.queries.lookups import point_of
from supports.queries.register_list import ListFilter, Place, listed_page
from supports.queries.rule_runs import ask_register
from supports.queries.support_views import points_on_lines, support_views
from tests.postgres import address, find_server, own_database

SIZES = (10_000, 100_000)
AT_MOST_TIMES = 2.0
"""Blocks looked at for a page of constant length, in the largest register against the smallest."""


@dataclass(frozen=True, slots=True)
class Cost:
    """What one page costs: processor time here [s], the whole time [s], queries, blocks, rows."""

    processor: float
    whole: float
    queries: int
    blocks: int
    rows: int

    def __str__(self) -> str:
        """Return it as columns."""
        return (
            f"{self.processor * 1e3:>9.0f} ms {self.whole * 1e3:>9.0f} ms "
            f"{self.queries:>4} queries {self.blocks:>9} blocks {self.rows:>9} rows"
        )


# Filling


def fill(url: URL, company: Company) -> None:
    """Make a register and hand the company's rows over by COPY, guards and keys looking away."""
    register = Register(url)
    register.migrate()
    register.close()
    with psycopg.connect(address(url)) as connection:
        connection.execute("SET session_replication_role = replica; SET synchronous_commit = off")
        for table, columns, rows in tables(company):
            with connection.cursor().copy(f"COPY {table} ({', '.join(columns)}) FROM STDIN") as to:
                for block in _blocks(rows):
                    to.write(block)
            if "id" in columns:
                newest = sql.SQL("SELECT setval(pg_get_serial_sequence({}, 'id'), max(id)) FROM {}")
                connection.execute(newest.format(sql.Literal(table), sql.Identifier(table)))
    with psycopg.connect(address(url), autocommit=True) as connection:
        connection.execute("VACUUM (ANALYZE)")


def _blocks(rows: Iterator[str]) -> Iterator[str]:
    block: list[str] = []
    for row in rows:
        block.append(row)
        if len(block) == 5_000:
            yield "".join(block)
            block.clear()
    yield "".join(block)


# Measuring


@contextmanager
def queries_of(engine: Engine) -> Iterator[list[tuple[str, Any]]]:
    """Give the queries that are sent meanwhile."""
    sent: list[tuple[str, Any]] = []

    def keep(_: Any, __: Any, statement: str, parameters: Any, *___: Any) -> None:
        if statement.lstrip().upper().startswith(("SELECT", "WITH")):
            sent.append((statement, parameters))

    event.listen(engine, "before_cursor_execute", keep)
    try:
        yield sent
    finally:
        event.remove(engine, "before_cursor_execute", keep)


def cost(register: Register, page: Callable[[Session], Any]) -> Cost:
    """Return what a page costs once the server has seen it."""
    with register.reading() as session:
        page(session)
    with register.reading() as session:
        return _measured(register, lambda: page(session))


def _measured(register: Register, act: Callable[[], Any]) -> Cost:
    """Return what something costs that asks the register."""
    with queries_of(register.engine) as sent:
        cpu, begin = time.process_time(), time.perf_counter()
        act()
        cpu, whole = time.process_time() - cpu, time.perf_counter() - begin
    with register.engine.connect() as connection:
        plans = [_plan(connection, *query) for query in sent]
    blocks = sum(plan["Shared Hit Blocks"] + plan["Shared Read Blocks"] for plan in plans)
    return Cost(cpu, whole, len(sent), blocks, sum(int(plan["Actual Rows"]) for plan in plans))


def _plan(connection: Connection, statement: str, parameters: Any) -> dict[str, Any]:
    explain = f"EXPLAIN (ANALYZE, BUFFERS, FORMAT JSON) {statement}"
    told = connection.exec_driver_sql(explain, parameters).scalar_one()
    plan: dict[str, Any] = told[0]["Plan"]
    return plan


def pages(register: Register, company: Company) -> dict[str, Callable[[Session], Any]]:
    """Return the pages that users ask for, most of one length whatever the register holds."""
    middle = company.supports // 2 + 3
    tag, line = company.tag(middle), company.line((middle - 1) // PER_LINE + 1)
    with register.reading() as session:
        along = points_on_lines(session, [line])
        point = point_of(session, tag)
        plant = company.points_of_plant(PLANTS // 2)
    steady: dict[str, Callable[[Session], Any]] = {
        "first page of the register": lambda s: listed_page(s, ListFilter()),
        "a page in its middle": lambda s: listed_page(s, ListFilter(), after=Place("", tag)),
        "one support": lambda s: support_views(s, [point_of(s, tag)]),
        "one line with its supports": lambda s: support_views(s, points_on_lines(s, [line])),
        "rules of one support": lambda s: ask_register(s, TODAY, [point]),
        "rules of one line": lambda s: ask_register(s, TODAY, along),
    }
    return steady | {
        "a page of one area": lambda s: listed_page(s, ListFilter(area=company.area(middle))),
        "found by a part of a tag": lambda s: listed_page(s, ListFilter(text=tag[3:])),
        "rules of one plant": lambda s: ask_register(s, TODAY, plant),
    }


HEADINGS = (
    "Support tag", "Position", "Read on", "Plant state", "Scale load [kN]", "Read by", "Method",
)  # fmt: skip
IMPORT = "import of ten lines, checked"
CONSTANT = 6
"""So many of the pages are of one length."""


def import_cost(register: Register, company: Company, folder: Path) -> Cost:
    """Return what it costs to check a workbook with one reading at each unit of ten lines."""
    hung = [number for number in range(1, 10 * PER_LINE + 1) if company.hangs(number)]
    said = ("A", date(2031, 5, 5), "operating, steady", 6.1, "B. P.", "scale")
    rows: list[list[Any]] = [list(HEADINGS), *([company.tag(one), *said] for one in hung)]
    path = folder / "readings.xlsx"
    write_tables(path, {"Readings": rows})
    planned = len(read_against(register, path, TODAY)[1].proposals)
    assert planned == len(hung), f"{planned} of {len(hung)} readings were understood"
    return _measured(register, lambda: read_against(register, path, TODAY))


def measured(size: int) -> dict[str, Cost]:
    """Fill a database with a company of a size; return what each page costs."""
    company = Company(size)
    with own_database(find_server()) as url, tempfile.TemporaryDirectory() as folder:
        begin = time.perf_counter()
        fill(url, company)
        register = Register(url)
        print(f"{size} supports filled in {time.perf_counter() - begin:.0f} s; {held(register)}",
              flush=True)  # fmt: skip
        found: dict[str, Cost] = {}
        for name, page in pages(register, company).items():
            found[name] = cost(register, page)
            print(f"{name:<28} {found[name]}", flush=True)
        found[IMPORT] = import_cost(register, company, Path(folder))
        print(f"{IMPORT:<28} {found[IMPORT]}", flush=True)
        register.close()
    return found


def held(register: Register) -> str:
    """Return how much a database holds."""
    models: tuple[type[Base], ...] = (SupportPoint, Line, Attachment, Reading)
    with register.reading() as session:
        counts = {
            model.__tablename__: session.scalar(select(func.count()).select_from(model))
            for model in models
        }
        size = session.scalar(text("SELECT pg_database_size(current_database())")) or 0
    return f"{counts}, {size / 1e9:.2f} GB"


def main(sizes: list[int]) -> None:
    """Print what each size costs, and hold the growth to the budget."""
    found = {size: measured(size) for size in sizes}
    least, most = found[min(sizes)], found[max(sizes)]
    grown = {name: most[name].blocks / max(least[name].blocks, 1) for name in least}
    for name, times in grown.items():
        print(
            f"{name:<28} {times:>6.1f} times the blocks from {min(sizes)} to {max(sizes)} supports"
        )
    assert all(times <= AT_MOST_TIMES for times in list(grown.values())[:CONSTANT]), grown


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or list(SIZES))
