"""Where each number of an answer comes from: sheet and cell, calculation, day and reader."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.findings import Place
from supports.model import (
    Assembly,
    AuditBatch,
    AuditEntry,
    Calculation,
    DesignCase,
    HardwarePiece,
    ImportRun,
    Line,
    Nameplate,
    NozzleLimit,
    Reading,
    RequiredLoad,
    SettingEvent,
    SourceRow,
    Unit,
)
from supports.queries.holding import holding_calculations
from supports.rules.frame import Frame, Subject, catalogue
from supports.rules.rule import Asked
from supports.rules.unit_frame import UNITS_AT_MOST
from supports.rules.wording import columns_of
from supports.sentences import Sentence, joined
from supports.vocabulary import CaseKind


def origins_of(session: Session, asked: Asked, row: int) -> dict[str, str]:
    """Return by column where the value of one row comes from, as far as the register knows."""
    rows = _rows_behind(session, asked.rows, row)
    found: dict[str, str] = {}
    for name in columns_of(asked):
        table, _, field = catalogue()[name].origin.partition(".")
        if table in rows:
            said = [_said(session, table, one, field) for one in rows[table]]
            found[name] = joined(dict.fromkeys(word for word in said if word))
    return found


def _rows_behind(session: Session, rows: Frame, row: int) -> Mapping[str, list[Any]]:
    """Return by table the rows that a subject's values were read from."""
    key = int(rows.keys[row])
    if rows.subject is Subject.UNIT:
        point, unit = divmod(key, UNITS_AT_MOST)
        return {**_of_point(session, point), **_of_unit(session, unit)}
    if rows.subject is Subject.SUPPORT:
        return _of_point(session, key)
    if rows.subject is Subject.PIECE:
        return _of_piece(session, key)
    if rows.subject is Subject.LINE:
        return {"line": _all(session, select(Line).where(Line.id == key))}
    if rows.subject is Subject.NOZZLE:
        return {"nozzle_limit": _all(session, select(NozzleLimit).where(NozzleLimit.id == key))}
    return {}


def _all(session: Session, query: Any) -> list[Any]:
    return list(session.scalars(query))


def _of_point(session: Session, point: int) -> dict[str, list[Any]]:
    holding = set(holding_calculations(session).values())
    loads = (
        select(RequiredLoad)
        .join(DesignCase, RequiredLoad.case_id == DesignCase.id)
        .where(RequiredLoad.point_id == point, RequiredLoad.calculation_id.in_(holding))
        .where(DesignCase.kind == CaseKind.OPERATING)
    )
    assembly = _all(session, select(Assembly).where(Assembly.point_id == point))
    pieces = select(HardwarePiece).where(HardwarePiece.assembly_id.in_([a.id for a in assembly]))
    return {
        "required_load": _all(session, loads),
        "assembly": assembly,
        "hardware_piece": _all(session, pieces),
    }


def _of_unit(session: Session, unit: int) -> dict[str, list[Any]]:
    settings = select(SettingEvent).where(SettingEvent.unit_id == unit)
    readings = select(Reading).where(Reading.unit_id == unit)
    return {
        "unit": _all(session, select(Unit).where(Unit.id == unit)),
        "nameplate": _all(session, select(Nameplate).where(Nameplate.unit_id == unit)),
        "setting_event": _all(
            session, settings.order_by(SettingEvent.happened_on, SettingEvent.id)
        )[-1:],
        "reading": _all(session, readings.order_by(Reading.read_on, Reading.id))[-1:],
    }


def _of_piece(session: Session, piece: int) -> dict[str, list[Any]]:
    found = _all(session, select(HardwarePiece).where(HardwarePiece.id == piece))
    points = select(Assembly.point_id).where(Assembly.id == found[0].assembly_id)
    return {**_of_point(session, session.scalars(points).one()), "hardware_piece": found}


def _said(session: Session, table: str, row: Any, field: str) -> str:
    parts = [*_own_words(session, table, row), _cell(session, table, row.id, field)]
    return joined((part for part in parts if part), ", ")


def _own_words(session: Session, table: str, row: Any) -> Iterator[str]:
    """Give what a row itself says of its origin."""
    if table == "nameplate":
        known = Sentence("nameplate by {source}", source=row.source) if row.source else ""
        yield known or Sentence("nameplate, source not known")
    elif table == "required_load":
        calculation = session.get_one(Calculation, row.calculation_id)
        case = session.get_one(DesignCase, row.case_id)
        yield Sentence(
            "{number} rev. {revision}, {case}",
            number=calculation.number, revision=calculation.revision, case=case.name,
        )  # fmt: skip
    elif table == "setting_event":
        yield Sentence(
            "set {day} by {person} ({way}, {state})",
            day=str(row.happened_on), person=str(row.set_by), way=str(row.method),
            state=str(row.plant_state),
        )  # fmt: skip
    elif table == "reading":
        yield Sentence(
            "read {day} by {person} ({way}, {state})",
            day=str(row.read_on), person=str(row.read_by), way=str(row.occasion),
            state=str(row.plant_state),
        )  # fmt: skip
    elif table == "hardware_piece" and row.rating_source:
        yield str(row.rating_source)


def _cell(session: Session, table: str, row: int, field: str) -> str:
    """Return the cell in which a value stood, or who wrote it by hand and when."""
    query = (
        select(AuditEntry, AuditBatch)
        .join(AuditBatch, AuditEntry.batch_id == AuditBatch.id)
        .where(AuditEntry.table_name == table, AuditEntry.row_id == row)
        .order_by(AuditEntry.id.desc())
    )
    for entry, batch in session.execute(query):
        if field not in (entry.after or {}):
            continue
        if entry.source_row_id is None:
            return Sentence(
                "written {day} by {person} ({action})",
                day=f"{batch.written_at:%Y-%m-%d}", person=batch.actor, action=batch.action,
            )  # fmt: skip
        return _place(session, entry.source_row_id, field)
    return ""


def _place(session: Session, source: int, field: str) -> str:
    row = session.get_one(SourceRow, source)
    run = session.get_one(ImportRun, row.import_run_id)
    cell = row.cells.get(field)
    where = f"{cell[0]}{row.row}" if cell else f"row {row.row}"
    return str(Place(run.file_name, row.sheet, where))
