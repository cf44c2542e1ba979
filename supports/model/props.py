"""Temporary props under a line, in and out, by their number."""

from __future__ import annotations

from sqlalchemy import CheckConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import Base, Key, MaybeWords, Moment, Words, key_of


class PropEvent(Base):
    """A temporary prop was put in or taken out."""

    __tablename__ = "prop_event"
    append_only = True
    __table_args__ = (CheckConstraint("direction IN ('in', 'out')", name="direction"),)

    id: Mapped[Key]
    line_id: Mapped[int] = key_of("line")
    prop_number: Mapped[Words]
    """Number on the tag that hangs on the prop."""
    along: Mapped[float]  # m from the line's start point
    direction: Mapped[Words]
    happened_at: Mapped[Moment]
    done_by: Mapped[Words]
    witness: Mapped[MaybeWords]
    reason: Mapped[Words]
