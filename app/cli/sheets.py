"""supports sheets: spreadsheets in, checked before anything is stored."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from app.answers import Answer, Files, print_lines
from app.cli import sheets_doubts, sheets_joining, sheets_profiles
from app.cli.noun import Noun
from app.cli.options import ActingAs, Reason, RegisterAt, SheetDay, SheetFile, SheetSource

app = Noun()
for part in (sheets_profiles, sheets_joining, sheets_doubts):
    app.registered_commands += part.app.registered_commands

_Back = Annotated[
    Path | None, typer.Option(help="Write the file once more, with a column of its findings.")
]
_Every = Annotated[bool, typer.Option(help="Show every finding, not the first of each code.")]


@app.command()
def blank(file: Annotated[Path, typer.Argument(help="Workbook to write.")]) -> Answer:
    """Write an empty workbook with the headings that are understood."""
    from importers.template import write_blank

    write_blank(file)
    return Answer(Files((str(file),)), (f"Fill in {file}, then: supports sheets check {file}",))


@app.command()
def check(
    file: SheetFile,
    source: SheetSource = "",
    on: SheetDay = None,
    every: _Every = False,
    findings_back: _Back = None,
    register: RegisterAt = None,
) -> Answer:
    """Read a file and say what would be stored; nothing is."""
    from app.intake import file_checked, hand_back, preview, read_against
    from app.progress import progress_shown
    from app.settings import open_register, today

    opened, day = open_register(register), on.date() if on else None
    with progress_shown() as told:
        result, plan = read_against(opened, file, today(opened), source=source, on=day, told=told)
    said = (*preview(result, plan, every=every), *hand_back(file, result, findings_back))
    return Answer(file_checked(result, plan), said)


@app.command("import")
def import_file(
    file: SheetFile,
    source: SheetSource = "",
    on: SheetDay = None,
    acting: ActingAs = None,
    reason: Reason = "",
    register: RegisterAt = None,
    accept_the_good: Annotated[
        bool, typer.Option(help="Store the good rows although others have faults.")
    ] = False,
    findings_back: _Back = None,
) -> None:
    """Read a file and store it in one transaction, or not at all."""
    from app.intake import brought_words, hand_back, preview, read_against, store
    from app.progress import progress_shown
    from app.settings import acting_person, now, open_register, today

    opened = open_register(register)
    day = on.date() if on else None
    with progress_shown() as told:
        result, plan = read_against(opened, file, today(opened), source=source, on=day, told=told)
    print_lines((*preview(result, plan, every=False), *hand_back(file, result, findings_back)))
    with progress_shown() as told:
        brought = store(
            opened,
            result,
            plan,
            acting=acting_person(acting),
            reason=reason or f"import of {file.name}",
            now=now(),
            accept_the_good=accept_the_good,
            told=told,
        )
    print(brought_words(brought))
