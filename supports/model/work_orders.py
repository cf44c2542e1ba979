"""Work orders with one line per unit."""

from __future__ import annotations

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import Base, Day, Key, MaybeWords, Note, Versioned, Words, key_of


class WorkOrder(Versioned, Base):
    """A job pack for a crew."""

    __tablename__ = "work_order"
    __table_args__ = (UniqueConstraint("number"),)

    id: Mapped[Key]
    number: Mapped[Words]
    change_id: Mapped[int] = key_of("change")
    assessment_id: Mapped[int] = key_of("assessment")
    state: Mapped[Words]
    line_state_needed: Mapped[Words]
    crew: Mapped[int | None]
    hours: Mapped[float | None]
    written_on: Mapped[Day]
    written_by: Mapped[Words]


class WorkOrderLine(Versioned, Base):
    """What is done at one unit."""

    __tablename__ = "work_order_line"
    __table_args__ = (UniqueConstraint("work_order_id", "order_no"),)

    id: Mapped[Key]
    work_order_id: Mapped[int] = key_of("work_order")
    order_no: Mapped[int]
    point_id: Mapped[int] = key_of("support_point")
    unit_id: Mapped[int] = key_of("unit")
    action: Mapped[Words]
    """'re-set' or 'read only'."""
    state: Mapped[Words]
    from_load: Mapped[float | None]  # N
    to_load: Mapped[float | None]  # N
    window_low: Mapped[float | None]  # N
    window_high: Mapped[float | None]  # N
    turns: Mapped[int | None]
    flats: Mapped[int | None]
    direction: Mapped[MaybeWords]
    """In the nameplate's own words."""
    remark: Mapped[Note]
