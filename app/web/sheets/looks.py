"""What is done with a file on the shelf: read and held against the register, stored, given back."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from shutil import rmtree
from typing import Any

from sqlalchemy import select

from app.doubts import declare
from app.intake import held_against, mark_of, read_file, store
from app.web.sheets.outcome import outcome_of
from app.web.sheets.shelf import HandedIn, Shelf
from app.web.sheets.works import LOOK
from importers.findings_back import copy_of, write_findings_back
from importers.joined_records import JoinedRecords
from importers.reading import ReadResult
from supports.database import Register
from supports.errors import Conflict
from supports.model import ImportRun
from supports.plant_time import day_of
from supports.progress import Told
from supports.proposals import Plan

_BACK = "back"


@dataclass(frozen=True, slots=True)
class Wish:
    """How somebody wants a file stored.

    Parameters
    ----------
    mark
        Of what the person was shown that it would store.
    """

    acting: str
    reason: str
    mark: str
    accept_the_good: bool


@dataclass(frozen=True, slots=True)
class Declared:
    """The unit that somebody declares for the doubtful cells at an address."""

    acting: str
    cells: str
    unit: str
    reason: str


def look(
    register: Register, shelf: Shelf, handed: HandedIn, now: datetime, told: Told
) -> dict[str, Any]:
    """Read a file, hold it against the register, write its copy with findings; store nothing."""
    joined, result, plan = _read(register, shelf, handed, now, told)
    told("writing the copy with its findings", 0, 1)
    into = _back(shelf, handed)
    rmtree(into.parent, ignore_errors=True)
    write_findings_back(shelf.file(handed), result, into)
    return {"at": now, **outcome_of(joined, result, plan)}


def _read(
    register: Register, shelf: Shelf, handed: HandedIn, now: datetime, told: Told
) -> tuple[JoinedRecords, ReadResult, Plan]:
    file, today = shelf.file(handed), day_of(now, register.zone)
    on = handed.on or today
    joined = read_file(register, file, today, source=handed.source, on=on, told=told)
    return joined, *held_against(register, joined.result, told)


def store_it(
    register: Register, shelf: Shelf, handed: HandedIn, wish: Wish, now: datetime, told: Told
) -> dict[str, Any]:
    """Read a file once more and store it, if it would store what was shown.

    Raises
    ------
    Conflict
        Something else would be stored by now.
    """
    _, result, plan = _read(register, shelf, handed, now, told)
    if mark_of(plan) != wish.mark:
        raise Conflict(
            "what would be stored is no longer what you were shown", where=handed.name,
            remedy="Nothing was stored. Read the file again and look at it",
        )  # fmt: skip
    brought = store(
        register, result, plan, acting=wish.acting, now=now, told=told,
        reason=wish.reason or f"import of {handed.name}", accept_the_good=wish.accept_the_good,
    )  # fmt: skip
    return {"at": now, "by": wish.acting, **asdict(brought)}


def declare_it(
    register: Register, shelf: Shelf, handed: HandedIn, said: Declared, now: datetime, told: Told
) -> dict[str, Any]:
    """Keep the unit that somebody declares for values of a file, and read it again with that."""
    told("reading sheets", 0, 1)
    values = declare(
        register, shelf.file(handed), said.cells, said.unit, source=handed.source,
        acting=said.acting, reason=said.reason, now=now,
    )  # fmt: skip
    shelf.note(handed.token, f"{LOOK}.json", look(register, shelf, handed, now, told))
    return {"count": len(values), "unit": said.unit, "cells": said.cells}


def came_through(register: Register, digest: str, at: datetime) -> bool:
    """Return whether the register knows the import that a work that died was about to store."""
    with register.reading() as session:
        found = select(ImportRun.id).where(ImportRun.file_hash == digest, ImportRun.read_at == at)
        return session.scalar(found.limit(1)) is not None


def back_of(shelf: Shelf, handed: HandedIn) -> Path | None:
    """Return the copy of a file with its findings; None where it was not read yet."""
    path = _back(shelf, handed)
    return path if path.is_file() else None


def _back(shelf: Shelf, handed: HandedIn) -> Path:
    file = shelf.file(handed)
    return copy_of(file, shelf.place(handed.token) / _BACK / f"{file.stem}-findings{file.suffix}")
