"""Deeds broken off at chosen points or moments, and what the register then holds.

Run ``python -m tests.broken_off DATABASE SEED HOW=TRIES... -- DEED...`` for deeds of `tests.deeds`;
a line of JSON for each try. How: ``killed`` by signal 9, connection ``cut`` by the server's
administrator, ``full`` disk (no file may grow any more). Points are statements and ends of
transactions; all of them are tried where TRIES is 0. ``moments`` kills at random times instead,
within commits too.

Whatever happens, what is found must be a state that the deed passes through when nobody disturbs
it; and done again, the deed must come to the same end. Processes are forked from one that has all
imported and no threads.
"""

from __future__ import annotations

import contextlib
import json
import os
import random
import resource
import shutil
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from functools import partial
from pathlib import Path
from typing import Any

import psycopg
from sqlalchemy import URL, Engine, event, make_url

from supports.database import sqlite_url
from supports.errors import SupportsError
from tests.deeds import DEEDS, Deed, Place, State, as_key
from tests.interrupted import at_point
from tests.postgres import address, find_server, own_database

KILLED, CUT, FULL, MOMENTS = "killed", "cut", "full", "moments"
REFUSED, WENT_WRONG = 7, 1
"""Exit codes of a try: told in a sentence, or in no sentence at all."""


@dataclass(frozen=True, slots=True)
class Tried:
    """One try: where it was broken off, how it ended, and whether what was found is sound."""

    deed: str
    how: str
    at: float
    ended: str
    untouched: bool
    complete: bool
    sound: bool
    same_end: bool
    said: str = ""


def forked(work: Callable[[], Any], told: Path, patience: float | None = None) -> int:
    """Do work in a process of its own, killed after a time if so wished; return its exit code.

    What the work returns, or the sentence that it was refused with, is written to a file as JSON.
    """
    child = os.fork()
    if child == 0:
        os._exit(_worked(work, told))
    if patience is not None:
        time.sleep(patience)
        with contextlib.suppress(ProcessLookupError):
            os.kill(child, signal.SIGKILL)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def _worked(work: Callable[[], Any], told: Path) -> int:
    said: Any = None
    code = 0
    try:
        said = work()
    except SupportsError as error:
        said, code = str(error), REFUSED
    except BaseException:  # noqa: BLE001  whatever it is, it is to be told
        said, code = traceback.format_exc(), WENT_WRONG
    resource.setrlimit(resource.RLIMIT_FSIZE, (-1, -1))  # it may have been lowered by a try
    told.write_text(json.dumps(said))
    return code


# Places, each a copy of one that is made ready once


@dataclass(slots=True)
class Ground:
    """Gives a place as a deed finds it, as often as wanted."""

    deed: Deed
    folder: Path
    server: URL | None

    def ready(self) -> None:
        """Make the place ready from which all others are copied."""
        place = self._place("ready", "ready_other")
        place.folder.mkdir(parents=True)
        self._make("ready", "")
        told = self.folder / "told"
        code = forked(lambda: self.deed.ready(place), told)
        assert code == 0, told.read_text()

    def fresh(self) -> Place:
        """Return the place as it was made ready."""
        place = self._place("run", "run_other")
        shutil.rmtree(place.folder, ignore_errors=True)
        shutil.copytree(self.folder / "ready", place.folder)
        self._make("run", " TEMPLATE {}")
        return place

    def _make(self, name: str, like: str) -> None:
        """Make the databases of a place on the server, new or like those that are ready."""
        ends = ("", "_other") if self.deed.into_another else ("",)
        for end in ends if self.server is not None else ():
            self.drop(f"{name}{end}")
            template = like.format(self._name(f"ready{end}"))
            self._run(f"CREATE DATABASE {self._name(f'{name}{end}')}{template}")

    def drop(self, *names: str) -> None:
        """Drop databases on the server."""
        if self.server is not None:
            force = "DROP DATABASE IF EXISTS {} WITH (FORCE)"
            self._run(*(force.format(self._name(name)) for name in names))

    def _place(self, name: str, other: str) -> Place:
        folder = self.folder / name
        if self.server is None:
            here = (sqlite_url(folder / file) for file in ("register.db", "other.db"))
        else:
            here = (self.server.set(database=self._name(one)) for one in (name, other))
        one, two = (url.render_as_string(hide_password=False) for url in here)
        return Place(one, two, folder)

    def _name(self, name: str) -> str:
        assert self.server is not None
        return f"{self.server.database}_{name}"

    def _run(self, *statements: str) -> None:
        assert self.server is not None
        with psycopg.connect(address(self.server), autocommit=True) as connection:
            for statement in statements:
                connection.execute(statement)


@contextlib.contextmanager
def grounds(database: str, deeds: list[str]) -> Iterator[Iterator[Ground]]:
    """Give a ground for each deed on a database, and take all away at the end."""
    with tempfile.TemporaryDirectory() as name, contextlib.ExitStack() as stack:
        server = None
        if database == "postgresql":
            server = stack.enter_context(own_database(find_server()))
        yield (_ground(DEEDS[deed], Path(name), server, stack) for deed in deeds)


def _ground(deed: Deed, folder: Path, server: URL | None, stack: contextlib.ExitStack) -> Ground:
    ground = Ground(deed, folder / deed.name.replace(" ", "-"), server)
    stack.callback(ground.drop, "run", "run_other", "ready", "ready_other")
    ground.ready()
    return ground


# An undisturbed run, and what it passes through


@dataclass(frozen=True, slots=True)
class Way:
    """The states between the transactions of an undisturbed run, first and last among them."""

    states: tuple[State, ...]
    points: int


def undisturbed(ground: Ground) -> Way:
    """Do a deed undisturbed; return the states that it passes through, and its points."""
    place, told = ground.fresh(), ground.folder / "told"
    code = forked(lambda: _watched(ground.deed, place), told)
    assert code == 0, told.read_text()
    states, points = json.loads(told.read_text())
    assert states[0] != states[-1], ground.deed.name
    return Way(tuple(states), points)


def _watched(deed: Deed, place: Place) -> tuple[list[State], int]:
    """Do a deed; look at the place whenever one transaction has ended and another begins."""
    states: list[State] = [deed.seen(place)]
    looking = False

    def look(*_: Any) -> None:
        nonlocal looking
        if looking:
            return
        looking = True
        state = deed.seen(place)
        if state != states[-1]:
            states.append(state)
        looking = False

    passed = at_point(0, lambda: None)
    event.listen(Engine, "begin", look)
    deed.do(place)
    look()
    return states, passed()


def time_taken(ground: Ground) -> float:
    """Return how long a deed takes that nobody watches or disturbs [s]."""
    place, begin = ground.fresh(), time.perf_counter()
    assert forked(lambda: ground.deed.do(place), ground.folder / "told") == 0
    return time.perf_counter() - begin


# Tries


def tries(ground: Ground, way: Way, how: str, wanted: list[float]) -> Iterator[Tried]:
    """Break a deed off at some points, or moments; then, and at the last, do it again to its end.

    The place is renewed where it changed.
    """
    allowed = {as_key(state) for state in way.states}
    first, last = as_key(way.states[0]), as_key(way.states[-1])
    place, told = ground.fresh(), ground.folder / "told"
    for at in wanted:
        told.write_text("null")
        code = _broken(ground.deed, place, how, at, told)
        said = str(json.loads(told.read_text() or "null") or "")
        found = as_key(ground.deed.seen(place))
        same_end, renew = True, found != first or at == wanted[-1]
        if renew:
            again = forked(partial(ground.deed.do, place), ground.folder / "again")
            same_end = again == 0 and as_key(ground.deed.seen(place)) == last
            place = ground.fresh()
        ended = {0: "through", REFUSED: "told", -signal.SIGKILL: "killed"}.get(code, "went wrong")
        yield Tried(
            ground.deed.name, how, at, ended, found == first, found == last, found in allowed,
            same_end, said,
        )  # fmt: skip


def _broken(deed: Deed, place: Place, how: str, at: float, told: Path) -> int:
    if how == MOMENTS:
        return forked(lambda: deed.do(place), told, patience=at)
    act = {KILLED: _kill, CUT: partial(_cut, place), FULL: _fill_the_disk}[how]

    def work() -> None:
        at_point(round(at), act)
        deed.do(place)

    return forked(work, told)


def _kill() -> None:
    """End this process as a power cut would."""
    os.kill(os.getpid(), signal.SIGKILL)


def _cut(place: Place) -> None:
    """Cut every connection to the databases of a place, as the server's administrator."""
    query = "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = ANY(%s)"
    names = [make_url(place.url).database, make_url(place.other).database]
    with psycopg.connect(address(make_url(place.url).set(database="postgres"))) as connection:
        connection.execute(query, [names])


def _fill_the_disk() -> None:
    """Let no file of this process grow any more."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, -1))


def moments(took: float, how_many: int, seed: int) -> list[float]:
    """Return times at which to break a deed off [s], some of them after its end."""
    rng = random.Random(seed)  # noqa: S311  moments, no secret
    return [rng.uniform(0.0, 1.05 * took) for _ in range(how_many)]


def points(way: Way, how_many: int, seed: int) -> list[float]:
    """Return points at which to break a deed off, of several the last commit; all points for 0."""
    every = range(1, way.points + 1)
    if not 0 < how_many < way.points:
        return [float(point) for point in every]
    rng = random.Random(seed)  # noqa: S311  points, no secret
    last = [way.points] if how_many > 1 else []
    return [float(point) for point in (*rng.sample(every[:-1], how_many - len(last)), *last)]


def broken_off(
    database: str, seed: int, wanted: dict[str, int], deeds: list[str]
) -> Iterator[Tried]:
    """Break deeds off on a database, some times each, in the ways named."""
    with grounds(database, deeds) as each:
        for ground in each:
            way = undisturbed(ground)
            for how, how_many in wanted.items():
                if how == MOMENTS:
                    at = moments(time_taken(ground), how_many, seed)
                else:
                    at = points(way, how_many, seed)
                yield from tries(ground, way, how, at)


def main(database: str, seed: str, *words: str) -> None:
    """Break deeds off and write down each try."""
    ways = [word.split("=") for word in words if "=" in word]
    deeds = [word for word in words if "=" not in word and word != "--"]
    wanted = {how: int(how_many) for how, how_many in ways}
    for one in broken_off(database, int(seed), wanted, deeds or list(DEEDS)):
        sys.stdout.write(json.dumps(asdict(one)) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main(*sys.argv[1:])
