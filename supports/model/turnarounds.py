"""Turnarounds: what is in their scope and why, when lines are in which state, stored plans."""

from __future__ import annotations

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import (
    Base,
    Day,
    Document,
    Key,
    MaybeDay,
    MaybeWords,
    Moment,
    Note,
    Versioned,
    Words,
    key_of,
)


class Turnaround(Versioned, Base):
    """A stop of the plant in which work at supports is done."""

    __tablename__ = "turnaround"
    __table_args__ = (UniqueConstraint("number"),)

    id: Mapped[Key]
    number: Mapped[Words]
    title: Mapped[Words]
    begins_on: Mapped[Day]
    ends_on: Mapped[Day]
    freeze_on: Mapped[MaybeDay]
    """Day from which on the scope is to stand still, as planned."""
    frozen_on: Mapped[MaybeDay]
    frozen_by: Mapped[MaybeWords]
    hours_a_day: Mapped[float]
    crews: Mapped[int]
    fitters: Mapped[int]
    scaffolders: Mapped[int]
    inspectors: Mapped[int]
    engineers: Mapped[int]
    opened_by: Mapped[Words]
    opened_on: Mapped[Day]


class TurnaroundLine(Base):
    """A line that a turnaround is about; a turnaround without one is about the whole plant."""

    __tablename__ = "turnaround_line"
    __table_args__ = (UniqueConstraint("turnaround_id", "line_id"),)

    id: Mapped[Key]
    turnaround_id: Mapped[int] = key_of("turnaround")
    line_id: Mapped[int] = key_of("line")


class TurnaroundWindow(Base):
    """From a day to a day a line is in a plant state; without a line every line is."""

    __tablename__ = "turnaround_window"
    append_only = True

    id: Mapped[Key]
    turnaround_id: Mapped[int] = key_of("turnaround")
    line_id: Mapped[int | None] = key_of("line")
    plant_state: Mapped[Words]
    first_day: Mapped[Day]
    last_day: Mapped[Day]
    laid_down_by: Mapped[Words]
    laid_down_at: Mapped[Moment]


class TurnaroundItem(Versioned, Base):
    """A unit, or a support as a whole, that is in the scope."""

    __tablename__ = "turnaround_item"
    __table_args__ = (UniqueConstraint("turnaround_id", "point_id", "unit_id"),)

    id: Mapped[Key]
    turnaround_id: Mapped[int] = key_of("turnaround")
    point_id: Mapped[int] = key_of("support_point")
    unit_id: Mapped[int | None] = key_of("unit")
    added_on: Mapped[Day]
    added_by: Mapped[Words]
    after_freeze: Mapped[Words]
    """'yes' where it came in after the scope was frozen, else 'no'."""
    taken_out_on: Mapped[MaybeDay]
    taken_out_by: Mapped[MaybeWords]
    taken_out_why: Mapped[Note]


class TurnaroundReason(Base):
    """Why a unit is in the scope; a reason stays, and what became of it is told by its source."""

    __tablename__ = "turnaround_reason"
    append_only = True
    __table_args__ = (UniqueConstraint("item_id", "source", "reference"),)

    id: Mapped[Key]
    item_id: Mapped[int] = key_of("turnaround_item")
    source: Mapped[Words]
    """'change', 'walkdown', 'rule' or 'by hand'."""
    reference: Mapped[Words]
    words: Mapped[Words]
    action: Mapped[Words]
    noted_by: Mapped[Words]
    noted_at: Mapped[Moment]


class TurnaroundPlan(Base):
    """A schedule as it was made, with the scope and the norms it was made from."""

    __tablename__ = "turnaround_plan"
    append_only = True
    __table_args__ = (UniqueConstraint("turnaround_id", "revision"),)

    id: Mapped[Key]
    turnaround_id: Mapped[int] = key_of("turnaround")
    revision: Mapped[int]
    made_at: Mapped[Moment]
    made_by: Mapped[Words]
    content: Mapped[Document]
    fingerprint: Mapped[Words]
