"""supports stops: travel stops in and out, how many are in, and whether that holds up start-up."""

from __future__ import annotations

from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import ActingAs, Reason, RegisterAt, SupportTag, tag_and_position

app = Noun()

_Pin = Annotated[str, typer.Argument(help="Number stamped on the pin.")]
_Witness = Annotated[str, typer.Option(help="Who saw it.")]
_Line = Annotated[str, typer.Option("--line", help="Only this line.")]


@app.command("in")
def put_in(
    tag: SupportTag, pin: _Pin, reason: Reason = "", witness: _Witness = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record a travel stop put in."""
    _move(tag, pin, "in", (reason, witness), ("", ""), acting, register)


@app.command("out")
def take_out(
    tag: SupportTag, pin: _Pin, reason: Reason = "", witness: _Witness = "",
    found: Annotated[str, typer.Option(help="Where it was found, if away from its unit.")] = "",
    freed_by: Annotated[str, typer.Option(help="Who saw that the unit is really free.")] = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record a travel stop taken out, or found away from its unit."""
    _move(tag, pin, "out", (reason, witness), (found, freed_by), acting, register)


def _move(
    tag: str, pin: str, direction: str, words: tuple[str, str], found: tuple[str, str],
    acting: str | None, register: str | None,
) -> None:  # fmt: skip
    from app.settings import acting_person, now, open_register
    from supports.operations.travel_stops import StopMove, move_stop

    support, position = tag_and_position(tag)
    move = StopMove(support, position, pin, direction, *words, *found)
    move_stop(open_register(register), move, acting=acting_person(acting), now=now())
    print(f"Travel stop {pin} of {tag} is {direction}. Count: supports stops count")


@app.command()
def count(line: _Line = "", register: RegisterAt = None) -> Answer:
    """List the travel stops that are in, with unit, person and reason, and count them by line."""
    from app.looked_up.site import pins_counted
    from app.settings import open_register

    with open_register(register).reading() as session:
        return pins_counted(session, line)


@app.command("start-up")
def start_up(
    line: _Line = "",
    every: Annotated[bool, typer.Option("--every", help="List all that is not known.")] = False,
    register: RegisterAt = None,
) -> Answer:
    """Answer 'may we start up?' as far as pipe supports are concerned: yes, no or not known."""
    from app.looked_up.site import start_up_answered
    from app.settings import now, open_register

    with open_register(register).reading() as session:
        return start_up_answered(session, now(), line, every=every)
