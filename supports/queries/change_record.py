"""What a change record says, who signed it, and which signatures still stand."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from supports.model import (
    Assessment,
    Attachment,
    Calculation,
    Change,
    ChangeLine,
    ChangeMeeting,
    ChangeNeed,
    Person,
    Signature,
)
from supports.queries.change_views import change_view, latest_assessment_or_none
from supports.rules.workflow import ChangeState
from supports.rules.workflow.record import (
    FIVE_ITEMS,
    ChangeRecord,
    Signed,
    changed_parts,
    parts_of,
)
from supports.vocabulary import CalculationStatus


def change_record(session: Session, change: Change) -> ChangeRecord:
    """Return all that people wrote about a change."""
    view = change_view(session, change.number)
    needs = select(ChangeNeed.role).where(ChangeNeed.change_id == change.id).order_by("role")
    return ChangeRecord(
        number=change.number,
        title=change.title,
        reason=change.reason or "",
        duration=change.duration,
        ends_on=change.asked_until or change.ends_on,
        depth=change.depth or "",
        stretch=change.stretch or "",
        owner=change.owner or "",
        watch_days=change.watch_days,
        five={name: getattr(change, name) or "" for name in FIVE_ITEMS},
        lines=view.lines,
        weights=view.weights,
        needs=tuple(session.scalars(needs)),
    )


def present_parts(session: Session, change: Change) -> dict[str, str]:
    """Return the fingerprint of every part of a change as it is now."""
    assessment = latest_assessment_or_none(session, change.id)
    mark = "" if assessment is None else assessment.fingerprint
    return parts_of(change_record(session, change), mark)


def signed_on_change(session: Session, change: Change) -> list[Signed]:
    """Return every signature on a change and its assessments, oldest first."""
    present = present_parts(session, change)
    assessments = select(Assessment.id).where(Assessment.change_id == change.id)
    query = (
        select(Signature, Person.name)
        .join(Person, Signature.person_id == Person.id)
        .where(
            or_(
                (Signature.subject == "change") & (Signature.subject_id == change.id),
                (Signature.subject == "assessment") & Signature.subject_id.in_(assessments),
            )
        )
        .order_by(Signature.id)
    )
    return [_signed(row, name, present) for row, name in session.execute(query)]


def _signed(row: Signature, name: str, present: dict[str, str]) -> Signed:
    covers = row.covers or {}
    return Signed(
        meaning=row.meaning,
        person=name,
        role=row.role,
        signed_at=row.signed_at,
        reason=row.reason or "",
        changed=changed_parts(covers, present) if covers else (),
        mark=row.fingerprint,
    )


def hands_on(session: Session, assessment: Assessment) -> tuple[str, ...]:
    """Return who prepared and who checked an assessment, in that order."""
    query = (
        select(Person.name)
        .join(Signature, Signature.person_id == Person.id)
        .where(Signature.subject == "assessment", Signature.subject_id == assessment.id)
        .where(Signature.meaning.in_(["prepared", "checked"]))
        .order_by(Signature.id)
    )
    return tuple(session.scalars(query))


def standing(signatures: list[Signed], meaning: str) -> list[Signed]:
    """Return the signatures of one meaning that still stand."""
    return [signed for signed in signatures if signed.meaning == meaning and signed.stands]


def superseded_by(session: Session, calculation: Calculation) -> str:
    """Return what has taken the place of a calculation; '' if it is the present one.

    What is only planned takes the place of nothing that is issued.
    """
    planned = {CalculationStatus.PLANNED} - {calculation.status}
    query = (
        select(Calculation)
        .where(Calculation.number == calculation.number, Calculation.id != calculation.id)
        .where(Calculation.status.not_in(planned | {CalculationStatus.SUPERSEDED}))
        .order_by(Calculation.issued_on.desc(), Calculation.id.desc())
    )
    for other in session.scalars(query):
        if _later(other, calculation):
            return f"{other.number} rev. {other.revision}"
    superseded = calculation.status == CalculationStatus.SUPERSEDED
    return "a revision that is not in the register" if superseded else ""


def _later(other: Calculation, than: Calculation) -> bool:
    if other.issued_on and than.issued_on and other.issued_on != than.issued_on:
        return other.issued_on > than.issued_on
    return other.id > than.id


def unmet_changes(session: Session, change: Change) -> Iterator[Change]:
    """Give every other live change on the same supports that was not put together with this."""
    own = select(Attachment.point_id).join(
        ChangeLine, (ChangeLine.line_id == Attachment.line_id) & (ChangeLine.change_id == change.id)
    )
    touching = (
        select(ChangeLine.change_id)
        .join(Attachment, Attachment.line_id == ChangeLine.line_id)
        .where(Attachment.point_id.in_(own))
    )
    silent = [state for state in ChangeState if state.is_over or state is ChangeState.NOTED]
    others = (
        select(Change)
        .where(Change.id != change.id, Change.id.in_(touching), Change.state.not_in(silent))
        .where(Change.id.not_in(_met(session, change.id)))
        .order_by(Change.id)
    )
    yield from session.scalars(others)


def _met(session: Session, change_id: int) -> set[int]:
    query = select(ChangeMeeting.change_id, ChangeMeeting.other_id).where(
        or_(ChangeMeeting.change_id == change_id, ChangeMeeting.other_id == change_id)
    )
    return {number for pair in session.execute(query) for number in pair} - {change_id}


def approval_blockers(session: Session, change: Change) -> list[str]:
    """Return everything that stands in the way of the approver's word, by name."""
    record = change_record(session, change)
    signatures = signed_on_change(session, change)
    blockers = [f"not written: {words}" for words in record.items_missing]
    words = _last_words(signatures)
    blockers += [f"no word yet from: {role}" for role in record.needs if role not in words]
    blockers += [
        f"{role} objects: {signed.reason} ({signed.person})"
        for role, signed in words.items()
        if signed.meaning == "objected"
    ]
    blockers += [
        f"{other.number} is on the same stretch and not met with: supports change meet"
        for other in unmet_changes(session, change)
    ]
    return blockers + _basis_blockers(session, change, signatures)


def _last_words(signatures: list[Signed]) -> dict[str, Signed]:
    """Return the newest word of every role asked, where it still stands."""
    said = [s for s in signatures if s.meaning in {"agreed", "objected"}]
    newest = {role: signed for signed in said for role in signed.role.split(", ")}
    return {role: signed for role, signed in newest.items() if signed.stands}


def _basis_blockers(session: Session, change: Change, signatures: list[Signed]) -> list[str]:
    assessment = latest_assessment_or_none(session, change.id)
    if assessment is None:
        return ["not assessed"]
    blockers = []
    newer = superseded_by(session, session.get_one(Calculation, assessment.calculation_id))
    if newer:
        blockers.append(f"the calculation was superseded by {newer}")
    if not standing(signatures, "checked"):
        blockers.append("no check stands on the present content")
    if change.duration == "temporary":
        wanted = {"owner": change.owner, "watch interval": change.watch_days}
        blockers += [
            f"temporary, and not named: {name}" for name, known in wanted.items() if not known
        ]
    return blockers


def work_blockers(session: Session, change: Change) -> list[str]:
    """Return why work under a change may not go on: approval void, or its basis superseded."""
    assessment = latest_assessment_or_none(session, change.id)
    if assessment is None:
        return ["not assessed"]
    blockers = []
    signatures = signed_on_change(session, change)
    if not standing(signatures, "approved"):
        void = [str(s) for s in signatures if s.meaning == "approved"]
        blockers += void or ["not approved"]
    newer = superseded_by(session, session.get_one(Calculation, assessment.calculation_id))
    if newer:
        blockers.append(f"the calculation was superseded by {newer}")
    return blockers
