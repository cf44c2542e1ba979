"""Values of sheets that wait for an answer, at the columns that they would fill."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

import numpy as np
from sqlalchemy.orm import Session

from supports.queries.intake import Doubt, bearers_now, doubts
from supports.rules.facts import PLATE_NUMBERS, Facts
from supports.rules.frame import Frame, IntColumn, TextColumn, numbers, texts
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


# Pieces and lines

_PIECE_FILLS: dict[str, tuple[str, ...]] = {
    "rated_load": ("rated_load", "rating_at_pipe_temperature"),
    "rating_temperature": ("rating_at_pipe_temperature",),
    "mass": ("piece_load",),
    "derating": ("derating",),
    "kind": ("rated_load", "piece_load"),
    "": ("rated_load", "rating_at_pipe_temperature", "piece_load", "derating"),
}
"""By field of the sheet of hardware: the columns of pieces that wait with it."""
_LINE_FILLS: dict[tuple[str, str], tuple[str, ...]] = {
    **{
        ("line", field): ("line_weight", "loads_sum")
        for field in (
            "pipe_mass_per_length", "insulation_mass_per_length", "content_mass_per_length",
            "cladding_mass_per_length", "content_density", "insulation_density",
            "insulation_thickness", "outside_diameter", "wall", "",
        )
    },
    ("line", "creep_or_high_energy"): ("creep_or_high_energy",),
    ("required load", "load"): ("loads_sum",),
    ("required load", "includes_hardware"): ("loads_sum",),
    ("required load", ""): ("loads_sum",),
}  # fmt: skip
"""By subject and field of a sheet: the columns of lines that wait with it."""

Said = dict[str, dict[int, str]]
"""What waits, by column and row of a frame."""


def waiting_of_pieces(
    session: Session, facts: Facts, units: Frame, owner: IntColumn, pieces: Frame
) -> dict[str, TextColumn]:
    """Return for each column of pieces that waits somewhere what it waits for.

    A value of hardware that waits names its support, not its piece: it holds up the pieces there
    that lack it, and where none does, each of them, as it may be another's. A piece's load waits
    with that of its unit.

    Parameters
    ----------
    owner
        Row of the unit that each piece hangs on; less than nought where it is none or both.
    """
    said: Said = {}
    at_point = facts.pieces["point"]
    for point, doubt in _at_points(session, facts, "hardware"):
        here = np.flatnonzero(at_point == point)
        for name in _PIECE_FILLS.get(doubt.field, ()):
            lacking = here[~pieces.known(name)[here]]
            _add(said, name, lacking if len(lacking) else here, _cell(doubt))
    of_unit = units.text("largest!")
    rows = np.flatnonzero(owner >= 0)
    for row in rows[of_unit[owner[rows]] != ""] if units.size else ():
        _add(said, "piece_load", [row], str(of_unit[owner[row]]))
    return _as_columns(said, pieces.size)


def waiting_of_lines(session: Session, facts: Facts) -> dict[str, TextColumn]:
    """Return for each column of lines that waits somewhere what it waits for."""
    said: Said = {}
    rows = {number: row for row, number in enumerate(facts.lines["number"].tolist())}
    for doubt in doubts(session):
        if doubt.subject == "line" and doubt.tag in rows:
            for name in _LINE_FILLS.get((doubt.subject, doubt.field), ()):
                _add(said, name, [rows[doubt.tag]], _cell(doubt))
    held, on = facts.attachments["point"], facts.attachments["line"]
    for point, doubt in _at_points(session, facts, "required load"):
        for name in _LINE_FILLS.get((doubt.subject, doubt.field), ()):
            _add(said, name, np.unique(on[held == point]), _cell(doubt))
    return _as_columns(said, len(rows))


def _at_points(session: Session, facts: Facts, subject: str) -> Iterator[tuple[int, Doubt]]:
    """Give the doubts of a subject with the row of each support point that they speak of."""
    found = [doubt for doubt in doubts(session) if doubt.subject == subject]
    if found:
        borne = bearers_now(session, {doubt.tag for doubt in found})
        place = {point: row for row, point in enumerate(facts.points["id"].tolist())}
        for doubt in found:
            for point in borne.get(doubt.tag, set()) & place.keys():
                yield place[point], doubt


def _add(said: Said, name: str, rows: Iterable[int], words: str) -> None:
    at = said.setdefault(name, {})
    for row in map(int, rows):
        at[row] = f"{at[row]}; {words}" if row in at else words


def _as_columns(said: Said, size: int) -> dict[str, TextColumn]:
    return {f"{name}!": texts(at.get(row, "") for row in range(size)) for name, at in said.items()}


def _cell(doubt: Doubt) -> str:
    return f"'{doubt.text}' in {doubt.file} {doubt.sheet} {doubt.cell}".replace(";", ",")


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
        words = _cell(doubt)
        for point in borne.get(doubt.tag, ()):
            for name in names:
                yield name, point, words
