"""Plan the way back of a change called off half-way: its own turns, its own checked order."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import NotReady
from supports.model import WorkOrderLine
from supports.operations.plans.storing import Basis, MadeFrom, basis_of, keep, require_planner
from supports.queries.lookups import change_of
from supports.queries.orders import lines_of_change, name_of_line
from supports.queries.plans import chosen_plan, plans_of_order, wish_of
from supports.queries.plant_days import day_at
from supports.rules.reset_planning.again import plan_back
from supports.rules.reset_planning.order_readings import names_of, variables_of
from supports.rules.reset_planning.wish import PlanWish
from supports.rules.work_plan import RE_SET
from supports.rules.workflow import LineState, OrderKind
from supports.sentences import Sentence
from supports.vocabulary import PlantState


def plan_the_way_back(
    register: Register, change: str, line: str, *, weight_on: bool,
    work_state: PlantState | None, acting: str, now: datetime,
) -> str:  # fmt: skip
    """Plan how units already turned go back to their former settings; return the plan's number.

    Parameters
    ----------
    weight_on
        Whether the weight of the change is on the line while units are put back.
    work_state
        State of the line while they are; that of the plan that was followed if not given.

    Raises
    ------
    NotReady
        The change was not called off half-way, or a unit's former setting is not known.
    """
    require_planner(register, change, acting, now)
    with register.reading() as session:
        basis = basis_of(session, change, line, day_at(session, now), back=True)
        former, followed, wish = _former(session, basis)
    if work_state is not None:
        wish = replace(wish, work_state=work_state)
    content = plan_back(
        basis.content, basis.route, wish, basis.settings, basis.fingerprint, former,
        weight_on=weight_on,
    )  # fmt: skip
    made_from = MadeFrom(followed)
    return keep(register, basis, wish, content, made_from, acting=acting, now=now)


def _former(session: Session, basis: Basis) -> tuple[dict[str, float], str, PlanWish]:
    """Return former set loads by name [N], the plan followed, and how it was asked for."""
    names, variable = names_of(basis.content), variables_of(basis.content)
    on_line = {u.id for support in basis.route.supports for u in support.units}
    lines = lines_of_change(session, change_of(session, basis.change).id, OrderKind.RE_SET)
    wanted = {one.unit_id for one in lines if one.state == LineState.TO_BE_PUT_RIGHT} & on_line
    former: dict[str, float] = {}
    followed, wish = "", PlanWish(work_state=PlantState.SHUT_DOWN_FULL)
    for one in lines:
        if one.unit_id not in wanted or one.action != RE_SET:
            continue
        planned = _planned(session, one)
        if planned is not None:
            before, followed, wish = planned
        else:
            before = _from_order(session, one, variable)
        former.setdefault(names[one.unit_id], before)
    if not former:
        raise NotReady(
            Sentence(
                "nothing of {change} on {line} is to be put right",
                change=basis.change,
                line=basis.line,
            )
        )
    return former, followed, wish


def _planned(session: Session, line: WorkOrderLine) -> tuple[float, str, PlanWish] | None:
    """Return the set load before [N], number and wish of the plan that a unit was turned by."""
    for plan, choice in plans_of_order(session, line.work_order_id):
        for unit in chosen_plan(plan, choice).alternative.units:
            if unit.unit_id == line.unit_id:
                return unit.setting_before, plan.number, wish_of(plan)
    return None


def _from_order(session: Session, line: WorkOrderLine, variable: frozenset[int]) -> float:
    """Return the set load before of a unit turned without a plan [N]: a constant's scale."""
    if line.unit_id in variable or line.from_load is None:
        raise NotReady(
            "the former setting at the level of the line model is not known",
            (name_of_line(session, line),),
            remedy="Write its way back unit by unit: supports work-order undo",
        )
    return line.from_load
