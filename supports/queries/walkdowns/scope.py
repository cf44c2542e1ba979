"""Which supports a campaign takes in, and when each was last seen."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.errors import BadInput
from supports.model import (
    Assembly,
    Campaign,
    Change,
    ChangeLine,
    Line,
    Reading,
    UnitPlacement,
)
from supports.queries.lookups import change_of, line_of
from supports.queries.support_views import support_views
from supports.queries.walkdowns.lookups import campaign_of
from supports.queries.walkdowns.rows import walked_rows
from supports.rules.walkdown.coverage import Seen
from supports.rules.walkdown.limits import WalkLimits
from supports.rules.walkdown.words import Half, half_of
from supports.snapshots import SupportView
from supports.vocabulary import InService, PlantState


@dataclass(frozen=True, slots=True)
class Scope:
    """How supports are chosen; what is left empty does not narrow.

    Parameters
    ----------
    change
        Only supports on the lines of a change.
    carried_from
        Besides all others, those that this campaign did not see.
    springs_only
        Only supports with spring units.
    """

    lines: tuple[str, ...] = ()
    areas: tuple[str, ...] = ()
    classes: tuple[str, ...] = ()
    change: str = ""
    overdue: bool = False
    never_seen: bool = False
    springs_only: bool = False
    carried_from: str = ""


def chosen_supports(
    session: Session, scope: Scope, today: date, limits: WalkLimits
) -> list[SupportView]:
    """Return the supports in place that a scope takes in.

    Raises
    ------
    BadInput
        Nothing is left.
    """
    lines = {line_of(session, number).number for number in scope.lines}
    lines |= _lines_of_change(session, scope.change) if scope.change else set()
    views = [one for one in support_views(session) if one.in_service is InService.IN_PLACE]
    seen = {one.tag: one for one in last_seen(session, views)}
    carried = _not_seen_in(session, scope.carried_from) if scope.carried_from else set()
    kept = [
        one
        for one in views
        if one.id in carried
        or (_named(one, scope, lines) and _wanted(seen[one.tag], scope, today, limits))
    ]
    if not kept:
        raise BadInput("no support is left under these choices", remedy="Choose more widely")
    return kept


def _named(view: SupportView, scope: Scope, lines: Collection[str]) -> bool:
    if scope.springs_only and not any(unit.kind.is_spring for unit in view.units):
        return False
    only_carried = scope.carried_from and scope == Scope(carried_from=scope.carried_from)
    return (
        not only_carried
        and (not lines or bool(set(view.lines) & set(lines)))
        and (not scope.areas or view.area in scope.areas)
        and (not scope.classes or view.criticality in scope.classes)
    )


def _wanted(seen: Seen, scope: Scope, today: date, limits: WalkLimits) -> bool:
    if scope.never_seen and not seen.never:
        return False
    return not scope.overdue or seen.overdue(today, limits)


def _lines_of_change(session: Session, number: str) -> set[str]:
    query = (
        select(Line.number)
        .join(ChangeLine, ChangeLine.line_id == Line.id)
        .join(Change, ChangeLine.change_id == Change.id)
        .where(Change.id == change_of(session, number).id)
    )
    return set(session.scalars(query))


def _not_seen_in(session: Session, number: str) -> set[int]:
    rows = walked_rows(session, campaign_of(session, number))
    return {row.item.point_id for row in rows if not row.found.is_seen}


def last_seen(session: Session, views: Iterable[SupportView]) -> list[Seen]:
    """Return when each support was last seen, from readings and from forms that came back."""
    days = _days_seen(session)
    return [_seen(view, days.get(view.id, ())) for view in views]


def _seen(view: SupportView, days: Collection[tuple[date, PlantState]]) -> Seen:
    def latest(half: Half | None) -> date | None:
        return max((d for d, state in days if half in {None, half_of(state)}), default=None)

    return Seen(
        tag=view.tag,
        area=view.area,
        criticality=view.criticality,
        lines=view.lines,
        operating=latest(Half.OPERATING),
        shut_down=latest(Half.SHUT_DOWN),
        any_state=latest(None),
    )


def _days_seen(session: Session) -> dict[int, list[tuple[date, PlantState]]]:
    read = (
        select(Assembly.point_id, Reading.read_on, Reading.plant_state)
        .join(UnitPlacement, UnitPlacement.unit_id == Reading.unit_id)
        .join(Assembly, UnitPlacement.assembly_id == Assembly.id)
        .where(UnitPlacement.until.is_(None))
    )
    days: dict[int, list[tuple[date, PlantState]]] = defaultdict(list)
    for point, day, state in session.execute(read):
        days[point].append((day, PlantState(state)))
    for campaign in session.scalars(select(Campaign)):
        for row in walked_rows(session, campaign):
            found = row.found
            if found.is_seen and found.read_on is not None:
                days[row.item.point_id].append((found.read_on, found.plant_state))
    return days
