"""More of the same in a register at work: rows beside those there are, told apart by a number."""

from __future__ import annotations

from typing import TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.database import Register
from supports.model import (
    Account,
    Assessment,
    Base,
    Change,
    ChangeLine,
    ChangeNeed,
    ChangeProof,
    ChangeTerm,
    FieldFinding,
    Person,
    PersonRole,
    Plan,
    PlanChoice,
    PropEvent,
    Signature,
    TravelStopEvent,
    WeightItem,
    WorkOrder,
    WorkOrderCopy,
    WorkOrderLine,
)
from supports.rules.workflow import ChangeState
from tests.operations.days import START

_Row = TypeVar("_Row", bound=Base)

OF_A_CHANGE = (ChangeLine, ChangeNeed, ChangeProof, ChangeTerm, WeightItem)
OF_AN_ORDER = (WorkOrderCopy, WorkOrderLine)


def grow(register: Register, numbers: range) -> None:
    """Add a change in work and one being prepared, a plan, a pin, a prop, and so on, per number."""
    with register.writing("KK", "", START, action="add more of the same") as writing:
        for number in numbers:
            _grow(writing.session, number)


def _grow(session: Session, number: int) -> None:
    first = session.scalars(select(Change).order_by(Change.id)).first()
    assert first is not None
    for state in (ChangeState.BEING_DONE, ChangeState.BEING_WORKED_OUT, ChangeState.CLEARED):
        _another_change(session, first, state, f"{number} {state}")
    for table, told in ((TravelStopEvent, "pin_number"), (PropEvent, "prop_number")):
        _more(session, _one(session, table), **{told: f"more {number}"})
    finding = _one(session, FieldFinding)
    _more(session, finding, number=f"{finding.number} {number}")
    somebody = _more(session, _one(session, Person), name=f"more {number}", initials=None)
    _more(session, _one(session, PersonRole), person_id=somebody.id)
    _more(session, _one(session, Account), name=f"more {number}", person_id=somebody.id)


def _another_change(session: Session, first: Change, state: ChangeState, number: str) -> None:
    change = _more(session, first, number=f"{first.number} {number}", state=state, ends_on=START)
    for part in OF_A_CHANGE:
        for row in session.scalars(select(part).where(part.change_id == first.id)).all():
            _more(session, row, change_id=change.id)
    signed = select(Signature).where(Signature.subject == "change")
    for row in session.scalars(signed.where(Signature.subject_id == first.id)).all():
        _more(session, row, subject_id=change.id)
    made = _one(session, Assessment)
    assessment = _more(session, made, change_id=change.id)
    plan = _one(session, Plan)
    another = _more(
        session, plan, number=f"{plan.number} {number}", change_id=change.id,
        assessment_id=assessment.id,
    )  # fmt: skip
    _more(session, _one(session, PlanChoice), plan_id=another.id)
    order = _one(session, WorkOrder)
    again = _more(
        session, order, number=f"{order.number} {number}", change_id=change.id,
        assessment_id=assessment.id,
    )  # fmt: skip
    for part in OF_AN_ORDER:
        for row in session.scalars(select(part).where(part.work_order_id == order.id)).all():
            _more(session, row, work_order_id=again.id)


def _one(session: Session, table: type[_Row]) -> _Row:
    return session.scalars(select(table).order_by(table.__table__.c.id).limit(1)).one()


def _more(session: Session, row: _Row, **other: object) -> _Row:
    """Add a row like another."""
    columns = [one.name for one in row.__table__.columns if one.name not in {"id", "row_version"}]
    made = type(row)(**{name: getattr(row, name) for name in columns} | other)
    session.add(made)
    session.flush()
    return made
