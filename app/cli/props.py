"""supports props: temporary props in and out, and which are in."""

from __future__ import annotations

from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import ActingAs, Reason, RegisterAt

app = Noun()

_Line = Annotated[str, typer.Argument(help="Number of the line.")]
_Number = Annotated[str, typer.Argument(help="Number on the tag of the prop.")]
_Witness = Annotated[str, typer.Option(help="Who saw it.")]


@app.command("in")
def put_in(
    line: _Line, number: _Number,
    at: Annotated[
        str, typer.Option("--at", help="Distance from the start of the line: '41.35 m'.")
    ] = "",
    reason: Reason = "", witness: _Witness = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record a prop put in."""
    from app.readings import quantity
    from supports.units import Kind

    _move((line, number, "in"), quantity(at, Kind.LENGTH), (reason, witness), acting, register)


@app.command("out")
def take_out(
    line: _Line, number: _Number, reason: Reason = "", witness: _Witness = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record a prop taken out."""
    _move((line, number, "out"), None, (reason, witness), acting, register)


def _move(
    what: tuple[str, str, str], along: float | None, words: tuple[str, str],
    acting: str | None, register: str | None,
) -> None:  # fmt: skip
    from app.settings import acting_person, now, open_register
    from supports.operations.props import PropMove, move_prop

    line, number, direction = what
    reason, witness = words
    move = PropMove(line, number, direction, reason, along, witness)
    move_prop(open_register(register), move, acting=acting_person(acting), now=now())
    print(f"Prop {number} of {line} is {direction}. Count: supports props count")


@app.command()
def count(
    line: Annotated[str, typer.Option("--line", help="Only this line.")] = "",
    register: RegisterAt = None,
) -> Answer:
    """List the props that are in, with place, person and reason."""
    from app.settings import open_register
    from supports.queries.lookups import line_of
    from supports.queries.props import props_in
    from supports.vocabulary import counted

    with open_register(register).reading() as session:
        props = props_in(session, line_of(session, line).number if line else "")
    lines = (*(f"  {prop}" for prop in props), f"{counted(len(props), 'prop')} in.")
    return Answer(tuple(props), lines)
