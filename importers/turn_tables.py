"""Load-per-turn tables in one cell: '18 to 20: 0.27; 20 to 24: 0.29'."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise

from importers.columns import Body, Converted, refusal
from importers.faults import Fault, Ledger
from importers.headings import Taken
from importers.table import Raw, RefusedCell, is_blank, text_of
from importers.unit_words import not_stated, read_unit
from supports.units import Kind, Unit

_NUMBER = r"\d+(?:\.\d+)?"
_BAND = re.compile(rf"\s*({_NUMBER})\s*(?:to|-|–|\.\.)\s*({_NUMBER})\s*:\s*({_NUMBER})\s*")


def read_turn_tables(body: Body, taken: Taken, ledger: Ledger) -> Converted:
    """Read a column of tables into [[from N, to N, N per turn], ...]."""
    answer = Converted([None] * len(body.rows))
    for i, raw in enumerate(body.column(taken.index)):
        if is_blank(raw) and not isinstance(raw, RefusedCell):
            continue
        read = _table(raw, _unit_of(body, taken, i))
        if isinstance(read, Fault):
            ledger.add(read, body.numbers[i], taken.index, raw)
            answer.bad.add(i)
        else:
            answer.values[i] = read
    return answer


def _unit_of(body: Body, taken: Taken, i: int) -> Unit | Fault:
    if taken.unit is not None:
        return taken.unit
    text = text_of(body.rows[i][taken.units_in]).strip() if taken.units_in is not None else ""
    return read_unit(text, Kind.LOAD) if text else not_stated(Kind.LOAD)


def _table(raw: Raw, unit: Unit | Fault) -> list[list[float]] | Fault:
    if isinstance(raw, RefusedCell):
        return refusal(raw)
    if isinstance(unit, Fault):
        return unit
    bands = [_BAND.fullmatch(part) for part in text_of(raw).strip(" ;").split(";")]
    table = [[unit.to_si(float(number)) for number in band.groups()] for band in bands if band]
    if len(table) < len(bands) or not _in_order(table):
        return Fault(
            "turn-table-unreadable",
            "the table of load per turn cannot be read",
            "bands one after the other, as in '18 to 20: 0.27; 20 to 24: 0.29'",
        )
    return table


def _in_order(table: list[list[float]]) -> bool:
    rising = all(low < high and turn > 0.0 for low, high, turn in table)
    return rising and all(one[1] == other[0] for one, other in pairwise(table))


def write_turn_table(table: list[list[float]], shown: Callable[[float], str]) -> str:
    """Write a table so that it reads back; `shown` writes one number in the unit of the row."""
    return "; ".join(f"{shown(a)} to {shown(b)}: {shown(q)}" for a, b, q in table)
