"""Numbers whose size says that their unit is another, and numbers that stand for 'not known'."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from importers.columns import Body, Converted
from importers.declared import kind_of
from importers.faults import Fault, Ledger
from importers.headings import Taken
from importers.quantity_text import read_amount
from importers.table import DeclaredCell, Raw, text_of
from importers.unit_words import read_unit
from supports.proposals import Value
from supports.sentences import Sentence, either
from supports.units import Kind, Unit

FAR_OFF = 3.0
"""A load this many times its expected value, or one part of it, is looked at. Our own choice."""
NEAR = 0.15
"""Another unit explains a load that it brings this near to the expected one. Our own choice."""

_CANDIDATES = ("N", "kN", "daN", "kgf", "lbf", "kip")
_NINES = frozenset({999.0, 9999.0, 99999.0})

_CARRIED = {
    "load",
    "nameplate_load",
    "hot_load",
    "cold_load",
    "scale_load",
    "cell_raising",
    "cell_lowering",
}
"""Fields that lie near the load carried; ratings and ends of ranges need not."""

ExpectedLoads = Mapping[str, float]
"""The load [N] to expect at each support tag, from its plate or its calculation."""


def refuse_suspicious(
    body: Body,
    taken: Taken,
    tags: list[Value],
    expected: ExpectedLoads,
    converted: Converted,
    ledger: Ledger,
) -> None:
    """Refuse loads that stand for 'not known', and loads that another unit would explain.

    A number whose unit a person has declared is taken at that word.
    """
    if kind_of(taken.column) is not Kind.LOAD:
        return
    cells = body.column(taken.index)
    for i, value in _doubtful(converted, tags, expected, cells):
        wanted = expected.get(str(tags[i])) if taken.column.field in _CARRIED else None
        fault = _not_known(taken, cells[i]) or _another_unit(value, wanted, _unit(body, taken, i))
        if fault:
            ledger.add(fault, body.numbers[i], taken.index, cells[i])
            converted.values[i] = None
            converted.bad.add(i)


def _doubtful(
    converted: Converted, tags: list[Value], expected: ExpectedLoads, cells: Sequence[Raw]
) -> Iterator[tuple[int, float]]:
    """Yield the few loads that need a closer look."""
    loads = converted.numbers()
    wanted = np.array([expected.get(str(tag), np.nan) for tag in tags]) if expected else loads
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        ratio = np.abs(loads) / wanted
    far = (ratio > FAR_OFF) | (ratio < 1.0 / FAR_OFF)
    zeros = np.flatnonzero(loads == 0.0).tolist()
    for i in sorted({*np.flatnonzero(far).tolist(), *zeros, *_with_nines(cells)}):
        if not np.isnan(loads[i]) and not isinstance(cells[i], DeclaredCell):
            yield i, float(loads[i])


def _with_nines(cells: Sequence[Raw]) -> Iterator[int]:
    """Yield the rows whose cell may be a number of nothing but nines, however it is written."""
    if _NINES.isdisjoint(cells) and str not in set(map(type, cells)):
        return
    for i, raw in enumerate(cells):
        if "99" in raw if isinstance(raw, str) else raw in _NINES:
            yield i


def _number(raw: Raw) -> float | None:
    amount = read_amount(text_of(raw))
    return None if isinstance(amount, Fault) else amount.number


def _not_known(taken: Taken, raw: Raw) -> Fault | None:
    number = _number(raw)
    is_zero_possible = number == 0.0 and taken.column.signed
    return None if number is None or is_zero_possible else load_not_known(number)


def load_not_known(number: float) -> Fault | None:
    """Return what is to be asked of a load that stands for 'not known', in whatever unit."""
    if number != 0.0 and number not in _NINES:
        return None
    return Fault(
        "zero-or-nines",
        Sentence("a load of {text} most often stands for 'not known'", text=f"{abs(number):g}"),
        "the load, or a blank",
        "Leave the cell blank if the load is not known",
    )


def _another_unit(value: float, wanted: float | None, unit: Unit | None) -> Fault | None:
    if wanted is None or unit is None or wanted <= 0.0:
        return None
    number = abs(unit.from_si(value))
    likely = [
        symbol
        for symbol in _CANDIDATES
        if symbol != unit.symbol and abs(_si(number, symbol) / wanted - 1.0) <= NEAR
    ]
    if not likely:
        return None
    return Fault(
        "unit-size-suspicious",
        Sentence(
            "the number looks like {names} (cannot be told apart by size), not {symbol}"
            if len(likely) > 1
            else "the number looks like {names}, not {symbol}",
            names=either(likely),
            symbol=unit.symbol,
        ),
        Sentence("about {value} {symbol}", value=f"{unit.from_si(wanted):.4g}", symbol=unit.symbol),
        "Write the unit into the cell",
    )


def _si(number: float, symbol: str) -> float:
    unit = read_unit(symbol, Kind.LOAD)
    return unit.to_si(number) if isinstance(unit, Unit) else number


def _unit(body: Body, taken: Taken, i: int) -> Unit | None:
    if isinstance(taken.unit, Unit):
        return taken.unit
    if taken.units_in is None:
        return None
    unit = read_unit(text_of(body.rows[i][taken.units_in]).strip(), Kind.LOAD)
    return unit if isinstance(unit, Unit) else None
