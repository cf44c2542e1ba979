"""Work orders: written, planned, checked, given out by numbered copies, held, taken back."""

from supports.operations.work_orders.comparing import compare_line
from supports.operations.work_orders.issuing import check_order, copy_is_back, give_out
from supports.operations.work_orders.planning import (
    Before,
    Material,
    OrderPlan,
    before_is_done,
    plan_order,
    release_hold,
)
from supports.operations.work_orders.undoing import write_undo_order
from supports.operations.work_orders.writing import write_work_order

__all__ = [
    "Before",
    "Material",
    "OrderPlan",
    "before_is_done",
    "check_order",
    "compare_line",
    "copy_is_back",
    "give_out",
    "plan_order",
    "release_hold",
    "write_undo_order",
    "write_work_order",
]
