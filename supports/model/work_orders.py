"""Work orders with one line per unit, the copies given out, and what the planner adds."""

from __future__ import annotations

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import (
    Base,
    Day,
    Key,
    MaybeDay,
    MaybeWords,
    Moment,
    Note,
    Versioned,
    Words,
    key_of,
)


class WorkOrder(Versioned, Base):
    """A job pack for a crew."""

    __tablename__ = "work_order"
    __table_args__ = (UniqueConstraint("number"),)

    id: Mapped[Key]
    number: Mapped[Words]
    change_id: Mapped[int] = key_of("change")
    assessment_id: Mapped[int] = key_of("assessment")
    kind: Mapped[Words]
    """'re-set', 'undo' or 'removal'."""
    state: Mapped[Words]
    line_state_needed: Mapped[Words]
    scaffold_group: Mapped[MaybeWords]
    crew: Mapped[int | None]
    hours: Mapped[float | None]
    """Hours of the whole crew at work; man-hours are crew times hours."""
    scaffold_hours: Mapped[float | None]
    """Man-hours to build and take down the scaffold group."""
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
    waits_for: Mapped[Note]
    """Why the line is on hold, or what comes before it in the plan."""
    undoes_id: Mapped[int | None] = key_of("work_order_line")
    """The line of a called-off order that this one takes back."""


class WorkOrderCopy(Versioned, Base):
    """A numbered copy of a pack: who has it, and whether it came back."""

    __tablename__ = "work_order_copy"
    __table_args__ = (UniqueConstraint("work_order_id", "copy_no"),)

    id: Mapped[Key]
    work_order_id: Mapped[int] = key_of("work_order")
    copy_no: Mapped[int]
    given_to: Mapped[Words]
    given_on: Mapped[Day]
    given_by: Mapped[Words]
    recalled_on: Mapped[MaybeDay]
    fate: Mapped[MaybeWords]
    """'back', 'lost' or 'destroyed'."""
    fate_on: Mapped[MaybeDay]


class WorkOrderMaterial(Versioned, Base):
    """A part that the work needs: have, ordered or late."""

    __tablename__ = "work_order_material"
    __table_args__ = (UniqueConstraint("work_order_id", "item"),)

    id: Mapped[Key]
    work_order_id: Mapped[int] = key_of("work_order")
    item: Mapped[Words]
    quantity: Mapped[float]
    status: Mapped[Words]
    """'have', 'ordered' or 'late'."""
    due_on: Mapped[MaybeDay]
    fallback: Mapped[Note]


class WorkOrderBefore(Versioned, Base):
    """A job that must be done before the work may start."""

    __tablename__ = "work_order_before"
    __table_args__ = (UniqueConstraint("work_order_id", "job"),)

    id: Mapped[Key]
    work_order_id: Mapped[int] = key_of("work_order")
    job: Mapped[Words]
    order_id: Mapped[int | None] = key_of("work_order")
    """The work order meant, if it is one of the register."""
    done_on: Mapped[MaybeDay]
    done_by: Mapped[MaybeWords]


class WorkOrderHold(Base):
    """A point at which work waits for somebody's word."""

    __tablename__ = "work_order_hold"
    __table_args__ = (UniqueConstraint("work_order_id", "hold_no"),)

    id: Mapped[Key]
    work_order_id: Mapped[int] = key_of("work_order")
    hold_no: Mapped[int]
    what: Mapped[Words]
    released_by: Mapped[Words]
    """Roles, one of which gives the word."""


class StepReading(Base):
    """What the scale said after a round of turns, and what it was expected to say."""

    __tablename__ = "step_reading"
    append_only = True

    id: Mapped[Key]
    work_order_line_id: Mapped[int] = key_of("work_order_line")
    round_no: Mapped[int]
    load: Mapped[float]  # N
    expected: Mapped[float | None]  # N
    pointer: Mapped[float | None]  # m from zero
    read_by: Mapped[Words]
    read_at: Mapped[Moment]
    note: Mapped[Note]


class FormChoice(Base):
    """A pack's form and what is recorded differed; somebody chose which stands, both are kept."""

    __tablename__ = "form_choice"
    append_only = True

    id: Mapped[Key]
    work_order_line_id: Mapped[int] = key_of("work_order_line")
    occasion: Mapped[Words]
    """'as found' or 'as left'."""
    kept: Mapped[Words]
    """'form' or 'recorded'."""
    form_load: Mapped[float]  # N
    form_pointer: Mapped[float | None]  # m from zero
    recorded_load: Mapped[float | None]  # N
    recorded_pointer: Mapped[float | None]  # m from zero
    person_id: Mapped[int] = key_of("person")
    chosen_at: Mapped[Moment]
    reason: Mapped[Words]
