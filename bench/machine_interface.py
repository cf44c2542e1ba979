"""The machine interface asked at random out of its own description, on both databases.

Run ``python -m bench.machine_interface``, or ``python -m bench.machine_interface 200`` for another
count of requests a route. Every answer is held against the description: its status is one that is
told of, its body is of the shape told, nothing fails unforeseen (`tests.web.described`). Half of
the requests name what the register knows. Budget: nothing that contradicts the description.
"""

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from pathlib import Path

from app.web.desk import make_desk
from supports.database import Register, sqlite_url
from tests.postgres import find_server, own_database
from tests.web.at_work import set_to_work
from tests.web.described import told_apart
from tests.web.desks import desk_on

A_ROUTE = 60


def asked(register: Register, examples: int) -> Counter[int]:
    """Ask a plant at work; return how often each status was answered."""
    register.migrate()
    set_to_work(register)
    seen = told_apart(make_desk(desk_on(register)), examples)
    register.close()
    return seen


def main(examples: int) -> None:
    """Print how many were asked on each database, and what was answered."""
    with tempfile.TemporaryDirectory() as folder:
        on_file = asked(Register(sqlite_url(Path(folder) / "register.db")), examples)
    print(f"SQLite: {on_file.total()} requests, {told(on_file)}")
    with own_database(find_server()) as url:
        on_server = asked(Register(url), examples)
    print(f"PostgreSQL: {on_server.total()} requests, {told(on_server)}")
    print("none contradicts the description")


def told(seen: Counter[int]) -> str:
    """Return how often each status was answered."""
    return ", ".join(f"{status}: {count}" for status, count in sorted(seen.items()))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else A_ROUTE)
