"""Long work on a file beside the desk: told how far it is, called off, and seen to have died.

Each work is a thread of one of the processes that serve the desk; it holds a lock that falls when
its process ends. What it writes is one transaction, so a work that died or was called off has
stored nothing, unless the register itself knows its import.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable
from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any

from app.web.sheets.held import Held, is_held, take
from app.web.sheets.outcome import error_of
from app.web.sheets.shelf import HandedIn, Shelf
from supports.errors import Conflict, SupportsError
from supports.progress import Told

LOOK, STORE, DECLARE = "look", "store", "declare"
DONE, REFUSED, CALLED_OFF, FAILED, DIED = "done", "refused", "called off", "failed", "died"

_STATE, _LOCK, _OFF = "state.json", "at-work", "off"
_LOG = logging.getLogger("supports.desk")
_ONE = threading.BoundedSemaphore(1)
"""One work at a time in a process: reading takes a processor, and the desk needs one too."""

Run = Callable[[Told], Any]
"""What is done; it tells how far it is, and returns what is to be kept of it."""

Hands = Callable[[Callable[[], None]], None]
"""Whoever does the work: a thread of its own, or the caller itself."""


@dataclass(frozen=True, slots=True)
class Work:
    """A work as it stands.

    Parameters
    ----------
    ended
        How it ended; '' while it goes on.
    said
        What it tells of now, with how much of it is done.
    """

    doing: str
    by: str
    at: datetime
    said: str = ""
    done: int = 0
    of: int = 0
    ended: str = ""

    @property
    def goes_on(self) -> bool:
        """Return whether it is still being done."""
        return not self.ended


class _CalledOffError(Exception):
    """Somebody asked that the work be left."""


def in_a_thread(work: Callable[[], None]) -> None:
    """Do a work beside the desk; it does not keep the program from ending."""
    threading.Thread(target=work, daemon=True).start()


def begin(shelf: Shelf, handed: HandedIn, work: Work, run: Run, hands: Hands) -> None:
    """Begin a work on a file.

    Raises
    ------
    Conflict
        Somebody works on it already.
    """
    place = shelf.place(handed.token)
    lock = take(place / _LOCK)
    if lock is None:
        raise Conflict("this file is being worked on", where=handed.name, remedy="Wait for its end")
    (place / _OFF).unlink(missing_ok=True)
    _note(shelf, handed, work)
    hands(lambda: _do(shelf, handed, work, run, lock))


def work_on(shelf: Shelf, handed: HandedIn) -> Work | None:
    """Return the work on a file as it stands; None if there was none yet."""
    lock = shelf.place(handed.token) / _LOCK
    held = is_held(lock)  # before the note is read: the work may end in between
    said = shelf.noted(handed.token, _STATE)
    if said is None:
        return None
    work = Work(**{**said, "at": datetime.fromisoformat(said["at"])})
    if work.goes_on and not held and not is_held(lock):
        return _with(work, ended=DIED)
    return work


def call_off(shelf: Shelf, handed: HandedIn) -> None:
    """Ask that the work on a file be left; it is at its next step."""
    (shelf.place(handed.token) / _OFF).touch()


def kept_of(shelf: Shelf, handed: HandedIn, doing: str) -> Any:
    """Return what the newest work of a kind left; None if none ended."""
    return shelf.noted(handed.token, f"{doing}.json")


def _with(work: Work, **said: Any) -> Work:
    return Work(**{**asdict(work), **said})


def _note(shelf: Shelf, handed: HandedIn, work: Work) -> None:
    shelf.note(handed.token, _STATE, asdict(work))


def _do(shelf: Shelf, handed: HandedIn, work: Work, run: Run, lock: Held) -> None:
    off = shelf.place(handed.token) / _OFF

    def told(said: str, done: int, of: int) -> None:
        if off.exists():
            raise _CalledOffError
        _note(shelf, handed, _with(work, said=said, done=done, of=of))

    with lock:
        ended, kept = _run(run, told)
        try:
            if kept is not None:
                shelf.note(handed.token, f"{work.doing}.json", kept)
            _note(shelf, handed, _with(work, ended=ended))
        except OSError:
            _LOG.exception("what became of a file cannot be written down")


def _run(run: Run, told: Told) -> tuple[str, Any]:
    try:
        with _ONE:
            told("", 0, 0)
            return DONE, run(told)
    except _CalledOffError:
        return CALLED_OFF, None
    except SupportsError as error:
        return REFUSED, {"error": error_of(error)}
    except Exception:  # noqa: BLE001  the thread has nobody above it: it is logged and said
        _LOG.exception("unforeseen while working on a file")
        return FAILED, None
