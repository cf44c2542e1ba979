"""When lines were started up and shut down."""

from __future__ import annotations

from sqlalchemy import CheckConstraint, Index
from sqlalchemy.orm import Mapped

from supports.model.base import Base, Day, Key, Moment, Note, Words, key_of


class LineRunEvent(Base):
    """A line was started up or shut down on a day."""

    __tablename__ = "line_run_event"
    append_only = True
    __table_args__ = (
        CheckConstraint("what IN ('start-up', 'shut-down')", name="what"),
        Index("ix_line_run_event_line_day", "line_id", "happened_on"),
    )

    id: Mapped[Key]
    line_id: Mapped[int] = key_of("line")
    happened_on: Mapped[Day]
    what: Mapped[Words]
    """'start-up' or 'shut-down'."""
    told_by: Mapped[Words]
    """Who says so."""
    recorded_by: Mapped[Words]
    recorded_at: Mapped[Moment]
    reason: Mapped[Note]
