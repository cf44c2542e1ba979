"""People, the roles they hold from a day to a day, and documents."""

from __future__ import annotations

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import Base, Key, MaybeDay, MaybeWords, Words, key_of


class Person(Base):
    """Somebody who acts on the register."""

    __tablename__ = "person"
    __table_args__ = (UniqueConstraint("name"),)

    id: Mapped[Key]
    name: Mapped[Words]
    initials: Mapped[MaybeWords]


class PersonRole(Base):
    """A role that a person holds, or deputises in."""

    __tablename__ = "person_role"

    id: Mapped[Key]
    person_id: Mapped[int] = key_of("person")
    role: Mapped[Words]
    valid_from: Mapped[MaybeDay]
    valid_to: Mapped[MaybeDay]
    deputy_for: Mapped[MaybeWords]


class Document(Base):
    """A drawing, photo, certificate or calculation, by number and revision."""

    __tablename__ = "document"
    __table_args__ = (UniqueConstraint("number", "sheet", "revision"),)

    id: Mapped[Key]
    number: Mapped[Words]
    sheet: Mapped[Words]
    revision: Mapped[Words]
    kind: Mapped[Words]
    status: Mapped[MaybeWords]
    kept_at: Mapped[MaybeWords]
    content_hash: Mapped[MaybeWords]
