"""What a change record says, who signed it, and which signatures still stand."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from sqlalchemy import or_, select
from sqlalchemy.orm import Session, aliased

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
from supports.queries.asked_once import by_first, of_one
from supports.queries.change_views import latest_assessment_or_none, view_of_change
from supports.rules.workflow import ChangeState
from supports.rules.workflow.record import (
    FIVE_ITEMS,
    ChangeRecord,
    Signed,
    changed_parts,
    parts_of,
)
from supports.sentences import Sentence
from supports.vocabulary import CalculationStatus


def change_record(session: Session, change: Change) -> ChangeRecord:
    """Return all that people wrote about a change."""
    view = view_of_change(session, change)
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
        needs=of_one(session, Change, _needs, change.id) or (),
    )


def _needs(session: Session, changes: Collection[int]) -> dict[int, tuple[str, ...]]:
    query = select(ChangeNeed.change_id, ChangeNeed.role).where(ChangeNeed.change_id.in_(changes))
    return by_first((change, role) for change, role in session.execute(query.order_by("role")))


def present_parts(session: Session, change: Change) -> dict[str, str]:
    """Return the fingerprint of every part of a change as it is now."""
    assessment = latest_assessment_or_none(session, change.id)
    mark = "" if assessment is None else assessment.fingerprint
    return parts_of(change_record(session, change), mark)


def signed_on_change(session: Session, change: Change) -> list[Signed]:
    """Return every signature on a change and its assessments, oldest first."""
    present = present_parts(session, change)
    rows = of_one(session, Change, _signatures, change.id) or ()
    return [_signed(row, name, present) for row, name in rows]


def _signatures(
    session: Session, changes: Collection[int]
) -> dict[int, tuple[tuple[Signature, str], ...]]:
    """Return every signature with its person, by the change that it is on, itself or assessed."""
    assessed = select(Assessment.id).where(Assessment.change_id.in_(changes))
    on_assessment = Signature.subject == "assessment"
    query = (
        select(Signature, Person.name, Assessment.change_id)
        .join(Person, Signature.person_id == Person.id)
        .outerjoin(Assessment, on_assessment & (Signature.subject_id == Assessment.id))
        .where(
            or_(
                (Signature.subject == "change") & Signature.subject_id.in_(changes),
                on_assessment & Signature.subject_id.in_(assessed),
            )
        )
        .order_by(Signature.id)
    )
    return by_first(
        (row.subject_id if row.subject == "change" else change, (row, name))
        for row, name, change in session.execute(query)
    )


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
    for other in of_one(session, Calculation, _other_revisions, calculation.id) or ():
        if other.status in planned | {CalculationStatus.SUPERSEDED}:
            continue
        if _later(other, calculation):
            return f"{other.number} rev. {other.revision}"
    superseded = calculation.status == CalculationStatus.SUPERSEDED
    return "a revision that is not in the register" if superseded else ""


def _other_revisions(
    session: Session, calculations: Collection[int]
) -> dict[int, tuple[Calculation, ...]]:
    """Return the other revisions of calculations, the one issued last first."""
    other = aliased(Calculation)
    query = (
        select(Calculation.id, other)
        .join(other, (other.number == Calculation.number) & (other.id != Calculation.id))
        .where(Calculation.id.in_(calculations))
        .order_by(other.issued_on.desc(), other.id.desc())
    )
    return by_first((one, found) for one, found in session.execute(query))


def _later(other: Calculation, than: Calculation) -> bool:
    if other.issued_on and than.issued_on and other.issued_on != than.issued_on:
        return other.issued_on > than.issued_on
    return other.id > than.id


def unmet_changes(session: Session, change: Change) -> Iterator[Change]:
    """Give every other live change on the same supports that was not put together with this."""
    yield from of_one(session, Change, _unmet, change.id) or ()


def _unmet(session: Session, changes: Collection[int]) -> dict[int, tuple[Change, ...]]:
    """Return by change what it shares a support with and was not put together with."""
    own, other = aliased(ChangeLine), aliased(ChangeLine)
    here, there = aliased(Attachment), aliased(Attachment)
    touching = (
        select(own.change_id.label("own"), other.change_id.label("other"))
        .join(here, here.line_id == own.line_id)
        .join(there, there.point_id == here.point_id)
        .join(other, other.line_id == there.line_id)
        .where(own.change_id.in_(changes), other.change_id != own.change_id)
        .distinct()
        .subquery()
    )
    met = select(ChangeMeeting.id).where(
        or_(
            (ChangeMeeting.change_id == touching.c.own)
            & (ChangeMeeting.other_id == touching.c.other),
            (ChangeMeeting.change_id == touching.c.other)
            & (ChangeMeeting.other_id == touching.c.own),
        )
    )
    silent = [state for state in ChangeState if state.is_over or state is ChangeState.NOTED]
    query = (
        select(touching.c.own, Change)
        .join(Change, Change.id == touching.c.other)
        .where(Change.state.not_in(silent), ~met.exists())
        .order_by(Change.id)
    )
    return by_first((one, found) for one, found in session.execute(query))


OBJECTS = "{role} objects: {reason} ({person})"
UNMET = "{number} is on the same stretch and not met with: supports change meet"
SUPERSEDED = "the calculation was superseded by {newer}"


def approval_blockers(session: Session, change: Change) -> list[str]:
    """Return everything that stands in the way of the approver's word, by name."""
    record = change_record(session, change)
    signatures = signed_on_change(session, change)
    blockers: list[str] = [
        Sentence("not written: {item}", item=item) for item in record.items_missing
    ]
    words = _last_words(signatures)
    blockers += [
        Sentence("no word yet from: {role}", role=role)
        for role in record.needs
        if role not in words
    ]
    blockers += [
        Sentence(OBJECTS, role=role, reason=signed.reason, person=signed.person)
        for role, signed in words.items()
        if signed.meaning == "objected"
    ]
    blockers += [Sentence(UNMET, number=other.number) for other in unmet_changes(session, change)]
    return blockers + _basis_blockers(session, change, signatures)


def _last_words(signatures: list[Signed]) -> dict[str, Signed]:
    """Return the newest word of every role asked, where it still stands."""
    said = [s for s in signatures if s.meaning in {"agreed", "objected"}]
    newest = {role: signed for signed in said for role in signed.role.split(", ")}
    return {role: signed for role, signed in newest.items() if signed.stands}


def _basis_blockers(session: Session, change: Change, signatures: list[Signed]) -> list[str]:
    assessment = latest_assessment_or_none(session, change.id)
    if assessment is None:
        return ["not assessed yet"]
    blockers: list[str] = []
    newer = superseded_by(session, session.get_one(Calculation, assessment.calculation_id))
    if newer:
        blockers.append(Sentence(SUPERSEDED, newer=newer))
    if not standing(signatures, "checked"):
        blockers.append("nobody has checked what it says now")
    if change.duration == "temporary":
        wanted = {"owner": change.owner, "watch interval": change.watch_days}
        blockers += [
            Sentence("temporary, and not named: {name}", name=name)
            for name, known in wanted.items()
            if not known
        ]
    return blockers


def work_blockers(session: Session, change: Change) -> list[str]:
    """Return why work under a change may not go on: approval void, or its basis superseded."""
    assessment = latest_assessment_or_none(session, change.id)
    if assessment is None:
        return ["not assessed yet"]
    blockers: list[str] = []
    signatures = signed_on_change(session, change)
    if not standing(signatures, "approved"):
        void = [s.in_words for s in signatures if s.meaning == "approved"]
        blockers += void or ["not approved"]
    newer = superseded_by(session, session.get_one(Calculation, assessment.calculation_id))
    if newer:
        blockers.append(Sentence(SUPERSEDED, newer=newer))
    return blockers
