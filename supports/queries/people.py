"""People by what they may do."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Account, Person, PersonRole
from supports.vocabulary import Role


def keepers(session: Session, today: date) -> list[str]:
    """Return the names of those who keep the register or coordinate changes on a day."""
    query = (
        select(Person.name)
        .join(PersonRole, PersonRole.person_id == Person.id)
        .where(PersonRole.role.in_([Role.REGISTER_KEEPER, Role.COORDINATOR]))
        .where(PersonRole.valid_from.is_(None) | (PersonRole.valid_from <= today))
        .where(PersonRole.valid_to.is_(None) | (PersonRole.valid_to >= today))
        .distinct()
        .order_by(Person.name)
    )
    return list(session.scalars(query))


def people_with_roles(session: Session, today: date) -> list[str]:
    """Return the names of all who hold a role on a day."""
    query = (
        select(Person.name)
        .join(PersonRole, PersonRole.person_id == Person.id)
        .where(PersonRole.valid_from.is_(None) | (PersonRole.valid_from <= today))
        .where(PersonRole.valid_to.is_(None) | (PersonRole.valid_to >= today))
        .distinct()
        .order_by(Person.name)
    )
    return list(session.scalars(query))


def people_without_account(session: Session) -> list[str]:
    """Return the names of all who cannot sign in at the desk yet."""
    query = (
        select(Person.name)
        .outerjoin(Account, Account.person_id == Person.id)
        .where(Account.id.is_(None) | Account.closed_at.is_not(None))
        .order_by(Person.name)
    )
    return list(session.scalars(query))
