"""Changes, their calculations and assessments as frozen views."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from sqlalchemy import func, or_, select
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
from supports.queries.asked_once import ask_together, by_first, of_one
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
    return view_of_change(session, change_of(session, number))


def view_of_change(session: Session, change: Change) -> ChangeView:
    """Return a change with its lines and weights."""
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
        lines=tuple(line.number for line in lines_changed(session, change.id)),
        weights=of_one(session, Change, _weights, change.id) or (),
    )


def change_numbers(session: Session) -> list[tuple[str, str, str]]:
    """Return number, title and state of every change, oldest first."""
    query = select(Change.number, Change.title, Change.state).order_by(Change.id)
    return [(row.number, row.title, row.state) for row in session.execute(query)]


def lines_changed(session: Session, change_id: int) -> tuple[Line, ...]:
    """Return the lines that a change is on, in the order they were named."""
    return of_one(session, Change, _lines, change_id) or ()


def _lines(session: Session, changes: Collection[int]) -> dict[int, tuple[Line, ...]]:
    query = (
        select(ChangeLine.change_id, Line)
        .join(Line, ChangeLine.line_id == Line.id)
        .where(ChangeLine.change_id.in_(changes))
        .order_by(ChangeLine.id)
    )
    return by_first((change, line) for change, line in session.execute(query))


def _weights(session: Session, changes: Collection[int]) -> dict[int, tuple[WeightItemView, ...]]:
    query = (
        select(WeightItem, Line.number)
        .join(Line, WeightItem.line_id == Line.id)
        .where(WeightItem.change_id.in_(changes))
        .order_by(WeightItem.id)
    )
    return by_first(
        (item.change_id, _weight(item, number)) for item, number in session.execute(query)
    )


def _weight(item: WeightItem, line: str) -> WeightItemView:
    return WeightItemView(
        line=line,
        description=item.description,
        mass=item.mass,
        along=item.along,
        off_axis=item.off_axis,
        above_axis=item.above_axis,
        source=item.source or "",
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
    return of_one(session, Change, _newest_assessments, change_id)


def _newest_assessments(session: Session, changes: Collection[int]) -> dict[int, Assessment]:
    """Return the newest assessment by change; its calculation comes along and is not asked for."""
    newest = (
        select(Assessment.change_id, func.max(Assessment.revision).label("revision"))
        .where(Assessment.change_id.in_(changes))
        .group_by(Assessment.change_id)
        .subquery()
    )
    query = (
        select(Assessment, Calculation)
        .join(
            newest,
            (Assessment.change_id == newest.c.change_id)
            & (Assessment.revision == newest.c.revision),
        )
        .join(Calculation, Assessment.calculation_id == Calculation.id)
    )
    found = {one.change_id: one for one, _ in session.execute(query)}
    ask_together(session, Calculation, (one.calculation_id for one in found.values()))
    return found


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
