"""A change from the first note to the approver's word."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.database import Register, Writing
from supports.errors import BadInput, NotReady
from supports.freezing import fingerprint, to_plain
from supports.model import Assessment, Change, ChangeLine, Signature, WeightItem
from supports.operations.acting import Actor, actor
from supports.queries.change_views import (
    calculation_view,
    change_view,
    content_of,
    latest_assessment,
    loads_apply_from,
    nozzle_limits,
    signatures_on,
)
from supports.queries.lookups import calculation_of, change_of, line_of
from supports.queries.site import settings_in_force
from supports.queries.support_views import points_on_lines, support_views
from supports.rules.assessment import AssessmentContent, assess
from supports.rules.workflow import ChangeState, require_other_person, require_step
from supports.snapshots import WeightItemView


@dataclass(frozen=True, slots=True)
class Wish:
    """What somebody wants to modify."""

    title: str
    reason: str
    lines: tuple[str, ...]
    duration: str = "permanent"
    ends_on: date | None = None
    number: str = ""


def note_change(register: Register, wish: Wish, *, acting: str, now: datetime) -> str:
    """Note a change; return its number.

    Raises
    ------
    BadInput
        No line is named, or a temporary change has no end date.
    NotFound
        A line is not in the register.
    """
    if not wish.lines:
        raise BadInput("a change names at least one line")
    if wish.duration != "permanent" and wish.ends_on is None:
        raise BadInput(f"a {wish.duration} change needs an end date")
    with register.writing(acting, wish.reason, now, action="note a change") as writing:
        session, person = writing.session, actor(writing.session, acting, now.date())
        change = Change(
            number=wish.number or _next_number(session, now.year),
            title=wish.title,
            reason=wish.reason,
            duration=wish.duration,
            ends_on=wish.ends_on,
            state=ChangeState.NOTED,
            requested_by=person.name,
            requested_on=now.date(),
        )
        session.add(change)
        session.flush()
        for number in wish.lines:
            line = line_of(session, number)
            session.add(ChangeLine(change_id=change.id, line_id=line.id))
        return change.number


def _next_number(session: Session, year: int) -> str:
    count = session.scalar(select(func.count(Change.id))) or 0
    return f"CH-{year}-{count + 1:03d}"


def add_weights(
    register: Register,
    number: str,
    items: Sequence[WeightItemView],
    *,
    acting: str,
    now: datetime,
) -> None:
    """Add what comes on and goes off; items already there with the same words are left alone."""
    with register.writing(acting, "", now, action="add weights to a change") as writing:
        session = writing.session
        actor(session, acting, now.date())
        known = {(w.line, w.description) for w in change_view(session, number).weights}
        change = change_of(session, number)
        for item in items:
            if (item.line, item.description) in known:
                continue
            session.add(
                WeightItem(
                    change_id=change.id,
                    line_id=line_of(session, item.line).id,
                    description=item.description,
                    mass=item.mass,
                    along=item.along,
                    off_axis=item.off_axis,
                    above_axis=item.above_axis,
                    source=item.source or None,
                )
            )


def assess_change(
    register: Register,
    number: str,
    calculation: tuple[str, str],
    *,
    aim: str,
    acting: str,
    now: datetime,
) -> AssessmentContent:
    """Judge every support on the lines of a change by a calculation revision, and freeze it.

    Parameters
    ----------
    calculation
        Number and revision that give the new loads.
    aim
        What the new loads are to achieve, in the engineer's words; it is recorded.

    Raises
    ------
    NotReady
        The calculation has no loads on the lines, or the change stands elsewhere.
    """
    with register.writing(acting, aim, now, action="assess a change") as writing:
        session = writing.session
        person = actor(session, acting, now.date())
        change = change_of(session, number)
        step = require_step("assess", ChangeState(change.state), person.roles)
        change.aim = aim
        session.flush()
        content = _content(session, number, calculation, now.date())
        _store(writing, change, content, person)
        change.state = step.to
        return content


def _content(
    session: Session, number: str, calculation: tuple[str, str], today: date
) -> AssessmentContent:
    view = change_view(session, number)
    basis = calculation_view(calculation_of(session, *calculation))
    points = points_on_lines(session, view.lines)
    loads = loads_apply_from(session, points, basis.id)
    uncovered = [line for line in view.lines if loads.get(line) != basis.id]
    if uncovered:
        raise NotReady(
            f"calculation {basis.name} gives no loads on {', '.join(uncovered)}",
            remedy="Bring its loads in with: supports sheets import",
        )
    lines = sorted({*loads, *view.lines})
    return assess(
        view,
        basis,
        support_views(session, points, loads),
        nozzle_limits(session, lines),
        settings_in_force(session, today),
    )


def _store(writing: Writing, change: Change, content: AssessmentContent, person: Actor) -> None:
    session, plain = writing.session, to_plain(content)
    count = session.scalar(
        select(func.count(Assessment.id)).where(Assessment.change_id == change.id)
    )
    assessment = Assessment(
        change_id=change.id,
        revision=(count or 0) + 1,
        calculation_id=content.calculation.id,
        made_at=writing.now,
        prepared_by=person.name,
        content=plain,
        fingerprint=fingerprint(plain),
    )
    session.add(assessment)
    session.flush()
    _sign(writing, assessment, person, "prepared", "")


class Decision(StrEnum):
    """What a second person says of an assessment."""

    CHECK = "check"
    APPROVE = "approve"
    SEND_BACK = "send back"
    REFUSE = "refuse"


_MEANINGS = {
    Decision.CHECK: "checked",
    Decision.APPROVE: "approved",
    Decision.SEND_BACK: "sent back",
    Decision.REFUSE: "refused",
}


def decide_change(
    register: Register, number: str, act: Decision, *, acting: str, reason: str, now: datetime
) -> str:
    """Check, approve, send back or refuse the newest assessment; return the new state.

    Raises
    ------
    NotAllowed
        The person lacks the role, or prepared or checked it themself.
    NotReady
        The change stands elsewhere; supports that no re-set can put right want written reasons.
    """
    with register.writing(acting, reason, now, action=f"{act} a change") as writing:
        session = writing.session
        person, change = actor(session, acting, now.date()), change_of(session, number)
        step = require_step(act, ChangeState(change.state), person.roles)
        assessment = latest_assessment(session, change.id)
        _four_eyes(session, assessment, act, person)
        _reasons(act, reason, content_of(assessment))
        _sign(writing, assessment, person, _MEANINGS[act], reason)
        change.state = step.to
        return change.state


def _four_eyes(session: Session, assessment: Assessment, act: Decision, person: Actor) -> None:
    before = signatures_on(session, "assessment", assessment.id)
    earlier = [s.person for s in before if s.meaning in {"prepared", "checked"}]
    if act in {Decision.CHECK, Decision.APPROVE}:
        why = "preparing, checking and approving take three different people"
        require_other_person(act, person.name, earlier, why)


def _reasons(act: Decision, reason: str, content: AssessmentContent) -> None:
    if act in {Decision.SEND_BACK, Decision.REFUSE} and not reason:
        raise BadInput(f"to {act} a change, give the reason")
    if act is Decision.APPROVE and content.unresolved and not reason:
        raise NotReady(
            "some supports cannot be put right by a re-set; approving the rest wants written "
            "conditions",
            [f"{j.tag}: {j.verdict}" for j in content.unresolved],
            remedy="Say with --reason what is to be done about them",
        )


def _sign(
    writing: Writing, assessment: Assessment, person: Actor, meaning: str, reason: str
) -> None:
    roles: Collection[str] = person.roles
    writing.session.add(
        Signature(
            subject="assessment",
            subject_id=assessment.id,
            meaning=meaning,
            person_id=person.id,
            role=", ".join(sorted(roles)),
            signed_at=writing.now,
            fingerprint=assessment.fingerprint,
            reason=reason or None,
        )
    )
