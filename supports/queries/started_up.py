"""When the lines of a change were started up after its work, and which units nobody read since."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.model import ChangeLine, Reading, SettingEvent, WorkOrder, WorkOrderLine
from supports.queries.line_runs import start_ups
from supports.rules.walkdown.words import OPERATING_STATES


@dataclass(frozen=True, slots=True)
class StartedUp:
    """First start-up after the work of a change, and its units not read in operation since."""

    on: date
    not_walked: frozenset[int]


def started_up(session: Session) -> dict[int, StartedUp]:
    """Return by change, where work is done and a line of it was started up on that day or later.

    Of several lines the first start counts: from then on its units carry hot pipe.
    """
    finished, units = _work(session)
    starts = start_ups(session)
    if not finished or not starts:
        return {}
    lines = defaultdict(list)
    for change, line in session.execute(select(ChangeLine.change_id, ChangeLine.line_id)):
        lines[change].append(line)
    first = {
        change: min(days)
        for change, done in finished.items()
        if (days := [d for n in lines[change] for d in starts.get(n, ()) if d >= done])
    }
    hot = _newest_hot(session, {unit for change in first for unit in units[change]})
    return {
        change: StartedUp(day, frozenset(u for u in units[change] if hot.get(u, date.min) < day))
        for change, day in first.items()
    }


def started_amid(session: Session) -> set[int]:
    """Return the changes of which a line was started up since their first unit was re-set."""
    starts, began = start_ups(session), _began(session)
    if not starts or not began:
        return set()
    pairs = session.execute(select(ChangeLine.change_id, ChangeLine.line_id)).all()
    return {
        change
        for change, line in pairs
        if change in began and any(day >= began[change] for day in starts.get(line, ()))
    }


def _began(session: Session) -> dict[int, date]:
    """Return by change the day of its first re-set."""
    query = (
        select(WorkOrder.change_id, func.min(SettingEvent.happened_on))
        .join(WorkOrderLine, SettingEvent.work_order_line_id == WorkOrderLine.id)
        .join(WorkOrder, WorkOrderLine.work_order_id == WorkOrder.id)
        .group_by(WorkOrder.change_id)
    )
    return {row[0]: row[1] for row in session.execute(query)}


def _work(session: Session) -> tuple[dict[int, date], Mapping[int, set[int]]]:
    """Return by change the day of its last re-set, and the units that were set."""
    query = (
        select(WorkOrder.change_id, SettingEvent.unit_id, SettingEvent.happened_on)
        .join(WorkOrderLine, SettingEvent.work_order_line_id == WorkOrderLine.id)
        .join(WorkOrder, WorkOrderLine.work_order_id == WorkOrder.id)
    )
    finished: dict[int, date] = {}
    units: dict[int, set[int]] = defaultdict(set)
    for change, unit, day in session.execute(query):
        finished[change] = max(day, finished.get(change, day))
        units[change].add(unit)
    return finished, units


def _newest_hot(session: Session, units: set[int]) -> dict[int, date]:
    query = (
        select(Reading.unit_id, func.max(Reading.read_on))
        .where(Reading.unit_id.in_(units), Reading.plant_state.in_(OPERATING_STATES))
        .group_by(Reading.unit_id)
    )
    return {row[0]: row[1] for row in session.execute(query)}
