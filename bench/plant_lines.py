"""Every line of a plant screened by several processes against one: the ratio, the same answer.

Run ``python -m bench.plant_lines``, or with the processes and the lines: ``python -m
bench.plant_lines 4 2000``. The plant is the worked line of the tests, brought in many times from a
workbook, in a register on SQLite. Held to a budget is processor time: that of one process alone
against that of this one and an even share of the others', their beginning with it. That is the
gain where as many processors are free; the clock is told beside it, and says less on a machine
that other work is busy on.
"""

from __future__ import annotations

import re
import resource
import sys
import tempfile
import time
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from app.intake import read_against, store
from app.plant_lines import screen_plant
from app.shapes_of_lines import LinesScreened
from importers.template import write_tables
from supports.database import Register, sqlite_url
from supports.operations.people import add_person
from supports.vocabulary import Role
from tests.app.line_sheets import worked_line

PROCESSES, LINES = 2, 1_000
NOW = datetime(2031, 5, 4, 8)  # noqa: DTZ001  the register keeps UTC without zone
WRITER = "N. N."
AT_LEAST_FASTER = 1.3
"""Two processes against one; each takes some seconds to begin."""


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


@dataclass(frozen=True, slots=True)
class Turn:
    """One screening of the plant: processor time along its way and by the clock [s]."""

    processor: float
    clock: float
    answer: LinesScreened

    def __str__(self) -> str:
        """Return both times."""
        return f"{self.processor:.1f} s of a processor ({self.clock:.0f} s by the clock)"


def turn(register: Register, processes: int) -> Turn:
    """Screen the plant once."""
    clock, own, others = time.perf_counter(), time.process_time(), _of_others()
    answer = screen_plant(register, 0.05, processes=processes, lock_wait=30.0)
    shared = (_of_others() - others) / processes
    return Turn(time.process_time() - own + shared, time.perf_counter() - clock, answer)


def _of_others() -> float:
    """Return the processor time of processes that were begun here and have ended [s]."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def main(processes: int, lines: int) -> None:
    """Print how often quicker several processes are than one."""
    with tempfile.TemporaryDirectory() as folder:
        register = filled(Path(folder), lines)
        alone, beside = turn(register, 1), turn(register, processes)
        register.close()
    assert alone.answer == beside.answer
    assert alone.answer.screened == lines
    times = alone.processor / beside.processor
    print(f"{lines} lines: one process {alone}, {processes} processes {beside}")
    print(f"{processes} processes are {times:.2f} times as quick as one; the answers are the same")
    assert times >= AT_LEAST_FASTER


if __name__ == "__main__":
    asked = [int(word) for word in sys.argv[1:]]
    main(*(asked + [PROCESSES, LINES][len(asked) :]))
