"""Open and close accounts of the desk, give passwords and tokens.

Hashes are made above: nothing here sees a password or draws a key.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import BadInput, Conflict, NotAllowed, NotFound
from supports.model import Account, AccountPassword, ApiToken, DeskSession
from supports.operations.acting import deed
from supports.queries.accounts import account_named, any_account, sign_in_name
from supports.queries.lookups import person_of
from supports.rules.workflow import require_roles
from supports.sentences import Sentence, either
from supports.vocabulary import Role

_KEEPERS = {Role.REGISTER_KEEPER, Role.COORDINATOR}
SCOPES = ("read", "read and write")


@dataclass(frozen=True, slots=True)
class NewAccount:
    """An account to be opened for a person of the register.

    Parameters
    ----------
    outside_name
        Issuer and subject at the site's own sign-in service; '' where there is a password.
    """

    person: str
    name: str
    password_hash: str = ""
    outside_name: str = ""


def open_account(register: Register, new: NewAccount, *, acting: str, now: datetime) -> None:
    """Open an account for a person who is in the register already; a closed one opens again.

    Raises
    ------
    NotAllowed
        The acting person does not keep the register.
    Conflict
        The person has an account, or the name is taken.
    """
    name = sign_in_name(new.name)
    if not name or any(sign.isspace() for sign in name):
        raise BadInput("a sign-in name is one word", found=new.name)
    with deed(register, acting, now, action="open an account", subject=new.person) as act:
        require_roles("open accounts", _KEEPERS, act.person.roles)
        person = person_of(act.session, new.person)
        account = _account_for(act.session, person.id, name, now)
        account.name, account.closed_at = name, None
        account.outside_name = new.outside_name or None
        act.session.flush()
        if new.password_hash:
            _set_hash(act.session, account.id, new.password_hash, now)


def _account_for(session: Session, person_id: int, name: str, now: datetime) -> Account:
    """Return the closed account of a person, or a new one."""
    same = (Account.name == name) | (Account.person_id == person_id)
    for known in session.scalars(select(Account).where(same)):
        if known.person_id != person_id or known.closed_at is None:
            raise Conflict(
                Sentence("the person has an account already, or '{name}' is taken", name=name)
            )
        return known
    account = Account(person_id=person_id, name=name, opened_at=now)
    session.add(account)
    return account


def require_no_account(register: Register) -> None:
    """Raise unless this is the first account of the register."""
    with register.reading() as session:
        if any_account(session):
            raise NotAllowed(
                "the desk is set up already", remedy="Sign in, or ask whoever keeps the register"
            )


def set_password(
    register: Register, name: str, password_hash: str, *, acting: str, now: datetime
) -> None:
    """Give an account a new password and end its sessions; its owner does it, or a keeper."""
    with deed(register, acting, now, action="set a password", subject=name) as act:
        account = account_named(act.session, name)
        if account.person_id != act.person.id:
            require_roles("set the passwords of others", _KEEPERS, act.person.roles)
        _set_hash(act.session, account.id, password_hash, now)
        account_id = account.id
    end_sessions(register, account_id)


def close_account(register: Register, name: str, *, acting: str, now: datetime) -> None:
    """Close an account: nobody signs in with it any more, its sessions and tokens end."""
    with deed(register, acting, now, action="close an account", subject=name) as act:
        require_roles("close accounts", _KEEPERS, act.person.roles)
        account = account_named(act.session, name)
        account.closed_at = now
        account_id = account.id
    end_sessions(register, account_id)


@dataclass(frozen=True, slots=True)
class NewToken:
    """A token to be given: what it is for, the hash of its key, its scope and its end."""

    name: str
    mark: str
    scope: str
    ends_at: datetime | None = None


def give_token(
    register: Register, account: str, new: NewToken, *, acting: str, now: datetime
) -> None:
    """Give an account a token; only for oneself, as it acts with one's own roles."""
    if new.scope not in SCOPES:
        raise BadInput("the scope is not known", found=new.scope, expected=either(SCOPES))
    if not new.name.strip():
        raise BadInput("a token says what it is for")
    with deed(register, acting, now, action="give a token", subject=account) as act:
        owner = account_named(act.session, account)
        if owner.person_id != act.person.id:
            raise NotAllowed("a token is given to oneself only")
        act.session.add(
            ApiToken(
                account_id=owner.id, name=new.name.strip(), mark=new.mark, scope=new.scope,
                given_at=now, ends_at=new.ends_at,
            )
        )  # fmt: skip


def withdraw_token(register: Register, number: int, *, acting: str, now: datetime) -> None:
    """Withdraw a token; its owner does it, or a keeper."""
    with deed(register, acting, now, action="withdraw a token", subject=str(number)) as act:
        token = act.session.get(ApiToken, number)
        if token is None:
            raise NotFound(Sentence("there is no token {number}", number=str(number)))
        owner = act.session.get_one(Account, token.account_id)
        if owner.person_id != act.person.id:
            require_roles("withdraw the tokens of others", _KEEPERS, act.person.roles)
        token.withdrawn_at = now


def end_sessions(register: Register, account_id: int) -> None:
    """End every session of an account."""
    with register.off_the_record() as session:
        session.execute(delete(DeskSession).where(DeskSession.account_id == account_id))


def _set_hash(session: Session, account_id: int, password_hash: str, now: datetime) -> None:
    query = select(AccountPassword).where(AccountPassword.account_id == account_id)
    kept = session.scalar(query)
    if kept is None:
        session.add(AccountPassword(account_id=account_id, hash=password_hash, set_at=now))
    else:
        kept.hash, kept.set_at = password_hash, now
