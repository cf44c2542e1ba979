"""All settings of units with the change and order under which each was made."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Change, SettingEvent, WorkOrder, WorkOrderLine
from supports.snapshots import SettingUnder


def settings_under(session: Session, units: Collection[int]) -> dict[int, list[SettingUnder]]:
    """Return all settings of some units, oldest first; a unit without any is not in it."""
    query = (
        select(SettingEvent, Change.number, WorkOrder.number)
        .outerjoin(WorkOrderLine, SettingEvent.work_order_line_id == WorkOrderLine.id)
        .outerjoin(WorkOrder, WorkOrderLine.work_order_id == WorkOrder.id)
        .outerjoin(Change, WorkOrder.change_id == Change.id)
        .where(SettingEvent.unit_id.in_(units))
        .order_by(SettingEvent.happened_on, SettingEvent.id)
    )
    found: dict[int, list[SettingUnder]] = defaultdict(list)
    for event, change, order in session.execute(query):
        found[event.unit_id].append(
            SettingUnder(
                load=event.load,
                happened_on=event.happened_on,
                method=event.method,
                set_by=event.set_by,
                plant_state=event.plant_state,
                under=", ".join(name for name in (change, order) if name),
                note=event.note or "",
            )
        )
    return found
