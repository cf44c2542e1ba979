"""supports walkdown, from forms read in to the campaign signed off."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from app.answers import Answer, files_written
from app.cli.noun import Noun
from app.cli.options import ActingAs, Into, Reason, RegisterAt
from supports.vocabulary import counted

_Number = Annotated[str, typer.Argument(help="Number of the campaign.")]
_Lost = Annotated[
    list[str] | None, typer.Option(help="Whose form is lost; may be given more than once.")
]


def read_in(
    number: _Number, lost: _Lost = None, acting: ActingAs = None, register: RegisterAt = None
) -> None:
    """Declare all forms read in; missing ones and contradictions are named."""
    from app.settings import acting_person, now, open_register
    from supports.operations.walkdowns import returns as forms

    forms.read_in(
        open_register(register), number, lost=lost or (), acting=acting_person(acting), now=now()
    )
    print(f"{number} is read in. Next, by another inspector: supports walkdown review {number}")


def take_back(
    number: _Number, reason: Reason = "", acting: ActingAs = None, register: RegisterAt = None
) -> None:
    """Go back to 'forms back', for a form that turns up late."""
    from app.settings import acting_person, now, open_register
    from supports.operations.walkdowns import returns as forms

    forms.take_back(
        open_register(register), number, reason=reason, acting=acting_person(acting), now=now()
    )
    print(f"{number} takes forms again.")


def review(number: _Number, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Take the rows into the register as readings; not by who walked or keyed in."""
    from app.settings import acting_person, now, open_register
    from supports.operations.walkdowns import returns as forms

    count = forms.review(open_register(register), number, acting=acting_person(acting), now=now())
    print(f"Taken in: {counted(count, 'reading')}. Next: supports walkdown judge {number}")


def judge(number: _Number, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Judge the readings and raise findings."""
    from app.settings import acting_person, now, open_register
    from app.walkdown_tables import standing_lines
    from supports.operations.walkdowns.findings import raise_findings
    from supports.queries.plant_days import day_at

    opened = open_register(register)
    new = raise_findings(opened, number, acting=acting_person(acting), now=now())
    with opened.reading() as session:
        print("\n".join(standing_lines(session, number, day_at(session, now()))))
    print(f"{counted(len(new), 'new finding')}. Next: supports walkdown findings {number}")


def owners(number: _Number, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Declare that every finding has its owner and its day."""
    from app.settings import acting_person, now, open_register
    from supports.operations.walkdowns.closing import owners_named

    owners_named(open_register(register), number, acting=acting_person(acting), now=now())
    print(f"Every finding of {number} has an owner.")


def verdict(
    number: _Number, words: Annotated[str, typer.Argument(help="The engineer's words.")],
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Give the engineer's verdict on the readings."""
    from app.settings import acting_person, now, open_register
    from supports.operations.walkdowns.closing import give_verdict

    give_verdict(open_register(register), number, words, acting=acting_person(acting), now=now())
    print(f"The verdict on {number} is given.")


def close(number: _Number, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Sign a campaign off; blanks without a reason and ownerless findings forbid it."""
    from app.settings import acting_person, now, open_register
    from supports.operations.walkdowns.closing import sign_off

    sign_off(open_register(register), number, acting=acting_person(acting), now=now())
    print(f"{number} is signed off. Its report: supports walkdown report {number}")


def report(
    number: _Number, into: Into = Path(),
    letter: Annotated[bool, typer.Option(help="US letter paper instead of A4.")] = False,
    as_now: Annotated[
        bool, typer.Option("--now", help="As it stands now, although it is signed off.")
    ] = False,
    register: RegisterAt = None,
) -> Answer:  # fmt: skip
    """Write the close-out report as signed off; before that, the report as the campaign stands."""
    from app.settings import now, open_register
    from app.walkdown_papers import write_closeout

    with open_register(register).reading() as session:
        path = write_closeout(session, number, into, now(), letter=letter, as_now=as_now)
    return files_written([path])


def add_to(app: Noun) -> None:
    """Add these commands to the noun."""
    app.command("read-in")(read_in)
    app.command("take-back")(take_back)
    app.command("owners-named")(owners)
    for command in (review, judge, verdict, close, report):
        app.command()(command)
