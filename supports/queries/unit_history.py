"""What a unit was set to, what was read on it, which travel stops are in."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection

from sqlalchemy import select
from sqlalchemy.orm import Session, aliased

from supports.model import (
    Nameplate,
    Reading,
    SettingEvent,
    TravelStopEvent,
    Unit,
    WorkOrder,
    WorkOrderLine,
)
from supports.queries.asked_once import of_one
from supports.queries.narrowing import only
from supports.rules.workflow import LineState
from supports.snapshots import ReadingView, SettingView
from supports.vocabulary import PlantState, SettingMethod

Units = Collection[int] | None
"""Ids of units; None means all."""


def units_marked(session: Session, unit: int) -> tuple[str, str]:
    """Return what a unit's scale and pointer are marked in; kN and mm where it is not known."""
    return of_one(session, Unit, _marked, unit) or ("kN", "mm")


def _marked(session: Session, units: Collection[int]) -> dict[int, tuple[str, str]]:
    query = select(Nameplate.unit_id, Nameplate.scale_unit, Nameplate.pointer_unit)
    rows = session.execute(only(query, Nameplate.unit_id, units))
    return {unit: (scale or "kN", pointer or "mm") for unit, scale, pointer in rows}


def settings_of(session: Session, units: Units) -> dict[int, list[SettingView]]:
    """Return all settings by unit, oldest first."""
    query = select(SettingEvent).order_by(SettingEvent.happened_on, SettingEvent.id)
    found: dict[int, list[SettingView]] = defaultdict(list)
    for event in session.scalars(only(query, SettingEvent.unit_id, units)):
        found[event.unit_id].append(_setting(event))
    return found


def _setting(event: SettingEvent) -> SettingView:
    return SettingView(
        event.load, event.happened_on, event.method, event.set_by, PlantState(event.plant_state)
    )


def present_settings(session: Session, units: Units) -> dict[int, SettingView]:
    """Return the newest setting by unit; a unit without any is not in it.

    The newest is looked up unit by unit in the index of units and days; the others are not read.
    """
    other = aliased(SettingEvent)
    newest = (
        select(other.id)
        .where(other.unit_id == Unit.id)
        .order_by(other.happened_on.desc(), other.id.desc())
        .limit(1)
        .scalar_subquery()
    )
    query = select(SettingEvent).join(Unit, SettingEvent.id == newest)
    return {e.unit_id: _setting(e) for e in session.scalars(only(query, Unit.id, units))}


def readings_of(session: Session, units: Units) -> dict[int, list[ReadingView]]:
    """Return all readings by unit, oldest first."""
    query = select(Reading).order_by(Reading.read_on, Reading.id)
    found: dict[int, list[ReadingView]] = defaultdict(list)
    for reading in session.scalars(only(query, Reading.unit_id, units)):
        found[reading.unit_id].append(_reading(reading))
    return found


def _reading(reading: Reading) -> ReadingView:
    return ReadingView(
        reading.read_on,
        reading.plant_state,
        reading.scale_load,
        reading.pointer,
        reading.read_by,
        reading.occasion,
    )


def last_readings(session: Session, units: Units) -> dict[int, ReadingView]:
    """Return the newest reading by unit, looked up like the newest setting."""
    other = aliased(Reading)
    newest = (
        select(other.id)
        .where(other.unit_id == Unit.id)
        .order_by(other.read_on.desc(), other.id.desc())
        .limit(1)
        .scalar_subquery()
    )
    query = select(Reading).join(Unit, Reading.id == newest)
    return {r.unit_id: _reading(r) for r in session.scalars(only(query, Unit.id, units))}


def stops_in(session: Session, units: Units) -> dict[int, tuple[str, ...]]:
    """Return the pin numbers of travel stops that are in, by unit."""
    query = select(TravelStopEvent).order_by(TravelStopEvent.happened_at, TravelStopEvent.id)
    state: dict[int, dict[str, str]] = defaultdict(dict)
    for event in session.scalars(only(query, TravelStopEvent.unit_id, units)):
        state[event.unit_id][event.pin_number] = event.direction
    return {
        unit: tuple(pin for pin, direction in pins.items() if direction == "in")
        for unit, pins in state.items()
    }


def last_approved_setting(session: Session, unit: int) -> tuple[float, str] | None:
    """Return the load [N] that was approved last for a unit, and in which state of the line.

    That is what the last settled line of a work order asked for, or else the newest setting that
    came with the register; a mark whose origin nobody knows is no approval.
    """
    settled = [state for state in LineState if state.is_settled and not state.is_untouched]
    ordered = (
        select(WorkOrderLine.to_load, WorkOrder.line_state_needed)
        .join(WorkOrder, WorkOrder.id == WorkOrderLine.work_order_id)
        .where(WorkOrderLine.unit_id == unit, WorkOrderLine.state.in_(settled))
        .where(WorkOrderLine.to_load.is_not(None), WorkOrderLine.state != LineState.UNDONE)
        .order_by(WorkOrderLine.id.desc())
        .limit(1)
    )
    row = session.execute(ordered).first()
    known = (
        select(SettingEvent.load, SettingEvent.plant_state)
        .where(SettingEvent.unit_id == unit, SettingEvent.work_order_line_id.is_(None))
        .where(SettingEvent.method.not_in({SettingMethod.PAPER_MARK, SettingMethod.ESTIMATE}))
        .order_by(SettingEvent.happened_on.desc(), SettingEvent.id.desc())
        .limit(1)
    )
    load, state = row or session.execute(known).first() or (None, "")
    return None if load is None else (load, state)
