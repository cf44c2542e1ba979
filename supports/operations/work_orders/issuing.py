"""Check an order against the approved assessment, and give it out by numbered copies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from datetime import datetime

from sqlalchemy import func, select

from supports.database import Register
from supports.errors import BadInput, NotFound, NotReady
from supports.freezing import fingerprint
from supports.model import Assessment, Change, WorkOrder, WorkOrderCopy, WorkOrderLine
from supports.operations.acting import Deed, deed
from supports.operations.work_orders.from_plans import lines_by_plan
from supports.queries.change_record import work_blockers
from supports.queries.change_views import content_of, latest_assessment
from supports.queries.lookups import work_order_of
from supports.queries.orders import name_of_line
from supports.queries.plans import plan_blockers
from supports.rules.work_plan import planned_lines
from supports.rules.workflow import (
    OrderKind,
    OrderState,
    require_other_person,
    require_roles,
)
from supports.sentences import Sentence, either
from supports.vocabulary import Role

CHECKERS = frozenset({Role.STRESS_ENGINEER})
GIVERS = frozenset({Role.PLANNER, Role.COORDINATOR})
TAKERS = GIVERS | {Role.FOREMAN}
_FIGURES = ("action", "from_load", "to_load", "window_low", "window_high", "turns", "flats")


def check_order(register: Register, number: str, *, acting: str, now: datetime) -> None:
    """Check that an order's figures are those of the approved assessment.

    Raises
    ------
    NotReady
        Figures differ, or the approval does not stand; all are named.
    NotAllowed
        Whoever wrote it checks it, or no stress engineer does.
    """
    with deed(register, acting, now, action="check a work order", subject=number) as act:
        require_roles("check a work order", CHECKERS, act.person.roles)
        order = work_order_of(act.session, number)
        why = "whoever wrote the order does not check it"
        require_other_person("check the order", act.person.name, {order.written_by}, why)
        if order.state != OrderState.WRITTEN:
            raise NotReady(
                "only a written order is checked",
                (Sentence("it stands at: {state}", state=order.state),),
            )
        if blockers := _differences(act, order) + _basis_blockers(act, order):
            raise NotReady(
                Sentence("{number} does not say what was approved", number=number), blockers
            )
        act.sign(("work order", order.id), "checked", _content(act, order))
        order.state = OrderState.CHECKED


def _lines(act: Deed, order: WorkOrder) -> list[WorkOrderLine]:
    query = select(WorkOrderLine).where(WorkOrderLine.work_order_id == order.id)
    return list(act.session.scalars(query.order_by(WorkOrderLine.order_no)))


def _content(act: Deed, order: WorkOrder) -> dict[str, str]:
    figures = [[getattr(line, name) for name in _FIGURES] for line in _lines(act, order)]
    return {"figures": fingerprint(figures), "line state": fingerprint(order.line_state_needed)}


OTHER_FIGURES = "{unit}: its figures differ from those that were approved"


def _differences(act: Deed, order: WorkOrder) -> list[str]:
    """Return the units whose figures are not those of the assessment that the order names."""
    if order.kind != OrderKind.RE_SET:
        return []
    assessment = act.session.get_one(Assessment, order.assessment_id)
    content = content_of(assessment)
    by_load = planned_lines(content, order.line_state_needed)
    approved = lines_by_plan(act.session, order, content, by_load)
    planned = {line.unit_id: asdict(line) for line in approved}
    return [
        Sentence(OTHER_FIGURES, unit=name_of_line(act.session, line))
        for line in _lines(act, order)
        if any(getattr(line, name) != planned[line.unit_id][name] for name in _FIGURES)
    ]


def _basis_blockers(act: Deed, order: WorkOrder) -> list[str]:
    if order.kind != OrderKind.RE_SET:
        return []
    change = act.session.get_one(Change, order.change_id)
    blockers = work_blockers(act.session, change)
    if latest_assessment(act.session, change.id).id != order.assessment_id:
        blockers.append("a newer assessment was made than the one that the order follows")
    return blockers + plan_blockers(act.session, order.id)


def give_out(
    register: Register, number: str, holders: Sequence[str], *, acting: str, now: datetime
) -> tuple[int, ...]:
    """Give out numbered copies of a checked order; return their numbers.

    Raises
    ------
    NotReady
        The order is not checked, or its basis no longer holds.
    """
    if not holders or not all(holder.strip() for holder in holders):
        raise BadInput("a copy is given to somebody", found="a blank")
    with deed(register, acting, now, action="give out a work order", subject=number) as act:
        require_roles("give out a work order", GIVERS, act.person.roles)
        order = work_order_of(act.session, number)
        if order.state in {OrderState.WRITTEN, OrderState.WITHDRAWN, OrderState.ON_HOLD}:
            raise NotReady(
                Sentence("{number} cannot be given out", number=number),
                (Sentence("it stands at: {state}", state=order.state),),
                remedy="A stress engineer checks it first: supports work-order check",
            )
        if blockers := _basis_blockers(act, order):
            raise NotReady(Sentence("{number} cannot be given out", number=number), blockers)
        if order.state == OrderState.CHECKED:
            order.state = OrderState.GIVEN_OUT
        return _copies(act, order, holders)


def _copies(act: Deed, order: WorkOrder, holders: Sequence[str]) -> tuple[int, ...]:
    known = act.session.scalar(
        select(func.max(WorkOrderCopy.copy_no)).where(WorkOrderCopy.work_order_id == order.id)
    )
    numbers = tuple(range((known or 0) + 1, (known or 0) + 1 + len(holders)))
    act.session.add_all(
        WorkOrderCopy(
            work_order_id=order.id,
            copy_no=copy_no,
            given_to=holder,
            given_on=act.today,
            given_by=act.person.name,
        )
        for copy_no, holder in zip(numbers, holders, strict=True)
    )
    return numbers


FATES = ("back", "lost", "destroyed")


def copy_is_back(
    register: Register, number: str, copy_no: int, *, fate: str, acting: str, now: datetime
) -> None:
    """Record that a numbered copy came back, was lost or destroyed."""
    if fate not in FATES:
        raise BadInput("what became of the copy", found=fate, expected=either(FATES))
    with deed(register, acting, now, action="take a copy back", subject=number) as act:
        require_roles("take a copy back", TAKERS, act.person.roles)
        order = work_order_of(act.session, number)
        query = select(WorkOrderCopy).where(
            WorkOrderCopy.work_order_id == order.id, WorkOrderCopy.copy_no == copy_no
        )
        copy = act.session.scalar(query)
        if copy is None:
            raise NotFound(
                Sentence("{number} has no copy {copy_no}", number=number, copy_no=str(copy_no))
            )
        if copy.fate is not None:
            raise NotReady(
                Sentence(
                    "{number} copy {copy_no} is {fate} already",
                    number=number,
                    copy_no=str(copy_no),
                    fate=copy.fate,
                )
            )
        copy.fate, copy.fate_on = fate, act.today
