"""Who may sign in at the desk: accounts, their passwords, sessions and tokens for programs.

Accounts and tokens are part of the record. Passwords, sessions and failed sign-ins are not: they
are secrets or pass away, and leave no trail.
"""

from __future__ import annotations

from typing import ClassVar

from sqlalchemy import Index, UniqueConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import (
    Base,
    Key,
    MaybeMoment,
    MaybeWords,
    Moment,
    Versioned,
    Words,
    key_of,
)


class Account(Versioned, Base):
    """The way in of one person; what the person may do is said by the roles in the register."""

    __tablename__ = "account"
    __table_args__ = (UniqueConstraint("name"), UniqueConstraint("outside_name"))

    id: Mapped[Key]
    person_id: Mapped[int] = key_of("person", unique=True)
    name: Mapped[Words]
    """What is typed to sign in, in small letters."""
    outside_name: Mapped[MaybeWords]
    """Issuer and subject at the site's own sign-in service."""
    opened_at: Mapped[Moment]
    closed_at: Mapped[MaybeMoment]


class AccountPassword(Base):
    """The hash of the password of an account."""

    __tablename__ = "account_password"
    off_record: ClassVar[bool] = True

    id: Mapped[Key]
    account_id: Mapped[int] = key_of("account", unique=True)
    hash: Mapped[Words]
    set_at: Mapped[Moment]


class DeskSession(Base):
    """A browser that somebody has signed in with."""

    __tablename__ = "desk_session"
    __table_args__ = (UniqueConstraint("mark"),)
    off_record: ClassVar[bool] = True

    id: Mapped[Key]
    account_id: Mapped[int] = key_of("account")
    mark: Mapped[Words]
    """Hash of the key that the browser holds; the key itself is kept nowhere."""
    started_at: Mapped[Moment]
    seen_at: Mapped[Moment]
    ends_at: Mapped[Moment]


class FailedSignIn(Base):
    """A sign-in that failed: the name as typed and the address it came from."""

    __tablename__ = "failed_sign_in"
    __table_args__ = (
        Index("ix_failed_sign_in_name", "name", "tried_at"),
        Index("ix_failed_sign_in_address", "address", "tried_at"),
    )
    off_record: ClassVar[bool] = True

    id: Mapped[Key]
    name: Mapped[Words]
    address: Mapped[Words]
    tried_at: Mapped[Moment]


class ApiToken(Versioned, Base):
    """A key with which a program acts for an account, within a scope."""

    __tablename__ = "api_token"
    __table_args__ = (UniqueConstraint("mark"),)

    id: Mapped[Key]
    account_id: Mapped[int] = key_of("account")
    name: Mapped[Words]
    mark: Mapped[Words]
    """Hash of the key; the key itself is shown once and kept nowhere."""
    scope: Mapped[Words]
    """'read', or 'read and write'."""
    given_at: Mapped[Moment]
    ends_at: Mapped[MaybeMoment]
    withdrawn_at: Mapped[MaybeMoment]
