"""supports sheets doubts, declare, settle: unclear values, and who says what they are."""

from __future__ import annotations

from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import ActingAs, Reason, RegisterAt, SheetFile, SheetSource

app = Noun()


@app.command()
def doubts(
    of_file: Annotated[str, typer.Option("--file", help="Name of one file only.")] = "",
    tag: Annotated[str, typer.Option(help="One support or line only.")] = "",
    every: Annotated[bool, typer.Option(help="Show every value, not three of a kind.")] = False,
    register: RegisterAt = None,
) -> Answer:
    """List the values that were not taken and wait for an answer, alike ones together."""
    from app.doubts import HOW_ANSWERED, doubt_lines
    from app.settings import open_register
    from supports.queries.intake import doubts as waiting

    with open_register(register).reading() as session:
        found = waiting(session, file_name=of_file, tag=tag)
    lines = tuple(doubt_lines(found, every=every))
    told = (*lines, HOW_ANSWERED) if lines else ("No value waits for an answer.",)
    return Answer(tuple(found), told)


@app.command()
def declare(
    file: SheetFile,
    cells: Annotated[str, typer.Argument(help="'Settings!D3', 'Settings!D3:D40', 'Settings!D'.")],
    unit: Annotated[str, typer.Argument(help="The unit that these numbers are in.")],
    source: SheetSource = "",
    acting: ActingAs = None,
    reason: Reason = "",
    register: RegisterAt = None,
) -> None:
    """Say in which unit doubtful numbers of a file are; then import the same file again."""
    from app.doubts import declare as declare_cells
    from app.settings import acting_person, now, open_register

    values = declare_cells(
        open_register(register), file, cells, unit, source=source, acting=acting_person(acting),
        reason=reason, now=now(),
    )  # fmt: skip
    print(
        f"{len(values)} values are in {unit}, first {values[0].sheet} {values[0].cell} "
        f"'{values[0].text}'. Next: supports sheets import {file}"
    )


@app.command()
def settle(
    number: Annotated[int, typer.Argument(help="Number of the value, from 'sheets doubts'.")],
    reason: Reason = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """End the waiting of a value that nobody can answer any more; it stays unknown."""
    from app.settings import acting_person, now, open_register
    from supports.operations.intake import settle_doubt

    settle_doubt(
        open_register(register), number, acting=acting_person(acting), now=now(), reason=reason
    )
    print(f"Value {number} waits no longer; it stays unknown.")
