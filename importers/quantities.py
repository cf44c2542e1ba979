"""Columns of quantities: parsed cell by cell, converted to SI a whole column at a time."""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import cast

import numpy as np
import numpy.typing as npt

from importers.columns import Body, Converted, refusal
from importers.declared import kind_of
from importers.faults import LONGEST_VALUE, Fault, Ledger, too_long
from importers.headings import Taken
from importers.quantity_text import FRACTION_OF_HEADING, Amount, read_amount, too_large
from importers.table import DeclaredCell, Raw, RefusedCell, is_blank, text_of
from importers.unit_words import not_stated, read_unit
from supports.findings import Severity
from supports.sentences import Sentence
from supports.units import Kind, Unit

_PLAIN_DIGITS = set("0123456789.-")
"""Text of these alone is one plain number or none; everything else is looked at closely."""


_THOUSANDS = re.compile(r"[-+−]?[1-9]\d{0,2}\.\d{3}")

_FRACTIONED = {"in", "ft"}


@dataclass(slots=True)
class _Numbers:
    """Numbers that share a unit, and the rows in which they stand."""

    rows: Sequence[int] = field(default_factory=list)
    values: Sequence[float] | npt.NDArray[np.float64] = field(default_factory=list)

    def put(self, row: int, value: float) -> None:
        """Put down one more."""
        cast("list[int]", self.rows).append(row)
        cast("list[float]", self.values).append(value)


@dataclass(slots=True)
class _Reading:
    """One column while it is read."""

    body: Body
    taken: Taken
    ledger: Ledger
    kind: Kind
    answer: Converted
    bare: _Numbers = field(default_factory=_Numbers)
    spelled: dict[str, _Numbers] = field(default_factory=lambda: defaultdict(_Numbers))

    def refuse(self, fault: Fault, i: int, raw: Raw) -> None:
        """Put down the fault of one cell and take no value from it."""
        self.ledger.add(fault, self.body.numbers[i], self.taken.index, raw)
        self.answer.bad.add(i)
        self.answer.values[i] = None


def read_quantities(body: Body, taken: Taken, ledger: Ledger) -> Converted:
    """Read a column of quantities into SI."""
    kind = kind_of(taken.column)
    if kind is None:
        raise TypeError(taken.column.field)
    reading = _Reading(body, taken, ledger, kind, Converted([None] * len(body.rows)))
    _parse(reading)
    for spelling, numbers in reading.spelled.items():
        _with_own_unit(reading, spelling, numbers)
    _without_own_unit(reading)
    return reading.answer


def _parse(reading: _Reading) -> None:
    column = reading.body.column(reading.taken.index)
    plain = _plain_column(reading, column)
    if plain is not None:
        reading.bare = plain
        return
    for i, raw in enumerate(column):
        if type(raw) is float and math.isfinite(raw):
            reading.bare.put(i, raw)
        elif raw != "" or isinstance(raw, RefusedCell):
            _parse_other(reading, i, raw)


def _plain_column(reading: _Reading, column: Sequence[Raw]) -> _Numbers | None:
    """Return the numbers of a column that holds nothing but plain numbers and blanks, or None."""
    kinds = set(map(type, column))
    if kinds <= {float}:
        numbers = np.array(column, dtype=np.float64)
        return _Numbers(range(len(numbers)), numbers) if np.isfinite(numbers).all() else None
    if kinds != {str} or any(_is_doubtful(reading, raw) for raw in column):
        return None
    return _plain_texts(cast("Sequence[str]", column))


def _plain_texts(column: Sequence[str]) -> _Numbers | None:
    if not set("".join(column)) <= _PLAIN_DIGITS:
        return None
    rows = [i for i, text in enumerate(column) if text]
    try:
        numbers = [float(column[i]) for i in rows]
    except ValueError:
        return None
    return _Numbers(rows, numbers) if np.isfinite(numbers).all() else None


def _parse_other(reading: _Reading, i: int, raw: Raw) -> None:
    if isinstance(raw, RefusedCell):
        reading.refuse(refusal(raw), i, raw)
        return
    if is_blank(raw):
        return
    amount = _doubtful_point() if _is_doubtful(reading, raw) else _amount(raw)
    if isinstance(amount, Fault):
        reading.refuse(amount, i, raw)
        return
    into = reading.spelled[amount.unit] if amount.unit else reading.bare
    into.put(i, amount.number)


def _is_doubtful(reading: _Reading, raw: Raw) -> bool:
    """Return whether '2.450' may be 2450, as the table seems to have decimal commas."""
    thousands = isinstance(raw, str) and _THOUSANDS.fullmatch(raw.strip()) is not None
    return thousands and reading.body.has_decimal_commas()


def _doubtful_point() -> Fault:
    return Fault(
        "number-ambiguous",
        "the point may part thousands: other cells, or the semicolons, speak for a decimal comma",
        "a number such as 1250 or 1.25, without thousands separators",
    )


def _amount(raw: Raw) -> Amount | Fault:
    if isinstance(raw, DeclaredCell):
        return Amount(float(raw), raw.unit)
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        return _not_a_number()
    text = text_of(raw)
    return (
        read_amount(text) if len(text) <= LONGEST_VALUE else too_long(text, "text-in-number-cell")
    )


def _not_a_number() -> Fault:
    return Fault("text-in-number-cell", "the cell holds something else where a number should stand")


def _take(reading: _Reading, numbers: _Numbers, unit: Unit) -> None:
    """Convert numbers of one unit; refuse what cannot be negative (a temperature below 0 K)."""
    with np.errstate(over="ignore"):
        si = unit.to_si(np.asarray(numbers.values, dtype=np.float64))
    values = reading.answer.values
    if len(numbers.rows) == len(values):
        values[:] = si.tolist()
    else:
        for i, value in zip(numbers.rows, si.tolist(), strict=True):
            values[i] = value
    _refuse_where(reading, numbers, ~np.isfinite(si), too_large())
    if not reading.taken.column.signed:
        _refuse_where(reading, numbers, si < 0.0, _negative(reading.kind))


def _refuse_where(
    reading: _Reading, numbers: _Numbers, wrong: npt.NDArray[np.bool_], fault: Fault
) -> None:
    if wrong.any():
        cells = reading.body.column(reading.taken.index)
        for k in np.flatnonzero(wrong).tolist():
            reading.refuse(fault, numbers.rows[k], cells[numbers.rows[k]])


def _with_own_unit(reading: _Reading, spelling: str, numbers: _Numbers) -> None:
    """Take numbers that bring their unit along in the cell."""
    if spelling == FRACTION_OF_HEADING:
        _fractions(reading, numbers)
        return
    unit = read_unit(spelling, reading.kind)
    column = reading.body.column(reading.taken.index)
    if isinstance(unit, Fault):
        for i in numbers.rows:
            reading.refuse(unit, i, column[i])
        return
    _take(reading, numbers, unit)
    stated = reading.taken.unit
    if isinstance(stated, Unit) and stated != unit:
        what = Sentence(
            "the cell says {symbol}, the heading {heading}; the cell was followed",
            symbol=unit.symbol,
            heading=stated.symbol,
        )
        fault = Fault("unit-differs-from-heading", what, severity=Severity.LOOK)
        for i in numbers.rows:
            reading.ledger.add(fault, reading.body.numbers[i], reading.taken.index, column[i])


def _fractions(reading: _Reading, numbers: _Numbers) -> None:
    """Take fractions without a mark where the unit is inches or feet for certain."""
    column = reading.body.column(reading.taken.index)
    for unit, group in _by_unit(reading, numbers):
        if isinstance(unit, Unit) and unit.symbol in _FRACTIONED:
            _take(reading, group, unit)
        else:
            for i in group.rows:
                reading.refuse(_whose_fraction(), i, column[i])


def _by_unit(
    reading: _Reading, numbers: _Numbers
) -> Iterator[tuple[Unit | Fault | None, _Numbers]]:
    """Yield the numbers with the unit of the heading or of their row."""
    if reading.taken.units_in is None:
        yield reading.taken.unit, numbers
        return
    for text, group in _by_row_unit(reading, numbers, reading.taken.units_in):
        yield read_unit(text, reading.kind), group


def _whose_fraction() -> Fault:
    return Fault(
        "fraction-without-inches",
        "a fraction stands in a column that is not in inches or feet",
        "the unit beside it, or two values in two cells",
    )


def _without_own_unit(reading: _Reading) -> None:
    """Take bare numbers in the unit of the heading or of their row."""
    taken, numbers = reading.taken, reading.bare
    if not numbers.rows:
        return
    if isinstance(taken.unit, Unit):
        _take(reading, numbers, taken.unit)
    elif taken.units_in is not None:
        for text, group in _by_row_unit(reading, numbers, taken.units_in):
            _take_in_row_unit(reading, text, group, taken.units_in)
    else:
        _withhold(reading, taken.unit or not_stated(reading.kind), numbers)


def _withhold(reading: _Reading, fault: Fault, numbers: _Numbers) -> None:
    """Take nothing from a column whose unit is not known: one finding, at its heading."""
    counted = Fault(
        fault.code,
        Sentence("{what}; {count} values not taken", what=fault.what, count=str(len(numbers.rows))),
        fault.expected + _degrees_by_size(reading.kind, np.asarray(numbers.values).tolist()),
        fault.remedy,
    )
    reading.ledger.add(counted, reading.taken.top, reading.taken.index, reading.taken.heading)
    reading.answer.bad.update(numbers.rows)


def _degrees_by_size(kind: Kind, values: Iterable[float]) -> str:
    """Return what a number such as 538 gives away: 1000 °F once, written in °C."""
    for value in values if kind is Kind.TEMPERATURE else ():
        fahrenheit = value * 1.8 + 32.0
        if value % 10.0 and abs(fahrenheit - round(fahrenheit, -2)) < 1.0:
            return f"; {value:g} °C is {fahrenheit:.0f} °F, which speaks for °C"
    return ""


def _by_row_unit(
    reading: _Reading, numbers: _Numbers, units_in: int
) -> Iterator[tuple[str, _Numbers]]:
    spelled, kinds = reading.body.groups(units_in)
    rows, values = np.array(numbers.rows), np.array(numbers.values)
    for number, text in enumerate(spelled):
        chosen = kinds[rows] == number
        if chosen.any():
            yield text, _Numbers(rows[chosen].tolist(), values[chosen].tolist())


def _take_in_row_unit(reading: _Reading, text: str, numbers: _Numbers, units_in: int) -> None:
    unit = read_unit(text, reading.kind) if text else not_stated(reading.kind)
    if isinstance(unit, Unit):
        _take(reading, numbers, unit)
        return
    for i in numbers.rows:
        reading.ledger.add(unit, reading.body.numbers[i], units_in, text)
        reading.answer.bad.add(i)


def _negative(kind: Kind) -> Fault:
    least = "a temperature above absolute zero" if kind is Kind.TEMPERATURE else "0 or more"
    return Fault(
        "negative-not-possible", Sentence("this {kind} cannot be negative", kind=kind), least
    )
