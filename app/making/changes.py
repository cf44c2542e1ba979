"""Papers about changes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from sqlalchemy.orm import Session

from app.lines import made_ready
from app.making.wanted import Title, Wanted, document, head_of, write_document
from app.papers import signature_lines, signer
from reports.contents.audit_record import AuditRecord, audit_record
from reports.contents.change_assessment import (
    ChangeAssessment,
    NozzleUses,
    ScreenedThrough,
    change_assessment,
)
from reports.contents.explained import explained_assessment
from reports.contents.summary_of_assessment import summary_of_assessment
from supports.audit import first_break
from supports.audit import head as chain_head
from supports.calc.line.aims import Aim
from supports.errors import CannotCalculate, InputHasFaults, NotReady
from supports.freezing import short
from supports.queries.change_record import signed_on_change
from supports.queries.change_trail import change_trail
from supports.queries.change_views import change_view, content_of, latest_assessment, signatures_on
from supports.queries.lookups import change_of
from supports.queries.periods import periods_in_force
from supports.queries.plant_days import clock_at
from supports.rules.line import screening
from supports.rules.line.words import analysis_words
from supports.snapshots import ChangeView


def make_assessments(session: Session, wanted: Wanted) -> list[Path]:
    """Write the assessment of each change in full."""
    return [
        path
        for number in wanted.one_or_more("a change")
        for path in _assessment(session, number, wanted)
    ]


def _assessment(session: Session, number: str, wanted: Wanted) -> list[Path]:
    say = wanted.say
    change = change_view(session, number)
    kept = latest_assessment(session, change.id)
    given = signatures_on(session, "assessment", kept.id)
    title = Title(
        title=say("Change assessment"),
        number=number,
        about=f"{', '.join(change.lines)}: {change.title}",
        revision=str(kept.revision),
        valid_until=say("a newer revision is issued"),
        prepared_by=kept.prepared_by,
        checked_by=signer(given, "checked"),
        approved_by=signer(given, "approved"),
    )
    content = content_of(kept)
    conditions = tuple(s.reason for s in given if s.meaning == "approved" and s.reason)
    head = head_of(session, wanted, title, kept.fingerprint)
    paper = ChangeAssessment(
        content=content,
        summary=summary_of_assessment(
            head, content, signature_lines(given), conditions, wanted.say
        ),
        explained=explained_assessment(content),
        screened=tuple(_screened(session, change)),
    )
    made = document(session, wanted, title, change_assessment(paper, say), landscape=True)
    return write_document(made, wanted, f"{number}-assessment")


def _screened(session: Session, change: ChangeView) -> Iterator[ScreenedThrough]:
    """Give each line screened with the change's weights; the aim if it is one of the list."""
    known = change.aim in set(Aim)
    aim = Aim(change.aim) if known else Aim.KEEP
    for line in change.lines:
        try:
            through = screening.screen(made_ready(session, line, change.number), aim)
        except (NotReady, CannotCalculate, InputHasFaults) as error:
            yield ScreenedThrough(line, missing=str(error))
            continue
        need = through.need
        yield ScreenedThrough(
            line,
            tuple(
                NozzleUses(
                    n.nozzle, n.what, n.before, n.added, n.planned if known else None,
                    n.limit_source,
                )
                for n in through.nozzles
            ),
            analysis_words(need),
            tuple(need.reasons),
            tuple(need.cannot_judge),
        )  # fmt: skip


def make_audit_records(session: Session, wanted: Wanted) -> list[Path]:
    """Write the audit record of each change."""
    broken = _broken(session)
    return [
        path
        for number in wanted.one_or_more("a change")
        for path in _record(session, number, broken, wanted)
    ]


def _broken(session: Session) -> str:
    """Return words for the first batch that does not follow; the whole register is read once."""
    batch = first_break(session)
    if batch is None:
        return ""
    return f"The first that does not is batch {batch.id}, '{batch.action}', by {batch.actor}."


def _record(session: Session, number: str, broken: str, wanted: Wanted) -> list[Path]:
    say = wanted.say
    change, view = change_of(session, number), change_view(session, number)
    batches = change_trail(session, change)
    record = AuditRecord(
        number=change.number,
        title=change.title,
        state=change.state,
        lines=view.lines,
        noted=say("by {person} on {day}", person=change.requested_by, day=change.requested_on),
        batches=batches,
        signed=tuple(str(one) for one in signed_on_change(session, change)),
        made=clock_at(session, wanted.made),
        head=short(chain_head(session)),
        broken=broken,
        keep_years=periods_in_force(session, change.requested_on).keep_years,
    )
    title = Title(
        title=say("Audit record of a change"),
        number=number,
        about=f"{', '.join(view.lines)}: {change.title}",
        revision=say("up to batch {number}", number=batches[-1].batch) if batches else "",
        valid_until=say("the change is written to again"),
    )
    made = document(session, wanted, title, audit_record(record, say), landscape=True)
    return write_document(made, wanted, f"{number}-audit-record")
