"""What every demonstration has in common: it types commands as people would, in its own folder."""

from __future__ import annotations

import os
import shlex
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from app.cli.main import run
from app.settings import CLOCK, PERSON, REGISTER
from supports.errors import SupportsError


def record_words(record: dict[str, str]) -> list[str]:
    """Return a change record as it is typed."""
    return [word for name, words in record.items() for word in (f"--{name}", words)]


@dataclass(slots=True)
class Driver:
    """Types commands for one person after the other, and shows them."""

    folder: Path
    clock: str = "2026-02-17T08:00:00"

    def type(self, *words: str, person: str = "", on: str = "") -> None:
        """Run one command as somebody would type it."""
        self.clock = f"{on}T08:00:00" if on else self.clock
        os.environ |= {PERSON: person, CLOCK: self.clock}
        who = f"{person}: " if person else ""
        print(f"\n{who}$ supports {shlex.join(words)}", flush=True)
        run(words)


def begin_in(folder: Path, register: str = "") -> None:
    """Make room for a new register in a folder; what an earlier run left goes.

    Parameters
    ----------
    register
        Address of an empty PostgreSQL database; without one the register is a file in the folder.
    """
    database = folder / "register.db"
    for ending in ("", "-wal", "-shm"):
        database.with_name(f"register.db{ending}").unlink(missing_ok=True)
    folder.mkdir(parents=True, exist_ok=True)
    os.environ[REGISTER] = register or str(database)


def play(name: str, folder: str, demonstration: Callable[[Path], None]) -> None:
    """Run a demonstration in the folder that was named, or else in its own."""
    named = sys.argv[1] if len(sys.argv) > 1 else folder
    if named.startswith("-"):
        print(f"{name}: one word is taken: the folder to fill, {folder} if none", file=sys.stderr)
        raise SystemExit(2)
    try:
        demonstration(Path(named))
    except SupportsError as error:
        print(f"{name}: {error}", file=sys.stderr)
        raise SystemExit(error.exit_code) from None
