"""supports people: who acts on the register, in which roles."""

from __future__ import annotations

from typing import Annotated

import typer

from app.cli.options import ActingAs, RegisterAt

app = typer.Typer(no_args_is_help=True, help="People and their roles.")


@app.command()
def add(
    name: str,
    role: Annotated[list[str], typer.Option("--role", help="May be given more than once.")],
    initials: str = "",
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
def list_people(register: RegisterAt = None) -> None:
    """List people with the roles they hold today."""
    from sqlalchemy import select

    from app.settings import now, open_register
    from supports.model import Person
    from supports.operations.acting import roles_of

    with open_register(register).reading() as session:
        for person in session.scalars(select(Person).order_by(Person.name)):
            held = sorted(roles_of(session, person, now().date()))
            print(f"{person.name:<28} {person.initials or '':<5} {', '.join(held)}")
