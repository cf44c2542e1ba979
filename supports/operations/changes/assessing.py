"""Judge every support of a change by a calculation revision, and freeze the result."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import NotReady
from supports.freezing import fingerprint, to_plain
from supports.model import Assessment, Change
from supports.operations.acting import Deed, deed
from supports.operations.order_states import hold_for_new_assessment
from supports.queries.change_record import present_parts, superseded_by
from supports.queries.change_views import (
    calculation_view,
    change_view,
    loads_apply_from,
    nozzle_limits,
)
from supports.queries.limits import limits_in_force
from supports.queries.lookups import calculation_of, change_of
from supports.queries.support_views import points_on_lines, support_views
from supports.rules.assessment import AssessmentContent, assess
from supports.rules.workflow import ChangeState, require_step
from supports.sentences import Sentence, joined


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

    Units not yet turned under an earlier assessment go on hold; those turned are to be compared.

    Parameters
    ----------
    calculation
        Number and revision that give the new loads.
    aim
        What the new loads are to achieve, in the engineer's words; it is recorded.

    Raises
    ------
    NotReady
        The calculation has no loads on the lines or was superseded, or the change stands elsewhere.
    """
    with deed(register, acting, now, action="assess a change", reason=aim, subject=number) as act:
        change = change_of(act.session, number)
        step = require_step("assess", ChangeState(change.state), act.person.roles)
        _require_present(act.session, calculation)
        hold_for_new_assessment(act.session, change)
        change.aim = aim
        act.session.flush()
        content = _content(act.session, number, calculation, act.today)
        _store(act, change, content)
        change.state = step.to
        return content


def _require_present(session: Session, calculation: tuple[str, str]) -> None:
    newer = superseded_by(session, calculation_of(session, *calculation))
    if newer:
        raise NotReady(
            Sentence(
                "calculation {number} rev. {revision} is no longer the present one",
                number=calculation[0],
                revision=calculation[1],
            ),
            (Sentence("superseded by {newer}", newer=newer),),
            remedy="Assess by the present revision",
        )


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
            Sentence(
                "calculation {name} gives no loads on {names}",
                name=basis.name,
                names=joined(uncovered, ", "),
            ),
            remedy="Bring its loads in with: supports sheets import",
        )
    lines = sorted({*loads, *view.lines})
    limits = limits_in_force(session, today)
    return assess(
        view,
        basis,
        support_views(session, points, loads),
        nozzle_limits(session, lines),
        limits.settings,
        limits.overrides,
    )


def _store(act: Deed, change: Change, content: AssessmentContent) -> None:
    session, plain = act.session, to_plain(content)
    count = session.scalar(
        select(func.count(Assessment.id)).where(Assessment.change_id == change.id)
    )
    assessment = Assessment(
        change_id=change.id,
        revision=(count or 0) + 1,
        calculation_id=content.calculation.id,
        made_at=act.now,
        prepared_by=act.person.name,
        content=plain,
        fingerprint=fingerprint(plain),
    )
    session.add(assessment)
    session.flush()
    act.sign(("assessment", assessment.id), "prepared", present_parts(session, change))
