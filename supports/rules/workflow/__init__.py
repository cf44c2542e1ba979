"""What may follow what, who may do it, on what evidence, and what stands in the way."""

from supports.rules.workflow.eyes import require_other_person, require_roles
from supports.rules.workflow.states import ChangeState, LineState, OrderKind, OrderState, within
from supports.rules.workflow.steps import STEPS, Step, require_step, step_of

__all__ = [
    "STEPS",
    "ChangeState",
    "LineState",
    "OrderKind",
    "OrderState",
    "Step",
    "require_other_person",
    "require_roles",
    "require_step",
    "step_of",
    "within",
]
