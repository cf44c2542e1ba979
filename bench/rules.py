"""All rules over the whole plant against pandas reading the same rows; one support; growth.

The plant is invented and sound. Ratios are taken in one run on one machine; the references are
``pandas.read_sql`` of the same tables and columns, and the smallest plant.
"""

from __future__ import annotations

import gc
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pandas as pd
from sqlalchemy import select

from supports.database import Register, sqlite_url
from supports.model import Base
from supports.queries.rule_runs import ask_register
from supports.rules.rule import Code
from tests.acceptance.planted_plant import TODAY, plant
from tests.acceptance.planted_rows import store

SIZES = (1_000, 10_000, 100_000)
READ = (
    "support_point", "support_tag", "assembly", "attachment", "unit", "unit_placement",
    "nameplate", "setting_event", "reading", "hardware_piece", "required_load", "line",
    "design_case",
)  # fmt: skip

AT_MOST_TIMES_READING = 3.0
"""Reading, framing and judging against pandas reading the same rows."""
ONE_SUPPORT_AT_MOST = 0.100
"""One support in the largest plant [s]."""
AT_MOST_TIMES_LINEAR = 2.0
"""Time a support in the largest plant against that in the plant of 10,000."""
REPEATED = 3


def quickest(act: Callable[[], Any]) -> float:
    """Return the least processor time of some runs [s]; others on the machine do not count."""
    times = []
    for _ in range(REPEATED):
        gc.collect()
        begin = time.process_time()
        act()
        times.append(time.process_time() - begin)
    return min(times)


def filled(path: Path, size: int) -> Register:
    """Return a register with a sound plant."""
    register = Register(sqlite_url(path))
    register.migrate()
    supports, _ = plant(size, size * 2)
    with register.engine.begin() as connection:
        store(connection, Base.metadata.tables, supports)
    return register


def read_by_pandas(register: Register) -> None:
    """Read the same rows as pandas does."""
    with register.engine.connect() as connection:
        for name in READ:
            pd.read_sql(select(Base.metadata.tables[name]), connection)


def judged(register: Register, points: list[int] | None = None) -> int:
    """Ask every rule; return how many answers were given."""
    with register.reading() as session:
        asked = ask_register(session, TODAY, points)
    return sum(one.count(code) for one in asked.asked for code in Code)


def main() -> None:
    """Print times and ratios and hold them to their budgets."""
    times: dict[int, float] = {}
    with tempfile.TemporaryDirectory() as folder:
        for size in SIZES:
            register = filled(Path(folder) / f"{size}.db", size)
            times[size] = quickest(lambda here=register: judged(here))  # type: ignore[misc]
            answers = judged(register)
            print(f"{size:>7} supports: {times[size]:.2f} s, {answers} answers")
            if size == SIZES[-1]:
                reading = quickest(lambda here=register: read_by_pandas(here))  # type: ignore[misc]
                middle = [size // 2]
                alone = quickest(lambda here=register, one=middle: judged(here, one))  # type: ignore[misc]
            register.close()
    ratio = times[SIZES[-1]] / reading
    growth = (times[SIZES[-1]] / SIZES[-1]) / (times[SIZES[1]] / SIZES[1])
    print(f"pandas reads the same rows in {reading:.2f} s: all rules take {ratio:.2f} times that")
    print(f"one support of {SIZES[-1]}: {alone * 1000.0:.0f} ms")
    print(f"time a support, {SIZES[-1]} against {SIZES[1]}: {growth:.2f}")
    assert ratio <= AT_MOST_TIMES_READING
    assert alone <= ONE_SUPPORT_AT_MOST
    assert growth <= AT_MOST_TIMES_LINEAR


if __name__ == "__main__":
    main()
