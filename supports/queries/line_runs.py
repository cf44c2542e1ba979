"""When lines were started up and shut down."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import LineRunEvent
from supports.vocabulary import LineRun


@dataclass(frozen=True, slots=True)
class LineRunView:
    """A line was started up or shut down."""

    what: LineRun
    on: date
    told_by: str
    recorded_by: str
    reason: str = ""


def events_of(session: Session, line: int) -> tuple[LineRunView, ...]:
    """Return the starts and stops of a line, oldest first."""
    query = (
        select(LineRunEvent)
        .where(LineRunEvent.line_id == line)
        .order_by(LineRunEvent.happened_on, LineRunEvent.id)
    )
    return tuple(
        LineRunView(LineRun(e.what), e.happened_on, e.told_by, e.recorded_by, reason=e.reason or "")
        for e in session.scalars(query)
    )


def start_ups(session: Session) -> dict[int, list[date]]:
    """Return by line id the days of its start-ups, oldest first."""
    query = (
        select(LineRunEvent.line_id, LineRunEvent.happened_on)
        .where(LineRunEvent.what == LineRun.START_UP)
        .order_by(LineRunEvent.happened_on)
    )
    found: dict[int, list[date]] = {}
    for line, day in session.execute(query):
        found.setdefault(line, []).append(day)
    return found


def newest_runs(session: Session) -> dict[int, tuple[date, bool]]:
    """Return by line id the day of its newest start or stop, and whether it was a start."""
    query = select(LineRunEvent.line_id, LineRunEvent.happened_on, LineRunEvent.what)
    ordered = query.order_by(LineRunEvent.happened_on, LineRunEvent.id)
    return {line: (day, what == LineRun.START_UP) for line, day, what in session.execute(ordered)}
