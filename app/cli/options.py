"""Options that many commands share."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from app.completions import completed_from
from app.words import tag_and_position

__all__ = ["tag_and_position"]

RegisterAt = Annotated[
    str | None,
    typer.Option("--register", help="File or PostgreSQL address of the register."),
]
ActingAs = Annotated[
    str | None,
    typer.Option(
        "--as", help="Who you are: name or initials.", autocompletion=completed_from("person")
    ),
]
TimeZone = Annotated[
    str,
    typer.Option(
        "--time-zone", help="Zone of the plant's clock, e.g. Europe/Berlin; UTC if left out."
    ),
]
Reason = Annotated[str, typer.Option("--reason", help="Why, in your own words.")]
ReadAs = Annotated[list[str] | None, typer.Option("--read", help="'HEADING=COLUMN [unit]', often.")]
LeaveAside = Annotated[
    list[str] | None, typer.Option("--leave", help="Heading to leave aside, often.")
]
ForAllRows = Annotated[
    list[str] | None, typer.Option("--constant", help="'COLUMN=VALUE' for all rows, often.")
]
UpAxis = Annotated[str, typer.Option("--up", help="The axis that points up: +z, -z, +y, ...")]
ForcesOn = Annotated[
    str, typer.Option("--forces-on", help="What the forces act on: support, pipe.")
]
Into = Annotated[Path, typer.Option("--into", help="Folder to write to.")]
SupportTag = Annotated[
    str,
    typer.Argument(
        help="Tag, with the unit where there are two: PS-12/B",
        autocompletion=completed_from("tag"),
    ),
]
SheetFile = Annotated[Path, typer.Argument(help="Workbook, text file, or folder of text files.")]
SheetSource = Annotated[
    str, typer.Option("--source", help="Where such files come from, e.g. 'stress group'.")
]
SheetDay = Annotated[
    datetime | None,
    typer.Option("--on", formats=["%Y-%m-%d"], help="The day that the file speaks of."),
]
ChangeNumber = Annotated[
    str, typer.Argument(help="Number of the change.", autocompletion=completed_from("change"))
]
OrderNumber = Annotated[
    str, typer.Argument(help="Number of the work order.", autocompletion=completed_from("order"))
]
LineNumber = Annotated[
    str, typer.Argument(help="Line number.", autocompletion=completed_from("line"))
]
