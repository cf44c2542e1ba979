"""Faults by the hundred: nothing may be lost, half-written or double, and all is told in words.

Run ``python -m bench.faults``, or ``python -m bench.faults 100`` for another count of tries of each
sort. Deeds: an import, a returned form, two signatures, an upgrade, a backup, a restore; on SQLite
and on a PostgreSQL server of our own (`bench.own_server`).

1.  Killed with signal 9, at random moments and at random statements; connections cut by the server;
    a disk on which no file may grow (`tests.broken_off` says what is held).
2.  A disk of a few megabytes that fills up under imports (a tmpfs; root alone can make one).
3.  Two importers of the same file at once.
4.  Writers at work while the server is shut down as by a loss of power, and started again.

Budget: not one state that an undisturbed run does not pass through, not one traceback.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import URL

from bench.own_server import own_server
from bench.rivals import WRITERS, importers_at_once, restarts_under_load, until_full
from supports.database import Register, sqlite_url
from supports.model import Person
from tests.deeds import DEEDS
from tests.interrupted import NOW, WRITER
from tests.postgres import NAMED_BY, NoServerError, find_server, own_database

TIMES = 20
RESTARTS = 5
SMALL_DISK = "6m"
WAYS = {"sqlite": ("moments", "killed", "full"), "postgresql": ("moments", "killed", "cut")}


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


def broken_off(database: str, times: int) -> int:
    """Break deeds off; print what was met, and return how often something was wrong."""
    ways = [f"{how}={times}" for how in WAYS[database]]
    command = [sys.executable, "-m", "tests.broken_off", database, "1", *ways]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    tries = [json.loads(line) for line in done.stdout.splitlines()]
    for deed in DEEDS:
        for how in WAYS[database]:
            _told(database, [t for t in tries if (t["deed"], t["how"]) == (deed, how)])
    return sum(_wrong(one) for one in tries)


def _wrong(one: dict[str, Any]) -> bool:
    sound = one["sound"] and one["same_end"] and one["ended"] != "went wrong"
    if not sound:
        print(f"   {one}")
    return not sound


def _told(database: str, tries: list[dict[str, Any]]) -> None:
    left = Counter(
        "nothing" if one["untouched"] else "all" if one["complete"] else "a part, whole steps"
        for one in tries
    )
    ends = Counter(one["ended"] for one in tries)
    first = tries[0]
    print(
        f"{database:<11} {first['deed']:<15} {first['how']:<8} {len(tries):>4} tries: "
        f"{dict(ends)}, stored {dict(left)}, wrong {sum(map(_wrong, tries))}"
    )


def with_writer(url: URL) -> None:
    """Make a register and its writer."""
    register = Register(url)
    register.migrate()
    with register.writing(WRITER, "a bench", NOW, action="people") as writing:
        writing.session.add(Person(name=WRITER))
    register.close()


@contextmanager
def small_disk() -> Iterator[Path | None]:
    """Give a folder on a disk of its own; none where only root may make one."""
    if os.getuid() != 0 or not Path("/proc/mounts").exists():
        yield None
        return
    with tempfile.TemporaryDirectory() as name:
        options = ["-t", "tmpfs", "-o", f"size={SMALL_DISK}", "tmpfs", name]
        subprocess.run(["mount", *options], check=True)
        try:
            yield Path(name)
        finally:
            subprocess.run(["umount", name], check=True)


def filled_disk(times: int) -> int:
    """Import on a small disk until it is full; return how often something was wrong."""
    wrong = stored = told = 0
    for _ in range(max(times // 10, 1)):
        with small_disk() as disk:
            if disk is None:
                print("a disk that fills up: not tried, only root can make one")
                return 0
            with_writer(sqlite_url(disk / "register.db"))
            ended = until_full(sqlite_url(disk / "register.db"))
        stored, told, wrong = stored + ended.stored, told + ended.told, wrong + ended.wrong
    print(f"a disk that fills up: {stored} imports stored, {told} told it is full, {wrong} wrong")
    return wrong


def main(times: int) -> None:
    """Print what was met and hold it to the budget."""
    with own_server() as server, tempfile.TemporaryDirectory() as name:
        os.environ[NAMED_BY] = server.url.render_as_string(hide_password=False)
        wrong = sum(broken_off(database, times) for database in WAYS) + filled_disk(times)
        for named, url in databases(Path(name)):
            with_writer(url)
            pairs = importers_at_once(url, times)
            print(f"{named}: {times} pairs of importers of one file at once: {pairs}")
            wrong += pairs.wrong
        with_writer(server.url)  # no database of the tests: those may lose what was acknowledged
        losses = max(RESTARTS, times // 5)
        ended = restarts_under_load(server, server.url, losses)
        print(f"PostgreSQL: {losses} losses of power under {WRITERS} writers: {ended}")
        wrong += ended.wrong
    assert wrong == 0


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else TIMES)
