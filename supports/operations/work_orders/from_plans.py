"""Orders that follow chosen re-set plans: which plans, what lines, in which state of the line."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.errors import NotReady
from supports.model import (
    Assessment,
    Change,
    ChangeLine,
    Plan,
    PlanChoice,
    PlannedOrder,
    WorkOrder,
    WorkOrderLine,
)
from supports.queries.plans import (
    FORWARD,
    choice_in_force,
    chosen_plan,
    plans_of_order,
    require_standing,
)
from supports.rules.assessment import AssessmentContent
from supports.rules.reset_planning.order_lines import ChosenPlan, lines_of_plan
from supports.rules.reset_planning.wish import PlanKind
from supports.rules.work_plan import RE_SET, PlannedLine
from supports.rules.workflow import OrderKind
from supports.sentences import Sentence
from supports.vocabulary import PlantState

WITHOUT_PLAN = str(PlantState.SHUT_DOWN_DRAINED)
"""State of the line for an order that follows no plan, where none is said."""


@dataclass(frozen=True, slots=True)
class Followed:
    """A plan that an order follows, with the choice that made it so."""

    choice_id: int
    plan: ChosenPlan


def plans_followed(
    session: Session, change: Change, kinds: tuple[PlanKind, ...] = FORWARD
) -> list[Followed]:
    """Return the plan chosen last of each line of a change; none where none was chosen.

    Raises
    ------
    NotReady
        A plan that was chosen is void.
    """
    query = select(ChangeLine.line_id).where(ChangeLine.change_id == change.id)
    found = (
        choice_in_force(session, change.id, line, kinds)
        for line in session.scalars(query.order_by(ChangeLine.id))
    )
    return [_standing(session, *one) for one in found if one is not None]


def _standing(session: Session, plan: Plan, choice: PlanChoice) -> Followed:
    require_standing(session, plan, "followed by a work order")
    return Followed(choice.id, chosen_plan(plan, choice))


def line_state_of(followed: Sequence[Followed], asked: str) -> str:
    """Return the state of the line that the work needs.

    Raises
    ------
    NotReady
        The plans say another state than was asked for, or not the same one.
    """
    states = {str(one.plan.content.work_state) for one in followed}
    wanted = states | ({asked} if asked else set())
    if len(wanted) > 1:
        raise NotReady(
            "the readings of a plan hold in the state that it was made for",
            [
                Sentence("{plan}: {state}", plan=one.plan.number, state=one.plan.content.work_state)
                for one in followed
            ],
            remedy="Leave the state to the plan, or plan for the other one: supports plan make",
        )
    return next(iter(wanted), WITHOUT_PLAN)


def lines_following(
    content: AssessmentContent, followed: Iterable[Followed], assessed: Iterable[PlannedLine]
) -> list[PlannedLine]:
    """Return the lines of an order: those of the plans, then units that no plan speaks of.

    Raises
    ------
    NotReady
        Two plans turn the same unit.
    """
    planned: dict[int, PlannedLine] = {}
    for one in followed:
        for line in lines_of_plan(content, one.plan):
            other = planned.get(line.unit_id)
            if other is not None and RE_SET in {other.action, line.action}:
                raise NotReady(
                    Sentence(
                        "{plan} and another plan both speak of one unit", plan=one.plan.number
                    ),
                    remedy="Plan the lines that share it in one order, one after the other",
                )
            planned.setdefault(line.unit_id, line)
    return [*planned.values(), *(line for line in assessed if line.unit_id not in planned)]


def follow(session: Session, order: WorkOrder, followed: Iterable[Followed]) -> None:
    """Keep which plans an order follows."""
    session.add_all(
        PlannedOrder(work_order_id=order.id, choice_id=one.choice_id) for one in followed
    )


def same_order(
    session: Session, change: Change, assessment: Assessment, followed: Sequence[Followed]
) -> str:
    """Return the re-setting order that says the same already; '' if there is none."""
    query = select(WorkOrder).where(
        WorkOrder.change_id == change.id,
        WorkOrder.assessment_id == assessment.id,
        WorkOrder.kind == OrderKind.RE_SET,
    )
    wanted = {one.choice_id for one in followed}
    for order in session.scalars(query.order_by(WorkOrder.id)):
        if {choice.id for _, choice in plans_of_order(session, order.id)} == wanted:
            return order.number
    return ""


def lines_by_plan(
    session: Session, order: WorkOrder, content: AssessmentContent, assessed: Iterable[PlannedLine]
) -> list[PlannedLine]:
    """Return what an order must say by the plans that it follows and the assessment."""
    followed = [
        Followed(choice.id, chosen_plan(plan, choice))
        for plan, choice in plans_of_order(session, order.id)
    ]
    return lines_following(content, followed, assessed)


def way_back_lines(
    followed: Iterable[Followed], content: AssessmentContent, lines: Iterable[WorkOrderLine]
) -> dict[int, PlannedLine]:
    """Return the lines of an undo order that a plan of the way back speaks of, in its order."""
    wanted = {line.unit_id for line in lines}
    return {
        line.unit_id: line
        for one in followed
        for line in lines_of_plan(content, one.plan)
        if line.unit_id in wanted and line.action == RE_SET
    }
