"""supports sheets join, decide, decisions: whose rows these are."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import ActingAs, Reason, RegisterAt, SheetDay, SheetFile, SheetSource
from supports.plant_time import day_of

app = Noun()


@app.command()
def join(
    file: SheetFile,
    source: SheetSource = "",
    on: SheetDay = None,
    every: Annotated[bool, typer.Option(help="Show every row of each list.")] = False,
    register: RegisterAt = None,
) -> Answer:
    """Hold the names of a file against the register, in four lists; nothing is stored."""
    from app.intake import read_file
    from app.joining import four_lists, next_step
    from app.settings import open_register, today

    opened = open_register(register)
    day = today(opened)
    found = read_file(opened, file, day, source=source, on=on.date() if on else day)
    lines = (*four_lists(found, every=every), next_step(found.joined, source))
    return Answer(found.joined, lines)


@app.command()
def decide(
    name: Annotated[str, typer.Argument(help="The tag in the file, or what else names the row.")],
    source: SheetSource = "",
    same_as: Annotated[str, typer.Option(help="Support that is meant by it.")] = "",
    renamed_from: Annotated[str, typer.Option(help="Support that bears it now.")] = "",
    since: Annotated[
        datetime | None, typer.Option(formats=["%Y-%m-%d"], help="First day of the new tag.")
    ] = None,
    its_own: Annotated[bool, typer.Option(help="It is a support of its own.")] = False,
    undo: Annotated[bool, typer.Option(help="Take the decision on it back.")] = False,
    acting: ActingAs = None,
    reason: Reason = "",
    register: RegisterAt = None,
) -> None:
    """Decide by name what is meant; kept for the files of the source, undone by a new decision."""
    from app.joining import one_of
    from app.settings import acting_person, now, open_register
    from supports.operations.joining import (
        decide_its_own,
        decide_same,
        rename_support,
        undo_decision,
    )

    one_of(same_as=same_as, renamed_from=renamed_from, its_own=its_own, undo=undo)
    opened, who, moment = open_register(register), acting_person(acting), now()
    if same_as:
        decide_same(opened, source, name, same_as, acting=who, now=moment, reason=reason)
        print(f"'{name}' means {same_as} in files of '{source}'.")
    elif renamed_from:
        day = since.date() if since else day_of(moment, opened.zone)
        rename_support(
            opened, source, name, renamed_from, since=day, acting=who, now=moment, reason=reason
        )
        print(f"{renamed_from} is {name} since {day}; it is found by both.")
    elif its_own:
        decide_its_own(opened, source, name, acting=who, now=moment, reason=reason)
        print(f"'{name}' is a support of its own in files of '{source}'.")
    else:
        undo_decision(opened, source, name, acting=who, now=moment, reason=reason)
        print(f"What was decided on '{name}' in files of '{source}' holds no longer.")


@app.command()
def decisions(
    source: Annotated[str | None, typer.Option(help="Of one source only.")] = None,
    register: RegisterAt = None,
) -> Answer:
    """List who decided what on names in files, and what holds."""
    from app.joining import decision_lines
    from app.settings import open_register
    from supports.queries.joining import decision_history

    with open_register(register).reading() as session:
        found = decision_history(session, source)
    return Answer(tuple(found), tuple(decision_lines(found)) or ("Nothing is decided yet.",))
