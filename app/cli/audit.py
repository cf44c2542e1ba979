"""supports audit: what was written, by whom, and whether the record is whole."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated

import typer

from app.cli.options import RegisterAt
from supports.errors import SupportsError

app = typer.Typer(no_args_is_help=True, help="The record of all that was written.")

_Day = Annotated[datetime, typer.Argument(formats=["%Y-%m-%d"], help="Day, counted to its end.")]
_Support = Annotated[str, typer.Option("--support", help="Only this support.")]
_Line = Annotated[str, typer.Option("--line", help="Only this line.")]
_Change = Annotated[str, typer.Option("--change", help="Only this change.")]


@app.command()
def verify(register: RegisterAt = None) -> None:
    """Check that no batch of the record was altered, taken out or put in."""
    from app.settings import open_register
    from supports.audit import first_break
    from supports.queries.audit_head import audit_head, clocks_set_back

    with open_register(register).reading() as session:
        broken = first_break(session)
        if broken is not None:
            raise SupportsError(
                "the record was tampered with",
                where=f"batch {broken.id}, {broken.action}",
                remedy="Compare with the last good backup and with the heads on printed papers",
            )
        print(f"The record is whole. Head: {audit_head(session)}")
        for one in clocks_set_back(session):
            print(f"A clock was set back: {one}. Order and content of the record hold.")


@app.command()
def show(
    last: Annotated[int, typer.Option(help="How many of the newest.")] = 20,
    register: RegisterAt = None,
) -> None:
    """List what was written, newest last."""
    from sqlalchemy import func, select

    from app.settings import open_register
    from supports.model import AuditBatch, AuditEntry

    rows = select(AuditBatch, func.count(AuditEntry.id)).join(
        AuditEntry, AuditEntry.batch_id == AuditBatch.id
    )
    query = rows.group_by(AuditBatch.id).order_by(AuditBatch.id.desc()).limit(last)
    with open_register(register).reading() as session:
        for batch, count in reversed(session.execute(query).all()):
            print(
                f"{batch.id:>5}  {batch.written_at:%Y-%m-%d %H:%M}  {batch.actor:<24} "
                f"{batch.action:<26} {count:>5} row{'' if count == 1 else 's'}  "
                f"{batch.reason or ''}".rstrip()
            )


@app.command("as-of")
def as_of(
    day: _Day, support: _Support = "", line: _Line = "", change: _Change = "",
    register: RegisterAt = None,
) -> None:  # fmt: skip
    """Show a support, a line or a change as the register knew it at the end of a day."""
    from app.past import end_of, page_as_of
    from app.settings import open_register

    with open_register(register).reading() as session:
        print("\n".join(page_as_of(session, end_of(day), (support, line, change))))


@app.command()
def between(
    since: _Day, until: _Day, support: _Support = "", line: _Line = "", change: _Change = "",
    register: RegisterAt = None,
) -> None:  # fmt: skip
    """List what says something else at the end of one day than at the end of another."""
    from app.past import differences_page, end_of
    from app.settings import open_register

    with open_register(register).reading() as session:
        about = (support, line, change)
        print("\n".join(differences_page(session, (end_of(since), end_of(until)), about)))


@app.command()
def refused(register: RegisterAt = None) -> None:
    """List what somebody asked for and was refused, oldest first."""
    from sqlalchemy import select

    from app.settings import open_register
    from supports.model import Refusal

    with open_register(register).reading() as session:
        for one in session.scalars(select(Refusal).order_by(Refusal.id)):
            print(f"{one.asked_at:%Y-%m-%d %H:%M}  {one.asked_by}  {one.action}: {one.answer}")
