"""Lines screened as they stand, kept with a mark of the data that they were screened from."""

from __future__ import annotations

from sqlalchemy.orm import Mapped

from supports.model.base import Base, Document, Key, Moment, Words, key_of


class LineScreening(Base):
    """One line screened as it stood at a moment; the newest whose mark still fits speaks."""

    __tablename__ = "line_screening"
    append_only = True

    id: Mapped[Key]
    line_id: Mapped[int] = key_of("line")
    screened_at: Mapped[Moment]
    screened_by: Mapped[Words]
    mark: Mapped[Words]
    """Counts and versions of the rows that it was screened from."""
    content: Mapped[Document]
    """Weight, loads at the ends and on record [N], worst use of each nozzle, what was missing."""
