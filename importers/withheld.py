"""What was not taken of a table, value by value and exactly as found, so that it can be asked."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from importers.columns import Body, Converted
from importers.faults import Ledger
from importers.headings import Layout, Taken
from importers.row_names import known_by
from importers.table import Raw, is_blank, letters, text_of
from supports.findings import Finding
from supports.proposals import Withheld
from supports.tags import tidied
from supports.units import Unit

_Faults = Mapping[str, Finding]


def withheld_of(
    layout: Layout,
    body: Body,
    columns: Mapping[str, Converted],
    held: Sequence[int],
    ledger: Ledger,
) -> Iterator[Withheld]:
    """Yield each value refused, then each row held back for another reason.

    Parameters
    ----------
    held
        Rows held back, counted in the body.
    """
    faults = {f.place.cell: f for f in ledger.findings if f.forbids_storing}
    refused: dict[int, set[str]] = defaultdict(set)
    for field, column in columns.items():
        for i in column.bad:
            refused[i].add(field)
    spoken_of: set[int] = set()
    for taken in layout.taken:
        for i in sorted(columns[taken.column.field].bad):
            fault = _fault_of(faults, taken, body.numbers[i])
            if fault is not None:
                spoken_of.add(i)
                yield _value(layout, body, i, taken, fault, refused[i])
    for i in held:
        fault = faults.get(f"row {body.numbers[i] + 1}")
        if i not in spoken_of and fault is not None:
            yield _row(layout, body, i, fault, refused[i])


def _fault_of(faults: _Faults, taken: Taken, row: int) -> Finding | None:
    """Return what speaks against a cell: said of the cell, of its unit's cell, of its heading."""
    where = [(row, taken.index), (taken.top, taken.index)]
    if taken.units_in is not None:
        where.insert(1, (row, taken.units_in))
    return next(
        (faults[a] for a in (f"{letters(c)}{r + 1}" for r, c in where) if a in faults), None
    )


def _value(
    layout: Layout, body: Body, i: int, taken: Taken, fault: Finding, refused: set[str]
) -> Withheld:
    return Withheld(
        fault.place.file,
        fault.place.sheet,
        f"{letters(taken.index)}{body.numbers[i] + 1}",
        layout.sheet.subject,
        taken.column.field,
        named_in(layout, body.rows[i]),
        text_of(body.rows[i][taken.index]),
        fault.code,
        fault.what,
        heading_in(taken, body.rows[i]),
        _known_by(layout, body, i, refused),
    )


def _known_by(layout: Layout, body: Body, i: int, refused: set[str]) -> dict[str, str]:
    row = body.rows[i]
    cells = {one.column.field: text_of(row[one.index]).strip() for one in layout.taken}
    return known_by(layout.sheet, body.numbers[i] + 1, cells, refused)


def heading_in(taken: Taken, row: Sequence[Raw]) -> str:
    """Return the heading of a column with the unit that holds in a row, wherever it is stated."""
    if isinstance(taken.unit, Unit):
        return f"{taken.heading} [{taken.unit.symbol}]"
    if taken.units_in is None:
        return taken.heading
    return f"{taken.heading} [{text_of(row[taken.units_in]).strip()}]"


def _row(layout: Layout, body: Body, i: int, fault: Finding, refused: set[str]) -> Withheld:
    cells = [text_of(raw).strip() for raw in body.rows[i] if not is_blank(raw)]
    return Withheld(
        fault.place.file,
        fault.place.sheet,
        f"row {body.numbers[i] + 1}",
        layout.sheet.subject,
        "",
        named_in(layout, body.rows[i]),
        " | ".join(cells),
        fault.code,
        fault.what,
        known_by=_known_by(layout, body, i, refused),
    )


def named_in(layout: Layout, row: Sequence[Raw]) -> str:
    """Return the tag of a row, or what else names it first, as it is read of the cell."""
    name = layout.of("tag") or layout.of(layout.sheet.key[0])
    return tidied(text_of(row[name.index])) if name else ""
