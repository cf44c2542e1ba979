"""supports plan: which units, how many turns, in which order; the choice; again; the way back."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from app.answers import Answer, files_written
from app.cli.noun import Noun
from app.cli.options import ActingAs, ChangeNumber, Into, OrderNumber, RegisterAt

app = Noun()

_Number = Annotated[str, typer.Argument(help="Number of the plan.")]
_Line = Annotated[str, typer.Option("--line", help="Line of the change.")]
_Aim = Annotated[
    str,
    typer.Option(
        "--aim",
        help="'loads of the calculation', 'pipe back to its level', "
        "'nozzle free of force and moment', 'least change to nozzle' or "
        "'every limit kept, nothing more'.",
    ),
]
_State = Annotated[
    str, typer.Option("--line-state", help="State of the line while bolts are turned.")
]
_Steps = Annotated[
    str, typer.Option("--steps", help="'whole flats' or 'half-turns'; the site's if left out.")
]
_Friction = Annotated[
    str,
    typer.Option(
        "--friction",
        help="Part of each friction band at both ends of which limits are kept, as '100 %'; "
        "the site's if left out.",
    ),
]


@app.command()
def make(
    change: ChangeNumber,
    line: _Line,
    aim: _Aim = "",
    line_state: _State = "shut down, full",
    steps: _Steps = "",
    friction: _Friction = "",
    alone: Annotated[bool, typer.Option("--alone", help="No others laid beside it.")] = False,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Make a plan: fewest units, whole flats, every state on the way within limits."""
    from app.plans import asked_of, plan_lines_of
    from app.settings import acting_person, now, open_register
    from supports.operations.plans import make_reset_plan

    opened, asked = open_register(register), asked_of(aim, line_state, steps, friction, alone=alone)
    number = make_reset_plan(opened, change, line, asked, acting=acting_person(acting), now=now())
    print("\n".join(plan_lines_of(opened, number)))


@app.command()
def show(
    number: _Number,
    register: RegisterAt = None,
    which: Annotated[
        int, typer.Option("--which", help="Alternative told in full; the chosen one if left out.")
    ] = 0,
    readings: Annotated[
        bool, typer.Option("--readings", help="With what every scale shows after each round.")
    ] = False,
) -> Answer:
    """Show a plan: units, turns, rounds, worst use at every step, who chose what."""
    from app.plans import plan_shown
    from app.settings import open_register

    return plan_shown(open_register(register), number, which=which, readings=readings)


@app.command("list")
def list_plans(
    change: Annotated[str, typer.Argument(help="Number of the change; all if left out.")] = "",
    register: RegisterAt = None,
) -> Answer:
    """List plans, and where each stands."""
    from app.plans import plans_listed
    from app.settings import open_register

    return plans_listed(open_register(register), change)


@app.command()
def choose(
    number: _Number,
    which: Annotated[int, typer.Argument(help="Which of those laid side by side, from 1.")],
    why: Annotated[str, typer.Option("--why", help="Why this one, in your own words.")] = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Choose one of the plans laid side by side; the work order follows it."""
    from app.plans import next_after_choice
    from app.settings import acting_person, now, open_register
    from supports.operations.plans import choose_plan

    opened = open_register(register)
    name = choose_plan(opened, number, which, reason=why, acting=acting_person(acting), now=now())
    print(f"{number}: '{name}' is chosen. {next_after_choice(opened, number)}")


@app.command()
def paper(
    number: _Number,
    into: Into = Path(),
    letter: Annotated[bool, typer.Option(help="US letter paper instead of A4.")] = False,
    register: RegisterAt = None,
) -> Answer:
    """Write the paper of a plan: plans side by side, the chosen one in full, its rounds."""
    from app.plan_papers import write_plan
    from app.settings import now, open_register

    with open_register(register).reading() as session:
        return files_written(write_plan(session, number, into, now(), letter=letter))


@app.command()
def again(order: OrderNumber, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Plan again from as-found readings that differ; the earlier plan is kept and linked."""
    from app.plans import plan_lines_of
    from app.settings import acting_person, now, open_register
    from supports.operations.plans import plan_again

    opened = open_register(register)
    number = plan_again(opened, order, acting=acting_person(acting), now=now())
    print("\n".join(plan_lines_of(opened, number)))


@app.command()
def back(
    change: ChangeNumber,
    line: _Line,
    weight: Annotated[
        str, typer.Option("--weight", help="Is the weight of the change on the line: on or off.")
    ] = "",
    line_state: Annotated[
        str, typer.Option("--line-state", help="State of the line; that of the plan if left out.")
    ] = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Plan the way back of a change called off half-way, with its own checked order."""
    from app.plans import plan_lines_of, state_of_work, weight_is_on
    from app.settings import acting_person, now, open_register
    from supports.operations.plans import plan_the_way_back

    opened = open_register(register)
    number = plan_the_way_back(
        opened, change, line, weight_on=weight_is_on(weight),
        work_state=state_of_work(line_state) if line_state else None,
        acting=acting_person(acting), now=now(),
    )  # fmt: skip
    print("\n".join(plan_lines_of(opened, number)))
