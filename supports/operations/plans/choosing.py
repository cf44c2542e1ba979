"""Choose one of the plans laid side by side, with the reason, by somebody who did not make it."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import select

from supports.database import Register
from supports.errors import BadInput, NotReady
from supports.findings import cannot_judge
from supports.freezing import fingerprint
from supports.model import Change, Plan, PlanChoice, PlannedOrder, WorkOrder, WorkOrderLine
from supports.operations.acting import Deed, deed
from supports.operations.order_states import refresh_orders
from supports.queries.lookups import plan_of
from supports.queries.plans import content_of_plan, require_standing
from supports.rules.reset_planning.content import PlanAlternative, PlanContent
from supports.rules.reset_planning.wish import PlanKind
from supports.rules.workflow import LineState, require_other_person, require_roles
from supports.sentences import Sentence
from supports.vocabulary import Role

CHOOSERS = frozenset({Role.RESPONSIBLE_ENGINEER})
_NOT_BEGUN = {LineState.WRITTEN, LineState.BACK_TO_ENGINEER}


def choose_plan(
    register: Register, number: str, which: int, *, reason: str, acting: str, now: datetime
) -> str:
    """Choose one of the plans laid side by side; return its name.

    Orders that follow an earlier plan of the line go on hold where nothing was begun.

    Parameters
    ----------
    which
        Its place among those laid side by side, from 1.

    Raises
    ------
    BadInput
        There is no such place, or no reason.
    NotAllowed
        The person is no responsible engineer, or made the plan.
    NotReady
        The plan is void, cannot be done, is not safe on the way, or rests on something unknown.
    """
    if not reason.strip():
        raise BadInput(
            "a plan is chosen with a reason", found="a blank", remedy="Say it with --why"
        )
    with deed(
        register, acting, now, action="choose a re-set plan", reason=reason, subject=number
    ) as act:
        require_roles("choose a re-set plan", CHOOSERS, act.person.roles)
        plan = plan_of(act.session, number)
        why = "whoever made the plan does not choose it"
        require_other_person("choose the plan", act.person.name, {plan.made_by}, why)
        require_standing(act.session, plan, "chosen")
        content = content_of_plan(plan)
        chosen = _at(content, which)
        _require_sound(plan, content, chosen)
        _hold_orders(act, plan)
        _choose(act, plan, chosen, reason)
        return chosen.name


def _at(content: PlanContent, which: int) -> PlanAlternative:
    if not 1 <= which <= len(content.alternatives):
        named = "; ".join(f"{n} {one.name}" for n, one in enumerate(content.alternatives, start=1))
        raise BadInput("there is no such alternative", found=str(which), expected=named)
    return content.alternatives[which - 1]


def _require_sound(plan: Plan, content: PlanContent, chosen: PlanAlternative) -> None:
    reasons: list[str] = [cannot_judge([what]) for what in content.missing]
    if not chosen.can_be_done:
        reasons.append(chosen.verdict)
    elif not chosen.safe:
        reasons.append(chosen.safety)
    if reasons:
        remedy = "Another aim or step, or what the relief names: supports plan make"
        raise NotReady(
            Sentence("{plan} '{name}' cannot be chosen", plan=plan.number, name=chosen.name),
            reasons,
            remedy=remedy,
        )


def _choose(act: Deed, plan: Plan, chosen: PlanAlternative, reason: str) -> None:
    choice = PlanChoice(
        plan_id=plan.id,
        alternative=chosen.name,
        chosen_by=act.person.name,
        chosen_at=act.now,
        reason=reason,
    )
    act.session.add(choice)
    act.session.flush()
    covers = {"plan": plan.fingerprint, "alternative": fingerprint(chosen.name)}
    act.sign(("plan choice", choice.id), "chosen", covers, reason=reason)


def _hold_orders(act: Deed, plan: Plan) -> None:
    """Hold what is not begun of the orders that follow another plan of the same line."""
    if plan.kind == PlanKind.UNDO:
        return
    query = (
        select(WorkOrder)
        .join(PlannedOrder, PlannedOrder.work_order_id == WorkOrder.id)
        .join(PlanChoice, PlannedOrder.choice_id == PlanChoice.id)
        .join(Plan, PlanChoice.plan_id == Plan.id)
        .where(Plan.change_id == plan.change_id, Plan.line_id == plan.line_id)
    )
    for order in act.session.scalars(query.distinct()):
        lines = select(WorkOrderLine).where(WorkOrderLine.work_order_id == order.id)
        for line in act.session.scalars(lines):
            if LineState(line.state) in _NOT_BEGUN:
                line.state, line.waits_for = LineState.ON_HOLD, f"the order of {plan.number}"
    refresh_orders(act.session, act.session.get_one(Change, plan.change_id))
