"""A program that meets a signal at a chosen point of its write.

A process that acts upon itself by its own hook: at the n-th statement that it hands to a database,
before or after the n-th commit. The hooks sit on SQLAlchemy's public events and on the stream by
which PostgreSQL takes rows, which SQLAlchemy does not see; the program under test knows nothing of
them.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import psycopg
from sqlalchemy import Engine, event, func, select

from app.intake import read_against, store
from supports.audit import first_break
from supports.database import Register
from supports.model import Base

NOW = datetime(2031, 5, 4, 8)  # noqa: DTZ001  the register keeps UTC without zone
ROOT = Path(__file__).resolve().parents[1]
WRITER = "Person KK"
READS = ("SELECT", "PRAGMA", "BEGIN")


def at_point(wanted: int, act: Callable[[], None]) -> Callable[[], int]:
    """Act at the n-th point of a write: each statement and each end of a transaction is one.

    Returns
    -------
    A way to ask how many points were passed.
    """
    seen = 0

    def pass_by(*_: Any) -> None:
        nonlocal seen
        seen += 1
        if seen == wanted:
            act()

    def statement(_: Any, __: Any, text: str, *___: Any) -> None:
        if not text.lstrip().upper().startswith(READS):
            pass_by()

    def stream(cursor: psycopg.Cursor[Any], *words: Any, **said: Any) -> Any:
        pass_by()
        return streamed(cursor, *words, **said)

    event.listen(Engine, "before_cursor_execute", statement)
    event.listen(Engine, "commit", pass_by)
    streamed, psycopg.Cursor.copy = psycopg.Cursor.copy, stream  # type: ignore[method-assign]
    return lambda: seen


def bring(register: Register, file: Path, acting: str) -> None:
    """Import a file as the command does."""
    result, plan = read_against(register, file, NOW.date())
    said = {"acting": acting, "reason": "a test", "now": NOW}
    store(register, result, plan, **said, accept_the_good=False)  # type: ignore[arg-type]


def counted(register: Register) -> dict[str, int]:
    """Count the rows of each table; the chain must hold whatever happened."""
    with register.reading() as session:
        assert first_break(session) is None
        return {
            table.name: session.scalar(select(func.count()).select_from(table)) or 0
            for table in Base.metadata.sorted_tables
        }


def typed_until(point: int, words: list[str], environment: dict[str, str]) -> Any:
    """Type a command that gets the interrupt key's signal at the n-th point of its write."""
    return subprocess.run(
        [sys.executable, "-m", "tests.interrupted", str(point), *words], cwd=ROOT, env=environment,
        capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip


def main(point: str, *words: str) -> None:
    """Run a command of the program with the signal of the interrupt key at a point."""
    from app.cli.main import main as command

    sys.argv = ["supports", *words]
    at_point(int(point), lambda: os.kill(os.getpid(), signal.SIGINT))
    command()


if __name__ == "__main__":
    main(*sys.argv[1:])
