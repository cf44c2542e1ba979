"""supports change, from the work on: proofs, temporary ones, calling off, emergencies, closing."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated

import typer

from app.answers import Answer
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


@app.command()
def meet(
    number: ChangeNumber,
    other: Annotated[str, typer.Argument(help="The other change on the stretch.")],
    lead: Annotated[str, typer.Option(help="Which of the two leads.")],
    reason: Reason = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Put two changes on one stretch together: which leads, and how the other follows."""
    from app.settings import acting_person, now, open_register
    from supports.operations.changes import meet_changes

    meet_changes(
        open_register(register), (number, other), lead=lead, note=reason,
        acting=acting_person(acting), now=now(),
    )  # fmt: skip
    print(f"{number} and {other} go together; {lead} leads.")


_PutOff = Annotated[
    datetime | None, typer.Option(formats=["%Y-%m-%d"], help="Day till which it is put off.")
]


@app.command()
def prove(
    number: ChangeNumber,
    proof: Annotated[str, typer.Argument(help="What is proved; see: supports change show")],
    note: Annotated[str, typer.Option(help="What was seen, or where it is.")] = "",
    put_off_until: _PutOff = None,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Prove one thing of a change that is done, or put a walk in operation off to a day."""
    from app.settings import acting_person, now, open_register
    from app.words import word
    from supports.operations.changes import ProofGiven, give_proof
    from supports.rules.workflow.proofs import Proof

    until = put_off_until.date() if put_off_until else None
    given = ProofGiven(word(Proof, proof), note, until)
    give_proof(open_register(register), number, given, acting=acting_person(acting), now=now())
    print(f"{number}: {proof}, {f'put off until {until}' if until else 'proved'}.")


@app.command("put-in-force")
def put_in_force(
    number: ChangeNumber, acting: ActingAs = None, register: RegisterAt = None
) -> None:
    """Put a proved temporary change in force till its date."""
    from app.settings import acting_person, now, open_register
    from supports.operations.changes import put_in_force as put

    until = put(open_register(register), number, acting=acting_person(acting), now=now())
    print(f"{number} is in force till {until}; then only its removal order or a new approval.")


@app.command()
def renew(
    number: ChangeNumber,
    until: Annotated[datetime, typer.Option(formats=["%Y-%m-%d"], help="New end date.")],
    reason: Reason = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Ask for the only renewal of a temporary change; a fresh assessment and approval follow."""
    from app.settings import acting_person, now, open_register
    from supports.operations.changes import ask_renewal

    who = acting_person(acting)
    ask_renewal(
        open_register(register), number, until=until.date(), acting=who, reason=reason, now=now()
    )
    print(f"The old date stands until it is approved. Next: supports change assess {number}")


@app.command("call-off")
def call_off(
    number: ChangeNumber, reason: Reason = "", acting: ActingAs = None, register: RegisterAt = None
) -> None:
    """Call a change off; units already turned are to be put right before any heat-up."""
    from app.settings import acting_person, now, open_register
    from supports.operations.changes import call_off as off

    done = off(
        open_register(register), number, acting=acting_person(acting), reason=reason, now=now()
    )
    print(f"{number} now stands at: {done.state}.")
    for unit in done.to_put_right:
        print(f"  to be put right: {unit}")
    for copy in done.copies_to_recall:
        print(f"  get back: {copy}")
    if done.to_put_right:
        print(f"No heat-up. Next: supports work-order undo {number}, or supports change keep")


@app.command()
def keep(
    order: OrderNumber,
    tag: SupportTag,
    analysis: Annotated[str, typer.Option(help="Analysis of the mixed state.")] = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Keep a unit of a called-off change as it was left, on an analysis."""
    from app.settings import acting_person, now, open_register
    from supports.operations.changes import keep_as_is

    who = acting_person(acting)
    place = tag_and_position(tag)
    keep_as_is(open_register(register), order, place, analysis=analysis, acting=who, now=now())
    print(f"{tag} is kept as it is.")


@app.command("make-safe")
def make_safe(
    what: Annotated[str, typer.Argument(help="'travel stop in', prop, or back to the approved")],
    line: Annotated[list[str], typer.Option("--line", help="Line made safe; may be repeated.")],
    shift_leader: Annotated[str, typer.Option(help="Who leads the shift.")],
    engineer: Annotated[str, typer.Option(help="The engineer on call.")],
    reason: Reason = "",
    tag: Annotated[str, typer.Option("--at", help="Support, with the unit: PS-12/B")] = "",
    pin: Annotated[str, typer.Option(help="Number of the travel stop put in.")] = "",
    load: Annotated[str, typer.Option(help="Set back to: '20.1 kN'")] = "",
    state: Annotated[str, typer.Option(help="State of the line, as for a reading.")] = "unknown",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Write down what was done at once to make a line safe; the full change is due in hours."""
    from app.readings import quantity
    from app.settings import acting_person, now, open_register
    from app.words import word
    from supports.operations.changes import Emergency, SafeAct
    from supports.operations.changes import make_safe as make
    from supports.units import Kind
    from supports.vocabulary import PlantState

    support, position = tag_and_position(tag)
    emergency = Emergency(
        tuple(line), reason, word(SafeAct, what), shift_leader, engineer, support, position, pin,
        quantity(load, Kind.LOAD), word(PlantState, state),
    )  # fmt: skip
    number = make(open_register(register), emergency, acting=acting_person(acting), now=now())
    print(f"{number} is begun by it. See by when it is due: supports change show {number}")


@app.command()
def history(number: ChangeNumber, register: RegisterAt = None) -> Answer:
    """Print everything that was done and refused on a change, as an auditor asks for it."""
    from app.change_pages import history_shown
    from app.settings import open_register

    with open_register(register).reading() as session:
        return history_shown(session, number)


@app.command()
def close(number: ChangeNumber, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Close a change, once nothing stands in the way."""
    from app.settings import acting_person, now, open_register
    from supports.operations.closing import close_change

    close_change(open_register(register), number, acting=acting_person(acting), now=now())
    print(f"{number} is closed. Its history: supports change history {number}")
