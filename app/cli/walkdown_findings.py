"""supports walkdown, the findings: owner, answer, done, verified in the field, accepted till."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import ActingAs, Reason, RegisterAt, SupportTag, tag_and_position

_Finding = Annotated[str, typer.Argument(help="Number of the finding: WD-2026-001-F03")]
_Words = Annotated[str, typer.Argument(help="In your own words.")]
_Until = Annotated[
    datetime, typer.Option(formats=["%Y-%m-%d"], help="Day that comes, year-month-day.")
]
_On = Annotated[
    datetime | None, typer.Option("--on", formats=["%Y-%m-%d"], help="Day it was done.")
]


def findings(
    number: Annotated[str, typer.Argument(help="Campaign or finding; all if left out.")] = "",
    overdue: Annotated[bool, typer.Option(help="Only those whose day has passed.")] = False,
    open_only: Annotated[bool, typer.Option("--open", help="Only those not at an end.")] = False,
    register: RegisterAt = None,
) -> Answer:
    """List findings with their owner, their day and where they stand."""
    from app.settings import now, open_register
    from app.walkdown_tables import findings_shown
    from supports.queries.plant_days import day_at

    with open_register(register).reading() as session:
        return findings_shown(
            session, number, day_at(session, now()), overdue=overdue, open_only=open_only
        )


def tell(
    campaign: Annotated[str, typer.Argument(help="Number of the campaign.")],
    tag: SupportTag, what: _Words,
    how_soon: Annotated[str, typer.Option(help="now, before start, next outage, watch")],
    told: Annotated[str, typer.Option(help="Who was told, when.")] = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Take down a finding in your own words."""
    from app.settings import acting_person, now, open_register
    from app.words import word
    from supports.operations.walkdowns.findings import SpokenFinding, tell_finding
    from supports.rules.walkdown.words import HowSoon

    spoken = SpokenFinding(*tag_and_position(tag), what, word(HowSoon, how_soon), told)
    made = tell_finding(
        open_register(register), campaign, spoken, acting=acting_person(acting), now=now()
    )
    print(f"Finding {made}. Next: supports walkdown owner {made} NAME --due DAY")


def owner(
    finding: _Finding, name: Annotated[str, typer.Argument(help="Who sees it to its end.")],
    due: _Until, acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Name who sees a finding to its end, and by when."""
    from app.settings import acting_person, now, open_register
    from supports.operations.walkdowns.findings import name_owner

    name_owner(
        open_register(register), finding, name, due.date(), acting=acting_person(acting), now=now()
    )
    print(f"{finding}: {name}, by {due.date()}.")


def answer(
    finding: _Finding, words: _Words,
    by: Annotated[str, typer.Option(help="Work order or change that does it.")] = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Propose what is to be done."""
    from app.settings import acting_person, now, open_register
    from supports.operations.walkdowns import findings as steps

    steps.answer(
        open_register(register), finding, words, by, acting=acting_person(acting), now=now()
    )
    print(f"{finding}: answer proposed.")


def done(
    finding: _Finding, words: _Words, on: _On = None,
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record that you did the work."""
    from app.settings import acting_person, now, open_register, today
    from supports.operations.walkdowns import findings as steps

    opened = open_register(register)
    day = on.date() if on else today(opened)
    steps.done(opened, finding, words, day, acting=acting_person(acting), now=now())
    print(f"{finding}: done, to be verified in the field by an inspector who did not do it.")


def verify(
    finding: _Finding, words: _Words,
    not_mended: Annotated[bool, typer.Option(help="It is not mended.")] = False,
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record what you, an inspector, saw in the field."""
    from app.settings import acting_person, now, open_register
    from supports.operations.walkdowns import findings as steps

    steps.verify(
        open_register(register), finding, words, mended=not not_mended,
        acting=acting_person(acting), now=now(),
    )  # fmt: skip
    print(f"{finding}: {'not mended, back to its owner' if not_mended else 'verified'}.")


def settle(finding: _Finding, acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Close a finding that was verified in the field."""
    from app.settings import acting_person, now, open_register
    from supports.operations.walkdowns.findings import close_finding

    close_finding(open_register(register), finding, acting=acting_person(acting), now=now())
    print(f"{finding}: closed.")


def accept(
    finding: _Finding, until: _Until, reason: Reason = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Accept a finding as it is until a date, as an engineer."""
    from app.settings import acting_person, now, open_register
    from supports.operations.walkdowns import findings as steps

    steps.accept(
        open_register(register), finding, until.date(), reason,
        acting=acting_person(acting), now=now(),
    )  # fmt: skip
    print(f"{finding}: accepted as it is until {until.date()}.")


def add_to(app: Noun) -> None:
    """Add these commands to the noun."""
    for command in (findings, tell, owner, answer, done, verify, settle, accept):
        app.command()(command)
