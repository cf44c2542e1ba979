"""What must hold before anybody turns a unit: order given out, approval standing, line ready."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.errors import NotReady
from supports.model import Change, ChangeTerm, WorkOrder, WorkOrderBefore, WorkOrderLine
from supports.operations.acting import Deed
from supports.operations.order_states import refresh_orders
from supports.queries.change_record import work_blockers
from supports.queries.orders import change_of_line, name_of_line
from supports.queries.plans import plan_blockers
from supports.queries.props import holds_wanting
from supports.rules.work_plan import RE_SET
from supports.rules.workflow import ChangeState, LineState, OrderKind, OrderState
from supports.sentences import Sentence
from supports.vocabulary import PlantState


def require_may_begin(act: Deed, line: WorkOrderLine, plant_state: PlantState) -> None:
    """Raise NotReady unless work may begin at a unit; everything in the way is named."""
    order = act.session.get_one(WorkOrder, line.work_order_id)
    change = act.session.get_one(Change, order.change_id)
    blockers = [
        *_order_blockers(order),
        *_change_blockers(act.session, change, OrderKind(order.kind)),
        *_before_blockers(act.session, order),
        *_state_blockers(order, line, plant_state),
        *_other_orders(act.session, line),
        *plan_blockers(act.session, order.id),
        *(holds_wanting(act.session, order.id) if line.action == RE_SET else ()),
    ]
    if blockers:
        raise NotReady(
            Sentence("work at {unit} may not begin", unit=name_of_line(act.session, line)),
            blockers,
            remedy=Sentence("See: supports work-order show {order}", order=order.number),
        )


NOT_GIVEN_OUT = "{number} is not given out; it stands at: {state}"


def _order_blockers(order: WorkOrder) -> list[str]:
    if order.state in {OrderState.WRITTEN, OrderState.CHECKED, OrderState.WITHDRAWN}:
        return [Sentence(NOT_GIVEN_OUT, number=order.number, state=order.state)]
    return []


_MAY_WORK = {
    OrderKind.RE_SET: {ChangeState.CLEARED, ChangeState.BEING_DONE},
    OrderKind.UNDO: {ChangeState.TO_BE_PUT_RIGHT},
}


def _change_blockers(session: Session, change: Change, kind: OrderKind) -> list[str]:
    state = ChangeState(change.state)
    stands = Sentence("{number} stands at: {state}", number=change.number, state=state)
    if kind is OrderKind.REMOVAL:
        built = session.scalar(select(ChangeTerm.id).where(ChangeTerm.change_id == change.id))
        in_place = state in {ChangeState.IN_FORCE, ChangeState.TO_BE_PROVED} or change.asked_until
        return [] if built and in_place else [stands]
    blockers: list[str] = [] if state in _MAY_WORK[kind] else [stands]
    return blockers + (work_blockers(session, change) if kind is OrderKind.RE_SET else [])


def _before_blockers(session: Session, order: WorkOrder) -> list[str]:
    query = select(WorkOrderBefore).where(
        WorkOrderBefore.work_order_id == order.id, WorkOrderBefore.done_on.is_(None)
    )
    waiting: list[str] = []
    for before in session.scalars(query.order_by(WorkOrderBefore.id)):
        other = session.get_one(WorkOrder, before.order_id) if before.order_id else None
        if other is None or other.state != OrderState.ACCEPTED:
            waiting.append(Sentence("to be done before: {job}", job=before.job))
    return waiting


def _state_blockers(order: WorkOrder, line: WorkOrderLine, found: PlantState) -> list[str]:
    wanted = order.line_state_needed
    known = wanted in set(PlantState) and found is not PlantState.UNKNOWN
    if line.action == RE_SET and known and found != wanted:
        return [
            Sentence("the line must be '{wanted}', it is '{found}'", wanted=wanted, found=found)
        ]
    return []


def _other_orders(session: Session, line: WorkOrderLine) -> list[str]:
    query = select(WorkOrderLine).where(
        WorkOrderLine.unit_id == line.unit_id,
        WorkOrderLine.id != line.id,
        WorkOrderLine.state.in_([LineState.IN_HAND]),
    )
    return [
        Sentence(
            "the unit is in hand under {order}",
            order=session.get_one(WorkOrder, other.work_order_id).number,
        )
        for other in session.scalars(query)
    ]


def begin(session: Session, line: WorkOrderLine) -> None:
    """Let the change and its order follow from the first as-found."""
    change = change_of_line(session, line)
    if change.state == ChangeState.CLEARED:
        change.state = ChangeState.BEING_DONE
    refresh_orders(session, change)
