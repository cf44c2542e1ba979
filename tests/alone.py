"""A folder that one run has for itself, on every system, until it lets go or ends."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import IO

if sys.platform == "win32":
    import msvcrt

    def _lock(file: IO[bytes]) -> None:
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)

else:
    import fcntl

    def _lock(file: IO[bytes]) -> None:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


def held_alone(folder: Path) -> IO[bytes]:
    """Return a file beside a folder, locked; closed, it lets go. A process that ends lets go too.

    Raises
    ------
    OSError
        Another holds it.
    """
    path = folder.absolute().with_name(f"{folder.name}.lock")
    path.parent.mkdir(parents=True, exist_ok=True)
    file = path.open("ab")
    try:
        _lock(file)
    except OSError:
        file.close()
        raise
    return file
