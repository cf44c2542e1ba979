"""A plant's workbook of nameplates in: checked, then stored with its trail, on both databases.

Run ``python -m bench.imports``. 100,000 rows of 40 columns, all filled, for units that the register
knows. Reference: the same file through bare calamine, the same rows through Python's own sqlite3 in
one ``executemany`` into one table without keys, trail or guards. Ratios of processor time, not
seconds, are held to budgets; what a PostgreSQL server works on its own side stands in the time by
the clock alone. Each side runs in a process of its own, so that peaks of memory are its own.
"""

from __future__ import annotations

import argparse
import datetime as dt
import json
import random
import resource
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median
from typing import Any

import python_calamine as calamine
import xlsxwriter
from sqlalchemy import URL, func, select

from app.finding_lines import finding_lines
from app.intake import read_against, store
from bench.faults import databases
from importers.sheets import NAMEPLATES
from importers.unit_choice import METRIC, heading_with_unit
from supports.audit import first_break
from supports.database import Register
from supports.model import AuditEntry, Base, Nameplate, Person, SourceRow
from supports.vocabulary import TurnCounts

ROWS = 100_000
COLUMNS = 40
NOW = dt.datetime(2031, 5, 4, 3, 2, 1)  # noqa: DTZ001  the register keeps UTC without zone
WRITER = "N. N."
TURNS = 3
"""Bare and ours in turns: a machine is not as fast in each minute."""

AT_MOST_TIMES_BARE = 4.0
"""Checked and stored on SQLite, with trail, against bare reading and bare inserts.

Reached is 3.0 to 4.2, 3.2 in the middle, on a quiet machine. A third of it is the bare reading and
the database's own work on values, cells as found, trail and indexes; the rest is cells made into
records, the writing of cells as found and of the trail, the sheet's XML searched for marks, the
register read and compared, rows made: each a tenth of the whole or less.
"""
AT_MOST_MEMORY = 750e6
"""Peak of the process that checks and stores [byte]."""


def plate(number: int, rng: random.Random) -> dict[str, Any]:
    """Return one nameplate, every column of it filled, in the units of the headings.

    The register does not know the last three columns; it keeps them as found.
    """
    load = round(rng.uniform(2.0, 120.0), 2)
    travel = float(rng.randrange(40, 400, 5))
    cold = round(rng.uniform(0.1, 0.4) * travel)
    return {
        "tag": f"PS-{number:06}",
        "position": "A",
        "source": "plate",
        "provisional": "no",
        "scale_unit": "kN",
        "pointer_unit": "mm",
        "nameplate_load": load,
        "range_low": round(load * 0.9, 4),
        "range_high": round(load * 1.1, 4),
        "range_minus": 10.0,
        "range_plus": 10.0,
        "load_per_turn": round(load / 80.0, 3),
        "direction_to_increase": rng.choice(("clockwise seen from below", "as marked", "unknown")),
        "direction_to_decrease": rng.choice(("anticlockwise seen from below", "as marked")),
        "load_bolts": float(rng.choice((1, 2))),
        "turn_counts": rng.choice(tuple(TurnCounts)).value,
        "bolt_pitch": rng.choice((2.0, 2.5, 3.0)),
        "free_to_increase": float(rng.randrange(10, 90)),
        "free_to_decrease": float(rng.randrange(10, 90)),
        "total_travel": travel,
        "design_travel": -round(0.5 * travel),
        "cold_mark": cold,
        "hot_mark": cold + round(0.5 * travel),
        "zero_end": rng.choice(("top", "bottom")),
        "deviation": round(rng.uniform(1.0, 6.0), 1),
        "setting_changes_travel": "no",
        "may_turn_locked": rng.choice(("yes", "no", "unknown")),
        "stop_rating": round(load * 2.0, 1),
        "own_mass": round(rng.uniform(20.0, 900.0), 1),
        "rate": round(rng.uniform(20.0, 900.0), 2),
        "working_low": round(load * 0.5, 3),
        "working_high": round(load * 1.5, 3),
        "hot_load": load,
        "cold_load": round(load * 1.05, 3),
        "movement": -round(0.5 * travel),
        "thread_pitch": rng.choice((2.0, 2.5, 3.0, 3.5)),
        "take_up": rng.choice(("turnbuckle", "load bolt", "rod coupling")),
        "Order item": f"{rng.randrange(4_000, 9_000)}/{rng.randrange(1, 60)}",
        "Photo": f"IMG_{rng.randrange(10_000):04}",
        "Shelf": f"{rng.choice('ABCDEF')}{rng.randrange(1, 40)}",
    }


def write_workbook(path: Path) -> None:
    """Write the workbook, the same one each time."""
    rng = random.Random(1)  # noqa: S311  invented plates, no secret
    named = {c.field: heading_with_unit(c, METRIC) for c in NAMEPLATES.columns}
    book = xlsxwriter.Workbook(path, {"constant_memory": True})
    sheet = book.add_worksheet(NAMEPLATES.name)
    for number in range(1, ROWS + 1):
        row = plate(number, rng)
        if number == 1:
            assert len(row) == COLUMNS
            sheet.write_row(0, 0, [named.get(name, name) for name in row])
        sheet.write_row(number, 0, list(row.values()))
    book.close()


def hang_units(register: Register) -> None:
    """Put the units that the plates belong to into an empty register, without trail."""
    each = range(1, ROWS + 1)
    rows: dict[str, list[dict[str, Any]]] = {
        "line": [{"id": n, "number": f"L-{n:04}"} for n in range(1, 1001)],
        "support_point": [
            {"id": n, "kind": "constant hanger", "in_service": "in place"} for n in each
        ],
        "support_tag": [
            {"point_id": n, "tag": f"PS-{n:06}", "matching_key": f"PS{n:06}"} for n in each
        ],
        "assembly": [{"id": n, "point_id": n, "arrangement": "single"} for n in each],
        "attachment": [{"id": n, "point_id": n, "line_id": 1 + n % 1000} for n in each],
        "unit": [{"id": n, "kind": "constant hanger", "serial": f"{n:07}"} for n in each],
        "unit_placement": [{"unit_id": n, "assembly_id": n, "position": "A"} for n in each],
    }
    with register.engine.begin() as connection:
        for name, given in rows.items():
            connection.execute(Base.metadata.tables[name].insert(), given)


def bare(file: Path, database: Path) -> dict[str, float]:
    """Read with calamine alone and insert with sqlite3 alone; return the times [s]."""
    begin, clock = time.process_time(), time.perf_counter()
    book = calamine.CalamineWorkbook.from_path(file)
    rows = book.get_sheet_by_name(NAMEPLATES.name).to_python(skip_empty_area=False)
    middle = time.process_time()
    connection = sqlite3.connect(database)
    names = ", ".join(f"c{n}" for n in range(COLUMNS))
    connection.execute(f"CREATE TABLE plates ({names})")
    marks = ", ".join("?" * COLUMNS)
    connection.executemany(f"INSERT INTO plates VALUES ({marks})", rows[1:])  # noqa: S608  marks
    connection.commit()
    connection.close()
    end, wall = time.process_time(), time.perf_counter() - clock
    assert len(rows) == ROWS + 1
    return {"read": middle - begin, "insert": end - middle, "wall": wall, "memory": peak()}


def ours(file: Path, url: str) -> dict[str, float]:
    """Check the file against the register and store it; return the times [s] and the peak."""
    register = Register(url)
    begin, clock = time.process_time(), time.perf_counter()
    result, plan = read_against(register, file, NOW.date())
    lines = finding_lines(plan.findings, every=False)
    middle = time.process_time()
    brought = store(
        register,
        result,
        plan,
        acting=WRITER,
        reason="a bench",
        now=NOW,
        accept_the_good=False,
    )
    end, wall = time.process_time(), time.perf_counter() - clock
    memory = peak()
    assert brought.stored
    assert not result.forbids_storing, lines
    return {"preview": middle - begin, "apply": end - middle, "wall": wall, "memory": memory}


def checked(register: Register) -> None:
    """Hold what was stored against what was asked."""
    with register.reading() as session:
        for model, wanted in ((Nameplate, ROWS), (SourceRow, ROWS), (AuditEntry, 2 * ROWS + 1)):
            found = session.scalar(select(func.count()).select_from(model))
            assert found >= wanted, (model, found)
        begin = time.perf_counter()
        assert first_break(session) is None
        print(f"   the chain of {2 * ROWS + 1} entries verified in {seconds(begin)}")


def seconds(begin: float) -> str:
    """Return the time since then as words."""
    return f"{time.perf_counter() - begin:.1f} s"


def peak() -> float:
    """Return the most memory that this process has held [byte]."""
    unit = 1 if sys.platform == "darwin" else 1024
    return float(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * unit)


def apart(side: str, file: Path, where: str) -> dict[str, float]:
    """Run one side in a process of its own; return what it measured."""
    command = [sys.executable, "-m", "bench.imports", side, str(file), where]
    told = subprocess.run(command, check=True, capture_output=True, text=True)
    measured: dict[str, float] = json.loads(told.stdout.splitlines()[-1])
    return measured


def registers(folder: Path) -> Iterator[tuple[str, str, Register]]:
    """Give a register with units on each database: its name, its address, itself."""
    for name, url in databases(folder):
        yield from prepared(name, url)


def prepared(name: str, url: URL) -> Iterator[tuple[str, str, Register]]:
    """Give one register, its units hung and its writer known."""
    register = Register(url)
    register.migrate()
    hang_units(register)
    with register.writing(WRITER, "a bench", NOW, action="people") as writing:
        writing.session.add(Person(name=WRITER))
    yield name, url.render_as_string(hide_password=False), register
    register.close()


def told(name: str, times: dict[str, float], reference: dict[str, float]) -> float:
    """Print what one database took; return its ratio."""
    whole = times["preview"] + times["apply"]
    ratio = whole / (reference["read"] + reference["insert"])
    print(
        f"{name}: checked in {times['preview']:.1f} s, stored in {times['apply']:.1f} s "
        f"({times['wall']:.1f} s by the clock): "
        f"{ratio:.1f} times the bare reading and inserts, "
        f"{times['wall'] / reference['wall']:.1f} times by the clock; "
        f"peak {times['memory'] / 1e6:.0f} MB"
    )
    return ratio


def main() -> None:
    """Print the ratios and hold them to their budgets."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "plates.xlsx"
        write_workbook(file)
        figures: dict[str, list[tuple[float, float]]] = defaultdict(list)
        for turn in range(TURNS):
            place = Path(folder) / f"turn {turn + 1}"
            place.mkdir()
            reference = the_bare(file, place / "bare.db")
            for name, url, register in registers(place):
                times = apart("ours", file, url)
                figures[name].append((told(name, times, reference), times["memory"]))
                checked(register)
            shutil.rmtree(place)
    for name, turns in figures.items():
        print(f"{name}: {median(ratio for ratio, _ in turns):.1f} times in the middle of {TURNS}")
    assert max(memory for _, memory in figures["SQLite"]) <= AT_MOST_MEMORY
    assert median(ratio for ratio, _ in figures["SQLite"]) <= AT_MOST_TIMES_BARE


def the_bare(file: Path, database: Path) -> dict[str, float]:
    """Print what bare reading and bare inserts took; return it."""
    reference = apart("bare", file, str(database))
    print(
        f"{ROWS} rows of {COLUMNS} columns, bare: read in {reference['read']:.1f} s, "
        f"inserted in {reference['insert']:.1f} s ({reference['wall']:.1f} s by the clock), "
        f"peak {reference['memory'] / 1e6:.0f} MB"
    )
    return reference


def one_side() -> None:
    """Run one side alone and print what it measured, for `apart`."""
    parser = argparse.ArgumentParser()
    parser.add_argument("side", choices=("bare", "ours"))
    parser.add_argument("file", type=Path)
    parser.add_argument("where")
    asked = parser.parse_args()
    act: Callable[..., dict[str, float]] = bare if asked.side == "bare" else ours
    print(json.dumps(act(asked.file, asked.where)))


if __name__ == "__main__":
    one_side() if len(sys.argv) > 1 else main()
