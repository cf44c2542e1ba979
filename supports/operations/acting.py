"""Who acts, and in which roles today."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.errors import NotAllowed, NotFound
from supports.model import Person, PersonRole
from supports.queries.lookups import person_of
from supports.vocabulary import Role


@dataclass(frozen=True, slots=True)
class Actor:
    """A person with the roles held today."""

    id: int
    name: str
    roles: frozenset[Role]


def actor(session: Session, name: str, today: date) -> Actor:
    """Return the acting person.

    Raises
    ------
    NotAllowed
        No name was given, or nobody of that name is in the register.
    """
    if not name.strip():
        raise NotAllowed(
            "nobody is named as acting", remedy="Say who you are with --as NAME or SUPPORTS_PERSON"
        )
    try:
        person = person_of(session, name)
    except NotFound as error:
        raise NotAllowed(error.what, remedy=error.remedy) from error
    return Actor(person.id, person.name, roles_of(session, person, today))


def roles_of(session: Session, person: Person, today: date) -> frozenset[Role]:
    """Return the roles that a person holds on a day."""
    held = session.scalars(select(PersonRole).where(PersonRole.person_id == person.id))
    return frozenset(
        Role(role.role)
        for role in held
        if (role.valid_from is None or role.valid_from <= today)
        and (role.valid_to is None or today <= role.valid_to)
    )
