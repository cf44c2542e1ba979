"""Walkdowns: campaigns, issued forms, what came back on them, photos, and findings to their end."""

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


class Campaign(Versioned, Base):
    """A round of looking at supports in one state of the plant."""

    __tablename__ = "campaign"
    __table_args__ = (UniqueConstraint("number"),)

    id: Mapped[Key]
    number: Mapped[Words]
    title: Mapped[Words]
    reason: Mapped[Note]
    half: Mapped[Words]
    """'operating' or 'shut down'."""
    state_wanted: Mapped[Words]
    """The plant state that the expected readings are for."""
    scope: Mapped[Document]
    """How the supports were chosen."""
    walk_on: Mapped[Day]
    state: Mapped[Words]
    pair_id: Mapped[int | None] = key_of("campaign")
    """The campaign of the other half of the same cycle."""
    planned_by: Mapped[Words]
    planned_on: Mapped[Day]


class CampaignItem(Base):
    """One unit, or one support without units, to be looked at; in walking order."""

    __tablename__ = "campaign_item"
    append_only = True
    __table_args__ = (UniqueConstraint("campaign_id", "order_no"),)

    id: Mapped[Key]
    campaign_id: Mapped[int] = key_of("campaign")
    order_no: Mapped[int]
    point_id: Mapped[int] = key_of("support_point")
    unit_id: Mapped[int | None] = key_of("unit")


class CampaignStep(Base):
    """A campaign was moved on by somebody."""

    __tablename__ = "campaign_step"
    append_only = True

    id: Mapped[Key]
    campaign_id: Mapped[int] = key_of("campaign")
    act: Mapped[Words]
    came_from: Mapped[Words]
    went_to: Mapped[Words]
    done_by: Mapped[Words]
    done_at: Mapped[Moment]
    reason: Mapped[Note]


class WalkForm(Base):
    """A form as it was issued, with the values it was issued on."""

    __tablename__ = "walk_form"
    append_only = True
    __table_args__ = (UniqueConstraint("campaign_id", "revision"),)

    id: Mapped[Key]
    campaign_id: Mapped[int] = key_of("campaign")
    revision: Mapped[int]
    issued_at: Mapped[Moment]
    issued_by: Mapped[Words]
    content: Mapped[Document]
    fingerprint: Mapped[Words]


class WalkFormHolder(Base):
    """Somebody took a copy of a form out."""

    __tablename__ = "walk_form_holder"
    append_only = True
    __table_args__ = (UniqueConstraint("form_id", "copy_number"),)

    id: Mapped[Key]
    form_id: Mapped[int] = key_of("walk_form")
    copy_number: Mapped[int]
    holder: Mapped[Words]


class WalkReturn(Base):
    """A form came back: one file, or one sheet of paper keyed in."""

    __tablename__ = "walk_return"
    append_only = True
    __table_args__ = (Index("ix_walk_return_file_hash", "file_hash"),)

    id: Mapped[Key]
    form_id: Mapped[int] = key_of("walk_form")
    walker: Mapped[Words]
    keyed_by: Mapped[Words]
    keyed_at: Mapped[Moment]
    file_name: Mapped[MaybeWords]
    file_hash: Mapped[MaybeWords]


class WalkEntry(Base):
    """What one walker wrote in one row; a blank stays a blank."""

    __tablename__ = "walk_entry"
    append_only = True

    id: Mapped[Key]
    return_id: Mapped[int] = key_of("walk_return")
    item_id: Mapped[int] = key_of("campaign_item")
    walker: Mapped[Words]
    read_on: Mapped[MaybeDay]
    values: Mapped[Document]
    """{field: value in SI or word}; fields left blank are not in it."""
    written: Mapped[Document]
    """{field: text as written on the form}."""
    doubts: Mapped[Document]
    """{field: why what was written could not be taken}."""


class WalkNoted(Base):
    """One revision of one row as a tablet sent it: so that none counts twice."""

    __tablename__ = "walk_noted"
    __table_args__ = (UniqueConstraint("form_id", "tablet", "item_id", "revision"),)
    append_only = True

    id: Mapped[Key]
    form_id: Mapped[int] = key_of("walk_form")
    tablet: Mapped[Words]
    """Drawn by the tablet when the copy was taken along."""
    item_id: Mapped[int] = key_of("campaign_item")
    revision: Mapped[int]
    person: Mapped[Words]
    noted_at: Mapped[Moment]
    sent_at: Mapped[Moment]
    entry_id: Mapped[int | None] = key_of("walk_entry")
    """The entry that it became; none where it said nothing new."""
    replaces_id: Mapped[int | None] = key_of("walk_entry")
    """The entry of an earlier revision that it stands in for."""


class WalkChoice(Base):
    """Of several entries for one row, one was chosen by name."""

    __tablename__ = "walk_choice"
    append_only = True

    id: Mapped[Key]
    item_id: Mapped[int] = key_of("campaign_item")
    entry_id: Mapped[int] = key_of("walk_entry")
    chosen_by: Mapped[Words]
    chosen_at: Mapped[Moment]
    reason: Mapped[Words]


class WalkReading(Base):
    """A row of a campaign became a reading of the register."""

    __tablename__ = "walk_reading"
    append_only = True
    __table_args__ = (UniqueConstraint("item_id", "reading_id"),)

    id: Mapped[Key]
    item_id: Mapped[int] = key_of("campaign_item")
    reading_id: Mapped[int] = key_of("reading")


class WalkPhoto(Base):
    """A photo by the number written on the form; the picture lies in the store by its hash."""

    __tablename__ = "walk_photo"
    append_only = True
    __table_args__ = (UniqueConstraint("item_id", "number", "content_hash"),)

    id: Mapped[Key]
    item_id: Mapped[int] = key_of("campaign_item")
    number: Mapped[Words]
    subject: Mapped[Words]
    """'plate', 'scale', 'pointer', 'assembly' or 'other'."""
    content_hash: Mapped[Words]
    file_name: Mapped[Words]
    width: Mapped[int]
    height: Mapped[int]
    stored_by: Mapped[Words]
    stored_at: Mapped[Moment]


class FieldFinding(Versioned, Base):
    """Something found in the field, with whoever sees it to its end."""

    __tablename__ = "field_finding"
    __table_args__ = (UniqueConstraint("number"),)

    id: Mapped[Key]
    number: Mapped[Words]
    campaign_id: Mapped[int] = key_of("campaign")
    item_id: Mapped[int | None] = key_of("campaign_item")
    point_id: Mapped[int] = key_of("support_point")
    code: Mapped[Words]
    severity: Mapped[Words]
    what: Mapped[Words]
    how_soon: Mapped[Words]
    told: Mapped[MaybeWords]
    """Who was told on the spot, and when."""
    found_on: Mapped[Day]
    found_by: Mapped[Words]
    state: Mapped[Words]
    owner: Mapped[MaybeWords]
    due_on: Mapped[MaybeDay]
    answer: Mapped[Note]
    reference: Mapped[MaybeWords]
    """Number of the work order or change that answers it."""
    done_by: Mapped[MaybeWords]
    done_on: Mapped[MaybeDay]
    verified_by: Mapped[MaybeWords]
    accepted_until: Mapped[MaybeDay]


class FindingStep(Base):
    """A finding was moved on by somebody."""

    __tablename__ = "finding_step"
    append_only = True

    id: Mapped[Key]
    finding_id: Mapped[int] = key_of("field_finding")
    act: Mapped[Words]
    came_from: Mapped[Words]
    went_to: Mapped[Words]
    done_by: Mapped[Words]
    done_at: Mapped[Moment]
    words: Mapped[Note]


class WalkCloseout(Base):
    """The record of a campaign as it was signed off; what is corrected later does not reach it."""

    __tablename__ = "walk_closeout"
    append_only = True

    id: Mapped[Key]
    campaign_id: Mapped[int] = key_of("campaign", unique=True)
    frozen_at: Mapped[Moment]
    frozen_by: Mapped[Words]
    content: Mapped[Document]
    fingerprint: Mapped[Words]
