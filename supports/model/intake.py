"""What people have declared about files that come in, and the values that wait for an answer."""

from __future__ import annotations

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import (
    Base,
    Document,
    Key,
    MaybeDay,
    MaybeDocument,
    MaybeWords,
    Moment,
    Note,
    Words,
    key_of,
)


class SheetProfile(Base):
    """What the columns of a sheet of one source mean; the newest of source and sheet holds."""

    __tablename__ = "sheet_profile"
    append_only = True

    id: Mapped[Key]
    source: Mapped[Words]
    """Where such files come from, e.g. 'stress group'."""
    sheet: Mapped[Words]
    """Name of the sheet as found."""
    profile: Mapped[Document]
    person_id: Mapped[int] = key_of("person")
    confirmed_at: Mapped[Moment]
    reason: Mapped[Note]


class DeclaredUnit(Base):
    """The unit of one cell of one file, as somebody declares who knows; the newest holds."""

    __tablename__ = "declared_unit"
    append_only = True

    id: Mapped[Key]
    file_name: Mapped[Words]
    file_hash: Mapped[Words]
    sheet: Mapped[Words]
    cell: Mapped[Words]
    text: Mapped[Words]
    """As found."""
    unit: Mapped[Words]
    source: Mapped[MaybeWords]
    """Where the file came from; in a mended copy the same value is known by these three."""
    heading: Mapped[MaybeWords]
    """Of its column, with the unit stated there."""
    named: Mapped[MaybeWords]
    """Support or line of its row."""
    person_id: Mapped[int] = key_of("person")
    declared_at: Mapped[Moment]
    reason: Mapped[Words]


class JoinDecision(Base):
    """What a tag in files of one source means; the newest of source and tag holds."""

    __tablename__ = "join_decision"
    append_only = True

    id: Mapped[Key]
    source: Mapped[Words]
    tag: Mapped[Words]
    """As it stands in the file; what else names the row where it bears no tag."""
    kind: Mapped[Words]
    """'same', 'renamed', 'its own' or 'undone'."""
    point_id: Mapped[int | None] = key_of("support_point")
    since: Mapped[MaybeDay]
    """First day of the new tag of a rename."""
    person_id: Mapped[int] = key_of("person")
    decided_at: Mapped[Moment]
    reason: Mapped[Note]


class QuarantinedValue(Base):
    """A value that was not taken because it is not clear: as found, where, and what is asked."""

    __tablename__ = "quarantined_value"
    append_only = True
    __table_args__ = (UniqueConstraint("import_run_id", "sheet", "cell", "code"),)

    id: Mapped[Key]
    import_run_id: Mapped[int] = key_of("import_run")
    sheet: Mapped[Words]
    cell: Mapped[Words]
    code: Mapped[Words]
    subject: Mapped[Words]
    field: Mapped[Words]
    """Empty where the row as a whole was held back."""
    tag: Mapped[Words]
    """Support or line of the row."""
    text: Mapped[Words]
    """As found."""
    question: Mapped[Words]
    known_by: Mapped[MaybeDocument]
    """Cells of its row, as found, by which it is known again in a copy of another name."""


class QuarantineAnswer(Base):
    """Why a quarantined value waits no longer."""

    __tablename__ = "quarantine_answer"
    append_only = True
    __table_args__ = (UniqueConstraint("quarantined_value_id"),)

    id: Mapped[Key]
    quarantined_value_id: Mapped[int] = key_of("quarantined_value")
    how: Mapped[Words]
    """'taken' from a later import, or 'settled' by a person's word."""
    import_run_id: Mapped[int | None] = key_of("import_run")
    person: Mapped[Words]
    answered_at: Mapped[Moment]
    reason: Mapped[MaybeWords]
