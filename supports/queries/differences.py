"""What became different between two moments, row by row and field by field, and who did it."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import (
    Assembly,
    Attachment,
    AuditBatch,
    AuditEntry,
    HardwarePiece,
    Line,
    Nameplate,
    Reading,
    RequiredLoad,
    SettingEvent,
    SupportTag,
    TravelStopEvent,
    Unit,
    UnitPlacement,
)
from supports.plant_time import to_the_minute
from supports.queries.as_of import last_batch_by
from supports.queries.plant_days import clock_at
from supports.queries.support_views import points_on_lines
from supports.queries.untold import Untold

RowName = tuple[str, int]


@dataclass(frozen=True, slots=True)
class Difference:
    """One field of one row that says something else at the end than at the beginning."""

    row: RowName
    field: str
    before: Any
    after: Any
    last_by: str
    last_at: datetime

    def __str__(self) -> str:
        """Return it as a line."""
        table, number = self.row
        words = f"{table.replace('_', ' ')} {number}, {self.field.replace('_', ' ')}"
        was = "new" if self.before is None else repr(self.before)
        return f"{words}: {was} -> {self.after!r}  ({self.last_by}, {to_the_minute(self.last_at)})"


def differences(
    session: Session, since: datetime, until: datetime, rows: Collection[RowName] | None = None
) -> list[Difference]:
    """Return what differs between two moments; of all rows, or of some.

    What was changed and changed back does not differ. Secrets are left out.
    """
    query = (
        select(AuditEntry, AuditBatch.actor, AuditBatch.written_at)
        .join(AuditBatch, AuditEntry.batch_id == AuditBatch.id)
        .where(AuditBatch.id > last_batch_by(since), AuditBatch.id <= last_batch_by(until))
        .order_by(AuditEntry.batch_id, AuditEntry.id)
    )
    wanted = None if rows is None else set(rows)
    first: dict[tuple[RowName, str], Difference] = {}
    for entry, actor, moment in session.execute(query):
        name, at = (entry.table_name, entry.row_id), clock_at(session, moment)
        if wanted is not None and name not in wanted:
            continue
        for field, after in (entry.after or {}).items():
            seen = first.get((name, field))
            before = seen.before if seen else (entry.before or {}).get(field)
            first[name, field] = Difference(name, field, before, after, actor, at)
    untold = Untold.of(session)
    return [
        one
        for (row, field), one in first.items()
        if one.before != one.after and field != "id" and not untold.hides(*row, field)
    ]


def rows_of_point(session: Session, point: int) -> Iterator[RowName]:
    """Give the name of every row that speaks of a support and of the units that hung there."""
    yield "support_point", point
    assemblies = select(Assembly.id).where(Assembly.point_id == point)
    units = select(UnitPlacement.unit_id).where(UnitPlacement.assembly_id.in_(assemblies))
    for table, condition in (
        (SupportTag, SupportTag.point_id == point),
        (Attachment, Attachment.point_id == point),
        (Assembly, Assembly.point_id == point),
        (RequiredLoad, RequiredLoad.point_id == point),
        (HardwarePiece, HardwarePiece.assembly_id.in_(assemblies)),
        (UnitPlacement, UnitPlacement.assembly_id.in_(assemblies)),
        (Unit, Unit.id.in_(units)),
        (Nameplate, Nameplate.unit_id.in_(units)),
        (SettingEvent, SettingEvent.unit_id.in_(units)),
        (Reading, Reading.unit_id.in_(units)),
        (TravelStopEvent, TravelStopEvent.unit_id.in_(units)),
    ):
        for row in session.scalars(select(table.__table__.c.id).where(condition)):
            yield table.__tablename__, row


def rows_of_line(session: Session, line: Line) -> Iterator[RowName]:
    """Give the name of every row that says something of a line and of its supports."""
    yield "line", line.id
    for point in points_on_lines(session, [line.number]):
        yield from rows_of_point(session, point)
