"""supports support: look a support up."""

from __future__ import annotations

from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import RegisterAt, SupportTag

app = Noun()


@app.command("list")
def list_supports(
    line: Annotated[str, typer.Option(help="Only those on this line.")] = "",
    register: RegisterAt = None,
) -> Answer:
    """List supports, in order along a line or by tag."""
    from app.looked_up.supports import supports_listed
    from app.settings import open_register

    with open_register(register).reading() as session:
        return supports_listed(session, line)


_Sources = Annotated[
    bool, typer.Option("--sources", help="Where each value was read: file, sheet, cell, text.")
]


@app.command()
def show(tag: SupportTag, sources: _Sources = False, register: RegisterAt = None) -> Answer:
    """Show all that is known of a support."""
    from app.looked_up.supports import support_shown
    from app.settings import open_register

    with open_register(register).reading() as session:
        return support_shown(session, tag, sources=sources)
