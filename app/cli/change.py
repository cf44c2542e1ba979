"""supports change: from the wish to the approver's word; what comes after is in `change_later`."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from app.answers import Answer, files_written
from app.cli import change_later
from app.cli.noun import Noun
from app.cli.options import ActingAs, ChangeNumber, Into, Reason, RegisterAt
from supports.vocabulary import counted

app = Noun()

_OnLine = Annotated[list[str], typer.Option("--line", help="Line touched; may be repeated.")]
_Until = Annotated[datetime | None, typer.Option(formats=["%Y-%m-%d"], help="End date.")]
_Needs = Annotated[list[str] | None, typer.Option("--needs", help="Role whose word is asked for.")]


_WeightFile = Annotated[Path, typer.Argument(help="Workbook with a sheet 'Weight items'.")]


@app.command()
def new(
    title: Annotated[str, typer.Argument(help="What is wished, in a few words.")],
    line: _OnLine,
    reason: Reason = "",
    number: Annotated[str, typer.Option(help="Number, if the site gives its own.")] = "",
    duration: Annotated[str, typer.Option(help="permanent or temporary")] = "permanent",
    until: _Until = None,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Note a change."""
    from app.settings import acting_person, now, open_register
    from supports.operations.changes import Wish, note_change

    ends_on = until.date() if until else None
    wish = Wish(title, reason, tuple(line), duration.strip().lower(), ends_on, number)
    given = note_change(open_register(register), wish, acting=acting_person(acting), now=now())
    print(f"{given} is noted. Next, by the change coordinator: supports change sift {given}")


@app.command()
def sift(
    number: ChangeNumber,
    depth: Annotated[str, typer.Option(help="screening or full analysis")],
    stretch: Annotated[str, typer.Option(help="Which part of the line feels it.")],
    needs: _Needs = None,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Say how deep to look, which stretch feels it and whose word is needed."""
    from app.settings import acting_person, now, open_register
    from app.words import word
    from supports.operations.changes import Sifting, sift_change
    from supports.vocabulary import Role

    sifting = Sifting(depth, stretch, [word(Role, text) for text in needs or []])
    others = sift_change(
        open_register(register), number, sifting, acting=acting_person(acting), now=now()
    )
    for other in others:
        print(f"  on the same stretch: {other}; put them together: supports change meet {number}")
    print(
        f"{number} is sifted. Next: supports change weights {number} FILE and "
        f"supports change describe {number}"
    )


@app.command("like-for-like")
def like_for_like(
    number: ChangeNumber, reason: Reason = "", acting: ActingAs = None, register: RegisterAt = None
) -> None:
    """Find that nothing changes: same load, rate, travel and length."""
    from app.settings import acting_person, now, open_register
    from supports.operations.changes import find_like_for_like

    who = acting_person(acting)
    find_like_for_like(open_register(register), number, acting=who, reason=reason, now=now())
    print(f"{number} is like for like; the work is maintenance.")


@app.command()
def weights(
    number: ChangeNumber, file: _WeightFile, acting: ActingAs = None, register: RegisterAt = None
) -> None:
    """Read what is added and taken off, from a sheet 'Weight items'."""
    from app.settings import acting_person, now, open_register
    from importers.weights import read_weights
    from supports.operations.changes import add_weights

    items = read_weights(file)
    void = add_weights(
        open_register(register), number, items, acting=acting_person(acting), now=now()
    )
    total = sum(item.mass for item in items)
    print(
        f"{counted(len(items), 'item')}, net {total:+.1f} kg. Next: supports change assess {number}"
    )
    for signed in void:
        print(f"  {signed}")


@app.command()
def describe(
    number: ChangeNumber,
    technical_basis: Annotated[str, typer.Option(help="Why it is sound.")] = "",
    safety_and_health: Annotated[str, typer.Option(help="What it does to people.")] = "",
    operating_procedures: Annotated[str, typer.Option(help="What changes in them.")] = "",
    time_period: Annotated[str, typer.Option(help="For how long.")] = "",
    authorization: Annotated[str, typer.Option(help="Who must agree.")] = "",
    owner: Annotated[str, typer.Option(help="Who answers for a temporary change.")] = "",
    watch_days: Annotated[int | None, typer.Option(help="Days between two looks at it.")] = None,
    until: _Until = None,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Write the five items of the record, or owner, watch and date of a temporary change."""
    from app.settings import acting_person, now, open_register
    from supports.operations.changes import Facts, describe_change

    five = {
        "technical_basis": technical_basis,
        "safety_and_health": safety_and_health,
        "operating_procedures": operating_procedures,
        "time_period": time_period,
        "authorization": authorization,
    }
    said = {name: words for name, words in five.items() if words}
    facts = Facts(said, owner, watch_days, until.date() if until else None)
    void = describe_change(
        open_register(register), number, facts, acting=acting_person(acting), now=now()
    )
    print(f"{number} is described. See: supports change show {number}")
    for signed in void:
        print(f"  {signed}")


@app.command()
def assess(
    number: ChangeNumber,
    calculation: Annotated[str, typer.Option(help="Calculation number.")],
    revision: Annotated[str, typer.Option(help="Calculation revision.")],
    aim: Annotated[str, typer.Option(help="What the new loads are to achieve.")],
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Judge every support on the change's lines and freeze the result."""
    from app.settings import acting_person, now, open_register
    from app.tables import assessment_lines
    from supports.operations.changes import assess_change

    content = assess_change(
        open_register(register),
        number,
        (calculation, revision),
        aim=aim,
        acting=acting_person(acting),
        now=now(),
    )
    print("\n".join(assessment_lines(content)))
    print(f"Next, by another stress engineer: supports change sign {number} check")


@app.command()
def agree(
    number: ChangeNumber,
    objects: Annotated[bool, typer.Option("--objects", help="Object instead.")] = False,
    reason: Reason = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Give the word of a role that the sifting asked for, with its conditions."""
    from app.settings import acting_person, now, open_register
    from supports.operations.changes import say_as_assessor

    roles = say_as_assessor(
        open_register(register), number, agrees=not objects, acting=acting_person(acting),
        reason=reason, now=now(),
    )  # fmt: skip
    print(f"{', '.join(roles)} {'objects to' if objects else 'agrees to'} {number}.")


@app.command()
def sign(
    number: ChangeNumber,
    act: Annotated[str, typer.Argument(help="check, approve, 'send back' or refuse")],
    reason: Reason = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Check, approve, send back or refuse the newest assessment."""
    from app.settings import acting_person, now, open_register
    from app.words import word
    from supports.operations.changes import Decision, decide_change
    from supports.rules.workflow import ChangeState
    from supports.rules.workflow.steps import next_words

    state = decide_change(
        open_register(register),
        number,
        word(Decision, act),
        acting=acting_person(acting),
        reason=reason,
        now=now(),
    )
    print(f"{number} now stands at: {state}. {next_words(ChangeState(state))}".rstrip())


@app.command()
def show(number: ChangeNumber, register: RegisterAt = None) -> Answer:
    """Show where a change stands: its record, assessment, signatures, and what blocks it."""
    from app.change_pages import change_shown
    from app.settings import now, open_register

    with open_register(register).reading() as session:
        return change_shown(session, number, now())


@app.command("list")
def list_changes(register: RegisterAt = None) -> Answer:
    """List all changes and where they stand."""
    from app.looked_up.site import changes_listed
    from app.settings import open_register

    with open_register(register).reading() as session:
        return changes_listed(session)


@app.command()
def steps() -> Answer:
    """List every step of a change: from where, to where, by whom, on what evidence."""
    from app.change_pages import step_lines
    from app.shapes import StepRow
    from supports.rules.workflow import STEPS

    rows = tuple(
        StepRow(
            step.act, tuple(sorted(step.frm)), step.to, tuple(sorted(step.roles)), step.evidence
        )
        for step in STEPS
    )
    return Answer(rows, tuple(step_lines(rows)))


@app.command()
def summary(number: ChangeNumber, into: Into = Path(), register: RegisterAt = None) -> Answer:
    """Write the load-change summary for the engineer, as PDF and workbook."""
    from app.papers import write_summary
    from app.settings import now, open_register

    with open_register(register).reading() as session:
        return files_written(write_summary(session, number, into, now()))


app.registered_commands += change_later.app.registered_commands
