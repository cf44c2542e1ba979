"""A change to a line, what it weighs, what it does to the supports, and who signed."""

from __future__ import annotations

from sqlalchemy import Index, UniqueConstraint
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


class Change(Versioned, Base):
    """A wish to modify a line, from the first note to its closing."""

    __tablename__ = "change"
    __table_args__ = (UniqueConstraint("number"),)

    id: Mapped[Key]
    number: Mapped[Words]
    title: Mapped[Words]
    reason: Mapped[Note]
    duration: Mapped[Words]
    """'permanent', 'temporary' or 'emergency'."""
    ends_on: Mapped[MaybeDay]
    state: Mapped[Words]
    aim: Mapped[MaybeWords]
    """What the new loads are to achieve; chosen by an engineer."""
    requested_by: Mapped[Words]
    requested_on: Mapped[Day]


class ChangeLine(Base):
    """A line that a change touches."""

    __tablename__ = "change_line"
    __table_args__ = (UniqueConstraint("change_id", "line_id"),)

    id: Mapped[Key]
    change_id: Mapped[int] = key_of("change")
    line_id: Mapped[int] = key_of("line")


class WeightItem(Base):
    """Something added to or removed from a line."""

    __tablename__ = "weight_item"

    id: Mapped[Key]
    change_id: Mapped[int] = key_of("change")
    line_id: Mapped[int] = key_of("line")
    description: Mapped[Words]
    mass: Mapped[float]  # kg, negative where it is removed
    along: Mapped[float | None]  # m from the line's start point
    off_axis: Mapped[float | None]  # m, horizontal distance of its centre from the pipe axis
    above_axis: Mapped[float | None]  # m
    source: Mapped[MaybeWords]


class Assessment(Base):
    """What a change does to every support of its lines: frozen with its inputs."""

    __tablename__ = "assessment"
    append_only = True
    __table_args__ = (UniqueConstraint("change_id", "revision"),)

    id: Mapped[Key]
    change_id: Mapped[int] = key_of("change")
    revision: Mapped[int]
    calculation_id: Mapped[int] = key_of("calculation")
    made_at: Mapped[Moment]
    prepared_by: Mapped[Words]
    content: Mapped[Document]
    fingerprint: Mapped[Words]


class Signature(Base):
    """Somebody signed something, bound to what it said at that moment."""

    __tablename__ = "signature"
    append_only = True
    __table_args__ = (Index("ix_signature_subject", "subject", "subject_id"),)

    id: Mapped[Key]
    subject: Mapped[Words]
    subject_id: Mapped[int]
    meaning: Mapped[Words]
    person_id: Mapped[int] = key_of("person")
    role: Mapped[Words]
    signed_at: Mapped[Moment]
    fingerprint: Mapped[Words]
    reason: Mapped[Note]
