"""supports stops: travel stops in and out, and how many are in."""

from __future__ import annotations

from typing import Annotated

import typer

from app.cli.options import ActingAs, Reason, RegisterAt, SupportTag, tag_and_position

app = typer.Typer(no_args_is_help=True, help="Travel stops, by pin number.")

_Pin = Annotated[str, typer.Argument(help="Number stamped on the pin.")]
_Witness = Annotated[str, typer.Option(help="Who saw it.")]


@app.command("in")
def put_in(
    tag: SupportTag, pin: _Pin, reason: Reason = "", witness: _Witness = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record a travel stop put in."""
    _move(tag, pin, "in", (reason, witness), acting, register)


@app.command("out")
def take_out(
    tag: SupportTag, pin: _Pin, reason: Reason = "", witness: _Witness = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record a travel stop taken out."""
    _move(tag, pin, "out", (reason, witness), acting, register)


def _move(
    tag: str, pin: str, direction: str, words: tuple[str, str], acting: str | None,
    register: str | None,
) -> None:  # fmt: skip
    from app.settings import acting_person, now, open_register
    from supports.operations.travel_stops import StopMove, move_stop

    support, position = tag_and_position(tag)
    move = StopMove(support, position, pin, direction, *words)
    move_stop(open_register(register), move, acting=acting_person(acting), now=now())
    print(f"Travel stop {pin} of {tag} is {direction}.")


@app.command()
def count(register: RegisterAt = None) -> None:
    """List the travel stops that are in, with their unit, and count them."""
    from app.settings import open_register
    from supports.queries.support_views import support_views

    total = 0
    with open_register(register).reading() as session:
        for view in support_views(session):
            for unit in view.units:
                for pin in unit.stops_in:
                    print(f"  {pin:<10} {view.tag}/{unit.position}  serial {unit.serial}")
                    total += 1
    print(f"{total} travel stops are in.")
