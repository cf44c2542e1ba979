"""supports verification: published values held against ours, here and now."""

from __future__ import annotations

from typing import Annotated

import typer

app = typer.Typer(no_args_is_help=True, help="Published values, held against what comes out here.")


@app.callback()
def verification() -> None:
    """Group the commands of this noun."""


@app.command("run")
def run_checks(
    every: Annotated[
        bool, typer.Option("--all", help="Print every value, not only counts.")
    ] = False,
) -> None:
    """Work out every published value anew; exit code 1 if one differs by more than allowed."""
    from app.verified import counted_lines, every_line
    from supports.verification import check_all

    checked = check_all()
    for line in every_line(checked) if every else every_line(c for c in checked if not c.agrees):
        print(line)
    for line in counted_lines(checked):
        print(line)
    raise typer.Exit(int(any(not one.agrees for one in checked)))
