"""Where a stored value comes from: the write that set it, and the cell it was read in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Row, Select, or_, select
from sqlalchemy.orm import Session

from supports.findings import Place
from supports.model import (
    Assembly,
    Attachment,
    AuditBatch,
    AuditEntry,
    Calculation,
    DesignCase,
    HardwarePiece,
    ImportRun,
    Line,
    Nameplate,
    Reading,
    RequiredLoad,
    SettingEvent,
    SourceRow,
    UnitPlacement,
)
from supports.queries.asked_once import by_first
from supports.queries.plant_days import clock_at

_PLUMBING = {"id", "row_version"}
_SHEET_NAMES = {"position": "stack_position"}
"""Columns that a sheet knows by another name."""


@dataclass(frozen=True, slots=True)
class Origin:
    """Where one value comes from.

    Parameters
    ----------
    place
        File, sheet and cell; empty where somebody typed it into the register itself.
    text, unit
        As found in the cell, before anything was read into it.
    """

    field: str
    value: Any
    place: Place
    text: str
    unit: str
    action: str
    actor: str
    written_at: datetime

    def __str__(self) -> str:
        """Return the origin as words."""
        found = f"'{self.text}'" + (f" [{self.unit}]" if self.unit else "")
        blank = f"not stated in {self.place}" if self.place.file else self.action
        where = f"{found} in {self.place}" if self.text else blank
        return f"{where}, by {self.actor} on {self.written_at:%Y-%m-%d}"


def where_from(session: Session, table: str, row_id: int, field: str) -> Origin | None:
    """Return where the present value of a field comes from; None where it was never set."""
    return next((o for o in origins_of(session, table, row_id) if o.field == field), None)


def origins_of(session: Session, table: str, row_id: int) -> list[Origin]:
    """Return the origin of every value of a row that is set, the newest write of each."""
    return origins_of_rows(session, [(table, row_id)])[table, row_id]


def origins_of_rows(
    session: Session, rows: Iterable[tuple[str, int]]
) -> dict[tuple[str, int], list[Origin]]:
    """Return by row the origin of every value of it that is set, the newest write of each."""
    newest: dict[tuple[str, int], dict[str, Origin]] = {row: {} for row in rows}
    named = [
        (AuditEntry.table_name == table) & AuditEntry.row_id.in_(ids)
        for table, ids in by_first(newest).items()
    ]
    for entry in session.execute(written_entries().where(or_(*named))) if named else ():
        of_row = newest[entry.table_name, entry.row_id]
        for name, value in (entry.after or {}).items():
            if name not in _PLUMBING and not name.endswith("_id"):
                of_row[name] = _origin(session, entry, name, value)
    return {
        row: [origin for origin in fields.values() if origin.value is not None]
        for row, fields in newest.items()
    }


def written_entries() -> Select[Any]:
    """Return what fetches entries of the trail with their batch and the sheet row they came from.

    Whoever asks narrows it.
    """
    return (
        select(
            AuditEntry.id,
            AuditEntry.batch_id,
            AuditEntry.table_name,
            AuditEntry.row_id,
            AuditEntry.before,
            AuditEntry.after,
            AuditBatch.action,
            AuditBatch.actor,
            AuditBatch.reason,
            AuditBatch.written_at,
            SourceRow.sheet,
            SourceRow.row,
            SourceRow.cells,
            ImportRun.file_name,
        )
        .join(AuditBatch, AuditEntry.batch_id == AuditBatch.id)
        .outerjoin(SourceRow, AuditEntry.source_row_id == SourceRow.id)
        .outerjoin(ImportRun, SourceRow.import_run_id == ImportRun.id)
        .order_by(AuditEntry.id)
    )


def read_in(entry: Row[Any], field: str) -> tuple[Place, str, str]:
    """Return the cell that a field of an entry was read in, with its text and unit as found."""
    cells = entry.cells or {}
    column, text, unit = cells.get(field) or cells.get(_SHEET_NAMES.get(field, "")) or ("", "", "")
    if entry.sheet is None:
        return Place(), text, unit
    return Place(entry.file_name, entry.sheet, f"{column}{entry.row}"), text, unit


def _origin(session: Session, entry: Row[Any], name: str, value: Any) -> Origin:
    place, text, unit = read_in(entry, name)
    at = clock_at(session, entry.written_at)
    return Origin(name, value, place, text, unit, entry.action, entry.actor, at)


def origins_at(session: Session, point: int) -> Iterator[tuple[str, Origin]]:
    """Give every known origin at a support point, with words for the row that each belongs to."""
    rows = list(rows_at(session, point))
    found = origins_of_rows(session, ((table, row_id) for _, table, row_id in rows))
    for words, table, row_id in rows:
        for origin in found[table, row_id]:
            yield words, origin


def rows_at(session: Session, point: int) -> _Found:
    """Give table and id of every row that speaks of a support point, with words for it."""
    yield from _of_point(session, point)
    yield from _of_units(session, point)


_Found = Iterator[tuple[str, str, int]]


def _of_point(session: Session, point: int) -> _Found:
    yield "support", "support_point", point
    assembly = session.scalars(select(Assembly.id).where(Assembly.point_id == point)).one()
    yield "support", "assembly", assembly
    places = select(Attachment.id, Line.number).join(Line, Attachment.line_id == Line.id)
    for place, line in session.execute(places.where(Attachment.point_id == point)):
        yield f"on {line}", "attachment", place
    pieces = select(HardwarePiece).where(HardwarePiece.assembly_id == assembly)
    for piece in session.scalars(pieces.order_by(HardwarePiece.branch, HardwarePiece.position)):
        yield f"{piece.branch} {piece.position} {piece.kind}", "hardware_piece", piece.id
    loads = (
        select(RequiredLoad.id, DesignCase.name, Calculation.number, Calculation.revision)
        .join(DesignCase, RequiredLoad.case_id == DesignCase.id)
        .join(Calculation, RequiredLoad.calculation_id == Calculation.id)
        .where(RequiredLoad.point_id == point)
        .order_by(RequiredLoad.id)
    )
    for load, case, number, revision in session.execute(loads):
        yield f"{number} rev. {revision}, {case}", "required_load", load


def _of_units(session: Session, point: int) -> _Found:
    units = (
        select(UnitPlacement.unit_id, UnitPlacement.position)
        .join(Assembly, UnitPlacement.assembly_id == Assembly.id)
        .where(Assembly.point_id == point, UnitPlacement.until.is_(None))
        .order_by(UnitPlacement.position)
    )
    for unit, position in session.execute(units).all():
        yield f"unit {position}", "unit", unit
        for plate in session.scalars(select(Nameplate.id).where(Nameplate.unit_id == unit)):
            yield f"unit {position} nameplate", "nameplate", plate
        for event in session.scalars(select(SettingEvent).where(SettingEvent.unit_id == unit)):
            words = f"unit {position} set {event.happened_on}"
            yield words, "setting_event", event.id
        for reading in session.scalars(select(Reading).where(Reading.unit_id == unit)):
            yield f"unit {position} read {reading.read_on}", "reading", reading.id
