"""A lock on a file that its holder loses by dying: whoever can take it knows that nobody works."""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path
from typing import IO

Held = IO[bytes]
"""An open file whose lock is held until it is closed, or its process ends in whatever way."""


TRIES, BETWEEN = 5, 0.02
"""Whoever only looks holds the lock for a moment: it is tried again, so many seconds apart [s]."""


def take(path: Path, tries: int = TRIES) -> Held | None:
    """Take the lock on a file; None if somebody holds it, be it another process."""
    file = path.open("ab")
    for left in reversed(range(tries)):
        try:
            _lock(file)
        except OSError:
            if left:
                time.sleep(BETWEEN)
        else:
            return file
    file.close()
    return None


def is_held(path: Path) -> bool:
    """Return whether somebody holds the lock on a file now."""
    if not path.exists():
        return False
    file = take(path, tries=1)
    if file is not None:
        file.close()
    return file is None


def _lock(file: Held) -> None:
    if sys.platform == "win32":
        import msvcrt

        file.seek(0, os.SEEK_SET)
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
    else:
        import fcntl

        fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
