"""supports change: from the wish to the approver's word and the closing."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from app.cli.options import ActingAs, ChangeNumber, Into, Reason, RegisterAt

app = typer.Typer(no_args_is_help=True, help="Changes to lines.")

_OnLine = Annotated[list[str], typer.Option("--line", help="Line touched; may be repeated.")]
_Until = Annotated[datetime | None, typer.Option(formats=["%Y-%m-%d"], help="End date.")]


@app.command()
def new(
    title: str,
    line: _OnLine,
    reason: Reason = "",
    number: Annotated[str, typer.Option(help="Number, if the site gives its own.")] = "",
    duration: Annotated[str, typer.Option(help="permanent, temporary or emergency")] = "permanent",
    until: _Until = None,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Note a change."""
    from app.settings import acting_person, now, open_register
    from supports.operations.changes import Wish, note_change

    ends_on = until.date() if until else None
    wish = Wish(title, reason, tuple(line), duration, ends_on, number)
    given = note_change(open_register(register), wish, acting=acting_person(acting), now=now())
    print(f"{given} is noted. Next: supports change weights {given} FILE")


@app.command()
def weights(
    number: ChangeNumber, file: Path, acting: ActingAs = None, register: RegisterAt = None
) -> None:
    """Read what is added and taken off, from a sheet 'Weight items'."""
    from importers.weights import read_weights

    from app.settings import acting_person, now, open_register
    from supports.operations.changes import add_weights

    items = read_weights(file)
    add_weights(open_register(register), number, items, acting=acting_person(acting), now=now())
    total = sum(item.mass for item in items)
    print(f"{len(items)} items, net {total:+.1f} kg.")


@app.command()
def assess(
    number: ChangeNumber,
    calculation: Annotated[str, typer.Option(help="Calculation number.")],
    revision: Annotated[str, typer.Option(help="Calculation revision.")],
    aim: Annotated[str, typer.Option(help="What the new loads are to achieve.")],
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Judge every support on the change's lines and freeze the result."""
    from app.settings import acting_person, now, open_register
    from app.tables import assessment_lines
    from supports.operations.changes import assess_change

    content = assess_change(
        open_register(register),
        number,
        (calculation, revision),
        aim=aim,
        acting=acting_person(acting),
        now=now(),
    )
    print("\n".join(assessment_lines(content)))
    print(f"Next, by another stress engineer: supports change sign {number} check")


@app.command()
def sign(
    number: ChangeNumber,
    act: Annotated[str, typer.Argument(help="check, approve, 'send back' or refuse")],
    reason: Reason = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Check, approve, send back or refuse the newest assessment."""
    from app.settings import acting_person, now, open_register
    from app.words import word
    from supports.operations.changes import Decision, decide_change

    state = decide_change(
        open_register(register),
        number,
        word(Decision, act),
        acting=acting_person(acting),
        reason=reason,
        now=now(),
    )
    print(f"{number} now stands at: {state}.")


@app.command()
def show(number: ChangeNumber, register: RegisterAt = None) -> None:
    """Show where a change stands, its assessment and signatures, and what blocks its closing."""
    from app.settings import open_register
    from app.tables import assessment_lines
    from supports.operations.closing import closing_blockers
    from supports.queries.change_views import (
        change_view,
        content_of,
        latest_assessment,
        signatures_on,
    )
    from supports.queries.lookups import change_of

    with open_register(register).reading() as session:
        view = change_view(session, number)
        print(f"{view.number} {view.title}: {view.state}; lines {', '.join(view.lines)}")
        assessment = latest_assessment(session, view.id)
        print("\n".join(assessment_lines(content_of(assessment))))
        for signed in signatures_on(session, "assessment", assessment.id):
            print(f"  {signed.meaning} by {signed.person} on {signed.signed_on} {signed.reason}")
        for blocker in closing_blockers(session, change_of(session, number)):
            print(f"  blocks closing: {blocker}")


@app.command("list")
def list_changes(register: RegisterAt = None) -> None:
    """List all changes and where they stand."""
    from app.settings import open_register
    from supports.queries.change_views import change_numbers

    with open_register(register).reading() as session:
        for number, title, state in change_numbers(session):
            print(f"{number:<14} {state:<22} {title}")


@app.command()
def summary(number: ChangeNumber, into: Into = Path(), register: RegisterAt = None) -> None:
    """Write the load-change summary for the engineer, as PDF and workbook."""
    from app.papers import write_summary
    from app.settings import now, open_register

    with open_register(register).reading() as session:
        for path in write_summary(session, number, into, now()):
            print(path)


@app.command()
def close(number: ChangeNumber, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Close a change, once nothing stands in the way."""
    from app.settings import acting_person, now, open_register
    from supports.operations.closing import close_change

    close_change(open_register(register), number, acting=acting_person(acting), now=now())
    print(f"{number} is closed.")
