"""Which loads the newest calculation of a line changed against the one before it."""

from __future__ import annotations

import numpy as np
from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import DesignCase, RequiredLoad
from supports.queries.holding import Lines, calculations_by_line, holding_calculations
from supports.queries.rule_facts import columns
from supports.rules.facts import Facts
from supports.rules.frame import BoolColumn
from supports.vocabulary import CaseKind

SAME = 0.005
"""Loads nearer than this share are taken as unchanged: reports round to as much."""


def changed_loads(session: Session, facts: Facts, *, whole: bool) -> BoolColumn:
    """Return by attachment whether the calculation that holds changed the load there."""
    lines_here = facts.lines["id"].tolist()
    wanted = None if whole else lines_here
    holding, earlier = holding_calculations(session, wanted), _before(session, wanted)
    if not earlier:
        return np.zeros(len(facts.attachments["point"]), dtype=bool)
    now = _loads(session, {line: holding[line] for line in earlier})
    before = _loads(session, earlier)
    moved = {
        place
        for place, load in now.items()
        if place in before and abs(load - before[place]) > SAME * abs(before[place])
    }
    points = facts.points["id"][facts.attachments["point"]].tolist()
    lines = facts.lines["id"][facts.attachments["line"]].tolist()
    return np.array([place in moved for place in zip(points, lines, strict=True)], dtype=bool)


def _before(session: Session, lines: Lines) -> dict[int, int]:
    """Return by line the calculation before the one that holds, where there is one."""
    holding = holding_calculations(session, lines)
    return {
        line: ids[ids.index(holding[line]) + 1]
        for line, ids in calculations_by_line(session, lines).items()
        if line in holding and ids.index(holding[line]) + 1 < len(ids)
    }


def _loads(session: Session, wanted: dict[int, int]) -> dict[tuple[int, int], float]:
    """Return the largest operating load by point and line, of one calculation a line."""
    query = (
        select(
            RequiredLoad.point_id,
            RequiredLoad.line_id,
            RequiredLoad.calculation_id,
            RequiredLoad.load,
        )
        .join(DesignCase, RequiredLoad.case_id == DesignCase.id)
        .where(DesignCase.kind == CaseKind.OPERATING, RequiredLoad.load.is_not(None))
        .where(RequiredLoad.calculation_id.in_(set(wanted.values())))
    )
    found = columns(session, query)
    loads: dict[tuple[int, int], float] = {}
    for point, line, calculation, load in zip(*found.values(), strict=True):
        if wanted.get(line) == calculation:
            loads[point, line] = max(load, loads.get((point, line), load))
    return loads
