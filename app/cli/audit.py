"""supports audit: what was written, by whom, and whether the record is whole."""

from __future__ import annotations

from typing import Annotated

import typer

from app.cli.options import RegisterAt
from supports.errors import SupportsError

app = typer.Typer(no_args_is_help=True, help="The record of all that was written.")


@app.command()
def verify(register: RegisterAt = None) -> None:
    """Check that no batch of the record was altered, taken out or put in."""
    from app.settings import open_register
    from supports.audit import first_break, head
    from supports.freezing import short

    with open_register(register).reading() as session:
        broken = first_break(session)
        if broken is not None:
            raise SupportsError(
                "the record was tampered with",
                where=f"batch {broken.id}, {broken.action}",
                remedy="Compare with the last good backup and with the heads on printed papers",
            )
        print(f"The record is whole. Head: {short(head(session))}")


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
