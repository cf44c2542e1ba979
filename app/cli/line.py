"""supports line: what a line does before a change, with its weight added, and as planned."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import ActingAs, LineNumber, Reason, RegisterAt
from supports.vocabulary import counted

app = Noun()

_Change = Annotated[str, typer.Option("--change", help="Change whose weights are added.")]
_Aim = Annotated[
    str,
    typer.Option(
        "--aim",
        help="'pipe back to its level', 'nozzle free of force and moment', "
        "'least change to nozzle' or 'keep present settings'.",
    ),
]
_Only = Annotated[
    list[str] | None,
    typer.Option("--only", help="Spring that may be re-set; may be repeated. All if not said."),
]
_Folder = Annotated[
    Path | None, typer.Option("--into", help="Folder for the paper and the two drawings.")
]


@app.command()
def check(line: LineNumber, register: RegisterAt = None) -> Answer:
    """Check a line's route row by row, and whether its loads on record add up."""
    from app.looked_up.lines import line_check
    from app.settings import now, open_register
    from supports.queries.plant_days import day_at

    with open_register(register).reading() as session:
        return line_check(session, line, day_at(session, now()))


@app.command()
def screen(
    line: LineNumber,
    change: _Change = "",
    aim: _Aim = "",
    only: _Only = None,
    into: _Folder = None,
    register: RegisterAt = None,
) -> Answer:
    """Screen a line: loads before, with the weight added and nothing re-set, and as planned."""
    from app.line_papers import write_screening
    from app.line_shapes import line_screened
    from app.line_tables import screening_lines
    from app.looked_up.lines import line_screening
    from app.settings import now, open_register

    with open_register(register).reading() as session:
        ready, screened = line_screening(session, line, change, aim, only or ())
        papers = (
            tuple(write_screening(session, (ready, screened), change, into, now()))
            if into is not None else ()
        )  # fmt: skip
    shape = line_screened(line, screened, papers)
    return Answer(shape, (*screening_lines(screened), *map(str, papers)))


@app.command("screen-all")
def screen_all(
    area: Annotated[
        str, typer.Option("--area", help="Only lines of this area. The whole plant if not said.")
    ] = "",
    processes: Annotated[
        int | None,
        typer.Option(
            "--processes",
            help="How many work side by side; the answer is the same. As many as are worth it "
            "if not said.",
        ),
    ] = None,
    register: RegisterAt = None,
) -> Answer:
    """Screen every line as it stands: closure and nozzle use as findings, and what is missing."""
    from app.plant_lines import plant_lines, screen_plant
    from app.progress import progress_shown
    from app.settings import lock_wait, now, open_register
    from supports.queries.plant_days import day_at
    from supports.queries.site import settings_in_force

    opened = open_register(register)
    with opened.reading() as session:
        limit = settings_in_force(session, day_at(session, now())).closure
    with progress_shown() as told:
        answer = screen_plant(
            opened, limit, area=area, processes=processes, lock_wait=lock_wait(), told=told
        )
    return Answer(answer, tuple(plant_lines(answer)))


@app.command()
def states(line: LineNumber, register: RegisterAt = None) -> Answer:
    """Show a line cold and empty, cold and full, operating, and under test with stops in."""
    from app.looked_up.lines import line_states
    from app.settings import open_register

    with open_register(register).reading() as session:
        return line_states(session, line)


@app.command()
def influence(line: LineNumber, register: RegisterAt = None) -> Answer:
    """Show what 1 kN more at each spring does to the others, to pointers and nozzles."""
    from app.line_shapes import effects_shown
    from app.line_tables import influence_lines
    from app.lines import made_ready
    from app.settings import open_register
    from supports.rules.line.screening import present_influence

    with open_register(register).reading() as session:
        ready = made_ready(session, line)
    effects = present_influence(ready)
    return Answer(tuple(effects_shown(effects)), tuple(influence_lines(effects)))


@app.command("what-if")
def what_if(
    line: LineNumber,
    changes: Annotated[list[str], typer.Argument(help="Changes of settings: PS-1024=+1.0kN")],
    register: RegisterAt = None,
) -> Answer:
    """Tell what a line will show after changes of settings, as long as nothing lifts."""
    from app.line_shapes import what_if_shown
    from app.line_tables import what_if_lines
    from app.lines import known_springs, made_ready, setting_changes
    from app.settings import open_register
    from supports.calc.line import influence as calc
    from supports.rules.line.screening import present_influence

    wanted = setting_changes(changes)
    with open_register(register).reading() as session:
        table = present_influence(made_ready(session, line))
    known_springs(wanted, table.units)
    told = calc.what_if(table, table.changes(wanted))
    return Answer(what_if_shown(told, table), tuple(what_if_lines(told, table)))


@app.command()
def compare(line: LineNumber, register: RegisterAt = None) -> Answer:
    """Hold a line as it stands against its calculation on record, support by support."""
    from app.looked_up.lines import line_comparison
    from app.settings import open_register

    with open_register(register).reading() as session:
        return line_comparison(session, line)


@app.command()
def store(
    lines: Annotated[list[str], typer.Argument(help="Line numbers, all of the change.")],
    change: Annotated[str, typer.Option("--change", help="Change whose weights are added.")],
    aim: _Aim = "",
    only: _Only = None,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Store the loads as planned as a calculation by screening, to assess the change by."""
    from app.lines import chosen_aim, made_ready
    from app.settings import acting_person, now, open_register
    from supports.operations.line_calculations import Wanted, store_screening

    opened = open_register(register)
    with opened.reading() as session:
        chosen = chosen_aim(aim, made_ready(session, lines[0], change))
    wish = Wanted(tuple(lines), change, chosen, tuple(only or ()))
    stored = store_screening(opened, wish, acting=acting_person(acting), now=now())
    print(
        f"{stored.number} revision {stored.revision} is stored: "
        f"{counted(stored.supports, 'support')}, method 'screening', aim '{chosen}'. "
        f"Next: supports change assess {change} "
        f"--calculation {stored.number} --revision {stored.revision} --aim '{chosen}'"
    )


_On = Annotated[datetime, typer.Option("--on", formats=["%Y-%m-%d"], help="Day it happened.")]
_ToldBy = Annotated[str, typer.Option("--told-by", help="Who says so, or the log it stands in.")]


@app.command("started-up")
def started_up(
    line: LineNumber, on: _On, told_by: _ToldBy = "", reason: Reason = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record that a line was started up: walks in operation are counted from that day."""
    from app.settings import acting_person, now, open_register
    from supports.operations.line_runs import LineRan, record_line_run
    from supports.queries.start_up import start_up_of
    from supports.rules.workflow.start_up import MayStart
    from supports.vocabulary import LineRun

    opened, ran = open_register(register), LineRan(line, LineRun.START_UP, on.date(), told_by)
    with opened.reading() as session:
        answer = start_up_of(session, now(), line)
    record_line_run(opened, ran, acting=acting_person(acting), now=now(), reason=reason)
    print(f"Line {line} was started up on {on:%Y-%m-%d}.")
    if answer.answer is not MayStart.YES:
        print(f"By the register it should not have been ({answer.answer}):")
        print("\n".join(f"  {one.about}: {one.what}" for one in answer.blockers))


@app.command("shut-down")
def shut_down(
    line: LineNumber, on: _On, told_by: _ToldBy = "", reason: Reason = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record that a line was shut down."""
    from app.settings import acting_person, now, open_register
    from supports.operations.line_runs import LineRan, record_line_run
    from supports.vocabulary import LineRun

    ran = LineRan(line, LineRun.SHUT_DOWN, on.date(), told_by)
    opened = open_register(register)
    record_line_run(opened, ran, acting=acting_person(acting), now=now(), reason=reason)
    print(f"Line {line} was shut down on {on:%Y-%m-%d}.")
