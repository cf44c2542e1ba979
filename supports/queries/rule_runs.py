"""Rules asked of the register now, runs kept from before, and the words of acceptance."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.errors import NotFound
from supports.findings import Answer, Severity
from supports.model import (
    AuditBatch,
    AuditEntry,
    Change,
    FindingAcceptance,
    ImportRun,
    RuleAnswers,
    RuleRun,
)
from supports.plant_time import to_the_minute
from supports.queries.limits import limits_in_force
from supports.queries.lookups import change_of
from supports.queries.plant_days import clock_at, day_at
from supports.queries.rule_facts import Points
from supports.queries.rule_frames import PlantFrames, plant_frames
from supports.rules.acceptances import Acceptance
from supports.rules.catalogue import RULES
from supports.rules.frame import Subject
from supports.rules.rule import Asked, Limits, Rule
from supports.rules.run import Found, ask_all
from supports.sentences import Sentence

COLUMNS = ("subject", "key", "name", "tag", "severity", "answer", "measure", "inputs")
"""What is kept of each answer, in this order."""


@dataclass(frozen=True, slots=True)
class PlantAsked:
    """The rules asked of the register on a day."""

    plant: PlantFrames
    limits: Limits
    asked: tuple[Asked, ...]
    today: date


def ask_register(
    session: Session, today: date, points: Points = None, rules: Sequence[Rule] = RULES
) -> PlantAsked:
    """Ask rules of the whole register, or of some support points."""
    limits = limits_in_force(session, today)
    plant = plant_frames(session, today, limits.settings, points)
    return PlantAsked(plant, limits, ask_all(plant.frames, limits, rules), today)


@dataclass(frozen=True, slots=True)
class RunView:
    """A run as it is kept."""

    id: int
    run_at: datetime
    for_day: date
    run_by: str
    reason: str
    rules_version: str
    counts: dict[str, list[int]]
    fingerprint: str

    @property
    def words(self) -> str:
        """Return the run in one sentence."""
        fails, judged = (sum(c[i] for c in self.counts.values()) for i in (0, 3))
        return (
            f"run {self.id} of {to_the_minute(self.run_at)} by {self.run_by}: {fails} fail, "
            f"{judged} cannot be judged"
        )


def runs(session: Session) -> list[RunView]:
    """Return all runs kept, oldest first."""
    return [_view(session, run) for run in session.scalars(select(RuleRun).order_by(RuleRun.id))]


def newest_run(session: Session) -> RunView | None:
    """Return the newest run kept, None if there is none."""
    found = session.scalar(select(RuleRun).order_by(RuleRun.id.desc()).limit(1))
    return None if found is None else _view(session, found)


def run_by_number(session: Session, number: int) -> RunView:
    """Return a run by its number."""
    found = session.get(RuleRun, number)
    if found is None:
        raise NotFound(
            Sentence("run {number} is not kept", number=str(number)),
            remedy="See them with: supports rules runs",
        )
    return _view(session, found)


def run_before(session: Session, batch: int, what: str) -> RunView:
    """Return the newest run that did not see a batch of writes yet.

    Raises
    ------
    NotFound
        Every run kept is younger.
    """
    query = (
        select(RuleRun)
        .where((RuleRun.after_batch_id.is_(None)) | (RuleRun.after_batch_id < batch))
        .order_by(RuleRun.id.desc())
        .limit(1)
    )
    found = session.scalar(query)
    if found is None:
        raise NotFound(
            Sentence("no run of the rules is older than {what}", what=what),
            remedy="Keep a run before each change with: supports rules run",
        )
    return _view(session, found)


def run_since(
    session: Session, *, number: int = 0, change: str = "", brought_in: str = ""
) -> RunView:
    """Return the run to compare with: of that number, before a change or import, or the newest."""
    if change:
        return run_before(session, batch_of_change(session, change), f"change {change}")
    if brought_in:
        return run_before(session, batch_of_import(session, brought_in), f"import {brought_in}")
    if number:
        return run_by_number(session, number)
    newest = newest_run(session)
    if newest is None:
        raise NotFound("no run of the rules is kept", remedy="Keep one with: supports rules run")
    return newest


def batch_of_change(session: Session, number: str) -> int:
    """Return the batch of writes in which a change was noted."""
    return _first_batch(session, Change.__tablename__, change_of(session, number).id)


def batch_of_import(session: Session, name: str) -> int:
    """Return the batch of writes of the newest import of a file, by its name or number."""
    query = select(ImportRun).order_by(ImportRun.id.desc())
    known = list(session.scalars(query))
    found = next((r for r in known if name in {r.file_name, str(r.id)}), None)
    if found is None:
        raise NotFound(
            Sentence("no import of '{name}' is on record", name=name),
            remedy=Sentence("The newest is {file_name}", file_name=known[0].file_name)
            if known
            else "",
        )
    return _first_batch(session, ImportRun.__tablename__, found.id)


def _first_batch(session: Session, table: str, row: int) -> int:
    query = select(func.min(AuditEntry.batch_id)).where(
        AuditEntry.table_name == table, AuditEntry.row_id == row
    )
    return session.scalar(query) or 0


def newest_batch(session: Session) -> int | None:
    """Return the newest batch of writes."""
    return session.scalar(select(func.max(AuditBatch.id)))


def found_of(session: Session, run: int) -> tuple[Found, ...]:
    """Return what a run found."""
    query = select(RuleAnswers).where(RuleAnswers.run_id == run).order_by(RuleAnswers.id)
    return tuple(
        _found(kept.rule, row) for kept in session.scalars(query) for row in kept.answers["rows"]
    )


def _found(rule: str, row: Sequence[object]) -> Found:
    subject, key, name, tag, severity, answer, measure, inputs = row
    return Found(
        rule=rule,
        subject=Subject(str(subject)),
        key=int(str(key)),
        name=str(name),
        tag=str(tag),
        severity=Severity(str(severity)),
        answer=Answer(str(answer)),
        measure=None if measure is None else float(str(measure)),
        inputs=str(inputs),
    )


def _view(session: Session, run: RuleRun) -> RunView:
    return RunView(
        id=run.id,
        run_at=clock_at(session, run.run_at),
        for_day=run.for_day,
        run_by=run.run_by,
        reason=run.reason or "",
        rules_version=run.rules_version,
        counts=run.counts,
        fingerprint=run.fingerprint,
    )


def acceptances(
    session: Session, rules: Collection[str] = ()
) -> dict[tuple[str, str, int], Acceptance]:
    """Return the newest word of acceptance on each finding."""
    query = select(FindingAcceptance).order_by(FindingAcceptance.id)
    if rules:
        query = query.where(FindingAcceptance.rule.in_(rules))
    found = {}
    for row in session.scalars(query):
        word = Acceptance(
            rule=row.rule,
            subject=row.subject,
            key=row.subject_key,
            name=row.name,
            inputs=row.inputs,
            by=row.accepted_by,
            role=row.role,
            accepted_on=day_at(session, row.accepted_at),
            until=row.until,
            reason=row.reason,
        )
        found[word.place] = word
    return found
