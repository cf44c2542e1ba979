"""Turnarounds as they stand: scope with live reasons, means, windows, norms, stored plans."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.errors import NotReady
from supports.freezing import from_plain
from supports.model import (
    Line,
    Turnaround,
    TurnaroundItem,
    TurnaroundLine,
    TurnaroundPlan,
    TurnaroundReason,
    TurnaroundWindow,
    WorkOrder,
    WorkOrderBefore,
    WorkOrderMaterial,
)
from supports.queries.laid_down import NumberLaidDown, numbers_in_force, numbers_laid_down
from supports.queries.lookups import or_nearest
from supports.queries.turnaround_wishes import Key, Wish, places, scaffold_groups, wishes
from supports.rules.turnaround.norms import Norms, proposed_norms
from supports.rules.turnaround.plan import Plan
from supports.rules.turnaround.scope import (
    Action,
    Before,
    Item,
    Material,
    Reason,
    Scope,
    Source,
    along_lines,
)
from supports.rules.turnaround.tasks import Means, Window
from supports.rules.workflow import OrderState
from supports.sentences import Sentence

NORM_SCOPE = "turnaround norms"


def turnaround_of(session: Session, number: str) -> Turnaround:
    """Return a turnaround by its number.

    Raises
    ------
    NotFound
        There is none of that number.
    """
    found = session.scalar(select(Turnaround).where(Turnaround.number == number))
    return or_nearest(session, found, "turnaround", number, select(Turnaround.number))


def turnarounds(session: Session) -> list[Turnaround]:
    """Return all turnarounds, the oldest first."""
    return list(session.scalars(select(Turnaround).order_by(Turnaround.id)))


def lines_of(session: Session, turnaround: Turnaround) -> tuple[str, ...]:
    """Return the numbers of the lines it is about; none means the whole plant."""
    query = (
        select(Line.number)
        .join(TurnaroundLine, TurnaroundLine.line_id == Line.id)
        .where(TurnaroundLine.turnaround_id == turnaround.id)
        .order_by(TurnaroundLine.id)
    )
    return tuple(session.scalars(query))


def means_of(turnaround: Turnaround) -> Means:
    """Return its days and people."""
    one = turnaround
    return Means(
        one.begins_on, one.ends_on, one.hours_a_day, one.crews, one.fitters, one.scaffolders,
        one.inspectors, one.engineers,
    )  # fmt: skip


def windows_of(session: Session, turnaround: Turnaround) -> list[Window]:
    """Return when which line is in which state."""
    query = (
        select(TurnaroundWindow, Line.number)
        .outerjoin(Line, TurnaroundWindow.line_id == Line.id)
        .where(TurnaroundWindow.turnaround_id == turnaround.id)
        .order_by(TurnaroundWindow.first_day, TurnaroundWindow.id)
    )
    return [
        Window(number or "", row.plant_state, row.first_day, row.last_day)
        for row, number in session.execute(query)
    ]


def norms_laid_down(session: Session) -> list[NumberLaidDown]:
    """Return all that was ever laid down for the norms, oldest first."""
    return numbers_laid_down(session, NORM_SCOPE)


def norms_in_force(session: Session, today: date) -> Norms:
    """Return the proposed norms with the site's own in their place."""
    return proposed_norms().with_values(numbers_in_force(session, NORM_SCOPE, today))


def scope_of(session: Session, turnaround: Turnaround, today: date) -> Scope:
    """Return the scope: each unit with the reasons that still hold.

    A reason whose work is done drops out; a unit without a reason left is done.
    """
    rows = list(
        session.scalars(
            select(TurnaroundItem)
            .where(TurnaroundItem.turnaround_id == turnaround.id)
            .order_by(TurnaroundItem.id)
        )
    )
    live = wishes(session, today)
    keys = [key_of_item(row) for row in rows]
    at = places(session, keys, lines_of(session, turnaround), scaffold_groups(live))
    reasons = _reasons(session, turnaround, live)
    items, done, out = [], [], []
    for row in rows:
        where = at.get(key_of_item(row))
        if where is None:
            continue
        if row.taken_out_on is not None:
            out.append((where.name, row.taken_out_why or ""))
        elif held := reasons.get(row.id):
            items.append(Item(where, tuple(held), row.added_on, row.after_freeze == "yes"))
        else:
            done.append(where.name)
    orders = {order for item in items for order in item.orders}
    return Scope(
        items=tuple(along_lines(items)),
        materials=tuple(_materials(session, orders)),
        befores=tuple(_befores(session, orders)),
        scaffold_hours=tuple(_scaffold_hours(session, orders)),
        done=tuple(done),
        taken_out=tuple(out),
    )


def key_of_item(row: TurnaroundItem) -> Key:
    """Return where an item of the scope is."""
    return (row.point_id, row.unit_id or 0)


def _reasons(
    session: Session, turnaround: Turnaround, live: Iterable[Wish]
) -> dict[int, list[Reason]]:
    """Return the reasons of each item that still hold, as their sources tell them now."""
    now = {(*one.key, *one.reason.place): one.reason for one in live}
    query = (
        select(TurnaroundReason, TurnaroundItem)
        .join(TurnaroundItem, TurnaroundReason.item_id == TurnaroundItem.id)
        .where(TurnaroundItem.turnaround_id == turnaround.id)
        .order_by(TurnaroundReason.id)
    )
    held: dict[int, list[Reason]] = {}
    for row, item in session.execute(query):
        if reason := _still(row, item, now):
            held.setdefault(item.id, []).append(reason)
    return held


def _still(
    row: TurnaroundReason, item: TurnaroundItem, now: dict[tuple[int, int, str, str], Reason]
) -> Reason | None:
    """Return a reason as it stands now; one given by hand holds until it is taken out."""
    if row.source == Source.HAND:
        return Reason(Source.HAND, row.reference, row.words, Action(row.action))
    of_unit = (*key_of_item(item), row.source, row.reference)
    of_support = (item.point_id, 0, row.source, row.reference)
    return now.get(of_unit) or now.get(of_support)


def _materials(session: Session, orders: set[str]) -> Iterator[Material]:
    query = (
        select(WorkOrderMaterial, WorkOrder.number)
        .join(WorkOrder, WorkOrderMaterial.work_order_id == WorkOrder.id)
        .where(WorkOrder.number.in_(orders))
        .order_by(WorkOrder.id, WorkOrderMaterial.id)
    )
    for row, number in session.execute(query):
        yield Material(number, row.item, row.quantity, row.status, row.due_on, row.fallback or "")


def _befores(session: Session, orders: set[str]) -> Iterator[Before]:
    """Give the jobs that orders still wait for."""
    query = (
        select(WorkOrderBefore, WorkOrder.number)
        .join(WorkOrder, WorkOrderBefore.work_order_id == WorkOrder.id)
        .where(WorkOrder.number.in_(orders), WorkOrderBefore.done_on.is_(None))
        .order_by(WorkOrder.id, WorkOrderBefore.id)
    )
    for row, number in session.execute(query):
        other = session.get_one(WorkOrder, row.order_id) if row.order_id else None
        if other is None or other.state != OrderState.ACCEPTED:
            yield Before(number, row.job, other.number if other else "")


def _scaffold_hours(session: Session, orders: set[str]) -> Iterator[tuple[str, float]]:
    """Give the man-hours that planners laid down for scaffold groups; the newest order's hold."""
    query = (
        select(WorkOrder.scaffold_group, WorkOrder.scaffold_hours)
        .where(WorkOrder.number.in_(orders), WorkOrder.scaffold_hours.is_not(None))
        .order_by(WorkOrder.id)
    )
    held = {group: hours for group, hours in session.execute(query) if group and hours}
    yield from held.items()


def newest_plan(session: Session, turnaround: Turnaround) -> tuple[TurnaroundPlan, Plan]:
    """Return the newest plan as it was stored.

    Raises
    ------
    NotReady
        It was not planned yet.
    """
    query = (
        select(TurnaroundPlan)
        .where(TurnaroundPlan.turnaround_id == turnaround.id)
        .order_by(TurnaroundPlan.revision.desc())
        .limit(1)
    )
    row = session.scalar(query)
    if row is None:
        raise NotReady(
            Sentence("{number} was not planned yet", number=turnaround.number),
            remedy=Sentence(
                "Plan it with: supports turnaround plan {number}", number=turnaround.number
            ),
        )
    return row, from_plain(Plan, row.content)
