"""Everything that was done on a change, from the trail: batch by batch, refusals among them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, Select, or_, select, tuple_
from sqlalchemy.orm import Session

from supports.freezing import short
from supports.model import (
    Assessment,
    AuditBatch,
    AuditEntry,
    Base,
    Change,
    ChangeLine,
    ChangeMeeting,
    ChangeNeed,
    ChangeProof,
    ChangeTerm,
    EmergencyAct,
    Plan,
    PlanChoice,
    PlannedOrder,
    PropEvent,
    Reading,
    Refusal,
    SettingEvent,
    Signature,
    StepReading,
    TravelStopEvent,
    WeightItem,
    WorkOrder,
    WorkOrderBefore,
    WorkOrderCopy,
    WorkOrderHold,
    WorkOrderLine,
    WorkOrderMaterial,
)
from supports.plant_time import to_the_minute
from supports.queries.history_words import rows_at_hand, words_of_row
from supports.queries.orders import units_of_change
from supports.queries.plant_days import clock_at
from supports.vocabulary import counted

RowName = tuple[str, int]


@dataclass(frozen=True, slots=True)
class Event:
    """One batch of the trail that touched the change."""

    batch: int
    written_at: datetime
    actor: str
    action: str
    reason: str
    rows: tuple[str, ...]
    mark: str
    said: tuple[str, ...] = ()
    """What its rows say: values read, pins, signatures."""

    @property
    def is_refusal(self) -> bool:
        """Return whether something was asked for and refused."""
        return self.action.startswith("refused: ")

    def __str__(self) -> str:
        """Return it as a line."""
        why = f": {self.reason}" if self.reason else ""
        what = f" [{', '.join(self.rows)}]" if self.rows else ""
        return (
            f"{to_the_minute(self.written_at)}  {self.actor}  {self.action}{why}{what} {self.mark}"
        )


def change_history(session: Session, change: Change) -> list[Event]:
    """Return all batches that touched a change, its orders, signatures and units, oldest first."""
    rows = set(rows_of_change(session, change))
    tables = {table for table, _ in rows}
    query = (
        select(AuditBatch, AuditEntry.table_name, AuditEntry.row_id)
        .join(AuditEntry, AuditEntry.batch_id == AuditBatch.id)
        .where(AuditEntry.table_name.in_(tables))
        .order_by(AuditBatch.id, AuditEntry.id)
    )
    batches: dict[int, tuple[AuditBatch, list[RowName]]] = {}
    for batch, table, row in session.execute(query):
        if (table, row) in rows:
            batches.setdefault(batch.id, (batch, []))[1].append((table, row))
    with rows_at_hand(session, rows):
        return [_event(session, batch, held) for batch, held in batches.values()]


def _event(session: Session, batch: AuditBatch, held: Sequence[RowName]) -> Event:
    counts = Counter(table for table, _ in held)
    rows = () if "refusal" in counts else tuple(_counted(n, t) for t, n in counts.items())
    said = (words_of_row(session, table, row) for table, row in dict.fromkeys(held))
    return Event(
        batch.id, clock_at(session, batch.written_at), batch.actor, batch.action,
        batch.reason or "", rows, short(batch.hash), tuple(words for words in said if words),
    )  # fmt: skip


def _counted(number: int, table: str) -> str:
    one = table.replace("_", " ")
    return counted(number, one, f"{one[:-1]}ies" if one.endswith("copy") else "")


def rows_of_change(session: Session, change: Change) -> Iterator[RowName]:
    """Give the name of every row that belongs to a change."""
    yield "change", change.id
    for made in _OF_CHANGE:
        yield from _named(session, made, made.change_id == change.id)
    meeting = or_(ChangeMeeting.change_id == change.id, ChangeMeeting.other_id == change.id)
    yield from _named(session, ChangeMeeting, meeting)
    yield from _named(session, PlanChoice, PlanChoice.id.in_(_choices(change)))
    orders = select(WorkOrder.id).where(WorkOrder.change_id == change.id)
    for part in _OF_ORDER:
        yield from _named(session, part, part.work_order_id.in_(orders))
    lines = select(WorkOrderLine.id).where(WorkOrderLine.work_order_id.in_(orders))
    for read in _OF_LINE:
        yield from _named(session, read, read.work_order_line_id.in_(lines))
    units = select(WorkOrderLine.unit_id).where(WorkOrderLine.work_order_id.in_(orders))
    since = TravelStopEvent.happened_at >= datetime.combine(
        change.requested_on, datetime.min.time()
    )
    yield from _named(session, TravelStopEvent, TravelStopEvent.unit_id.in_(units) & since)
    under = select(ChangeLine.line_id).where(ChangeLine.change_id == change.id)
    later = PropEvent.happened_at >= datetime.combine(change.requested_on, datetime.min.time())
    yield from _named(session, PropEvent, PropEvent.line_id.in_(under) & later)
    yield from _signatures(session, change)
    yield from _refusals(session, change)


_OF_CHANGE = (
    ChangeLine,
    ChangeNeed,
    ChangeProof,
    ChangeTerm,
    EmergencyAct,
    WeightItem,
    Assessment,
    Plan,
    WorkOrder,
)
_OF_ORDER = (WorkOrderLine, WorkOrderCopy, WorkOrderMaterial, WorkOrderBefore, WorkOrderHold,
             PlannedOrder)  # fmt: skip
_OF_LINE = (Reading, SettingEvent, StepReading)


def _choices(change: Change) -> Select[int]:
    """Return the ids of what was chosen among the plans of a change."""
    plans = select(Plan.id).where(Plan.change_id == change.id)
    return select(PlanChoice.id).where(PlanChoice.plan_id.in_(plans))


def _named(
    session: Session, table: type[Base], condition: ColumnElement[bool]
) -> Iterator[RowName]:
    for row in session.scalars(select(table.__table__.c.id).where(condition)):
        yield table.__tablename__, row


def _signatures(session: Session, change: Change) -> Iterator[RowName]:
    orders = [*session.scalars(select(WorkOrder.id).where(WorkOrder.change_id == change.id))]
    lines = session.scalars(select(WorkOrderLine.id).where(WorkOrderLine.work_order_id.in_(orders)))
    assessments = session.scalars(select(Assessment.id).where(Assessment.change_id == change.id))
    subjects = [
        ("change", change.id),
        *(("work order", order) for order in orders),
        *(("work order line", line) for line in lines),
        *(("assessment", assessment) for assessment in assessments),
        *(("plan choice", choice) for choice in session.scalars(_choices(change))),
    ]
    pair = tuple_(Signature.subject, Signature.subject_id)
    yield from _named(session, Signature, pair.in_(subjects))


def _refusals(session: Session, change: Change) -> Iterator[RowName]:
    """Give refusals that name the change or its orders, or a unit of it since it was noted."""
    orders = session.scalars(select(WorkOrder.number).where(WorkOrder.change_id == change.id))
    names = {change.number, *orders}
    tags = {name.split("/")[0] for name in units_of_change(session, change.id).values()}
    noted = datetime.combine(change.requested_on, datetime.min.time())
    for refusal in session.scalars(select(Refusal).order_by(Refusal.id)):
        about = set(refusal.subject.split())
        if about & names or (about & tags and refusal.asked_at >= noted):
            yield "refusal", refusal.id
