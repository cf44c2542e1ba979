"""Everything that asks for work at a support now: work orders, walkdown findings, rules broken."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.calc.turns import TurnCount
from supports.findings import Severity
from supports.model import (
    CampaignItem,
    Change,
    FieldFinding,
    SupportTag,
    WorkOrder,
    WorkOrderHold,
    WorkOrderLine,
)
from supports.queries.rule_runs import acceptances, found_of, newest_run
from supports.queries.support_views import support_views
from supports.queries.walkdowns.findings import finding_views
from supports.rules.acceptances import Standing, stood
from supports.rules.catalogue import RULES
from supports.rules.frame import Subject
from supports.rules.rule import Group
from supports.rules.run import Found
from supports.rules.turnaround.scope import Action, Reason, Source, Where
from supports.rules.unit_frame import UNITS_AT_MOST
from supports.rules.walkdown.words import HowSoon
from supports.rules.work_plan import RE_SET
from supports.rules.workflow import LineState, OrderKind, OrderState
from supports.snapshots import SupportView, UnitView

Key = tuple[int, int]
"""Point, and unit or 0 for the support as a whole."""


@dataclass(frozen=True, slots=True)
class Wish:
    """One wish for work, by where it is."""

    key: Key
    reason: Reason
    scaffold_group: str = ""


def wishes(session: Session, today: date) -> list[Wish]:
    """Return every wish for work in the whole plant, change by change, finding by finding."""
    return [*_by_changes(session), *_by_walkdowns(session, today), *_by_rules(session, today)]


_OVER = {OrderState.WITHDRAWN, OrderState.ACCEPTED}


def _by_changes(session: Session) -> Iterator[Wish]:
    query = (
        select(WorkOrder, Change.number)
        .join(Change, WorkOrder.change_id == Change.id)
        .where(WorkOrder.state.not_in(_OVER))
        .order_by(WorkOrder.id)
    )
    for order, change in session.execute(query):
        lines = session.scalars(
            select(WorkOrderLine)
            .where(WorkOrderLine.work_order_id == order.id)
            .order_by(WorkOrderLine.order_no)
        ).all()
        holds = session.scalars(
            select(WorkOrderHold.what)
            .where(WorkOrderHold.work_order_id == order.id)
            .order_by(WorkOrderHold.hold_no)
        ).all()
        worked = sum(line.action == RE_SET for line in lines) or len(lines)
        for line in lines:
            if not LineState(line.state).is_settled:
                reason = _of_line(order, change, line, tuple(holds), worked)
                yield Wish((line.point_id, line.unit_id), reason, order.scaffold_group or "")


def _of_line(
    order: WorkOrder, change: str, line: WorkOrderLine, holds: tuple[str, ...], worked: int
) -> Reason:
    action = _action(order, line)
    works = action is not Action.READ
    hours = order.hours / worked if order.hours and (works or worked == 0) else None
    return Reason(
        source=Source.CHANGE,
        reference=order.number,
        words=_words(line, action),
        action=action,
        change=change,
        state_needed=order.line_state_needed if works else "",
        order_no=line.order_no,
        crew=order.crew if works else None,
        hours=hours,
        holds=holds if works else (),
    )


def _action(order: WorkOrder, line: WorkOrderLine) -> Action:
    if line.action != RE_SET:
        return Action.READ
    if order.kind != OrderKind.RE_SET:
        return Action.SET_BACK
    by_rod = (line.direction or "").startswith(("shorten", "lengthen"))
    return Action.TAKE_UP if by_rod else Action.RE_SET


def _words(line: WorkOrderLine, action: Action) -> str:
    turns = "" if line.turns is None else f" {TurnCount(line.turns, line.flats or 0)}"
    words = f"{action}{turns}"
    if line.direction:
        words += f", {line.direction}"
    return f"{words} ({line.remark})" if line.remark and action is Action.READ else words


def _by_walkdowns(session: Session, today: date) -> Iterator[Wish]:
    query = select(FieldFinding.number, FieldFinding.point_id, CampaignItem.unit_id).outerjoin(
        CampaignItem, FieldFinding.item_id == CampaignItem.id
    )
    places = {number: (point, unit or 0) for number, point, unit in session.execute(query)}
    for one in finding_views(session):
        if one.wants_something(today) and one.how_soon != HowSoon.WATCH:
            words = f"{one.severity}, {one.what}"
            reason = Reason(Source.WALKDOWN, one.number, words, Action.MEND)
            yield Wish(places[one.number], reason)


_NO_FIELD_WORK = {Group.DATA, Group.CHANGE, Group.WALKDOWN}
_GRAVE = {Severity.STOP, Severity.ACT}


def _by_rules(session: Session, today: date) -> Iterator[Wish]:
    run = newest_run(session)
    if run is None:
        return
    rules = {rule.id: rule for rule in RULES if rule.group not in _NO_FIELD_WORK}
    points = dict(
        session.execute(
            select(SupportTag.tag, SupportTag.point_id).where(SupportTag.valid_to.is_(None))
        ).all()
    )
    held = stood(found_of(session, run.id), acceptances(session), today)
    for one in (one.found for one in held if one.standing is not Standing.ACCEPTED):
        if one.fails and one.severity in _GRAVE and one.rule in rules and one.tag in points:
            reason = Reason(
                Source.RULE, one.rule, f"{one.severity}, {rules[one.rule].condition}", Action.MEND
            )
            yield Wish((points[one.tag], _unit_of(one)), reason)


def _unit_of(found: Found) -> int:
    return found.key % UNITS_AT_MOST if found.subject is Subject.UNIT else 0


def scaffold_groups(live: Iterable[Wish]) -> dict[Key, str]:
    """Return the scaffold groups that planners laid down, by place."""
    return {one.key: one.scaffold_group for one in live if one.scaffold_group}


def places(
    session: Session, keys: Collection[Key], lines: Collection[str], groups: Mapping[Key, str]
) -> dict[Key, Where]:
    """Return where units and supports are; those on none of the lines are left out.

    Parameters
    ----------
    lines
        Numbers of lines; empty means the whole plant.
    groups
        Scaffold groups that planners laid down; those of the supports themselves go before.
    """
    views = {view.id: view for view in support_views(session, sorted({p for p, _ in keys}))}
    found = {}
    for key in keys:
        view = views.get(key[0])
        if view is not None and (not lines or set(lines) & set(view.lines)):
            found[key] = _where(view, key, lines, groups.get(key, ""))
    return found


def _where(view: SupportView, key: Key, lines: Collection[str], group: str) -> Where:
    unit = next((one for one in view.units if one.id == key[1]), None)
    line = next((one for one in view.lines if not lines or one in lines), "")
    return Where(
        point_id=view.id,
        unit_id=key[1] or None,
        name=_name(view, unit),
        tag=view.tag,
        line=line,
        along=view.order_on(line)[0],
        place=" ".join(part for part in (view.floor, view.grid) if part),
        height=view.height_above_floor,
        scaffold_group=view.scaffold_group or group,
        stops_in=unit.stops_in if unit else (),
    )


def _name(view: SupportView, unit: UnitView | None) -> str:
    if unit is None or len(view.units) < 2:
        return view.tag
    return f"{view.tag}/{unit.position}"
