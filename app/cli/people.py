"""supports people: who acts on the register, in which roles, and who stands in for whom."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING, Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import ActingAs, RegisterAt

if TYPE_CHECKING:
    from supports.model import PersonRole

app = Noun()

_Role = Annotated[str, typer.Option("--role", help="The role, in the register's words.")]
_Day = Annotated[datetime, typer.Option(formats=["%Y-%m-%d"], help="Year-month-day.")]


_Name = Annotated[str, typer.Argument(help="Name of the person.")]


@app.command()
def add(
    name: _Name,
    role: Annotated[list[str], typer.Option("--role", help="May be given more than once.")],
    initials: Annotated[str, typer.Option(help="Short for the name.")] = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Enter a person; the first one of a register enters themself."""
    from app.settings import acting_person, now, open_register
    from app.words import word
    from supports.operations.people import add_person
    from supports.vocabulary import Role

    add_person(
        open_register(register),
        name,
        [word(Role, text) for text in role],
        acting=acting_person(acting),
        now=now(),
        initials=initials,
    )
    print(f"{name} is entered as {', '.join(role)}.")


@app.command("list")
def list_people(register: RegisterAt = None) -> Answer:
    """List people with the roles they hold today, as deputies too."""
    from sqlalchemy import select

    from app.fitting import table
    from app.settings import now, open_register
    from app.shapes import PersonRow
    from supports.model import Person
    from supports.operations.acting import held_roles
    from supports.queries.plant_days import day_at

    with open_register(register).reading() as session:
        rows = tuple(
            PersonRow(
                person.name,
                person.initials or "",
                _roles(held_roles(session, person, day_at(session, now()))),
            )
            for person in session.scalars(select(Person).order_by(Person.name))
        )
    cells = [(one.name, one.initials, ", ".join(one.roles)) for one in rows]
    return Answer(rows, table(cells, ("name", "", "roles")))


def _roles(held: Iterable[PersonRole]) -> tuple[str, ...]:
    """Return roles in words, those of a deputy with whom and till when."""
    return tuple(
        sorted(
            f"{one.role} for {one.deputy_for} till {one.valid_to}" if one.deputy_for else one.role
            for one in held
        )
    )


@app.command("give-role")
def give(name: _Name, role: _Role, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Give a person one more role from today on."""
    from app.settings import acting_person, now, open_register
    from app.words import word
    from supports.operations.people import give_role
    from supports.vocabulary import Role

    who = acting_person(acting)
    give_role(open_register(register), name, word(Role, role), acting=who, now=now())
    print(f"{name} is {role} from today on.")


@app.command("end-role")
def end(name: _Name, role: _Role, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """End a role of a person; today is its last day."""
    from app.settings import acting_person, now, open_register
    from app.words import word
    from supports.operations.people import end_role
    from supports.vocabulary import Role

    who = acting_person(acting)
    end_role(open_register(register), name, word(Role, role), acting=who, now=now())
    print(f"{name} is {role} till today.")


@app.command()
def deputy(
    name: _Name,
    instead_of: Annotated[str, typer.Option(help="Whom they stand in for.")],
    role: _Role,
    since: _Day,
    until: _Day,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Name somebody who stands in for another in one role, from a day to a day."""
    from app.settings import acting_person, now, open_register
    from app.words import word
    from supports.operations.people import Deputy, name_deputy
    from supports.vocabulary import Role

    one = Deputy(name, instead_of, word(Role, role), since.date(), until.date())
    name_deputy(open_register(register), one, acting=acting_person(acting), now=now())
    print(f"{name} is {role} for {instead_of}, {since.date()} to {until.date()}.")
