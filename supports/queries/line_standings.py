"""Lines as they were last screened, and whether their data are still those it was done from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from supports.freezing import fingerprint, from_plain
from supports.model import (
    Assembly,
    Attachment,
    HardwarePiece,
    Line,
    LineElement,
    LineEnd,
    LineNode,
    LineScreening,
    Nameplate,
    NozzleLimit,
    RequiredLoad,
    SettingEvent,
    SupportPoint,
    Unit,
    UnitPlacement,
)
from supports.queries.holding import holding_calculations
from supports.queries.plant_days import day_at
from supports.rules.line.standing import SCREENED, LineStanding

NO_ROUTE = "route of the line"
STALE = "screening of the line by its present data (supports rules run)"


@dataclass(frozen=True, slots=True)
class Kept:
    """The standing of a line that still holds, or why there is none; who screened it and when."""

    standing: LineStanding
    source: str = ""


def standings(session: Session) -> dict[int, Kept]:
    """Return by line id how each line of the register stands; what is missing is said."""
    present = marks(session)
    newest = select(func.max(LineScreening.id)).group_by(LineScreening.line_id)
    found = {
        row.line_id: row
        for row in session.scalars(select(LineScreening).where(LineScreening.id.in_(newest)))
    }
    return {
        line: _kept(session, found.get(line), present.get(line, ""))
        for line in session.scalars(select(Line.id))
    }


def _kept(session: Session, row: LineScreening | None, mark: str) -> Kept:
    if not mark:
        return Kept(LineStanding(missing=NO_ROUTE))
    if row is None or row.mark != mark:
        return Kept(LineStanding(missing=STALE))
    day = day_at(session, row.screened_at)
    source = f"screened {day} by {row.screened_by}; no stress analysis"
    return Kept(from_plain(LineStanding, row.content), source)


def stale(session: Session) -> list[tuple[int, str, str]]:
    """Return id, number and mark of every line with a route whose screening no longer fits."""
    present, kept = marks(session), standings(session)
    lines = session.execute(select(Line.id, Line.number))
    numbers = {line: number for line, number in lines}  # noqa: C416  a result has keys of its own
    return [
        (line, numbers[line], mark)
        for line, mark in present.items()
        if kept[line].standing.missing == STALE
    ]


def marks(session: Session) -> dict[int, str]:
    """Return by line with a route a mark of the rows that a screening reads.

    Rows are never deleted, their versions only grow and events are only added: counts, versions
    and newest numbers stay the same only while the rows do.
    """
    routed = set(session.scalars(select(LineNode.line_id).distinct()))
    if not routed:
        return {}
    parts: dict[int, list[Any]] = {line: [SCREENED] for line in routed}
    for table, query in _counted().items():
        for line, *counts in session.execute(query):
            if line in parts:
                parts[line].append([table, *counts])
    for line, calculation in holding_calculations(session).items():
        if line in parts:
            parts[line].append(["calculation", calculation])
    return {line: fingerprint(part) for line, part in parts.items()}


def _counted() -> Mapping[str, Select[Any]]:
    """Return by table the count of its rows, of their versions, and the newest, by line."""
    on_line: Any = Attachment.line_id
    own: tuple[Any, ...] = (LineNode, LineElement, LineEnd, NozzleLimit, Attachment, RequiredLoad)
    found: dict[str, Any] = {m.__tablename__: _sums(m, m.line_id) for m in own}
    found["line"] = select(Line.id, Line.row_version)
    at_point = {SupportPoint: SupportPoint.id, Assembly: Assembly.point_id}
    for model, point in at_point.items():
        query = _sums(model, on_line).join(Attachment, Attachment.point_id == point)
        found[model.__tablename__] = query
    found["hardware_piece"] = _through_assembly(
        _sums(HardwarePiece, on_line), HardwarePiece.assembly_id
    )
    in_place: Any = UnitPlacement.until.is_(None)
    found["unit_placement"] = _through_assembly(
        _sums(UnitPlacement, on_line, UnitPlacement.id).where(in_place), UnitPlacement.assembly_id
    )
    of_unit: tuple[tuple[Any, Any, Any], ...] = (
        (Unit, Unit.id, Unit.row_version),
        (Nameplate, Nameplate.unit_id, Nameplate.row_version),
        (SettingEvent, SettingEvent.unit_id, SettingEvent.id),
    )
    for model, unit, version in of_unit:
        query = _sums(model, on_line, version).join(
            UnitPlacement, (UnitPlacement.unit_id == unit) & in_place
        )
        found[model.__tablename__] = _through_assembly(query, UnitPlacement.assembly_id)
    return found


def _sums(model: Any, line: Any, version: Any = None) -> Select[Any]:
    """Return number, versions and newest of a table's rows by line."""
    versions = func.sum(model.row_version if version is None else version)
    return (
        select(line, func.count(model.id), versions, func.max(model.id))
        .select_from(model)
        .group_by(line)
    )


def _through_assembly(query: Select[Any], assembly: Any) -> Select[Any]:
    return query.join(Assembly, Assembly.id == assembly).join(
        Attachment, Attachment.point_id == Assembly.point_id
    )
