"""Enter people and the roles they hold."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from sqlalchemy import select

from supports.database import Register
from supports.errors import Conflict
from supports.model import Person, PersonRole
from supports.operations.acting import actor
from supports.rules.workflow import require_roles
from supports.vocabulary import Role


def add_person(
    register: Register,
    name: str,
    roles: Collection[Role],
    *,
    acting: str,
    now: datetime,
    initials: str = "",
) -> None:
    """Enter a person with roles; the first person of a register enters themself.

    Raises
    ------
    Conflict
        The name is taken.
    NotAllowed
        The acting person is not the register keeper.
    """
    with register.writing(acting or name, "", now, action="enter a person") as writing:
        session = writing.session
        if session.scalar(select(Person.id).limit(1)) is not None:
            held = actor(session, acting, now.date()).roles
            require_roles("enter people", {Role.REGISTER_KEEPER, Role.COORDINATOR}, held)
        if session.scalar(select(Person.id).where(Person.name == name)) is not None:
            raise Conflict(f"{name} is in the register already")
        person = Person(name=name, initials=initials or None)
        session.add(person)
        session.flush()
        for role in roles:
            session.add(PersonRole(person_id=person.id, role=str(role), valid_from=now.date()))
