"""Imports that are ended at a chosen point, and what the register then holds.

A process that hangs itself up by its own hook: at the n-th statement that it hands to the database,
before or after the n-th commit. The hooks sit on SQLAlchemy's public events; the program under test
knows nothing of them. Processes are forked from one that has everything imported, so that many
points cost little.
"""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from datetime import datetime
from itertools import count
from pathlib import Path
from typing import Any

from sqlalchemy import event, func, select

from app.intake import read_against, store
from supports.audit import first_break
from supports.database import Register
from supports.model import Base

NOW = datetime(2031, 5, 4, 8)  # noqa: DTZ001  the register keeps UTC without zone
ROOT = Path(__file__).resolve().parents[1]
WRITER = "Person KK"
READS = ("SELECT", "PRAGMA", "BEGIN")


@dataclass(frozen=True, slots=True)
class Ended:
    """How one import ended: by the signal, or because it was through."""

    killed: bool
    counts: dict[str, int]


def at_point(register: Register, wanted: int, act: Callable[[], None]) -> None:
    """Act at the n-th point of a write: each statement and each end of a transaction is one."""
    seen = 0

    def pass_by(*_: Any) -> None:
        nonlocal seen
        seen += 1
        if seen == wanted:
            act()

    def statement(_: Any, __: Any, text: str, *___: Any) -> None:
        if not text.lstrip().upper().startswith(READS):
            pass_by()

    event.listen(register.engine, "before_cursor_execute", statement)
    event.listen(register.engine, "commit", pass_by)


def killed_itself() -> None:
    """End this process as a power cut would."""
    os.kill(os.getpid(), signal.SIGKILL)


def bring(register: Register, file: Path, acting: str) -> None:
    """Import a file as the command does."""
    result, plan = read_against(register, file, NOW.date())
    said = {"acting": acting, "reason": "a test", "now": NOW}
    store(register, result, plan, **said, accept_the_good=False)  # type: ignore[arg-type]


def forked(work: Callable[[], None], patience: float | None = None) -> bool:
    """Do work in a process of its own; return whether it was killed, by itself or after a time."""
    child = os.fork()
    if child == 0:
        code = 1
        try:
            work()
            code = 0
        finally:
            os._exit(code)
    if patience is not None:
        time.sleep(patience)
        with contextlib.suppress(ProcessLookupError):
            os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    if os.WIFEXITED(status) and os.WEXITSTATUS(status):
        raise AssertionError("the import failed by itself")
    return os.WIFSIGNALED(status)


def at_every_point(url: str, file: Path) -> Iterator[Ended]:
    """Kill an import at its first point, then one at its second, until one is through."""
    for point in count(1):
        killed = forked(lambda: _until(url, file, point))  # noqa: B023  forked at once
        yield Ended(killed, _looked_at(url))
        if not killed:
            return


def _until(url: str, file: Path, point: int) -> None:
    register = Register(url)
    at_point(register, point, killed_itself)
    bring(register, file, WRITER)


def after(url: str, file: Path, patience: float) -> Ended:
    """Kill an import after a time [s]."""
    killed = forked(lambda: bring(Register(url), file, WRITER), patience)
    return Ended(killed, _looked_at(url))


def _looked_at(url: str) -> dict[str, int]:
    register = Register(url)
    try:
        return counted(register)
    finally:
        register.close()


def counted(register: Register) -> dict[str, int]:
    """Count the rows of each table; the chain must hold whatever happened."""
    with register.reading() as session:
        assert first_break(session) is None
        counts = {
            table.name: session.scalar(select(func.count()).select_from(table)) or 0
            for table in Base.metadata.sorted_tables
        }
        if register.url.get_backend_name() == "sqlite":
            connection = session.connection()
            assert connection.exec_driver_sql("PRAGMA integrity_check").scalar() == "ok"
            assert connection.exec_driver_sql("PRAGMA foreign_key_check").all() == []
    return counts


def every_point(url: str, file: Path) -> list[Ended]:
    """Do `at_every_point` in a process of its own, which has no threads to trouble a fork."""
    told = _run(["points", url, str(file)], dict(os.environ))
    assert told.returncode == 0, told.stderr
    return [Ended(**json.loads(line)) for line in told.stdout.splitlines()]


def typed_until(point: int, words: list[str], environment: dict[str, str]) -> Any:
    """Type a command that gets the interrupt key's signal at the n-th point of its write."""
    return _run(["typed", str(point), *words], environment)


def _run(words: list[str], environment: dict[str, str]) -> Any:
    return subprocess.run(
        [sys.executable, "-m", "tests.interrupted", *words], cwd=ROOT, env=environment,
        capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip


def type_until(point: int, words: list[str]) -> None:
    """Run a command of the program with the signal of the interrupt key at a point."""
    from app.cli.main import main as command

    sys.argv = ["supports", *words]
    opened = Register.__init__

    def opening(self: Register, *args: Any, **named: Any) -> None:
        opened(self, *args, **named)
        at_point(self, point, lambda: os.kill(os.getpid(), signal.SIGINT))

    Register.__init__ = opening  # type: ignore[method-assign]
    command()


def main(what: str, *words: str) -> None:
    """Do what was asked for in a process of its own."""
    if what == "typed":
        type_until(int(words[0]), list(words[1:]))
    for ended in at_every_point(words[0], Path(words[1])) if what == "points" else ():
        sys.stdout.write(json.dumps(asdict(ended)) + "\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
