"""supports turnaround: scope with its reasons, freeze, levelled plan, papers; norms of the site."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from app.answers import Answer, files_written
from app.cli.noun import Noun
from app.cli.options import ActingAs, Into, Reason, RegisterAt, SupportTag, tag_and_position

app = Noun()

_Number = Annotated[str, typer.Argument(help="Number of the turnaround.")]
_Line = Annotated[list[str] | None, typer.Option("--line", help="Line; may be repeated.")]


def _day(name: str, words: str) -> typer.models.OptionInfo:
    option: typer.models.OptionInfo = typer.Option(name, formats=["%Y-%m-%d"], help=words)
    return option


_From = Annotated[datetime, _day("--from", "First day.")]
_To = Annotated[datetime, _day("--to", "Last day.")]
_Freeze = Annotated[datetime | None, _day("--freeze", "Day on which the scope is to stand still.")]


@app.command("open")
def open_one(
    title: Annotated[str, typer.Argument(help="What it is called.")],
    begins: _From,
    ends: _To,
    line: _Line = None,
    freeze: _Freeze = None,
    hours_a_day: Annotated[float, typer.Option(help="Hours of work a day.")] = 10.0,
    crews: Annotated[int, typer.Option(help="Crews of fitters.")] = 2,
    fitters: Annotated[int, typer.Option(help="Fitters in all crews.")] = 4,
    scaffolders: Annotated[int, typer.Option(help="Scaffolders.")] = 3,
    inspectors: Annotated[int, typer.Option(help="Inspectors.")] = 1,
    engineers: Annotated[int, typer.Option(help="Engineers at hold points.")] = 1,
    number: Annotated[str, typer.Option(help="Number, if the site gives its own.")] = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Open a turnaround with its days and people; without a line it is the whole plant."""
    from app.settings import acting_person, now, open_register
    from supports.operations.turnarounds import Opening, open_turnaround

    opening = Opening(
        title, begins.date(), ends.date(), tuple(line or ()), freeze.date() if freeze else None,
        hours_a_day, crews, fitters, scaffolders, inspectors, engineers, number,
    )  # fmt: skip
    who = acting_person(acting)
    given = open_turnaround(open_register(register), opening, acting=who, now=now())
    print(f"{given} is open. Next: supports turnaround collect {given}")


@app.command("list")
def list_all(register: RegisterAt = None) -> Answer:
    """List all turnarounds with their days and whether their scope is frozen."""
    from app.fitting import table
    from app.settings import open_register
    from app.shapes import TurnaroundRow
    from supports.queries.turnarounds import turnarounds

    with open_register(register).reading() as session:
        rows = tuple(
            TurnaroundRow(one.number, one.title, one.begins_on, one.ends_on, one.frozen_on)
            for one in turnarounds(session)
        )
    cells = [
        (one.number, f"{one.begins_on} to {one.ends_on}",
         f"frozen {one.frozen_on}" if one.frozen_on else "not frozen", one.title)
        for one in rows
    ]  # fmt: skip
    return Answer(rows, table(cells))


@app.command()
def window(
    number: _Number,
    state: Annotated[str, typer.Argument(help="Plant state, such as 'shut down, drained'.")],
    begins: _From,
    ends: _To,
    line: Annotated[str, typer.Option(help="Only this line.")] = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Lay down from which to which day a line, or every line, is in a plant state."""
    from app.settings import acting_person, now, open_register
    from app.words import word
    from supports.operations.turnarounds import lay_down_window
    from supports.vocabulary import PlantState

    days = (begins.date(), ends.date())
    lay_down_window(
        open_register(register), number, word(PlantState, state), days, line=line,
        acting=acting_person(acting), now=now(),
    )  # fmt: skip
    print(f"{line or 'every line'} is '{state}' from {days[0]} to {days[1]}.")


@app.command()
def collect(number: _Number, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Take in what work orders, walkdown findings and broken rules ask for; join duplicates."""
    from app.settings import acting_person, now, open_register
    from app.turnaround_tables import collected_lines
    from supports.operations.turnarounds import collect_scope

    found = collect_scope(open_register(register), number, acting=acting_person(acting), now=now())
    print("\n".join(collected_lines(found)))
    print(f"Next: supports turnaround scope {number}; then plan {number}")


@app.command()
def scope(number: _Number, register: RegisterAt = None) -> Answer:
    """Show the scope: each unit once with all its reasons, hours by trade, materials."""
    from app.settings import now, open_register
    from app.turnaround_tables import scope_lines
    from supports.queries.plant_days import day_at
    from supports.queries.turnarounds import norms_in_force, scope_of, turnaround_of

    with open_register(register).reading() as session:
        row, today = turnaround_of(session, number), day_at(session, now())
        held = scope_of(session, row, today)
        lines = tuple(scope_lines(row, held, norms_in_force(session, today)))
    return Answer(held, lines)


@app.command()
def add(
    number: _Number,
    tag: SupportTag,
    action: Annotated[str, typer.Option(help="What is to be done there.")] = "see to a finding",
    reason: Reason = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Add a unit by hand; after the freeze it is counted as an addition."""
    from app.settings import acting_person, now, open_register
    from app.words import word
    from supports.operations.turnarounds import add_by_hand
    from supports.rules.turnaround.scope import Action

    late = add_by_hand(
        open_register(register), number, tag_and_position(tag), word(Action, action),
        reason=reason, acting=acting_person(acting), now=now(),
    )  # fmt: skip
    print(f"{tag} is in the scope{', as an addition after the freeze' if late else ''}.")


@app.command("take-out")
def take_out(
    number: _Number, tag: SupportTag, reason: Reason = "", acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:  # fmt: skip
    """Take a unit out of the scope; it stays on record as taken out."""
    from app.settings import acting_person, now, open_register
    from supports.operations.turnarounds import take_out as out

    place, who = tag_and_position(tag), acting_person(acting)
    out(open_register(register), number, place, reason=reason, acting=who, now=now())
    print(f"{tag} is taken out of the scope.")


@app.command()
def freeze(number: _Number, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Freeze the scope; what comes in afterwards is counted apart."""
    from app.settings import acting_person, now, open_register
    from supports.operations.turnarounds import freeze_scope
    from supports.vocabulary import counted

    items = freeze_scope(open_register(register), number, acting=acting_person(acting), now=now())
    print(f"The scope of {number} is frozen with {counted(items, 'item')}.")


@app.command()
def plan(
    number: _Number,
    effort: Annotated[
        float, typer.Option(help="How hard to look for a better schedule: 1 is some seconds.")
    ] = 1.0,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Level the scope in time: crews, order of turning, plant states, scaffolds, people."""
    from app.settings import acting_person, now, open_register
    from app.turnaround_tables import plan_lines
    from supports.operations.turnarounds import plan_turnaround

    who = acting_person(acting)
    opened = open_register(register)
    revision, made = plan_turnaround(opened, number, acting=who, now=now(), steps=effort)
    print("\n".join(plan_lines(made, revision)))
    print(f"Next: supports turnaround paper {number}")


@app.command()
def paper(
    number: _Number,
    into: Into = Path(),
    letter: Annotated[bool, typer.Option("--letter", help="Letter sheets, not A4.")] = False,
    register: RegisterAt = None,
) -> Answer:
    """Write the newest plan as scope list (PDF, HTML), workbook and calendar."""
    from app.making.makers import make
    from app.making.wanted import Wanted
    from app.settings import now, open_register
    from reports.catalogue import paper_of
    from reports.contents.common import PageSize

    sheet = PageSize.LETTER if letter else PageSize.A4
    one = paper_of("turnaround-scope")
    wanted = Wanted((number,), into, now(), page=sheet, forms=one.forms)
    with open_register(register).reading() as session:
        return files_written(make(session, one, wanted))


@app.command()
def norms(register: RegisterAt = None) -> Answer:
    """List the norms of hours and people with their sources."""
    from app.settings import now, open_register
    from app.turnaround_tables import norm_lines, norms_now
    from supports.queries.plant_days import day_at
    from supports.queries.turnarounds import norms_laid_down

    with open_register(register).reading() as session:
        held, today = norms_laid_down(session), day_at(session, now())
    return Answer(tuple(norms_now(held, today)), tuple(norm_lines(held, today)))


@app.command()
def norm(
    name: Annotated[str, typer.Argument(help="Name of the norm, as listed by 'norms'.")],
    value: Annotated[float, typer.Argument(help="In the norm's own unit, as listed.")],
    source: Annotated[str, typer.Option(help="Where the value comes from.")] = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Lay down a norm of the site from today on; the old one stays on record."""
    from app.settings import acting_person, now, open_register
    from supports.operations.turnarounds import lay_down_norm
    from supports.rules.turnaround.norms import norm_of

    who = acting_person(acting)
    lay_down_norm(open_register(register), name, value, source=source, acting=who, now=now())
    print(f"{name}: {value:g} {norm_of(name).unit} from today on, {source}")
