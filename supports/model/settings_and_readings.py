"""What a unit was set to and what was read on it: events, added and never changed."""

from __future__ import annotations

from sqlalchemy import Index
from sqlalchemy.orm import Mapped

from supports.model.base import Base, Day, Key, MaybeWords, Note, Words, key_of


class SettingEvent(Base):
    """A unit was set to a load."""

    __tablename__ = "setting_event"
    append_only = True
    __table_args__ = (Index("ix_setting_event_unit_day", "unit_id", "happened_on"),)

    id: Mapped[Key]
    unit_id: Mapped[int] = key_of("unit")
    happened_on: Mapped[Day]
    day_precision: Mapped[MaybeWords]
    load: Mapped[float]  # N
    turns_given: Mapped[float | None]
    method: Mapped[Words]
    plant_state: Mapped[Words]
    set_by: Mapped[Words]
    second_reader: Mapped[MaybeWords]
    work_order_line_id: Mapped[int | None] = key_of("work_order_line")
    note: Mapped[Note]


class Reading(Base):
    """What somebody read on a unit, in a plant state."""

    __tablename__ = "reading"
    append_only = True
    __table_args__ = (Index("ix_reading_unit_day", "unit_id", "read_on"),)

    id: Mapped[Key]
    unit_id: Mapped[int] = key_of("unit")
    read_on: Mapped[Day]
    plant_state: Mapped[Words]
    pipe_temperature: Mapped[float | None]  # K
    body_temperature: Mapped[float | None]  # K
    scale_load: Mapped[float | None]  # N
    pointer: Mapped[float | None]  # m from zero
    cell_raising: Mapped[float | None]  # N
    cell_lowering: Mapped[float | None]  # N
    rod_angle: Mapped[float | None]  # rad
    exposed_thread: Mapped[float | None]  # m
    read_by: Mapped[Words]
    second_reader: Mapped[MaybeWords]
    instrument: Mapped[MaybeWords]
    method: Mapped[Words]
    work_order_line_id: Mapped[int | None] = key_of("work_order_line")
    occasion: Mapped[Words]
    """'as found', 'as left', 'walkdown' or 'other'."""
    note: Mapped[Note]
