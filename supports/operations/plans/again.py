"""Plan again from readings that differ from the plan; the earlier plan is kept and linked."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import NotReady
from supports.model import Change, Line, Plan, PlanChoice, WorkOrder
from supports.operations.plans.storing import Basis, MadeFrom, basis_of, keep, require_planner
from supports.queries.lookups import work_order_of
from supports.queries.plans import chosen_plan, plans_of_order, wish_of
from supports.queries.plant_days import day_at
from supports.queries.work_order_views import work_order_view
from supports.rules.reset_planning.again import plan_as_found
from supports.rules.reset_planning.order_readings import found_before, found_elsewhere
from supports.sentences import Sentence


def plan_again(register: Register, order_number: str, *, acting: str, now: datetime) -> str:
    """Plan a line again from what an order's as-found readings say; return the plan's number.

    Raises
    ------
    NotReady
        The order follows no plan, its plan's assessment was superseded, or every reading agrees.
    """
    require_planner(register, order_number, acting, now)
    with register.reading() as session:
        order = work_order_of(session, order_number)
        plan, choice = _followed(session, order)
        change = session.get_one(Change, order.change_id).number
        basis = basis_of(
            session, change, session.get_one(Line, plan.line_id).number, day_at(session, now)
        )
        _require_same_assessment(plan, basis)
        chosen, wish = chosen_plan(plan, choice), wish_of(plan)
        view = work_order_view(session, order_number)
    found = found_elsewhere(view, basis.content, chosen.alternative, basis.settings)
    if found:
        found = found_before(view, basis.content, chosen) | found
    content = plan_as_found(
        basis.content, basis.route, wish, basis.settings, basis.fingerprint, chosen.alternative,
        found,
    )  # fmt: skip
    made_from = MadeFrom(chosen.number, order_number)
    return keep(register, basis, wish, content, made_from, acting=acting, now=now)


def _followed(session: Session, order: WorkOrder) -> tuple[Plan, PlanChoice]:
    plans = plans_of_order(session, order.id)
    if len(plans) != 1:
        raise NotReady(
            Sentence(
                "{order} follows no plan of one line, so none can be made again from it",
                order=order.number,
            ),
            [plan.number for plan, _ in plans],
            remedy="Plan each line anew: supports plan make",
        )
    return plans[0]


def _require_same_assessment(plan: Plan, basis: Basis) -> None:
    if plan.assessment_id != basis.assessment_id:
        raise NotReady(
            Sentence("{plan} stands on an assessment that was superseded", plan=plan.number),
            remedy="Plan anew by the present one: supports plan make",
        )
