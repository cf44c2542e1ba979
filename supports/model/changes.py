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
    MaybeDocument,
    MaybeMoment,
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
    """'permanent' or 'temporary'; what was made safe at once is told by `safe_until`."""
    ends_on: Mapped[MaybeDay]
    state: Mapped[Words]
    aim: Mapped[MaybeWords]
    """What the new loads are to achieve; chosen by an engineer."""
    requested_by: Mapped[Words]
    requested_on: Mapped[Day]
    wanted_on: Mapped[MaybeDay]
    depth: Mapped[MaybeWords]
    """'screening' or 'full analysis'; said at the sifting."""
    stretch: Mapped[Note]
    """Which part of which lines feels it, in words."""
    owner: Mapped[MaybeWords]
    """Who answers for a temporary change while it is in force."""
    watch_days: Mapped[int | None]
    """Days between two looks at a temporary change."""
    asked_until: Mapped[MaybeDay]
    """End date asked for by a renewal that is not approved yet."""
    safe_until: Mapped[MaybeMoment]
    """Moment by which an emergency must have been taken through as a full change."""
    technical_basis: Mapped[Note]
    safety_and_health: Mapped[Note]
    operating_procedures: Mapped[Note]
    time_period: Mapped[Note]
    authorization: Mapped[Note]


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
    covers: Mapped[MaybeDocument]
    """{part of the content: its fingerprint}, so that a changed part can be named."""
    reason: Mapped[Note]


class ChangeNeed(Base):
    """A role whose word the sifting asked for before the approver's."""

    __tablename__ = "change_need"
    __table_args__ = (UniqueConstraint("change_id", "role"),)

    id: Mapped[Key]
    change_id: Mapped[int] = key_of("change")
    role: Mapped[Words]


class ChangeProof(Base):
    """One thing proved after the work, or put off to a day with a reason."""

    __tablename__ = "change_proof"
    append_only = True

    id: Mapped[Key]
    change_id: Mapped[int] = key_of("change")
    item: Mapped[Words]
    given_by: Mapped[Words]
    given_at: Mapped[Moment]
    put_off_until: Mapped[MaybeDay]
    note: Mapped[Words]


class ChangeTerm(Base):
    """Until when a temporary change was approved; the second one is its only renewal."""

    __tablename__ = "change_term"
    append_only = True

    id: Mapped[Key]
    change_id: Mapped[int] = key_of("change")
    assessment_id: Mapped[int] = key_of("assessment")
    ends_on: Mapped[Day]
    approved_by: Mapped[Words]
    approved_at: Mapped[Moment]


class ChangeMeeting(Base):
    """Two changes on one stretch were put together: which one leads, and how they follow."""

    __tablename__ = "change_meeting"
    append_only = True

    id: Mapped[Key]
    change_id: Mapped[int] = key_of("change")
    other_id: Mapped[int] = key_of("change")
    lead_id: Mapped[int] = key_of("change")
    agreed_by: Mapped[Words]
    agreed_at: Mapped[Moment]
    note: Mapped[Words]


class EmergencyAct(Base):
    """What was done at once to make a line safe, and who cleared it by word of mouth."""

    __tablename__ = "emergency_act"
    append_only = True

    id: Mapped[Key]
    change_id: Mapped[int] = key_of("change")
    unit_id: Mapped[int | None] = key_of("unit")
    what: Mapped[Words]
    load: Mapped[float | None]  # N
    shift_leader: Mapped[Words]
    engineer: Mapped[Words]
    done_by: Mapped[Words]
    done_at: Mapped[Moment]
    note: Mapped[Words]
