"""Travel stops in and out, by pin number."""

from __future__ import annotations

from sqlalchemy import CheckConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import Base, Key, MaybeWords, Moment, Words, key_of


class TravelStopEvent(Base):
    """A travel stop was put in or taken out."""

    __tablename__ = "travel_stop_event"
    append_only = True
    __table_args__ = (CheckConstraint("direction IN ('in', 'out')", name="direction"),)

    id: Mapped[Key]
    unit_id: Mapped[int] = key_of("unit")
    pin_number: Mapped[Words]
    direction: Mapped[Words]
    happened_at: Mapped[Moment]
    done_by: Mapped[Words]
    witness: Mapped[MaybeWords]
    reason: Mapped[Words]
    freed_by: Mapped[MaybeWords]
    """Who saw that the unit is really free, where the pin was found away from it."""
