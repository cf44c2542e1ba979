"""supports sheets propose, confirm, profiles: what a stranger's columns mean, said once."""

from __future__ import annotations

from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import (
    ActingAs,
    ForAllRows,
    ForcesOn,
    LeaveAside,
    ReadAs,
    Reason,
    RegisterAt,
    SheetFile,
    SheetSource,
    UpAxis,
)

app = Noun()

_AsSheet = Annotated[str, typer.Option("--as-sheet", help="Declared sheet to read it as.")]
_Sheet = Annotated[str, typer.Option("--sheet", help="The one sheet of the file that is meant.")]
_Many = list[str]


@app.command()
def propose(
    file: SheetFile,
    source: SheetSource = "",
    as_sheet: _AsSheet = "",
    register: RegisterAt = None,
) -> Answer:
    """Say what the columns of a stranger's file may mean, why, and what else; nothing is kept."""
    from app.profiles import proposal_lines, sheets_proposed
    from app.settings import open_register
    from importers.proposing import propose as propose_sheets
    from supports.queries.intake import profile_history

    proposals = propose_sheets(file, as_sheet)
    known = []
    if source:
        with open_register(register).reading() as session:
            known = [view.sheet for view in profile_history(session, source)]
    right = f"If it is right: supports sheets confirm {file} --source '...' --as YOU"
    return Answer(sheets_proposed(proposals), (*proposal_lines(proposals, known), right))


@app.command()
def confirm(
    file: SheetFile,
    source: SheetSource = "",
    sheet: _Sheet = "",
    as_sheet: _AsSheet = "",
    read: ReadAs = None,
    leave: LeaveAside = None,
    constant: ForAllRows = None,
    up: UpAxis = "",
    forces_on: ForcesOn = "",
    east: Annotated[str, typer.Option(help="The axis that points east.")] = "",
    north: Annotated[str, typer.Option(help="The axis that points north.")] = "",
    force: Annotated[_Many | None, typer.Option(help="'AXIS=HEADING' of a force, often.")] = None,
    movement: Annotated[
        _Many | None, typer.Option(help="'AXIS=HEADING' of a movement, often.")
    ] = None,
    force_unit: Annotated[str, typer.Option(help="Unit of the forces.")] = "",
    movement_unit: Annotated[str, typer.Option(help="Unit of the movements.")] = "",
    acting: ActingAs = None,
    reason: Reason = "",
    register: RegisterAt = None,
) -> None:
    """Confirm what the columns of a source mean; its next file is read in silence."""
    from app.profiles import axes_said, pairs, profile_lines
    from app.profiles import confirm as confirm_sheets
    from app.settings import acting_person, now, open_register
    from importers.confirming import Confirmation

    said = Confirmation(
        read=pairs(read or (), "--read"),
        left=tuple(leave or ()),
        constants=pairs(constant or (), "--constant"),
        axes=axes_said(up, forces_on, east, north),
        forces=pairs(force or (), "--force"),
        movements=pairs(movement or (), "--movement"),
        force_unit=force_unit,
        movement_unit=movement_unit,
    )
    kept = confirm_sheets(
        open_register(register), file, source, said, sheet=sheet, as_sheet=as_sheet,
        acting=acting_person(acting), reason=reason, now=now(),
    )  # fmt: skip
    print("\n".join(profile_lines(kept)))
    print(f"Kept for '{source}'. Next: supports sheets check {file} --source '{source}'")


@app.command()
def profiles(source: SheetSource = "", register: RegisterAt = None) -> Answer:
    """List what was confirmed of each source, by whom and when; what was replaced too."""
    from app.profiles import history_lines
    from app.settings import open_register
    from supports.queries.intake import profile_history

    with open_register(register).reading() as session:
        found = profile_history(session, source)
    return Answer(tuple(found), tuple(history_lines(found)) or ("Nothing is confirmed yet.",))
