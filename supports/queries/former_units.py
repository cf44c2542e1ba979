"""Units that took the place of others, with what stood on the former nameplate."""

from __future__ import annotations

from typing import Any

import numpy as np
from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Nameplate, UnitPlacement
from supports.queries.narrowing import only
from supports.queries.rule_facts import columns
from supports.rules.facts import Facts

_FORMER = {
    "former_nameplate_load": "nameplate_load",
    "former_hot_load": "hot_load",
    "former_rate": "rate",
    "former_travel": "total_travel",
}


def former_units(session: Session, facts: Facts, *, whole: bool) -> dict[str, Any]:
    """Return by unit whether it replaced another, and the newest former nameplate's values."""
    query = (
        select(
            UnitPlacement.assembly_id,
            UnitPlacement.position,
            UnitPlacement.unit_id,
            *(getattr(Nameplate, name).label(column) for column, name in _FORMER.items()),
        )
        .outerjoin(Nameplate, Nameplate.unit_id == UnitPlacement.unit_id)
        .where(UnitPlacement.until.is_not(None))
        .order_by(UnitPlacement.until, UnitPlacement.id)
    )
    assemblies = None if whole else facts.units["assembly"].tolist()
    found = columns(session, only(query, UnitPlacement.assembly_id, assemblies))
    size = len(facts.units["id"])
    replaced = np.zeros(size)
    values = {name: np.full(size, np.nan) for name in _FORMER}
    places = zip(facts.units["assembly"].tolist(), facts.units["position"], strict=True)
    rows = {place: row for row, place in enumerate(places)}
    for number, place in enumerate(zip(found["assembly_id"], found["position"], strict=True)):
        row = rows.get(place)
        if row is None or found["unit_id"][number] == facts.units["id"][row]:
            continue
        replaced[row] = 1.0
        for name in _FORMER:
            value = found[name][number]
            values[name][row] = np.nan if value is None else value
    return {"replaced": replaced, **values}
