"""Every line of a plant screened by several processes against one: the ratio, the same answer.

Run ``python -m bench.plant_lines``, or with the processes and the lines: ``python -m
bench.plant_lines 4 2000``. The plant is the worked line of the tests, brought in many
times from a workbook, in a register on SQLite. Ratio of times by the clock, both sides in turn,
the middle of three turns; the beginning of the processes is in it. On a machine that other work
is busy on, further processes gain less than on one that is not: the budget asks only that they
gain.
"""

from __future__ import annotations

import os
import re
import sys
import tempfile
import time
from datetime import datetime
from pathlib import Path
from statistics import median
from typing import Any

from app.intake import read_against, store
from app.plant_lines import screen_plant
from app.shapes_of_lines import LinesScreened
from importers.template import write_tables
from supports.database import Register, sqlite_url
from supports.operations.people import add_person
from supports.vocabulary import Role
from tests.app.line_sheets import worked_line

PROCESSES, LINES = 2, 400
NOW = datetime(2031, 5, 4, 8)  # noqa: DTZ001  the register keeps UTC without zone
WRITER = "N. N."
AT_LEAST_FASTER = 1.1
"""With two processes on two processors; on one there is nothing to be gained."""


def plant(lines: int) -> dict[str, list[list[Any]]]:
    """Return the sheets of a plant: the worked line again and again, under numbers of its own."""
    sheets = worked_line()
    return {
        name: [rows[0], *(_numbered(row, n) for n in range(1, lines + 1) for row in rows[1:])]
        for name, rows in sheets.items()
    }


def _numbered(row: list[Any], number: int) -> list[Any]:
    return [
        re.sub(r"^(PS|S|L|P)-", rf"\g<1>-{number:04}-", cell) if isinstance(cell, str) else cell
        for cell in row
    ]


def filled(folder: Path, lines: int) -> Register:
    """Return a register with a plant of so many lines."""
    file = folder / "plant.xlsx"
    write_tables(file, plant(lines))
    register = Register(sqlite_url(folder / "plant.db"))
    register.migrate()
    result, planned = read_against(register, file, NOW.date())
    add_person(register, WRITER, [Role.REGISTER_KEEPER], acting="", now=NOW)
    brought = store(
        register, result, planned, acting=WRITER, reason="a bench", now=NOW, accept_the_good=False
    )
    assert brought.stored
    return register


def turn(register: Register, processes: int) -> tuple[float, LinesScreened]:
    """Return the time by the clock that screening the plant takes [s], and its answer."""
    begin = time.perf_counter()
    answer = screen_plant(register, 0.05, processes=processes, lock_wait=30.0)
    return time.perf_counter() - begin, answer


def main(processes: int, lines: int) -> None:
    """Print how often quicker several processes are than one."""
    with tempfile.TemporaryDirectory() as folder:
        register = filled(Path(folder), lines)
        ratios = []
        for _ in range(3):
            alone, answer = turn(register, 1)
            beside, same = turn(register, processes)
            assert answer == same
            assert answer.screened == lines
            ratios.append(alone / beside)
            print(
                f"{lines} lines: one process {alone:.1f} s, {processes} processes {beside:.1f} s",
                flush=True,
            )
        register.close()
    times = median(ratios)
    print(f"{processes} processes are {times:.2f} times as quick as one; the answers are the same")
    assert times >= AT_LEAST_FASTER or (os.cpu_count() or 1) == 1


if __name__ == "__main__":
    asked = [int(word) for word in sys.argv[1:]]
    main(*(asked + [PROCESSES, LINES][len(asked) :]))
