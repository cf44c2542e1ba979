"""Changes, their calculations and assessments as frozen views."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from supports.errors import NotReady
from supports.freezing import from_plain
from supports.model import (
    Assessment,
    Calculation,
    Change,
    ChangeLine,
    Line,
    NozzleLimit,
    Person,
    RequiredLoad,
    Signature,
    WeightItem,
)
from supports.queries.holding import ahead_of_the_line, holds
from supports.queries.lookups import change_of
from supports.queries.plant_days import day_at
from supports.rules.assessment import AssessmentContent
from supports.snapshots import (
    CalculationView,
    ChangeView,
    NozzleLimitView,
    SignatureView,
    WeightItemView,
)
from supports.vocabulary import Known


def change_view(session: Session, number: str) -> ChangeView:
    """Return a change with its lines and weights."""
    change = change_of(session, number)
    return ChangeView(
        id=change.id,
        number=change.number,
        title=change.title,
        reason=change.reason or "",
        duration=change.duration,
        state=change.state,
        aim=change.aim or "",
        requested_by=change.requested_by,
        requested_on=change.requested_on,
        ends_on=change.ends_on,
        lines=_line_numbers(session, change.id),
        weights=_weights(session, change.id),
    )


def change_numbers(session: Session) -> list[tuple[str, str, str]]:
    """Return number, title and state of every change, oldest first."""
    query = select(Change.number, Change.title, Change.state).order_by(Change.id)
    return [(row.number, row.title, row.state) for row in session.execute(query)]


def _line_numbers(session: Session, change_id: int) -> tuple[str, ...]:
    query = (
        select(Line.number)
        .join(ChangeLine, ChangeLine.line_id == Line.id)
        .where(ChangeLine.change_id == change_id)
        .order_by(ChangeLine.id)
    )
    return tuple(session.scalars(query))


def _weights(session: Session, change_id: int) -> tuple[WeightItemView, ...]:
    query = (
        select(WeightItem, Line.number)
        .join(Line, WeightItem.line_id == Line.id)
        .where(WeightItem.change_id == change_id)
        .order_by(WeightItem.id)
    )
    return tuple(
        WeightItemView(
            line=number,
            description=item.description,
            mass=item.mass,
            along=item.along,
            off_axis=item.off_axis,
            above_axis=item.above_axis,
            source=item.source or "",
        )
        for item, number in session.execute(query)
    )


def calculation_view(calculation: Calculation) -> CalculationView:
    """Return a calculation as a view."""
    return CalculationView(
        id=calculation.id,
        number=calculation.number,
        revision=calculation.revision,
        method=calculation.method,
        status=calculation.status,
        issued_on=calculation.issued_on,
        author=calculation.author or "",
        basis=calculation.basis or "",
    )


def loads_apply_from(
    session: Session, points: Collection[int], preferred: int | None
) -> dict[str, int]:
    """Return, for each line at the points, the calculation whose loads hold.

    The preferred calculation holds for the lines that it covers; for others the newest one that is
    issued or as built, or was planned by a change that is done; one made for a weight that is not
    built yet only where there is no other.
    """
    query = (
        select(Line.number, Calculation.id, Calculation.issued_on)
        .join(RequiredLoad, RequiredLoad.line_id == Line.id)
        .join(Calculation, RequiredLoad.calculation_id == Calculation.id)
        .where(RequiredLoad.point_id.in_(points))
        .where(or_(Calculation.id == preferred, holds()))
        .distinct()
        .order_by(Calculation.issued_on.nulls_first(), Calculation.id)
    )
    ahead = ahead_of_the_line(session)
    rows = sorted(session.execute(query), key=lambda row: row.id not in ahead)
    chosen: dict[str, int] = {}
    for line, calculation, _ in rows:
        if preferred is None or chosen.get(line) != preferred:
            chosen[line] = calculation
    return chosen


def nozzle_limits(session: Session, lines: Collection[str]) -> list[NozzleLimitView]:
    """Return the nozzle limits at the ends of lines."""
    query = (
        select(NozzleLimit, Line.number)
        .join(Line, NozzleLimit.line_id == Line.id)
        .where(Line.number.in_(lines))
        .order_by(NozzleLimit.id)
    )
    return [
        NozzleLimitView(
            line=number,
            nozzle=limit.nozzle,
            equipment=limit.equipment or "",
            machine=Known(limit.machine or Known.UNKNOWN),
            forces=(limit.force_x, limit.force_y, limit.force_z),
            moments=(limit.moment_x, limit.moment_y, limit.moment_z),
            force_resultant=limit.force_resultant,
            moment_resultant=limit.moment_resultant,
            source=limit.source or "",
            node=limit.node or "",
        )
        for limit, number in session.execute(query)
    ]


def latest_assessment_or_none(session: Session, change_id: int) -> Assessment | None:
    """Return the newest assessment of a change, if there is one."""
    query = (
        select(Assessment)
        .where(Assessment.change_id == change_id)
        .order_by(Assessment.revision.desc())
        .limit(1)
    )
    return session.scalar(query)


def latest_assessment(session: Session, change_id: int) -> Assessment:
    """Return the newest assessment of a change.

    Raises
    ------
    NotReady
        The change was not assessed yet.
    """
    found = latest_assessment_or_none(session, change_id)
    if found is None:
        raise NotReady(
            "the change was not assessed yet", remedy="Assess it with: supports change assess"
        )
    return found


def content_of(assessment: Assessment) -> AssessmentContent:
    """Return what an assessment says, as it was frozen."""
    return from_plain(AssessmentContent, assessment.content)


def signatures_on(session: Session, subject: str, subject_id: int) -> Sequence[SignatureView]:
    """Return the signatures on something, oldest first."""
    query = (
        select(Signature, Person.name)
        .join(Person, Signature.person_id == Person.id)
        .where(Signature.subject == subject, Signature.subject_id == subject_id)
        .order_by(Signature.id)
    )
    return [
        SignatureView(
            meaning=signed.meaning,
            person=name,
            role=signed.role,
            signed_on=day_at(session, signed.signed_at),
            fingerprint=signed.fingerprint,
            reason=signed.reason or "",
        )
        for signed, name in session.execute(query)
    ]
