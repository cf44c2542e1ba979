"""supports unit: the history of a unit, and a plate that nobody can read."""

from __future__ import annotations

from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import ActingAs, RegisterAt, SupportTag, tag_and_position

app = Noun()


@app.command()
def history(tag: SupportTag, register: RegisterAt = None) -> Answer:
    """List every setting and reading of the unit at a support, oldest first."""
    from app.looked_up.supports import unit_history
    from app.settings import open_register

    with open_register(register).reading() as session:
        return unit_history(session, tag)


@app.command("provisional-plate")
def provisional_plate(
    tag: SupportTag,
    value: Annotated[
        list[str], typer.Option(help="'Nameplate load = 20 kN', by the sheet's heading; repeated.")
    ],
    drawing: Annotated[str, typer.Option(help="Drawing or certificate it was identified by.")],
    measured: Annotated[str, typer.Option(help="What was measured on site, with what.")],
    second: Annotated[str, typer.Option("--with", help="The other of the two: name or initials.")],
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """State a plate that nobody can read, as two people hold it to be, till the next walk."""
    from app.plates import plate_values
    from app.settings import acting_person, now, open_register
    from supports.operations.provisional_plates import PlateFound, state_provisional_plate

    found = PlateFound(plate_values(value), drawing, measured, second)
    state_provisional_plate(
        open_register(register), tag_and_position(tag), found, acting=acting_person(acting),
        now=now(),
    )  # fmt: skip
    print(f"{tag}: provisional plate, marked so on every paper; it runs out with the next walk.")
