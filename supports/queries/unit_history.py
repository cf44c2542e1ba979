"""What a unit was set to, what was read on it, which travel stops are in."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Reading, SettingEvent, TravelStopEvent
from supports.queries.narrowing import only
from supports.snapshots import ReadingView, SettingView
from supports.vocabulary import PlantState

Units = Collection[int] | None
"""Ids of units; None means all."""


def settings_of(session: Session, units: Units) -> dict[int, list[SettingView]]:
    """Return all settings by unit, oldest first."""
    query = select(SettingEvent).order_by(SettingEvent.happened_on, SettingEvent.id)
    found: dict[int, list[SettingView]] = defaultdict(list)
    for event in session.scalars(only(query, SettingEvent.unit_id, units)):
        found[event.unit_id].append(
            SettingView(
                event.load,
                event.happened_on,
                event.method,
                event.set_by,
                PlantState(event.plant_state),
            )
        )
    return found


def present_settings(session: Session, units: Units) -> dict[int, SettingView]:
    """Return the newest setting by unit; a unit without any is not in it."""
    return {unit: events[-1] for unit, events in settings_of(session, units).items()}


def readings_of(session: Session, units: Units) -> dict[int, list[ReadingView]]:
    """Return all readings by unit, oldest first."""
    query = select(Reading).order_by(Reading.read_on, Reading.id)
    found: dict[int, list[ReadingView]] = defaultdict(list)
    for reading in session.scalars(only(query, Reading.unit_id, units)):
        found[reading.unit_id].append(
            ReadingView(
                reading.read_on,
                reading.plant_state,
                reading.scale_load,
                reading.pointer,
                reading.read_by,
                reading.occasion,
            )
        )
    return found


def last_readings(session: Session, units: Units) -> dict[int, ReadingView]:
    """Return the newest reading by unit."""
    return {unit: readings[-1] for unit, readings in readings_of(session, units).items()}


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
