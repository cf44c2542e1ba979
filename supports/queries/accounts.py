"""Accounts of the desk: who they belong to, which sessions hold, which sign-ins failed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import ColumnElement, and_, func, select
from sqlalchemy.orm import Session

from supports.errors import NotFound
from supports.model import (
    Account,
    AccountPassword,
    ApiToken,
    DeskSession,
    FailedSignIn,
    Person,
    PersonRole,
)
from supports.queries.asked_once import by_first
from supports.queries.plant_days import day_at
from supports.sentences import Sentence, either
from supports.tags import suggestions
from supports.vocabulary import Role


@dataclass(frozen=True, slots=True)
class AccountView:
    """An account with its person and the roles held today."""

    id: int
    name: str
    person: str
    initials: str
    roles: frozenset[Role]
    open: bool
    scope: str = "read and write"


@dataclass(frozen=True, slots=True)
class SignedIn:
    """Who a session belongs to, and when its use was last written down."""

    account: AccountView
    seen_at: datetime


def any_account(session: Session) -> bool:
    """Return whether anybody can sign in at all."""
    return session.scalar(select(Account.id).limit(1)) is not None


def accounts(session: Session, today: date) -> list[AccountView]:
    """Return all accounts by name, closed ones too."""
    query = (
        select(Account, Person, PersonRole.role)
        .join(Person, Person.id == Account.person_id)
        .outerjoin(PersonRole, (PersonRole.person_id == Person.id) & _held(today))
        .order_by(Account.name)
    )
    held = by_first(((account, person), role) for account, person, role in session.execute(query))
    return [
        _shown(account, person, frozenset(Role(one) for one in roles if one is not None))
        for (account, person), roles in held.items()
    ]


def account_named(session: Session, name: str) -> Account:
    """Return an account by what is typed to sign in."""
    found = session.scalar(select(Account).where(Account.name == sign_in_name(name)))
    if found is not None:
        return found
    near = suggestions(name, session.scalars(select(Account.name)))
    raise NotFound(
        Sentence("there is no account '{name}'", name=name),
        remedy=Sentence("Did you mean {near}?", near=either(near)) if near else "",
    )


def sign_in_name(typed: str) -> str:
    """Return a name as accounts are kept: without blanks around it, in small letters."""
    return typed.strip().casefold()


def password_of(session: Session, name: str) -> tuple[int, str] | None:
    """Return id and hash of an open account that has a password."""
    query = (
        select(Account.id, AccountPassword.hash)
        .join(AccountPassword, AccountPassword.account_id == Account.id)
        .where(Account.name == sign_in_name(name), Account.closed_at.is_(None))
    )
    row = session.execute(query).one_or_none()
    return None if row is None else (row[0], row[1])


def account_outside(session: Session, outside_name: str) -> int | None:
    """Return the id of the open account that belongs to a name at the site's sign-in service."""
    return session.scalar(
        select(Account.id).where(Account.outside_name == outside_name, Account.closed_at.is_(None))
    )


def account_in_session(session: Session, mark: str, now: datetime) -> SignedIn | None:
    """Return who a session belongs to; None if it has ended or the account is closed."""
    query = (
        select(Account, Person, PersonRole.role, DeskSession.seen_at)
        .join(DeskSession, DeskSession.account_id == Account.id)
        .join(Person, Person.id == Account.person_id)
        .outerjoin(PersonRole, (PersonRole.person_id == Person.id) & _held(day_at(session, now)))
        .where(DeskSession.mark == mark, DeskSession.ends_at > now, Account.closed_at.is_(None))
    )
    rows = session.execute(query).all()
    if not rows:
        return None
    account, person, _, seen_at = rows[0]
    roles = frozenset(Role(row.role) for row in rows if row.role is not None)
    return SignedIn(_shown(account, person, roles), seen_at)


def account_with_token(session: Session, mark: str, now: datetime) -> AccountView | None:
    """Return who a token acts for; None if it holds no more."""
    query = (
        select(Account, ApiToken.scope)
        .join(ApiToken, ApiToken.account_id == Account.id)
        .where(ApiToken.mark == mark, ApiToken.withdrawn_at.is_(None))
        .where(ApiToken.ends_at.is_(None) | (ApiToken.ends_at > now))
        .where(Account.closed_at.is_(None))
    )
    row = session.execute(query).one_or_none()
    return None if row is None else _view(session, row[0], day_at(session, now), row[1])


def failures_of(session: Session, name: str, address: str, since: datetime) -> tuple[int, int]:
    """Return how many sign-ins failed since a moment, by the name typed and from the address."""
    count = select(func.count(FailedSignIn.id)).where(FailedSignIn.tried_at > since)
    by_name = count.where(FailedSignIn.name == sign_in_name(name))
    from_there = count.where(FailedSignIn.address == address)
    return session.scalar(by_name) or 0, session.scalar(from_there) or 0


def tokens_of(session: Session, account_id: int) -> list[ApiToken]:
    """Return the tokens of an account, the newest first."""
    query = select(ApiToken).where(ApiToken.account_id == account_id).order_by(ApiToken.id.desc())
    return list(session.scalars(query))


def _view(
    session: Session, account: Account, today: date, scope: str = "read and write"
) -> AccountView:
    person = session.get_one(Person, account.person_id)
    held = select(PersonRole.role).where(PersonRole.person_id == person.id, _held(today))
    return _shown(account, person, frozenset(map(Role, session.scalars(held))), scope)


def _held(today: date) -> ColumnElement[bool]:
    return and_(
        PersonRole.valid_from.is_(None) | (PersonRole.valid_from <= today),
        PersonRole.valid_to.is_(None) | (PersonRole.valid_to >= today),
    )


def _shown(
    account: Account, person: Person, roles: frozenset[Role], scope: str = "read and write"
) -> AccountView:
    return AccountView(
        account.id, account.name, person.name, person.initials or "", roles,
        account.closed_at is None, scope,
    )  # fmt: skip
