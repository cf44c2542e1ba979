"""Re-set plans as they were made, which one was chosen and why, and the orders that follow it."""

from __future__ import annotations

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import Base, Document, Key, MaybeWords, Moment, Words, key_of


class Plan(Base):
    """A plan of one line of a change: frozen with what was asked and all that came of it."""

    __tablename__ = "reset_plan"
    append_only = True
    __table_args__ = (UniqueConstraint("number"),)

    id: Mapped[Key]
    number: Mapped[Words]
    change_id: Mapped[int] = key_of("change")
    line_id: Mapped[int] = key_of("line")
    assessment_id: Mapped[int] = key_of("assessment")
    """What the plan stands on; a newer assessment makes it void."""
    follows_id: Mapped[int | None] = key_of("reset_plan")
    """The plan that it was made after: again from readings, or the way back."""
    kind: Mapped[Words]
    """'from the assessment', 'from as-found readings' or 'back from as-left readings'."""
    read_from: Mapped[MaybeWords]
    """The work order whose readings it starts from."""
    made_at: Mapped[Moment]
    made_by: Mapped[Words]
    asked: Mapped[Document]
    """The engineer's wish, and the site's assumptions in force."""
    standing: Mapped[Document]
    """{unit: set load it was planned from [N]}; another setting makes the plan void."""
    content: Mapped[Document]
    fingerprint: Mapped[Words]


class PlanChoice(Base):
    """Somebody who may chose one of the plans laid side by side, with the reason."""

    __tablename__ = "plan_choice"
    append_only = True

    id: Mapped[Key]
    plan_id: Mapped[int] = key_of("reset_plan")
    alternative: Mapped[Words]
    chosen_by: Mapped[Words]
    chosen_at: Mapped[Moment]
    reason: Mapped[Words]


class PlannedOrder(Base):
    """A work order that takes its turns, order and readings from a chosen plan."""

    __tablename__ = "planned_order"
    append_only = True
    __table_args__ = (UniqueConstraint("work_order_id", "choice_id"),)

    id: Mapped[Key]
    work_order_id: Mapped[int] = key_of("work_order")
    choice_id: Mapped[int] = key_of("plan_choice")
