"""Plan the stop of autumn at the invented plant: scope, plant states, people, a levelled schedule.

    python -m demo.drive_turnaround demo-plant

It comes after the first run and ``python -m demo.drive_walkdown``, whose findings join the scope.
"""

from __future__ import annotations

import os
from pathlib import Path

from app.settings import REGISTER
from demo.drive import FOLDER
from demo.driver import Driver, play
from demo.plant.demo_line import DEMO_NUMBER
from demo.plant.people import holders
from supports.vocabulary import Role

TURNAROUND = "TA-2026-01"
STATES = (
    ("shut down, drained", "2026-11-04", "2026-11-12"),
    ("shut down, full", "2026-11-13", "2026-11-18"),
)
"""States of every line that operations promised: which, from, to."""


def main() -> None:
    """Open, collect, plan, and leave the paper on disk."""
    play("drive_turnaround", FOLDER, plan_the_stop)


def plan_the_stop(folder: Path) -> None:
    """Take the plant of the first run through the planning of one turnaround."""
    os.environ[REGISTER] = str(folder / "register.db")
    driver, planner = Driver(folder, "2026-10-19T08:00:00"), holders(Role.PLANNER)[0]
    words = ("Stop of autumn", "--from", "2026-11-02", "--to", "2026-11-20", "--line", DEMO_NUMBER)
    driver.type("turnaround", "open", *words, "--number", TURNAROUND, person=planner)
    driver.type("turnaround", "collect", TURNAROUND, person=planner)
    for state, first, last in STATES:
        days = ("--from", first, "--to", last)
        driver.type("turnaround", "window", TURNAROUND, state, *days, person=planner)
    driver.type("turnaround", "plan", TURNAROUND, person=planner)
    driver.type("turnaround", "paper", TURNAROUND, "--into", str(folder / "papers"))


if __name__ == "__main__":
    main()
