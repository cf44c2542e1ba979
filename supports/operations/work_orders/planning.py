"""What the planner adds to an order, and the word that releases a hold point."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import select

from supports.database import Register
from supports.errors import BadInput, Conflict, NotFound, NotReady
from supports.model import WorkOrder, WorkOrderBefore, WorkOrderHold, WorkOrderMaterial
from supports.operations.acting import Deed, deed
from supports.queries.lookups import unit_of, work_order_line_of, work_order_of
from supports.queries.orders import line_content, release_words
from supports.rules.workflow import require_roles
from supports.sentences import Sentence, either
from supports.vocabulary import Role

STATUSES = ("have", "ordered", "late")
ORDER_PLANNERS = frozenset({Role.PLANNER, Role.COORDINATOR})
BEFORE_DONE = ORDER_PLANNERS | {Role.FOREMAN}


@dataclass(frozen=True, slots=True)
class Material:
    """A part that the work needs, and whether it is there."""

    item: str
    quantity: float
    status: str
    due_on: date | None = None
    fallback: str = ""


@dataclass(frozen=True, slots=True)
class Before:
    """A job that must be done before; `order` names it if the register holds it."""

    job: str
    order: str = ""


@dataclass(frozen=True, slots=True)
class OrderPlan:
    """What a planner lays down; what is left out stays as it is."""

    crew: int | None = None
    hours: float | None = None
    scaffold_group: str = ""
    scaffold_hours: float | None = None
    materials: tuple[Material, ...] = ()
    befores: tuple[Before, ...] = ()


def plan_order(
    register: Register, number: str, plan: OrderPlan, *, acting: str, now: datetime,
    seen: int = 0,
) -> None:  # fmt: skip
    """Lay down crew, hours, scaffold, materials and what comes before.

    Parameters
    ----------
    seen
        Version of the order as the planner looked at it; 0 asks nothing.

    Raises
    ------
    BadInput
        A number is not above nought, or a material is neither had, ordered nor late.
    """
    _check_plan(plan)
    with deed(register, acting, now, action="plan a work order", subject=number) as act:
        require_roles("plan a work order", ORDER_PLANNERS, act.person.roles)
        order = work_order_of(act.session, number)
        if seen and seen != order.row_version:
            raise Conflict(
                Sentence("{number} was changed by somebody else since you looked", number=number),
                remedy="Nothing was written. Look at what it says now, then decide again",
            )
        order.crew = plan.crew or order.crew
        order.hours = plan.hours or order.hours
        order.scaffold_group = plan.scaffold_group or order.scaffold_group
        order.scaffold_hours = plan.scaffold_hours or order.scaffold_hours
        for material in plan.materials:
            _put_material(act, order, material)
        for before in plan.befores:
            _put_before(act, order, before)


def _check_plan(plan: OrderPlan) -> None:
    numbers = {"crew": plan.crew, "hours": plan.hours, "scaffold hours": plan.scaffold_hours}
    for name, value in numbers.items():
        if value is not None and not value > 0:
            raise BadInput(Sentence("{name} must be above nought", name=name), found=f"{value:g}")
    for material in plan.materials:
        if material.status not in STATUSES:
            raise BadInput(
                Sentence("how it stands with {item}", item=material.item),
                found=material.status,
                expected=either(STATUSES),
            )


def _put_material(act: Deed, order: WorkOrder, material: Material) -> None:
    query = select(WorkOrderMaterial).where(
        WorkOrderMaterial.work_order_id == order.id, WorkOrderMaterial.item == material.item
    )
    row = act.session.scalar(query)
    if row is None:
        row = WorkOrderMaterial(work_order_id=order.id, item=material.item)
        act.session.add(row)
    row.quantity, row.status = material.quantity, material.status
    row.due_on, row.fallback = material.due_on, material.fallback or row.fallback


def _put_before(act: Deed, order: WorkOrder, before: Before) -> None:
    other = work_order_of(act.session, before.order) if before.order else None
    if other is not None and other.id == order.id:
        raise BadInput("an order does not wait for itself", found=before.order)
    known = select(WorkOrderBefore.id).where(
        WorkOrderBefore.work_order_id == order.id, WorkOrderBefore.job == before.job
    )
    if act.session.scalar(known) is None:
        act.session.add(
            WorkOrderBefore(
                work_order_id=order.id, job=before.job, order_id=other.id if other else None
            )
        )


def before_is_done(
    register: Register, number: str, job: str, *, acting: str, now: datetime
) -> None:
    """Record that a job that had to come before is done."""
    with deed(
        register, acting, now, action="job before is done", reason=job, subject=number
    ) as act:
        require_roles("say that a job is done", BEFORE_DONE, act.person.roles)
        order = work_order_of(act.session, number)
        query = select(WorkOrderBefore).where(
            WorkOrderBefore.work_order_id == order.id, WorkOrderBefore.job == job
        )
        row = act.session.scalar(query)
        if row is None:
            raise NotFound(Sentence("{number} does not wait for '{job}'", number=number, job=job))
        if row.done_on is not None:
            raise NotReady(
                Sentence("'{job}' is done already", job=job),
                (
                    Sentence(
                        "on {done_on}, {done_by}",
                        done_on=str(row.done_on),
                        done_by=str(row.done_by),
                    ),
                ),
            )
        row.done_on, row.done_by = act.today, act.person.name


def release_hold(
    register: Register, number: str, place: tuple[str, str], hold_no: int, *, acting: str,
    reason: str, now: datetime,
) -> None:  # fmt: skip
    """Give the word that a hold point waits for, at one unit."""
    tag, position = place
    with deed(
        register,
        acting,
        now,
        action=f"release hold {hold_no}",
        reason=reason,
        subject=f"{number} {tag}",
    ) as act:
        line = work_order_line_of(act.session, number, unit_of(act.session, tag, position), tag)
        query = select(WorkOrderHold).where(
            WorkOrderHold.work_order_id == line.work_order_id, WorkOrderHold.hold_no == hold_no
        )
        hold = act.session.scalar(query)
        if hold is None:
            raise NotFound(
                Sentence(
                    "{number} has no hold point {hold_no}", number=number, hold_no=str(hold_no)
                )
            )
        roles = [Role(word) for word in hold.released_by.split(", ")]
        require_roles(
            Sentence("release hold {number}", number=str(hold_no)), roles, act.person.roles
        )
        content = line_content(act.session, line)
        act.sign(("work order line", line.id), release_words(hold_no), content, reason=reason)
