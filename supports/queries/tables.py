"""The register and its findings as pandas tables, for questions that nobody foresaw.

Every table holds SI values; ``table.attrs["units"]`` names the unit of each column of numbers.
`in_units` gives the same table in the units wanted, with their names in its headings::

    with register.reading() as session:
        units = units_table(session, today)
        findings = findings_table(session, today)
    heavy = units[units.required > 50_000]
    in_units(heavy, {"required": "kN", "room_left": "kN"})

Tags stay text, and not-known stays not-a-number or '' throughout.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

import numpy as np
import pandas as pd
from sqlalchemy.orm import Session

from supports.errors import BadInput
from supports.queries.rule_runs import PlantAsked, acceptances, ask_register
from supports.rules.acceptances import stood
from supports.rules.frame import Frame, Subject, catalogue
from supports.rules.run import found_in
from supports.sentences import joined
from supports.units import Kind, unit

TEXTS = ("tag", "area", "line", "criticality", "support_kind", "serial", "calculation")
NUMBERS = (
    "required", "setting", "nameplate_load", "range_low", "range_high", "rate", "working_low",
    "working_high", "design_travel", "total_travel", "pointer", "scale_load", "stops_in",
    "readings",
)  # fmt: skip
DAYS = ("setting_day", "last_seen_day")
SI = {
    Kind.LOAD: "N", Kind.LENGTH: "m", Kind.RATE: "N/m", Kind.COUNT: "1", Kind.FRACTION: "1",
    Kind.LOAD_PER_TURN: "N/turn", Kind.ANGLE: "rad", Kind.TEMPERATURE: "K",
}  # fmt: skip


def units_table(session: Session, today: date, asked: PlantAsked | None = None) -> Any:
    """Return one row for each unit in place, and for each support that has none.

    Parameters
    ----------
    asked
        The rules asked already, so that the register is not read twice.

    Returns
    -------
    pandas.DataFrame
        Columns as in ``supports/data/rule_columns.csv``; `room_left` is the least distance of the
        required load to an end of its range, negative outside; `name` is the index.
    """
    rows = (asked or ask_register(session, today, rules=())).plant.frames[Subject.UNIT]
    table = pd.DataFrame({name: rows.text(name) for name in TEXTS}, index=list(rows.names))
    for name in NUMBERS:
        table[name] = rows[name]
    for name in DAYS:
        table[name] = [_day(value) for value in rows[name]]
    table["room_left"] = room_left(rows)
    table.index.name = "name"
    kinds = {name: catalogue()[name].quantity for name in NUMBERS} | {"room_left": Kind.LOAD}
    table.attrs["kinds"] = {name: str(kind) for name, kind in kinds.items()}
    table.attrs["units"] = {name: SI[kind] for name, kind in kinds.items() if kind}
    return table


def room_left(rows: Frame) -> Any:
    """Return the least distance of the required load to an end of its range [N]."""
    variable = rows.yes("variable")
    low = np.where(variable, rows["working_low"], rows["range_low"])
    high = np.where(variable, rows["working_high"], rows["range_high"])
    return np.minimum(high - rows["required"], rows["required"] - low)


def _day(value: float) -> date | None:
    return None if np.isnan(value) else date.fromordinal(int(value))


def findings_table(session: Session, today: date, asked: PlantAsked | None = None) -> Any:
    """Return one row for each rule that fails or cannot judge, with where the finding stands.

    Returns
    -------
    pandas.DataFrame
        rule, group, severity, answer, subject, name, tag, standing, words, measure.
    """
    plant = asked or ask_register(session, today)
    groups = {one.rule.id: str(one.rule.group) for one in plant.asked}
    found = found_in(plant.asked, plant.limits)
    return pd.DataFrame(
        [
            {
                "rule": one.found.rule,
                "group": groups[one.found.rule],
                "severity": str(one.found.severity),
                "answer": str(one.found.answer),
                "subject": str(one.found.subject),
                "name": one.found.name,
                "tag": one.found.tag,
                "standing": str(one.standing),
                "words": one.accepted.words if one.accepted else "",
                "measure": one.found.measure,
            }
            for one in stood(found, acceptances(session), today)
        ],
        columns=[
            "rule", "group", "severity", "answer", "subject", "name", "tag", "standing", "words",
            "measure",
        ],
    )  # fmt: skip


def in_units(table: Any, wanted: Mapping[str, str]) -> Any:
    """Return a table with some columns in other units, the unit in each of their headings.

    Raises
    ------
    BadInput
        A column is not one of numbers with a unit.
    """
    known: dict[str, str] = table.attrs.get("kinds", {})
    if strange := sorted(set(wanted) - set(known)):
        raise BadInput("these columns have no unit", found=joined(strange, ", "))
    shown = table.copy()
    for name, symbol in wanted.items():
        shown[name] = unit(symbol, Kind(known[name])).from_si(shown[name].to_numpy(dtype=float))
    headings = {name: f"{name} [{symbol}]" for name, symbol in wanted.items()}
    return shown.rename(columns=headings)
