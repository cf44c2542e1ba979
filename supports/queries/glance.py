"""The whole register in a few numbers: what it holds, and what waits in it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from supports.model import (
    Line,
    Person,
    QuarantineAnswer,
    QuarantinedValue,
    RuleRun,
    SupportTag,
    TravelStopEvent,
    UnitPlacement,
)
from supports.queries.plant_days import clock_at
from supports.queries.plant_standing import open_changes, work_done
from supports.queries.site import plant_name
from supports.queries.walkdowns.findings import finding_views
from supports.snapshots import OpenChange


@dataclass(frozen=True, slots=True)
class Glance:
    """A register at a glance."""

    plant: str
    people: int
    lines: int
    supports: int
    units: int
    changes: tuple[OpenChange, ...]
    """Those not at their end, the oldest first."""
    units_to_do: int
    """Of work orders that live."""
    stops_in: int
    doubts: int
    """Values of files that wait for an answer."""
    findings_overdue: int
    """Of walkdowns, past their day."""
    rules_run_at: datetime | None
    """When every rule was last asked and the answers were kept."""


def glance(session: Session, today: date) -> Glance:
    """Return the register at a glance; each number is counted in the database."""
    newest = select(func.max(TravelStopEvent.id)).group_by(
        TravelStopEvent.unit_id, TravelStopEvent.pin_number
    )
    stops = select(TravelStopEvent.id).where(
        TravelStopEvent.id.in_(newest), TravelStopEvent.direction == "in"
    )
    answered = select(QuarantineAnswer.quarantined_value_id)
    ran = session.scalar(select(func.max(RuleRun.run_at)))
    return Glance(
        plant=plant_name(session),
        people=_count(session, select(Person.id)),
        lines=_count(session, select(Line.id)),
        supports=_count(session, select(SupportTag.id).where(SupportTag.valid_to.is_(None))),
        units=_count(session, select(UnitPlacement.id).where(UnitPlacement.until.is_(None))),
        changes=open_changes(session),
        units_to_do=work_done(session).to_do,
        stops_in=_count(session, stops),
        doubts=_count(
            session, select(QuarantinedValue.id).where(QuarantinedValue.id.not_in(answered))
        ),
        findings_overdue=sum(one.overdue(today) for one in finding_views(session)),
        rules_run_at=None if ran is None else clock_at(session, ran),
    )


def _count(session: Session, rows: Select[Any]) -> int:
    return session.scalar(select(func.count()).select_from(rows.subquery())) or 0


def anybody_entered(session: Session) -> bool:
    """Return whether the register knows a person."""
    return session.scalar(select(Person.id).limit(1)) is not None
