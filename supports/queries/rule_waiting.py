"""Values of sheets that wait for an answer, at the columns of units that they would fill."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from sqlalchemy.orm import Session

from supports.queries.intake import Doubt, bearers_now, doubts
from supports.rules.facts import PLATE_NUMBERS, Facts
from supports.rules.frame import numbers, texts
from supports.rules.unit_loads import Carriers

CELLS = " | "
"""What stands between the cells of a row that is held back."""
NAMED = 5
"""How many such rows are named; all are counted."""
_LOADS = (
    "required", "least_operating", "most_operating", "largest", "sustained", "cases_spread",
    "water_load",
)  # fmt: skip
_MOVEMENTS = ("design_travel", "movement", "sideways")
_SETTING = ("setting", "setting_hot", "setting_operating")
_FILLS: dict[tuple[str, str], tuple[str, ...]] = {
    ("required load", "load"): _LOADS,
    ("required load", "includes_hardware"): _LOADS,
    ("required load", "movement_up"): _MOVEMENTS,
    ("required load", "movement_east"): ("sideways",),
    ("required load", "movement_north"): ("sideways",),
    ("required load", ""): (*_LOADS, *_MOVEMENTS),
    ("setting", "load"): _SETTING,
    ("setting", "happened_on"): ("setting_day",),
    ("setting", ""): (*_SETTING, "setting_day"),
    ("nameplate", "range_minus"): ("range_low", "stamped_low"),
    ("nameplate", "range_plus"): ("range_high", "stamped_high"),
    ("nameplate", "range_low"): ("range_low", "stamped_low"),
    ("nameplate", "range_high"): ("range_high", "stamped_high"),
    ("nameplate", "movement"): ("plate_movement", "movement"),
    ("nameplate", ""): PLATE_NUMBERS,
    ("support", "rod_length"): ("rod_length",),
    ("support", "bearing_length"): ("bearing_length",),
}
"""By subject and field of a sheet: the columns of units that wait with it."""


def waiting_columns(session: Session, facts: Facts, carriers: Carriers) -> dict[str, Any]:
    """Return for each column that waits somewhere what it waits for, by carrier."""
    found = [(doubt, names) for doubt in doubts(session) if (names := _fills(doubt))]
    if not found:
        return {}
    borne = bearers_now(session, {doubt.tag for doubt, _ in found})
    place = {point: row for row, point in enumerate(facts.points["id"].tolist())}
    said: dict[str, dict[int, str]] = {}
    for name, point, words in _told(found, borne):
        if point in place:
            at = said.setdefault(name, {})
            at[place[point]] = f"{at[place[point]]}; {words}" if place[point] in at else words
    rows = carriers.point.tolist()
    return {f"{name}!": texts(at.get(row, "") for row in rows) for name, at in said.items()}


ROWS_WITHOUT_SUPPORT = {"join-to-decide", "support-not-known"}
"""Why a row of loads waits: its node leads to no support, or to more than one."""


def nodes_without_tag(session: Session, lines: Sequence[str]) -> dict[str, Any]:
    """Return by line the rows of loads at nodes that lead to no support, counted and named.

    A row that is held back keeps its cells as they stood; one of them is the line's number.
    """
    held: dict[str, list[str]] = {number: [] for number in lines}
    for doubt in doubts(session):
        loads = doubt.subject == "required load" and not doubt.tag
        if loads and doubt.code in ROWS_WITHOUT_SUPPORT:
            for number in set(doubt.text.split(CELLS)) & held.keys():
                held[number].append(f"{doubt.file} {doubt.sheet} {doubt.cell}")
    return {
        "nodes_without_tag": numbers(float(len(held[number])) for number in lines),
        "nodes_where": texts(", ".join(held[number][:NAMED]) for number in lines),
    }


def _fills(doubt: Doubt) -> tuple[str, ...]:
    own = (doubt.field,) if doubt.subject == "nameplate" and doubt.field in PLATE_NUMBERS else ()
    return _FILLS.get((doubt.subject, doubt.field), own)


def _told(
    found: list[tuple[Doubt, tuple[str, ...]]], borne: dict[str, set[int]]
) -> Iterator[tuple[str, int, str]]:
    for doubt, names in found:
        words = f"'{doubt.text}' in {doubt.file} {doubt.sheet} {doubt.cell}".replace(";", ",")
        for point in borne.get(doubt.tag, ()):
            for name in names:
                yield name, point, words
