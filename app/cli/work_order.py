"""supports work-order: written, given out as a pack, read, accepted."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from app.answers import Answer, files_written
from app.cli import work_order_control
from app.cli.noun import Noun
from app.cli.options import (
    ActingAs,
    ChangeNumber,
    Into,
    OrderNumber,
    Reason,
    RegisterAt,
    SupportTag,
    tag_and_position,
)
from supports.vocabulary import Kept, ReadAs

app = Noun()
app.registered_commands += work_order_control.app.registered_commands

_Load = Annotated[str, typer.Option("--load", help="Scale load with its unit: '22.1 kN'")]
_Pointer = Annotated[str, typer.Option("--pointer", help="Pointer with its unit: '42 mm'")]
_Day = Annotated[
    datetime | None, typer.Option("--on", formats=["%Y-%m-%d"], help="Day of the reading.")
]
_State = Annotated[str, typer.Option("--plant-state", help="Plant state at the reading.")]
_Form = Annotated[Path, typer.Argument(help="The pack's workbook, filled in.")]
_Note = Annotated[str, typer.Option("--note", help="What was odd, in your own words.")]
_By = Annotated[str, typer.Option("--read-by", help="Who read it, if not you.")]


@app.command()
def write(
    change: ChangeNumber,
    line_state: Annotated[
        str,
        typer.Option(help="Line state the work needs; the plan's, or drained where none is said."),
    ] = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Write the work order of a cleared change."""
    from app.settings import acting_person, now, open_register
    from supports.operations.work_orders import write_work_order

    number = write_work_order(
        open_register(register),
        change,
        line_state=line_state,
        acting=acting_person(acting),
        now=now(),
    )
    print(
        f"{number} is written. Next, by a stress engineer who did not write it: "
        f"supports work-order check {number}"
    )


@app.command()
def show(number: OrderNumber, register: RegisterAt = None) -> Answer:
    """Show a work order, a unit a line."""
    from app.settings import open_register
    from app.tables import work_order_lines
    from supports.queries.work_order_views import work_order_view

    with open_register(register).reading() as session:
        view = work_order_view(session, number)
    return Answer(view, tuple(work_order_lines(view)))


@app.command()
def pack(
    number: OrderNumber,
    into: Into = Path(),
    letter: Annotated[bool, typer.Option(help="US letter paper instead of A4.")] = False,
    copy: Annotated[
        int, typer.Option(min=0, help="Number of the copy given out, printed on each page.")
    ] = 0,
    register: RegisterAt = None,
) -> Answer:
    """Write the re-setting pack, as PDF and as a workbook to fill in."""
    from app.papers import write_pack
    from app.settings import now, open_register

    with open_register(register).reading() as session:
        return files_written(write_pack(session, number, into, now(), letter=letter, copy=copy))


@app.command("as-found")
def as_found(
    number: OrderNumber, tag: SupportTag, load: _Load = "", pointer: _Pointer = "",
    on: _Day = None, plant_state: _State = "unknown", read_by: _By = "", note: _Note = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record what was read before anything was touched."""
    from app.readings import reading
    from app.settings import acting_person, now, open_register, today
    from supports.operations.unit_work import record_as_found

    who = acting_person(acting)
    opened = open_register(register)
    day = on.date() if on else today(opened)
    read = reading(
        tag_and_position(tag), load, pointer, plant_state, day, read_by=read_by or who, note=note
    )
    state = record_as_found(opened, number, read, acting=who, now=now())
    print(f"{tag}: {state}.")


@app.command("as-left")
def as_left(
    number: OrderNumber, tag: SupportTag, load: _Load = "", pointer: _Pointer = "",
    second_reader: Annotated[str, typer.Option(help="Who read the scale a second time.")] = "",
    turns: Annotated[float | None, typer.Option(help="Turns given.")] = None,
    on: _Day = None, plant_state: _State = "unknown", read_by: _By = "", note: _Note = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record what a unit was left at; this is its setting from now on."""
    from app.readings import reading
    from app.settings import acting_person, now, open_register, today
    from supports.operations.unit_work import record_as_left

    who = acting_person(acting)
    opened = open_register(register)
    day = on.date() if on else today(opened)
    read = reading(
        tag_and_position(tag), load, pointer, plant_state, day, read_by=read_by or who, note=note,
        second_reader=second_reader, turns_given=turns,
    )  # fmt: skip
    state = record_as_left(opened, number, read, acting=who, now=now())
    print(f"{tag}: {state}.")


@app.command()
def release(
    number: OrderNumber, tag: SupportTag, reason: Reason = "", acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:  # fmt: skip
    """Let work go on at a unit that was found away from the order."""
    from app.settings import acting_person, now, open_register
    from supports.operations.acceptance import release_to_technician

    place = tag_and_position(tag)
    release_to_technician(
        open_register(register), number, *place, acting=acting_person(acting), reason=reason,
        now=now(),
    )  # fmt: skip
    print(f"{tag}: in hand.")


@app.command()
def accept(
    number: OrderNumber, tag: SupportTag, reason: Reason = "",
    nozzle_check: Annotated[str, typer.Option(help="What the nozzles carry at that load.")] = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Accept what a unit was left at; out of its window two roles accept in writing."""
    from app.settings import acting_person, now, open_register
    from supports.operations.acceptance import accept_line

    place = tag_and_position(tag)
    state = accept_line(
        open_register(register), number, *place, acting=acting_person(acting), reason=reason,
        now=now(), nozzle_check=nozzle_check,
    )  # fmt: skip
    print(f"{tag}: {state}.")


@app.command("return")
def return_form(
    number: OrderNumber, file: _Form, acting: ActingAs = None, register: RegisterAt = None
) -> None:
    """Read a filled-in workbook of the pack back in; the same form twice changes nothing."""
    from app.returns import take_back
    from app.settings import acting_person, now, open_register

    for line in take_back(
        open_register(register), number, file, acting=acting_person(acting), now=now()
    ):
        print(line)


@app.command()
def choose(
    number: OrderNumber, tag: SupportTag, file: _Form,
    keep: Annotated[Kept, typer.Option(help="Which of the two stands.")],
    occasion: Annotated[ReadAs, typer.Option(help="Which of the two readings.")] = ReadAs.FOUND,
    reason: Reason = "", acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Choose where a form and what is recorded differ; both are kept, with your name and reason."""
    from app.returns import choose_on_form
    from app.settings import acting_person, now, open_register

    said = choose_on_form(
        open_register(register), number, tag, file, occasion, keep,
        acting=acting_person(acting), now=now(), reason=reason,
    )  # fmt: skip
    print(f"{said}.")
