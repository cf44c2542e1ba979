"""From converted columns to records: keys, blanks, doubles, and what is held back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import cast

from importers.cells_as_found import CellsAsFound, found_in
from importers.columns import Body, Converted, read_cells
from importers.declared import Form, kind_of
from importers.derived import add_derived
from importers.faults import Fault, Ledger
from importers.headings import Layout, Taken
from importers.joining import Match
from importers.known import Known
from importers.profiles import Profile, constants_of, refuse_undeclared, turn_signs
from importers.quantities import read_quantities
from importers.sizes import refuse_suspicious
from importers.table import Raw
from importers.turn_tables import read_turn_tables
from importers.unnamed_rows import may_lack_tag, not_placed, placed
from importers.withheld import withheld_of
from supports.findings import Severity
from supports.proposals import Key, Record, SourceLine, Value, Withheld
from supports.sentences import Sentence, joined

_BLANK = type(None)
"""Sought among types, which takes half as long as seeking None among numbers."""


@dataclass(slots=True)
class SheetRead:
    """What one table gave."""

    records: list[Record]
    rows: int
    held_back: int
    withheld: tuple[Withheld, ...] = ()
    heading_row: int = 1
    """Counted from 1."""


@dataclass(slots=True)
class _Rows:
    layout: Layout
    body: Body
    ledger: Ledger
    columns: dict[str, Converted] = field(default_factory=dict)
    held: set[int] = field(default_factory=set)

    def hold(self, fault: Fault, i: int, found: str = "") -> None:
        """Hold a row back and say why."""
        self.ledger.row(fault, self.body.numbers[i], found)
        self.held.add(i)

    def values(self, name: str) -> list[Value]:
        """Return the values of a field, all blank where the table has no such column."""
        known = self.columns.get(name)
        return known.values if known else [None] * len(self.body.rows)


def read_rows(
    layout: Layout, body: Body, ledger: Ledger, known: Known, profile: Profile | None = None
) -> SheetRead:
    """Read the rows of one table into records."""
    rows = _Rows(layout, body, ledger)
    for taken in layout.taken:
        rows.columns[taken.column.field] = _convert(body, taken, ledger, known.latest)
    for name, value in constants_of(profile, layout.sheet).items():
        rows.columns.setdefault(name, Converted([value] * len(body.rows)))
    if profile:
        turn_signs(rows.columns, profile)
    else:
        refuse_undeclared(layout, rows.columns, ledger)
    _name_otherwise(rows, known)
    _refuse_suspicious(rows, known)
    as_read = dict(rows.columns)
    add_derived(layout, body, rows.columns, ledger)
    _hold_incomplete(rows)
    _fill_blanks(rows, known)
    keys = _keys(rows)
    _hold_doubles(rows, keys, is_confirmed=profile is not None)
    withheld = tuple(withheld_of(layout, body, as_read, sorted(rows.held), ledger))
    return SheetRead(
        list(_records(rows, keys)), len(body.rows), len(rows.held), withheld, layout.top + 1
    )


def _name_otherwise(rows: _Rows, known: Known) -> None:
    """Give rows without a tag the one that their other marks lead to, or hold them back."""
    if known.index is None or not may_lack_tag(rows.layout.sheet):
        return
    tags = rows.columns.setdefault("tag", Converted([None] * len(rows.body.rows)))
    for i, answer in placed(rows.layout, rows.body, rows.columns, tags, known.index):
        known.unnamed.append(answer)
        if isinstance(answer, Match):
            tags.values[i] = answer.tag
        else:
            tags.bad.add(i)
            rows.hold(not_placed(answer), i)


def _convert(body: Body, taken: Taken, ledger: Ledger, latest: date | None) -> Converted:
    if taken.column.form is Form.TURN_TABLE:
        return read_turn_tables(body, taken, ledger)
    if kind_of(taken.column):
        return read_quantities(body, taken, ledger)
    return read_cells(body, taken, ledger, latest)


def _refuse_suspicious(rows: _Rows, known: Known) -> None:
    tags: list[Value] = [known.meant_by(t) if isinstance(t, str) else t for t in rows.values("tag")]
    expected = known.expected_on(rows.layout.sheet.subject)
    for taken in rows.layout.taken:
        converted = rows.columns[taken.column.field]
        refuse_suspicious(rows.body, taken, tags, expected, converted, rows.ledger)


def _hold_incomplete(rows: _Rows) -> None:
    """Hold back each row that lacks a needed value; a refused cell has its finding already."""
    for column in rows.layout.sheet.columns:
        if not column.needed:
            continue
        converted = rows.columns[column.field]
        for i, value in enumerate(converted.values):
            if value is None:
                if i in converted.bad:
                    rows.held.add(i)
                else:
                    rows.hold(_missing(column.heading), i)


def _missing(heading: str) -> Fault:
    return Fault(
        "key-missing",
        Sentence("'{heading}' is blank, so the row cannot be stored", heading=heading),
        remedy="Fill it in, or delete the row",
    )


def _fill_blanks(rows: _Rows, known: Known) -> None:
    """Put in what a blank key cell stands for, or hold the row back where that is not certain."""
    tags = rows.values("tag")
    for name, default in rows.layout.sheet.when_blank:
        column = rows.columns.setdefault(name, Converted([None] * len(tags)))
        times = Counter(tags) if rows.layout.sheet.key == ("tag", name) else Counter()
        for i, value in enumerate(column.values):
            if i in column.bad:
                rows.held.add(i)
            elif value is None and i not in rows.held:
                if times[tags[i]] > 1 or len(known.positions_at(str(tags[i]))) > 1:
                    rows.hold(_which_unit(str(tags[i])), i)
                column.values[i] = default


def _which_unit(tag: str) -> Fault:
    return Fault(
        "position-not-stated",
        Sentence("support {tag} has more than one unit and the row does not say which", tag=tag),
        "a unit position such as A or B",
    )


def _keys(rows: _Rows) -> list[Key]:
    parts = [_as_key(rows.values(name)) for name in rows.layout.sheet.key]
    return list(zip(*parts, strict=True))


def _as_key(values: list[Value]) -> list[str]:
    if set(map(type, values)) <= {str}:
        return cast("list[str]", values)
    return [
        value.isoformat() if isinstance(value, date) else "" if value is None else str(value)
        for value in values
    ]


def _hold_doubles(rows: _Rows, keys: list[Key], *, is_confirmed: bool) -> None:
    """Hold back all rows that name one thing twice; a row repeated word for word is dropped.

    Parameters
    ----------
    is_confirmed
        A person confirmed what is read of the sheet: cells left aside make no row another one.
    """
    places = ((one.index, one.units_in) for one in rows.layout.taken)
    read = {at for pair in places for at in pair if at is not None}

    def said(i: int) -> list[Raw | None]:
        row = rows.body.rows[i]
        return [raw for at, raw in enumerate(row) if at in read or not is_confirmed]

    first: dict[Key, int] = {}
    for i, key in enumerate(keys):
        if i in rows.held:
            continue
        j = first.setdefault(key, i)
        if i == j:
            continue
        if said(i) == said(j):
            rows.hold(_repeated(rows.body.numbers[j]), i)
        else:
            rows.hold(_double(key, rows.body.numbers[j]), i)
            if j not in rows.held:
                rows.hold(_double(key, rows.body.numbers[i]), j)


def _repeated(other: int) -> Fault:
    what = Sentence(
        "the row repeats row {other} word for word and was left out", other=str(other + 1)
    )
    return Fault("row-repeated", what, severity=Severity.NOTE)


def _double(key: Key, other: int) -> Fault:
    return Fault(
        "same-key-twice",
        Sentence(
            "{names} stands also in row {other}, with other values",
            names=joined(key, " "),
            other=str(other + 1),
        ),
        remedy="Keep one row for each, or tell them apart",
    )


def _records(rows: _Rows, keys: list[Key]) -> Iterator[Record]:
    sheet, table = rows.layout.sheet, rows.ledger.table
    in_key = set(sheet.key) - set(sheet.facts_in_key)
    names = [name for name in rows.columns if name not in in_key]
    columns = [rows.columns[name].values for name in names]
    found = found_in(rows.layout, rows.body.rows)
    values = zip(*columns, strict=True) if columns else iter([()] * len(keys))
    blanks = any(_BLANK in set(map(type, column)) for column in columns)
    subject, file, sheet_name = sheet.subject, table.file, table.sheet
    held, numbers = rows.held, rows.body.numbers
    for i, line in enumerate(values):
        if i not in held:
            said = dict(zip(names, line, strict=True))
            if blanks and None in line:
                said = {name: value for name, value in said.items() if value is not None}
            source = SourceLine(file, sheet_name, numbers[i] + 1, CellsAsFound(found, i))
            yield Record(subject, keys[i], said, source)
