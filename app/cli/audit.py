"""supports audit: what was written, by whom, and whether the record is whole."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import RegisterAt
from supports.errors import SupportsError

app = Noun()

SHOWN = 10
"""Departures named in a message; more are only hinted at."""

_Day = Annotated[datetime, typer.Argument(formats=["%Y-%m-%d"], help="Day, counted to its end.")]
_Support = Annotated[str, typer.Option("--support", help="Only this support.")]
_Line = Annotated[str, typer.Option("--line", help="Only this line.")]
_Change = Annotated[str, typer.Option("--change", help="Only this change.")]


@app.command()
def verify(
    rows: Annotated[
        bool, typer.Option("--rows", help="Hold every row against the record too; takes longer.")
    ] = False,
    register: RegisterAt = None,
) -> Answer:
    """Check that no batch of the record was altered, taken out or put in."""
    from app.settings import open_register
    from app.shapes import Whole
    from supports.audit import first_break
    from supports.queries.audit_head import audit_head, clocks_set_back
    from supports.queries.rows_and_record import departures

    with open_register(register).reading() as session:
        broken = first_break(session)
        if broken is not None:
            raise SupportsError(
                "the record was tampered with",
                where=f"batch {broken.id}, {broken.action}",
                remedy="Compare with the last good backup and with the heads on printed papers",
            )
        head = str(audit_head(session))
        back = clocks_set_back(session)
        departed = [str(one) for one in departures(session)] if rows else []
    if departed:
        more = "; ..." if len(departed) > SHOWN else ""
        raise SupportsError(
            "rows were changed past the program, by an upgrade or by hand",
            found=f"{'; '.join(departed[:SHOWN])}{more}",
            remedy="Compare with the last good backup; the record tells what they said",
        )
    told = ["Every row says what the record says."] if rows else []
    told += [f"A clock was set back: {one}. Order and content of the record hold." for one in back]
    shape = Whole(whole=True, head=head, clocks_set_back=tuple(map(str, back)), rows_held=rows)
    return Answer(shape, (f"The record is whole. Head: {head}", *told))


@app.command()
def show(
    last: Annotated[int, typer.Option(help="How many of the newest.")] = 20,
    register: RegisterAt = None,
) -> Answer:
    """List what was written, newest last."""
    from app.looked_up.record import batches
    from app.settings import open_register

    with open_register(register).reading() as session:
        return batches(session, last)


@app.command("as-of")
def as_of(
    day: _Day, support: _Support = "", line: _Line = "", change: _Change = "",
    register: RegisterAt = None,
) -> Answer:  # fmt: skip
    """Show a support, a line or a change as the register knew it at the end of a day."""
    from app.past import as_of_day
    from app.settings import open_register
    from supports.queries.plant_days import end_of_day

    with open_register(register).reading() as session:
        return as_of_day(session, end_of_day(session, day), (support, line, change))


@app.command()
def between(
    since: _Day, until: _Day, support: _Support = "", line: _Line = "", change: _Change = "",
    register: RegisterAt = None,
) -> Answer:  # fmt: skip
    """List what says something else at the end of one day than at the end of another."""
    from app.past import differences_between
    from app.settings import open_register
    from supports.queries.plant_days import end_of_day

    with open_register(register).reading() as session:
        about = (support, line, change)
        return differences_between(
            session, (end_of_day(session, since), end_of_day(session, until)), about
        )


@app.command()
def refused(register: RegisterAt = None) -> Answer:
    """List what somebody asked for and was refused, oldest first."""
    from app.looked_up.record import refusals
    from app.settings import open_register

    with open_register(register).reading() as session:
        return refusals(session)
