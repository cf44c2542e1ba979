"""Which column of a table fills which field, and the unit that its heading states."""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache

from importers.declared import UNIT_COLUMNS, Column, Form, Sheet, kind_of
from importers.faults import Fault, Ledger
from importers.table import Raw, Table, is_blank, letters, text_of
from importers.unit_words import read_unit
from supports.errors import ColumnMissing
from supports.findings import Severity
from supports.sentences import Sentence, either, joined
from supports.units import Kind, Unit

_BRACKET = re.compile(r"^(.*\S)\s*[\[(]([^\[\]()]*)[\])]$")
_COMMA = re.compile(r"^(.*\S)\s*,\s*([^,]+)$")
_LAST_WORD = re.compile(r"^(.*\S)\s+(\S+)$")
_UNIT_LAST = (_BRACKET, _COMMA, _LAST_WORD)

MARKS = {
    "serial": ("serial", "serialno", "serialnumber"),
    "node": ("node", "nodeno", "calculationnode"),
    "order_along": ("order", "orderalongline"),
}
"""Headings that lead to a support where a row bears no tag, by field; nothing is stored of them."""

MARK_OF = {heading: name for name, headings in MARKS.items() for heading in headings}


@dataclass(frozen=True, slots=True)
class Taken:
    """A column of the table that fills a field.

    Parameters
    ----------
    index
        Column counted from 0.
    unit
        The unit stated in the heading, what is wrong with it, or None if it states none.
    units_in
        Column that gives the unit row by row.
    top
        Row of the heading, counted from 0.
    """

    column: Column
    index: int
    heading: str
    unit: Unit | Fault | None = None
    units_in: int | None = None
    top: int = 0


@dataclass(frozen=True, slots=True)
class Layout:
    """How a table is read: the row of its headings, the columns taken, the others."""

    sheet: Sheet
    top: int
    taken: tuple[Taken, ...]
    unknown: Mapping[int, str] = field(default_factory=dict)
    units_row: int | None = None

    def of(self, name: str) -> Taken | None:
        """Return the column that fills a field."""
        return next((item for item in self.taken if item.column.field == name), None)


@dataclass(frozen=True, slots=True)
class _Heading:
    name: str
    unit: str | None


def plain(text: str) -> str:
    """Return a heading without case, spaces, punctuation and footnote stars.

    >>> plain("Load, carrying positive *")
    'loadcarryingpositive'
    """
    return re.sub(r"[\W_]+", "", text.casefold())


@cache
def names(sheet: Sheet) -> Mapping[str, Column]:
    """Return the columns of a sheet by every plain heading accepted; the declared one wins."""
    table: dict[str, Column] = {}
    for spell in (lambda c: (c.heading,), lambda c: (c.field,), lambda c: c.aliases):
        for column in sheet.columns:
            for text in spell(column):
                table.setdefault(plain(text), column)
    return table


@cache
def _unit_column_names() -> Mapping[str, str]:
    return {
        plain(text): heading
        for heading, (_, others) in UNIT_COLUMNS.items()
        for text in (heading, *others)
    }


def split(text: str, known: Mapping[str, object]) -> _Heading | None:
    """Split a heading into the name it is known by and the unit it states."""
    spelled = " ".join(text.split()).rstrip("*†‡ ")
    if plain(spelled) in MARK_OF and plain(spelled) not in known:
        return None
    parts = [
        part
        for pattern in _UNIT_LAST
        if (part := pattern.match(spelled))
        and not (pattern is _LAST_WORD and _is_name(known.get(plain(part[1]))))
    ]
    split_off = [_Heading(plain(p[1]), p[2].strip()) for p in parts if plain(p[1]) in known]
    if plain(spelled) in known and not any(h.unit and not plain(h.unit) for h in split_off):
        return _Heading(plain(spelled), None)
    return split_off[0] if split_off else None


def _is_name(column: object) -> bool:
    """Return whether a column holds names, which have no unit: 'Support steel' is no support."""
    return isinstance(column, Column) and column.form is Form.NAME


def known_headings(row: Sequence[Raw], sheet: Sheet) -> int:
    """Count the cells of a row that name columns of a sheet."""
    known = names(sheet)
    return len(
        {
            known[found.name].field
            for raw in row
            if isinstance(raw, str) and raw and (found := split(raw, known))
        }
    )


def unit_in(text: str, kind: Kind) -> str:
    """Return the unit that a cell among the headings states, alone or in brackets; else ''."""
    bracket = _BRACKET.match(text.strip())
    for spelled in (bracket[2] if bracket else "", text.strip().strip("[]()")):
        unit = read_unit(spelled, kind) if spelled else None
        if isinstance(unit, Unit) or (unit and unit.code == "unit-ambiguous"):
            return spelled
    return ""


def lay_out(
    table: Table,
    sheet: Sheet,
    top: int,
    row: Sequence[str],
    ledger: Ledger,
    given: Collection[str] = (),
    left: Collection[str] = (),
) -> Layout:
    """Match the headings `row`, which stand in row `top`, with a sheet's columns.

    Parameters
    ----------
    given
        Fields that hold for all rows without a column of their own.
    left
        Headings that a person confirmed to leave aside, though they name columns.

    Raises
    ------
    ColumnMissing
        A needed column is not there, or stands twice.
    """
    found: dict[str, Taken] = {}
    twice: set[str] = set()
    unknown: dict[int, str] = {}
    for index, raw in enumerate(row):
        taken = None if raw in left else _take(sheet, top, index, raw)
        if taken is None:
            if not is_blank(raw) and plain(text_of(raw)) not in _unit_column_names():
                unknown[index] = text_of(raw)
        elif taken.column.field in found:
            twice.add(taken.column.field)
            ledger.add(_twice(taken), top, index, raw)
        else:
            found[taken.column.field] = taken
    _require(table, sheet, row, set(found) | set(given), twice)
    for index, text in unknown.items():
        ledger.add(_unknown(sheet, text), top, index, text)
    kept = [item for name, item in found.items() if name not in twice]
    return Layout(sheet, top, tuple(_with_row_units(kept, row)), unknown)


def _take(sheet: Sheet, top: int, index: int, raw: Raw) -> Taken | None:
    heading = split(text_of(raw), names(sheet)) if not is_blank(raw) else None
    if heading is None:
        return None
    column = names(sheet)[heading.name]
    kind = kind_of(column)
    unit = read_unit(heading.unit, kind) if heading.unit is not None and kind else None
    return Taken(column, index, text_of(raw), unit, top=top)


def _with_row_units(taken: Sequence[Taken], row: Sequence[Raw]) -> Iterator[Taken]:
    """Point the columns without a unit at the column that gives it row by row."""
    columns = {_unit_column_names().get(plain(text_of(raw))): i for i, raw in enumerate(row)}
    for item in taken:
        if item.unit is None and item.column.unit_column in columns:
            yield replace(item, units_in=columns[item.column.unit_column])
        else:
            yield item


def _require(
    table: Table, sheet: Sheet, row: Sequence[Raw], found: set[str], twice: set[str]
) -> None:
    """Refuse a table that lacks a needed column, or has it twice."""
    headings = [text_of(raw) for raw in row if not is_blank(raw)]
    for column in sheet.columns:
        if column.needed and column.field in twice:
            known = [_take(sheet, 0, index, raw) for index, raw in enumerate(row)]
            there = [one for one in known if one and one.column.field == column.field]
            raise ColumnMissing(
                Sentence("column '{heading}' stands twice", heading=column.heading),
                where=f"{table.file} {table.sheet}",
                found=" and ".join(
                    Sentence(
                        "'{heading}' in {column}", heading=one.heading, column=letters(one.index)
                    )
                    for one in there
                ),
                expected="one of them",
                remedy="Rename the one that is something else, or take it out",
            )
        if column.needed and column.field not in found:
            near = difflib.get_close_matches(column.heading, headings, n=1, cutoff=0.5)
            raise ColumnMissing(
                Sentence("column '{heading}' is missing", heading=column.heading),
                where=f"{table.file} {table.sheet}",
                found=Sentence(
                    "the headings {names}", names=joined((f"'{text}'" for text in headings), ", ")
                ),
                expected=either(f"'{text}'" for text in (column.heading, *column.aliases)),
                remedy=Sentence("Is it the column '{near}'? Then rename that", near=near[0])
                if near
                else "Add it",
            )


def _twice(taken: Taken) -> Fault:
    return Fault(
        "heading-twice",
        Sentence(
            "column '{heading}' stands twice, also in column {column}",
            heading=taken.column.heading,
            column=letters(taken.index),
        ),
        remedy="Keep one of them; neither was read",
    )


def _unknown(sheet: Sheet, text: str) -> Fault:
    near = difflib.get_close_matches(plain(text), list(names(sheet)), n=1, cutoff=0.75)
    return Fault(
        "heading-not-known",
        Sentence("column '{text}' is not known and was kept as text only", text=text),
        Sentence("perhaps '{name}'", name=names(sheet)[near[0]].heading) if near else "",
        severity=Severity.NOTE,
    )
