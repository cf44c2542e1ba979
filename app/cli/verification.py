"""supports verification: published values held against ours, here and now."""

from __future__ import annotations

from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun

app = Noun()


@app.callback()
def verification() -> None:
    """Group the commands of this noun."""


@app.command("run")
def run_checks(
    every: Annotated[
        bool, typer.Option("--all", help="Print every value, not only counts.")
    ] = False,
) -> Answer:
    """Work out every published value anew; exit code 1 if one differs by more than allowed."""
    from app.verified import counted_lines, every_line, values_checked
    from supports.verification import check_all

    checked = check_all()
    shown = checked if every else [one for one in checked if not one.agrees]
    return Answer(
        tuple(values_checked(checked)),
        (*every_line(shown), *counted_lines(checked)),
        exit_code=int(any(not one.agrees for one in checked)),
    )
