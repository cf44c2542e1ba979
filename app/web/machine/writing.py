"""What programs hand in: readings, filled-in forms, sheets with their preview."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Annotated

from fastapi import APIRouter, File, Form, UploadFile
from starlette.responses import Response

from app.intake import file_checked, mark_of, read_against, store
from app.returned_readings import take_reading
from app.returns import take_back
from app.shapes_of_machine import (
    MACHINE_SHAPES,
    FormTaken,
    SentReading,
    SheetPreview,
    SheetStored,
)
from app.web.machine.answering import PREFIX, answer
from app.web.machine.asked import LONGEST, Number
from app.web.machine.described import HANDING_IN, WRITING, gives
from app.web.tokens import Reader, Writer
from app.web.visits import Visit
from importers.reading import ReadResult
from supports.errors import BadInput, Conflict, InputHasFaults
from supports.proposals import Plan

router = APIRouter(prefix=PREFIX, tags=["handing in"])

_File = Annotated[UploadFile, File(description="Workbook or text file.")]
_Source = Annotated[str, Form(max_length=LONGEST, description="Where such files come from.")]
_On = Annotated[
    date | None, Form(description="The day that the file speaks of; today if left out.")
]
_Mark = Annotated[str, Form(max_length=64, description="The `mark` of the preview.")]
_Good = Annotated[bool, Form(description="Store the good rows although others have faults.")]
_Reason = Annotated[str, Form(max_length=2000, description="Why, in one's own words.")]


@router.post(
    "/work-orders/{number}/readings", **gives(MACHINE_SHAPES["reading taken"], refused=WRITING)
)
def reading(visit: Writer, number: Number, sent: SentReading) -> Response:
    """Hand in what was read at one unit; the same again changes nothing, another is a conflict."""
    taken = take_reading(visit.register, number, sent, acting=visit.acting, now=visit.now)
    return answer(visit, taken)


@router.post(
    "/work-orders/{number}/returned-form", **gives(MACHINE_SHAPES["form taken"], refused=WRITING)
)
def returned_form(visit: Writer, number: Number, file: _File) -> Response:
    """Hand a pack's workbook back filled in: new readings are recorded, nothing is overwritten."""
    with _kept(file) as path:
        said = tuple(take_back(visit.register, number, path, acting=visit.acting, now=visit.now))
    return answer(visit, FormTaken(said))


@router.post("/sheets/preview", **gives(MACHINE_SHAPES["sheet preview"], refused=HANDING_IN))
def preview(visit: Reader, file: _File, source: _Source = "", on: _On = None) -> Response:
    """Say what a file would store, with every finding; nothing is stored, reading is enough."""
    with _kept(file) as path:
        result, plan = _read(visit, path, source, on)
    return answer(visit, SheetPreview(file_checked(result, plan), mark_of(plan)))


@router.post("/sheets/import", **gives(MACHINE_SHAPES["sheet stored"], refused=WRITING))
def import_sheet(
    visit: Writer, file: _File, mark: _Mark, source: _Source = "", on: _On = None,
    accept_the_good: _Good = False, reason: _Reason = "",
) -> Response:  # fmt: skip
    """Store a file as its preview said, all or nothing; refused where that has changed."""
    with _kept(file) as path:
        result, plan = _read(visit, path, source, on)
        if mark != mark_of(plan):
            raise Conflict(
                "the file would store something else than its preview said",
                remedy="Ask for the preview again, look at it, and hand in its mark",
            )
        if result.forbids_storing and not accept_the_good:
            raise InputHasFaults(
                "nothing was stored: the file has faults",
                plan.findings,
                remedy="Mend them, or say accept_the_good to store the good rows alone",
            )
        brought = store(
            visit.register, result, plan, acting=visit.acting, now=visit.now,
            reason=reason or f"import of {path.name}", accept_the_good=accept_the_good,
        )  # fmt: skip
    checked = file_checked(result, plan)
    return answer(visit, SheetStored(checked, brought.stored, brought.waiting, brought.answered))


def _read(visit: Visit, path: Path, source: str, on: date | None) -> tuple[ReadResult, Plan]:
    return read_against(visit.register, path, visit.today, source=source.strip(), on=on)


@contextmanager
def _kept(file: UploadFile) -> Iterator[Path]:
    """Keep a file that was handed in, under its own name, for as long as it is read."""
    name = Path((file.filename or "").replace("\\", "/")).name
    if not name.strip(". ") or not name.isprintable() or len(name.encode()) > LONGEST:
        raise BadInput("the file has no name that can be kept", found=repr(name[:LONGEST]))
    with TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(file.file.read())
        yield path
