"""Move orders and change on when every unit concerned is settled."""

from __future__ import annotations

from sqlalchemy.orm import Session

from supports.model import WorkOrderLine
from supports.operations.order_states import refresh_orders
from supports.queries.orders import change_of_line, lines_of_change
from supports.rules.workflow import ChangeState, LineState, OrderKind


def finish(session: Session, line: WorkOrderLine) -> None:
    """Move orders and change on when every unit concerned is settled."""
    if line.undoes_id is not None and LineState(line.state).is_settled:
        session.get_one(WorkOrderLine, line.undoes_id).state = LineState.UNDONE
    change = change_of_line(session, line)
    refresh_orders(session, change)
    if change.state == ChangeState.BEING_DONE and _all_settled(
        session, change.id, OrderKind.RE_SET
    ):
        change.state = ChangeState.TO_BE_PROVED
    if change.state == ChangeState.IN_FORCE and _all_settled(session, change.id, OrderKind.REMOVAL):
        change.state = ChangeState.TO_BE_PROVED


def _all_settled(session: Session, change_id: int, kind: OrderKind) -> bool:
    lines = lines_of_change(session, change_id, kind)
    return bool(lines) and all(LineState(line.state).is_settled for line in lines)
