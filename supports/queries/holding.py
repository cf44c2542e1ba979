"""Which calculation holds for each line."""

from __future__ import annotations

from collections.abc import Collection

from sqlalchemy import ColumnElement, and_, func, or_, select
from sqlalchemy.orm import Session

from supports.model import Assessment, Calculation, Change, RequiredLoad, WeightItem
from supports.queries.narrowing import only
from supports.rules.workflow import ChangeState
from supports.vocabulary import CalculationStatus

Lines = Collection[int] | None
"""Ids of lines; None means all."""

DONE = (ChangeState.TO_BE_PROVED, ChangeState.IN_FORCE, ChangeState.CLOSED)
"""States of a change whose work is done: the loads it was planned by are those of the line."""


def holds() -> ColumnElement[bool]:
    """Return where a calculation may hold for its lines: nobody took it back or only plans it.

    A planned one, as a screening kept for a change, holds once the change assessed on it is done.
    """
    newest = (
        select(Assessment.change_id, func.max(Assessment.revision).label("revision"))
        .group_by(Assessment.change_id)
        .subquery()
    )
    in_place = (
        select(Assessment.calculation_id)
        .join(Change, Assessment.change_id == Change.id)
        .join(
            newest,
            and_(
                newest.c.change_id == Assessment.change_id,
                newest.c.revision == Assessment.revision,
            ),
        )
        .where(Change.state.in_(DONE))
    )
    aside = (CalculationStatus.SUPERSEDED, CalculationStatus.PLANNED)
    return or_(
        Calculation.status.not_in(aside),
        and_(Calculation.status == CalculationStatus.PLANNED, Calculation.id.in_(in_place)),
    )


def calculations_by_line(session: Session, lines: Lines = None) -> dict[int, list[int]]:
    """Return for each line id the calculations that give loads on it, newest first.

    Those that hold come before superseded ones; those that are only planned are left out, and so is
    one made for a change that is not done, where another gives the loads of the line as it stands.
    """
    known = or_(holds(), Calculation.status == CalculationStatus.SUPERSEDED)
    pairs = (
        select(RequiredLoad.line_id, RequiredLoad.calculation_id)
        .distinct()
        .where(RequiredLoad.calculation_id.in_(select(Calculation.id).where(known)))
    )
    pairs = only(pairs, RequiredLoad.line_id, lines)
    rows = session.execute(pairs).all()
    given = None if lines is None else {row.calculation_id for row in rows}
    rank = {key: place for place, key in enumerate(oldest_first(session, given))}
    found: dict[int, list[int]] = {}
    for line, calculation in rows:
        found.setdefault(line, []).append(calculation)
    ahead, superseded = ahead_of_the_line(session), _superseded(session)
    return {
        line: sorted(_as_it_stands(ids, ahead, superseded), key=rank.__getitem__, reverse=True)
        for line, ids in found.items()
    }


def _as_it_stands(ids: list[int], ahead: set[int], superseded: set[int]) -> list[int]:
    """Leave out what runs ahead of the line, if something else that is not superseded is there."""
    kept = [one for one in ids if one not in ahead]
    return kept if set(kept) - superseded else ids


def ahead_of_the_line(session: Session) -> set[int]:
    """Return the calculations made for a change of weight whose work is not done.

    Made for it: issued since it was noted, and what its newest assessment rests on.
    """
    newest = (
        select(Assessment.change_id, func.max(Assessment.revision).label("revision"))
        .group_by(Assessment.change_id)
        .subquery()
    )
    query = (
        select(Assessment.calculation_id, Change.state)
        .join(Change, Assessment.change_id == Change.id)
        .join(Calculation, Assessment.calculation_id == Calculation.id)
        .join(
            newest,
            and_(
                newest.c.change_id == Assessment.change_id,
                newest.c.revision == Assessment.revision,
            ),
        )
        .where(Change.id.in_(select(WeightItem.change_id)))
        .where(Calculation.issued_on >= Change.requested_on)
    )
    rows = session.execute(query).all()
    done = {calculation for calculation, state in rows if state in DONE}
    return {calculation for calculation, _ in rows} - done


def _superseded(session: Session) -> set[int]:
    query = select(Calculation.id).where(Calculation.status == CalculationStatus.SUPERSEDED)
    return set(session.scalars(query))


def holding_calculations(session: Session, lines: Lines = None) -> dict[int, int]:
    """Return for each line id the calculation that holds: the newest one not superseded."""
    superseded = _superseded(session)
    return {
        line: ids[0]
        for line, ids in calculations_by_line(session, lines).items()
        if ids[0] not in superseded
    }


def oldest_first(session: Session, wanted: Collection[int] | None = None) -> list[int]:
    """Return calculations, or those wanted, superseded ones first, then by their day of issue."""
    query = select(
        Calculation.id, Calculation.issued_on, Calculation.status == CalculationStatus.SUPERSEDED
    )
    rows = session.execute(only(query, Calculation.id, wanted)).all()
    ordered = sorted(rows, key=lambda r: (not r[2], r[1] is not None, r[1] or 0, r[0]))
    return [row[0] for row in ordered]
