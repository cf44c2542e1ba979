"""Where things are, and what the site has laid down."""

from __future__ import annotations

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import Base, Day, Document, Key, Note, Words


class Area(Base):
    """A unit area of the plant."""

    __tablename__ = "area"
    __table_args__ = (UniqueConstraint("code"),)

    id: Mapped[Key]
    code: Mapped[Words]
    name: Mapped[Note]


class SiteSetting(Base):
    """One limit or choice of the site, from a day on; rows are added, never changed."""

    __tablename__ = "site_setting"
    __table_args__ = (UniqueConstraint("name", "scope", "valid_from"),)

    id: Mapped[Key]
    name: Mapped[Words]
    scope: Mapped[Words]
    """'' for the whole site, else ``line:<number>`` or ``class:<letter>``."""
    value: Mapped[Document]
    source: Mapped[Note]
    owner: Mapped[Words]
    valid_from: Mapped[Day]
