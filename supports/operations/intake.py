"""A file brought in with its doubts, and the words of named people about such doubts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import select

from supports.database import Register, Writing
from supports.errors import BadInput, InputHasFaults, NotFound, NotReady
from supports.findings import any_forbids
from supports.model import DeclaredUnit, QuarantineAnswer, QuarantinedValue, SheetProfile
from supports.operations.acting import actor, deed
from supports.operations.answered import answered_by, not_waiting_yet
from supports.operations.buffer import Buffer
from supports.operations.storing import SourceFile, store_plan
from supports.progress import Told, unheard
from supports.proposals import Plan, Withheld
from supports.queries.intake import Doubt, doubts, rows_known_by
from supports.queries.plant_days import day_at
from supports.sentences import Sentence

TAKEN, SETTLED = "taken", "settled"


@dataclass(frozen=True, slots=True)
class Brought:
    """What became of a file.

    Parameters
    ----------
    stored
        Whether anything was written of the records.
    waiting
        Values that wait for an answer from now on.
    answered
        Values that waited and were taken now.
    """

    stored: bool
    waiting: int = 0
    answered: int = 0


def bring_in(
    register: Register, plan: Plan, source: SourceFile, *, acting: str, reason: str, now: datetime,
    told: Told = unheard,
) -> Brought:  # fmt: skip
    """Store what a plan proposes; what it withheld waits for an answer; all of it or nothing.

    Raises
    ------
    InputHasFaults
        A finding forbids storing.
    """
    if any_forbids(plan.findings):
        raise InputHasFaults("nothing was stored: the input has faults", plan.findings)
    with register.reading() as session:
        person = actor(session, acting, day_at(session, now))
        waiting = doubts(session)
        known_by = rows_known_by(session) if waiting else {}
    new, answered = not_waiting_yet(plan, waiting), answered_by(plan, waiting, source, known_by)
    brought = Brought(not plan.changes_nothing, len(new), len(answered))
    if brought.stored or new or answered:
        with register.writing(person.name, reason, now, action="import") as writing:
            run = store_plan(writing, plan, source, told)
            _quarantine(writing, run, new, answered)
    return brought


def _quarantine(
    writing: Writing, run: int, new: Iterable[Withheld], answered: Iterable[Doubt]
) -> None:
    buffer = Buffer(writing.trail)
    for value in new:
        row = {
            "import_run_id": run,
            "sheet": value.sheet,
            "cell": value.cell,
            "code": value.code,
            "subject": value.subject,
            "field": value.field,
            "tag": value.named,
            "text": value.text,
            "question": value.question,
            "known_by": dict(value.known_by),
        }
        buffer.insert(QuarantinedValue, row)
    for doubt in answered:
        answer = {
            "quarantined_value_id": doubt.number,
            "how": TAKEN,
            "import_run_id": run,
            "person": writing.actor,
            "answered_at": writing.now,
        }
        buffer.insert(QuarantineAnswer, answer)
    buffer.write()


def declare_units(
    register: Register,
    source: SourceFile,
    values: Iterable[Withheld],
    unit: str,
    *,
    acting: str,
    now: datetime,
    reason: str,
    of: str = "",
) -> None:
    """Keep the unit of some values of a file, as a person declares it; the file is not read here.

    Parameters
    ----------
    of
        The source that the file comes from.

    Raises
    ------
    BadInput
        No reason is given.
    """
    _with_reason("a unit is declared", reason)
    with deed(register, acting, now, action="declare unit", reason=reason) as act:
        for value in values:
            act.session.add(
                DeclaredUnit(
                    file_name=source.name,
                    file_hash=source.digest,
                    sheet=value.sheet,
                    cell=value.cell,
                    text=value.text,
                    unit=unit,
                    source=of,
                    heading=value.heading,
                    named=value.named,
                    person_id=act.person.id,
                    declared_at=now,
                    reason=reason,
                )
            )


def settle_doubt(
    register: Register, number: int, *, acting: str, now: datetime, reason: str
) -> None:
    """End the waiting of a value by a person's word; the value itself stays unknown.

    Raises
    ------
    BadInput
        No reason is given.
    NotFound, NotReady
        There is no such value, or it waits no longer.
    """
    _with_reason("a doubt is settled", reason)
    with deed(register, acting, now, action="settle doubt", reason=reason) as act:
        if act.session.get(QuarantinedValue, number) is None:
            raise NotFound(
                Sentence("no value waits under number {number}", number=str(number)),
                remedy="See them with: supports sheets doubts --every",
            )
        ended = select(QuarantineAnswer).where(QuarantineAnswer.quarantined_value_id == number)
        if act.session.scalar(ended):
            raise NotReady(Sentence("value {number} waits no longer", number=str(number)))
        act.session.add(
            QuarantineAnswer(
                quarantined_value_id=number,
                how=SETTLED,
                person=act.person.name,
                answered_at=now,
                reason=reason,
            )
        )


def _with_reason(what: str, reason: str) -> None:
    if not reason.strip():
        raise BadInput(
            Sentence("{what} with a reason only", what=what), remedy="Give one with --reason"
        )


def confirm_profiles(
    register: Register,
    source: str,
    profiles: Mapping[str, dict[str, Any]],
    *,
    acting: str,
    now: datetime,
    reason: str = "",
) -> None:
    """Keep what the columns of sheets of a source mean, as a person has confirmed it."""
    with deed(register, acting, now, action="confirm profile", reason=reason) as act:
        for sheet, profile in profiles.items():
            act.session.add(
                SheetProfile(
                    source=source,
                    sheet=sheet,
                    profile=profile,
                    person_id=act.person.id,
                    confirmed_at=now,
                    reason=reason or None,
                )
            )
