"""Forms that come back: checked row by row, recorded where new, refused where altered."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from app.papers import form_id, row_seals
from app.words import word
from importers.pack_form import FilledForm, FilledRow, read_form
from supports.database import Register
from supports.errors import BadInput, SupportsError
from supports.operations.unit_work import UnitReading, record_as_found, record_as_left
from supports.queries.work_order_views import work_order_view
from supports.snapshots import ReadingView, WorkOrderLineView, WorkOrderView
from supports.vocabulary import PlantState


def take_back(
    register: Register, number: str, file: Path, *, acting: str, now: datetime
) -> Iterator[str]:
    """Record what a filled-in form says; yield a line of words for each unit read.

    Raises
    ------
    BadInput
        The form is of another work order, or a row's tag or seal was altered.
    """
    form = read_form(file)
    with register.reading() as session:
        order = work_order_view(session, number)
        seals = row_seals(session, order)
    _check(form, order, seals)
    printed = _by_printed_tag(order)
    for row in form.rows:
        if row.is_blank:
            yield f"{row.tag}: nothing read"
            continue
        yield from _take_row(register, number, row, printed[row.tag], acting, now)


def _check(form: FilledForm, order: WorkOrderView, seals: dict[str, str]) -> None:
    if form.form_id != form_id(order):
        raise BadInput(
            "the form is not the present one of this work order",
            found=form.form_id,
            expected=form_id(order),
            remedy="Compare it by hand with the present form",
        )
    altered = [f"{row.tag} (row {row.place.cell})" for row in form.rows if not _true(row, seals)]
    if altered:
        raise BadInput(
            "rows were altered where they may not be; nothing was taken", found=", ".join(altered)
        )


def _true(row: FilledRow, seals: dict[str, str]) -> bool:
    return seals.get(row.tag) == row.seal


def _by_printed_tag(order: WorkOrderView) -> dict[str, WorkOrderLineView]:
    lines = {line.tag: line for line in order.lines}
    return lines | {f"{line.tag}/{line.position}": line for line in order.lines}


def _take_row(
    register: Register,
    number: str,
    row: FilledRow,
    line: WorkOrderLineView,
    acting: str,
    now: datetime,
) -> Iterator[str]:
    for occasion, load, pointer, known in (
        ("as found", row.found_load, row.found_pointer, line.as_found),
        ("as left", row.left_load, row.left_pointer, line.as_left),
    ):
        if load is None:
            continue
        if known is not None:
            yield f"{row.tag} {occasion}: {_already(known, load)}"
            continue
        reading = _reading(row, line, load, pointer, now)
        record = record_as_found if occasion == "as found" else record_as_left
        try:
            state = record(register, number, reading, acting=acting, now=now)
            yield f"{row.tag} {occasion}: {state}"
        except SupportsError as error:
            yield f"{row.tag} {occasion}: NOT RECORDED: {error}"


def _already(known: ReadingView, load: float) -> str:
    same = known.scale_load is not None and abs(known.scale_load - load) <= 1e-9 * abs(load)
    if same:
        return "recorded already"
    return "NOT RECORDED: another reading is recorded; a person must choose"


def _reading(
    row: FilledRow, line: WorkOrderLineView, load: float, pointer: float | None, now: datetime
) -> UnitReading:
    return UnitReading(
        tag=line.tag,
        position=line.position,
        read_on=row.read_on or now.date(),
        plant_state=word(PlantState, row.plant_state or PlantState.UNKNOWN),
        load=load,
        pointer=pointer,
        read_by=row.read_by,
        second_reader=row.second_reader,
        turns_given=row.turns_given,
        note=row.remarks,
    )
