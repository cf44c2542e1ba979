"""Who acts, in which roles today; a deed is one write by one person, and a refusal is kept too."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.database import Register, Writing
from supports.errors import NotAllowed, NotFound, NotReady, SupportsError
from supports.freezing import fingerprint
from supports.model import Person, PersonRole, Refusal, Signature
from supports.queries.lookups import person_of
from supports.queries.plant_days import day_at
from supports.vocabulary import Role


@dataclass(frozen=True, slots=True)
class Actor:
    """A person with the roles held today."""

    id: int
    name: str
    roles: frozenset[Role]


@dataclass(frozen=True, slots=True)
class Deed:
    """An open write by a person known to the register."""

    writing: Writing
    person: Actor

    @property
    def session(self) -> Session:
        """Return the session."""
        return self.writing.session

    @property
    def now(self) -> datetime:
        """Return the moment of the write."""
        return self.writing.now

    @property
    def today(self) -> date:
        """Return the day of the write."""
        return day_at(self.session, self.now)

    def sign(
        self, subject: tuple[str, int], meaning: str, covers: dict[str, str], *, reason: str = "",
        role: str = "",
    ) -> None:  # fmt: skip
        """Put the person's signature on something, bound to what it says now, part by part."""
        kind, number = subject
        self.session.add(
            Signature(
                subject=kind,
                subject_id=number,
                meaning=meaning,
                person_id=self.person.id,
                role=role or ", ".join(sorted(self.person.roles)),
                signed_at=self.now,
                fingerprint=fingerprint(covers),
                covers=covers,
                reason=reason or None,
            )
        )


@contextmanager
def deed(
    register: Register, acting: str, now: datetime, *, action: str, reason: str = "",
    subject: str = "",
) -> Iterator[Deed]:  # fmt: skip
    """Give one write by a named person; what is refused is stored as a refusal, then raised.

    Parameters
    ----------
    subject
        Number of the change or work order, or tag, that the deed is about.

    Raises
    ------
    NotAllowed
        Nobody is named, or nobody of that name is in the register.
    """
    name = _full_name(register, acting)
    try:
        with register.writing(name, reason, now, action=action) as writing:
            yield Deed(writing, actor(writing.session, name, day_at(writing.session, now)))
    except (NotAllowed, NotReady) as error:
        _keep_refusal(register, name, now, (action, subject), error)
        raise


def _full_name(register: Register, acting: str) -> str:
    with register.reading() as session:
        try:
            return person_of(session, acting).name
        except NotFound:
            return acting


def _keep_refusal(
    register: Register, name: str, now: datetime, asked: tuple[str, str], error: SupportsError
) -> None:
    action, subject = asked
    who = name or "nobody named"
    with register.writing(who, str(error), now, action=f"refused: {action}") as writing:
        writing.session.add(
            Refusal(asked_at=now, asked_by=who, action=action, subject=subject, answer=str(error))
        )


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


def held_roles(session: Session, person: Person, today: date) -> list[PersonRole]:
    """Return the roles that a person holds on a day, own ones and as deputy."""
    held = session.scalars(
        select(PersonRole).where(PersonRole.person_id == person.id).order_by(PersonRole.id)
    )
    return [
        role
        for role in held
        if (role.valid_from is None or role.valid_from <= today)
        and (role.valid_to is None or today <= role.valid_to)
    ]


def roles_of(session: Session, person: Person, today: date) -> frozenset[Role]:
    """Return the roles that a person holds on a day."""
    return frozenset(Role(role.role) for role in held_roles(session, person, today))
