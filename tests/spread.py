"""Work to be spread over processes: that which ends well, is refused, breaks off, or takes long."""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

from app.processes import spread
from supports.errors import InputHasFaults

SAID = InputHasFaults("two rows cannot be stored", ["a finding"], remedy="Mend them")


def twice(number: int) -> tuple[int, int]:
    """Return the double of a number and the process that doubled it; the first takes longest."""
    time.sleep(0.0 if number else 0.1)
    return 2 * number, os.getpid()


def refused(_: int) -> None:
    """Refuse in a sentence."""
    raise SAID


def broken_off(_: int) -> None:
    """End the process, as the system does where memory is short."""
    os._exit(9)


def long(folder: str) -> None:
    """Leave a file with the number of this process, and work for longer than anybody waits."""
    Path(folder, f"{os.getpid()}.begun").touch()
    time.sleep(60.0)


if __name__ == "__main__":
    try:
        list(spread(long, [sys.argv[1]] * 4, 2))
    except KeyboardInterrupt:
        sys.exit(130)
