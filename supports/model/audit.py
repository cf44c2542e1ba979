"""What was written: every row before and after, by whom, when, why, from which sheet row."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from supports.model.base import BY_MARK, Base, Key, Moment, Note, PlainJson, Words, key_of


class ImportRun(Base):
    """One file read into the register."""

    __tablename__ = "import_run"
    append_only = True

    id: Mapped[Key]
    file_name: Mapped[Words]
    file_hash: Mapped[Words]
    read_at: Mapped[Moment]
    read_by: Mapped[Words]


class SourceRow(Base):
    """A row of a sheet, its cells exactly as found."""

    __tablename__ = "source_row"
    append_only = True
    __table_args__ = (UniqueConstraint("import_run_id", "sheet", "row"),)

    id: Mapped[Key]
    import_run_id: Mapped[int] = key_of("import_run")
    sheet: Mapped[Words]
    row: Mapped[int]
    cells: Mapped[dict[str, Any]] = mapped_column(PlainJson, info={BY_MARK: True})
    """{field: [column, text, unit]}."""


class Refusal(Base):
    """Something that somebody asked for and was not allowed, or that was not ready."""

    __tablename__ = "refusal"
    append_only = True

    id: Mapped[Key]
    asked_at: Mapped[Moment]
    asked_by: Mapped[Words]
    action: Mapped[Words]
    subject: Mapped[Words]
    """Number of the change or work order, or tag of the support concerned."""
    answer: Mapped[Words]
    """The sentence that was given."""


class AuditBatch(Base):
    """All that one use case wrote, chained to the batch before it."""

    __tablename__ = "audit_batch"
    append_only = True
    __table_args__ = (UniqueConstraint("previous_hash"),)

    id: Mapped[Key]
    action: Mapped[Words]
    actor: Mapped[Words]
    reason: Mapped[Note]
    written_at: Mapped[Moment]
    previous_hash: Mapped[Words]
    hash: Mapped[Words]


class AuditEntry(Base):
    """One row before and after."""

    __tablename__ = "audit_entry"
    append_only = True
    __table_args__ = (Index("ix_audit_entry_row", "table_name", "row_id"),)

    id: Mapped[Key]
    batch_id: Mapped[int] = key_of("audit_batch")
    table_name: Mapped[Words]
    row_id: Mapped[int]
    before: Mapped[dict[str, Any] | None] = mapped_column(PlainJson)
    after: Mapped[dict[str, Any] | None] = mapped_column(PlainJson)
    source_row_id: Mapped[int | None] = key_of("source_row")
