"""Enter people, the roles they hold, and who stands in for whom from a day to a day."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy import select

from supports.database import Register
from supports.errors import BadInput, Conflict, NotAllowed, NotReady
from supports.model import Person, PersonRole
from supports.operations.acting import Deed, deed, held_roles
from supports.queries.lookups import person_of
from supports.queries.plant_days import day_at
from supports.rules.workflow import require_roles
from supports.sentences import Sentence
from supports.vocabulary import Role

_KEEPERS = {Role.REGISTER_KEEPER, Role.COORDINATOR}


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
    if not name.strip():
        raise BadInput("a person has a name")
    if _is_empty(register):
        with register.writing(name, "", now, action="enter a person") as writing:
            writing.session.add(Person(name=name, initials=initials or None))
            writing.session.flush()
            person = person_of(writing.session, name)
            writing.session.add_all(_roles(person, roles, day_at(writing.session, now)))
        return
    with deed(register, acting, now, action="enter a person", subject=name) as act:
        require_roles("enter people", _KEEPERS, act.person.roles)
        if act.session.scalar(select(Person.id).where(Person.name == name)) is not None:
            raise Conflict(Sentence("{name} is in the register already", name=name))
        person = Person(name=name, initials=initials or None)
        act.session.add(person)
        act.session.flush()
        act.session.add_all(_roles(person, roles, act.today))


def _is_empty(register: Register) -> bool:
    with register.reading() as session:
        return session.scalar(select(Person.id).limit(1)) is None


def _roles(person: Person, roles: Collection[Role], since: date) -> list[PersonRole]:
    return [PersonRole(person_id=person.id, role=str(role), valid_from=since) for role in roles]


@dataclass(frozen=True, slots=True)
class Deputy:
    """Somebody who stands in for another in one role, from a day to a day."""

    name: str
    instead_of: str
    role: Role
    since: date
    until: date


def name_deputy(register: Register, deputy: Deputy, *, acting: str, now: datetime) -> None:
    """Name a deputy; the person stood in for does it, or whoever keeps the register.

    A deputy is a person like any other: four eyes are counted by people, never by roles.

    Raises
    ------
    NotAllowed
        Somebody else asks, or the person stood in for holds the role only as a deputy.
    """
    if deputy.until < deputy.since:
        raise BadInput("a deputy's last day is before the first", found=deputy.until.isoformat())
    with deed(register, acting, now, action="name a deputy", subject=deputy.name) as act:
        if act.person.name != deputy.instead_of:
            require_roles("name deputies of others", _KEEPERS, act.person.roles)
        _require_own_role(act, deputy)
        person = person_of(act.session, deputy.name)
        act.session.add(
            PersonRole(
                person_id=person.id,
                role=str(deputy.role),
                valid_from=deputy.since,
                valid_to=deputy.until,
                deputy_for=deputy.instead_of,
            )
        )


def _require_own_role(act: Deed, deputy: Deputy) -> None:
    holder = person_of(act.session, deputy.instead_of)
    held = held_roles(act.session, holder, deputy.since)
    if not any(role.role == deputy.role and not role.deputy_for for role in held):
        raise NotAllowed(
            Sentence(
                "{person} does not hold the role of {role} and cannot hand it on",
                person=holder.name,
                role=deputy.role,
            ),
            remedy="A deputy names no deputy",
        )


def end_role(register: Register, name: str, role: Role, *, acting: str, now: datetime) -> None:
    """End a role from tomorrow on; what was done in it stays.

    Raises
    ------
    NotReady
        The person does not hold the role, or is the last who may enter people.
    """
    with deed(register, acting, now, action="end a role", subject=name) as act:
        require_roles("end roles", _KEEPERS, act.person.roles)
        person = person_of(act.session, name)
        held = [r for r in held_roles(act.session, person, act.today) if r.role == role]
        if not held:
            raise NotReady(
                Sentence("{person} does not hold the role of {role}", person=person.name, role=role)
            )
        for one in held:
            one.valid_to = act.today
        act.session.flush()
        if not _a_keeper_remains(act):
            raise NotReady(
                "nobody would be left who may enter people",
                remedy="Give the role to somebody else first",
            )


def _a_keeper_remains(act: Deed) -> bool:
    tomorrow = act.today + timedelta(days=1)
    people = act.session.scalars(select(Person))
    held = {role.role for p in people for role in held_roles(act.session, p, tomorrow)}
    return bool(held & _KEEPERS)


def give_role(register: Register, name: str, role: Role, *, acting: str, now: datetime) -> None:
    """Give a person one more role from today on."""
    with deed(register, acting, now, action="give a role", subject=name) as act:
        require_roles("give roles", _KEEPERS, act.person.roles)
        person = person_of(act.session, name)
        if any(r.role == role for r in held_roles(act.session, person, act.today)):
            raise Conflict(
                Sentence("{person} holds the role of {role} already", person=person.name, role=role)
            )
        act.session.add_all(_roles(person, [role], act.today))
