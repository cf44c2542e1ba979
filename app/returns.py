"""Forms that come back: checked row by row, recorded where new, refused where altered."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from app.papers import form_id, row_seals
from app.words import word
from importers.pack_form import FilledForm, FilledRow, read_form
from importers.returned import three_way
from supports.database import Register
from supports.errors import BadInput, DatabaseTrouble, SupportsError
from supports.operations.unit_work import UnitReading, record_as_found, record_as_left
from supports.proposals import Record, SourceLine, Value
from supports.queries.work_order_views import work_order_view
from supports.snapshots import ReadingView, WorkOrderLineView, WorkOrderView
from supports.units import Kind, shown
from supports.vocabulary import PlantState

_FOUND, _LEFT = "as found", "as left"


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
    tags = [row.tag for row in form.rows]
    altered += [
        f"{row.tag} (row {row.place.cell}, stands there twice)"
        for at, row in enumerate(form.rows)
        if row.tag in tags[:at]
    ]
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
    """Record what a row says: held against the form as issued, which was blank, and what holds."""
    for occasion, load, pointer, known in (
        (_FOUND, row.found_load, row.found_pointer, line.as_found),
        (_LEFT, row.left_load, row.left_pointer, line.as_left),
    ):
        if load is None:
            if pointer is not None:
                yield f"{row.tag} {occasion}: NOT RECORDED: a pointer without its scale load"
            continue
        if known is not None:
            yield f"{row.tag} {occasion}: {_already(row, occasion, (load, pointer), known)}"
            continue
        record = record_as_found if occasion == _FOUND else record_as_left
        try:
            reading = _reading(row, line, load, pointer, now)
            state = record(register, number, reading, acting=acting, now=now)
            yield f"{row.tag} {occasion}: {state}"
        except DatabaseTrouble:
            raise  # it would be the same for every row; what was said to be recorded is
        except SupportsError as error:
            yield f"{row.tag} {occasion}: NOT RECORDED: {error}"


def _already(
    row: FilledRow, occasion: str, read: tuple[float, float | None], known: ReadingView
) -> str:
    """Return what becomes of a reading where one is recorded: nothing new, or a conflict."""
    name = (occasion, (row.tag,))
    load, pointer = read
    said: dict[str, Value] = {"load": load}
    if pointer is not None:
        said["pointer"] = pointer
    place = SourceLine(row.place.file, row.place.sheet, int(row.place.cell))
    recorded = {"load": known.scale_load, "pointer": known.pointer}
    compared = three_way({name: {}}, [Record(*name, said, place)], {name: recorded})
    words = [
        f"{one.field} {_shown(one.field, one.form)} on the form, "
        f"{_shown(one.field, one.now)} recorded"
        for one in compared.conflicts
    ]
    words += [
        f"{field} {_shown(field, value)} on the form, none recorded"
        for record in compared.records
        for field, value in record.values.items()
    ]
    if not words:
        return "recorded already"
    return f"NOT RECORDED: CONFLICT: {'; '.join(words)}; a person must choose"


def _shown(field: str, value: Value) -> str:
    number = value if isinstance(value, float) else None
    if field == "load":
        return shown(number, "kN", Kind.LOAD)
    return shown(number, "mm", Kind.LENGTH)


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
