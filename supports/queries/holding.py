"""Which calculation holds for each line."""

from __future__ import annotations

from collections.abc import Collection

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Calculation, RequiredLoad
from supports.queries.narrowing import only
from supports.vocabulary import CalculationStatus

Lines = Collection[int] | None
"""Ids of lines; None means all."""


def calculations_by_line(session: Session, lines: Lines = None) -> dict[int, list[int]]:
    """Return for each line id the calculations that give loads on it, newest first.

    Only those that are issued or as built hold; superseded ones come after them.
    """
    pairs = select(RequiredLoad.line_id, RequiredLoad.calculation_id).distinct()
    pairs = only(pairs, RequiredLoad.line_id, lines)
    rank = {key: place for place, key in enumerate(oldest_first(session))}
    found: dict[int, list[int]] = {}
    for line, calculation in session.execute(pairs):
        found.setdefault(line, []).append(calculation)
    return {line: sorted(ids, key=rank.__getitem__, reverse=True) for line, ids in found.items()}


def holding_calculations(session: Session, lines: Lines = None) -> dict[int, int]:
    """Return for each line id the calculation that holds: the newest one not superseded."""
    superseded = set(
        session.scalars(
            select(Calculation.id).where(Calculation.status == CalculationStatus.SUPERSEDED)
        )
    )
    return {
        line: ids[0]
        for line, ids in calculations_by_line(session, lines).items()
        if ids[0] not in superseded
    }


def oldest_first(session: Session) -> list[int]:
    """Return the calculations, superseded ones first, then by their day of issue."""
    query = select(
        Calculation.id, Calculation.issued_on, Calculation.status == CalculationStatus.SUPERSEDED
    )
    rows = session.execute(query).all()
    ordered = sorted(rows, key=lambda r: (not r[2], r[1] is not None, r[1] or 0, r[0]))
    return [row[0] for row in ordered]
