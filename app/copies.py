"""Copies of a register in files: written beside, looked through, then put in place."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import URL

from app.settings import existing_url, lock_wait
from supports.database import Register, sqlite_url
from supports.errors import BadInput
from supports.operations.copying import Copied, copy_register


def keep_copy(register: Register, into: Path) -> Copied:
    """Copy a register into a new file; the file appears only when it is whole.

    Raises
    ------
    BadInput
        There is something by that name already, or its folder is not there.
    """
    _need_room(into)
    unfinished = into.with_name(f"{into.name}.unfinished")
    _away(unfinished)
    try:
        target = Register(sqlite_url(unfinished))
        copied = copy_register(register, target)
        target.settle()
        unfinished.replace(into)
    finally:
        _away(unfinished)
    return copied


def bring_back(copy: Path, url: URL) -> Copied:
    """Copy a kept register into an empty place."""
    source = Register(existing_url(str(copy)), lock_wait=lock_wait())
    source.check()
    if url.get_backend_name() == "sqlite":
        return keep_copy(source, Path(url.database or ""))
    return copy_register(source, Register(url, lock_wait=lock_wait()))


def _need_room(into: Path) -> None:
    if into.exists():
        raise BadInput(
            "there is something here already", where=str(into),
            remedy="Name a new file; a copy never writes over anything",
        )  # fmt: skip
    if not into.parent.is_dir():
        raise BadInput("the folder is not there", where=str(into.parent))


def _away(unfinished: Path) -> None:
    for ending in ("", "-wal", "-shm"):
        unfinished.with_name(f"{unfinished.name}{ending}").unlink(missing_ok=True)
