"""supports work-order: planned, checked, given out by copies, held, stopped, compared, undone."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated

import typer

from app.cli.noun import Noun
from app.cli.options import (
    ActingAs,
    ChangeNumber,
    OrderNumber,
    Reason,
    RegisterAt,
    SupportTag,
    tag_and_position,
)

app = Noun()

_Day = Annotated[
    datetime | None, typer.Option("--on", formats=["%Y-%m-%d"], help="Day of the reading.")
]
_Load = Annotated[str, typer.Option("--load", help="Scale load with its unit: '22.1 kN'")]


_Job = Annotated[str, typer.Argument(help="The job, in the words of the order.")]
_Note = Annotated[str, typer.Option(help="Why work stops.")]
_Second = Annotated[str, typer.Option(help="Who read the scale a second time.")]
_Pointer = Annotated[str, typer.Option(help="Pointer with its unit: '42 mm'")]
_State = Annotated[str, typer.Option(help="Plant state at the reading.")]
_By = Annotated[str, typer.Option(help="Who read it, if not you.")]
_RoundNo = Annotated[int, typer.Argument(help="Number of the round.")]


@app.command()
def check(number: OrderNumber, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Check that the figures are those of the approved assessment."""
    from app.settings import acting_person, now, open_register
    from supports.operations.work_orders import check_order

    check_order(open_register(register), number, acting=acting_person(acting), now=now())
    print(f"{number} is checked. Next, by the planner: supports work-order give-out {number}")


@app.command("give-out")
def give_out(
    number: OrderNumber,
    to: Annotated[list[str], typer.Option(help="Who gets a copy; may be repeated.")],
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Give out numbered copies of a checked order."""
    from app.settings import acting_person, now, open_register
    from supports.operations.work_orders import give_out as give

    copies = give(open_register(register), number, to, acting=acting_person(acting), now=now())
    for copy, holder in zip(copies, to, strict=True):
        print(f"copy {copy}: {holder}")
    print(
        f"Next, for each copy: supports work-order pack {number} --copy {copies[0]}; "
        "as-found before anything is turned."
    )


@app.command("copy")
def copy_back(
    number: OrderNumber,
    copy: Annotated[int, typer.Argument(help="Number of the copy.")],
    fate: Annotated[str, typer.Argument(help="back, lost or destroyed")] = "back",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Record what became of a numbered copy."""
    from app.settings import acting_person, now, open_register
    from supports.operations.work_orders import copy_is_back

    who = acting_person(acting)
    copy_is_back(open_register(register), number, copy, fate=fate, acting=who, now=now())
    print(f"{number} copy {copy}: {fate}.")


@app.command()
def plan(
    number: OrderNumber,
    crew: Annotated[int | None, typer.Option(help="People at work.")] = None,
    hours: Annotated[float | None, typer.Option(help="Hours of the whole crew.")] = None,
    scaffold: Annotated[str, typer.Option(help="Scaffold group.")] = "",
    scaffold_hours: Annotated[float | None, typer.Option(help="Man-hours to build it.")] = None,
    before: Annotated[list[str] | None, typer.Option(help="Job, or order, that comes first.")] = (
        None
    ),
    material: Annotated[
        list[str] | None, typer.Option(help="'item; number; have, ordered or late; date'")
    ] = None,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Lay down crew, hours, scaffold, materials and what must be done before."""
    from app.planned import before_of, material_of
    from app.settings import acting_person, now, open_register
    from supports.operations.work_orders import OrderPlan, plan_order

    laid = OrderPlan(
        crew, hours, scaffold, scaffold_hours,
        tuple(material_of(text) for text in material or []),
        tuple(before_of(text) for text in before or []),
    )  # fmt: skip
    plan_order(open_register(register), number, laid, acting=acting_person(acting), now=now())
    print(f"{number} is planned. See: supports turnaround scope")


@app.command("before-done")
def before_done(
    number: OrderNumber, job: _Job, acting: ActingAs = None, register: RegisterAt = None
) -> None:
    """Record that a job that had to come before is done."""
    from app.settings import acting_person, now, open_register
    from supports.operations.work_orders import before_is_done

    before_is_done(open_register(register), number, job, acting=acting_person(acting), now=now())
    print(f"{number}: '{job}' is done.")


@app.command("release-hold")
def release(
    number: OrderNumber,
    tag: SupportTag,
    hold: Annotated[int, typer.Argument(help="Number of the hold point.")],
    reason: Reason = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Give the word that a hold point waits for, at one unit."""
    from app.settings import acting_person, now, open_register
    from supports.operations.work_orders import release_hold

    release_hold(
        open_register(register), number, tag_and_position(tag), hold,
        acting=acting_person(acting), reason=reason, now=now(),
    )  # fmt: skip
    print(f"{tag}: hold {hold} is released.")


@app.command()
def stop(
    number: OrderNumber, tag: SupportTag, note: _Note, load: _Load,
    second_reader: _Second, pointer: _Pointer = "",
    turns: Annotated[float | None, typer.Option(help="Turns given so far.")] = None,
    on: _Day = None, plant_state: _State = "unknown", read_by: _By = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Stop at a unit in hand; only an engineer restarts it."""
    from app.readings import reading
    from app.settings import acting_person, now, open_register, today
    from supports.operations.part_way import stop_part_way

    who = acting_person(acting)
    opened = open_register(register)
    day = on.date() if on else today(opened)
    read = reading(
        tag_and_position(tag), load, pointer, plant_state, day, read_by=read_by or who, note=note,
        second_reader=second_reader, turns_given=turns,
    )  # fmt: skip
    stop_part_way(opened, number, read, acting=who, now=now())
    print(f"{tag}: stopped part-way. Next, by a stress engineer: supports work-order release")


@app.command("round")
def round_read(
    number: OrderNumber, tag: SupportTag, round_no: _RoundNo, load: _Load,
    before: Annotated[str, typer.Option(help="Load before the round.")] = "",
    expected: Annotated[str, typer.Option(help="Load expected after it.")] = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record what the scale says after a round of turns."""
    from app.readings import quantity, round_words
    from app.settings import acting_person, now, open_register
    from supports.errors import BadInput
    from supports.operations.part_way import Round, record_round
    from supports.units import Kind

    who, seen = acting_person(acting), quantity(load, Kind.LOAD)
    if seen is None:
        raise BadInput("a round without a reading is no round", found="a blank")
    was, wanted = quantity(before, Kind.LOAD), quantity(expected, Kind.LOAD)
    done = Round(round_no, seen, who, was, wanted)
    good = record_round(
        open_register(register), number, tag_and_position(tag), done, acting=who, now=now()
    )
    print(f"{tag} round {round_no}: {round_words(good)}.")


@app.command()
def compare(
    number: OrderNumber, tag: SupportTag, reason: Reason = "", acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:  # fmt: skip
    """Hold a unit turned under an earlier assessment against the newer one."""
    from app.settings import acting_person, now, open_register
    from supports.operations.work_orders import compare_line

    state = compare_line(
        open_register(register), number, tag_and_position(tag), acting=acting_person(acting),
        reason=reason, now=now(),
    )  # fmt: skip
    print(f"{tag}: {state}.")


@app.command()
def undo(
    change: ChangeNumber,
    line_state: Annotated[
        str, typer.Option(help="Line state needed; the plan's if left out.")
    ] = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Write the order that puts the units of a called-off change back."""
    from app.settings import acting_person, now, open_register
    from supports.operations.work_orders import write_undo_order

    number = write_undo_order(
        open_register(register), change, line_state=line_state, acting=acting_person(acting),
        now=now(),
    )  # fmt: skip
    print(f"{number} is written. Next: supports work-order check {number}")
