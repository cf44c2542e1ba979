"""The tables on one sheet: headings one to three rows deep, unit rows, repeats, totals, remarks."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

from importers.columns import Body, equally_wide
from importers.declared import Form, Sheet, kind_of
from importers.faults import Fault, Ledger
from importers.headings import Layout, Taken, known_headings, lay_out, names, plain, split, unit_in
from importers.stacked import DEEPEST_HEADING, filled
from importers.table import Raw, Table, is_blank, letters, text_of
from importers.tag_words import is_in_words, is_ordinary, is_total
from importers.unit_words import read_unit
from supports.findings import Severity
from supports.sentences import Sentence
from supports.units import Kind, Unit


@dataclass(slots=True)
class Segment:
    """One table: how it is read, and its rows."""

    layout: Layout
    body: Body


@dataclass(frozen=True, slots=True)
class _Grid:
    """The cells of a table with every merged heading written into each cell that it covers."""

    table: Table
    rows: list[list[Raw]]

    def headings(self, top: int, sheet: Sheet) -> list[str]:
        """Return the heading of each column, put together from the rows above where needed."""
        return [self._heading(top, column, sheet) for column in range(len(self.rows[top]))]

    def _heading(self, top: int, column: int, sheet: Sheet) -> str:
        lower = text_of(self.rows[top][column]).strip()
        known = names(sheet)
        above = self._above(top, column)
        parts = ([*reversed(above[:n]), lower] for n in range(len(above), -1, -1))
        for text in (" ".join(filter(None, part)) for part in parts):
            if text and split(text, known):
                return self._with_unit(text, above, sheet)
        return lower

    def _with_unit(self, text: str, above: Sequence[str], sheet: Sheet) -> str:
        """Add the unit that stands above a heading, where the heading states none."""
        found = split(text, names(sheet))
        kind = kind_of(names(sheet)[found.name]) if found else None
        if found is None or found.unit is not None or kind is None:
            return text
        units = [unit for cell in above if (unit := unit_in(cell, kind))]
        return f"{text} [{units[0]}]" if units else text

    def _above(self, top: int, column: int) -> list[str]:
        """Return the heading cells above, nearest first; a row of values ends them."""
        texts: list[str] = []
        for row in self.rows[max(top - DEEPEST_HEADING + 1, 0) : top][::-1]:
            cell = row[column] if column < len(row) else ""
            if not isinstance(cell, str):
                break
            if cell.strip() and cell.strip() != text_of(self.rows[top][column]).strip():
                texts.append(cell.strip())
        return texts


def segments(
    table: Table,
    sheet: Sheet,
    sheets: Sequence[Sheet],
    ledger: Ledger,
    given: Collection[str] = (),
    left: Collection[str] = (),
) -> list[Segment]:
    """Return the tables on one sheet; none if no row holds headings.

    Parameters
    ----------
    given
        Fields that hold for all rows without a column of their own.
    left
        Headings that a person confirmed to leave aside.
    """
    grid = _Grid(table, filled(table))
    top = _find_headings(grid, sheet)
    if top is None:
        return []
    found: list[Segment] = []
    texts = grid.headings(top, sheet)
    _report_from_above(grid, top, texts, ledger)
    first = _with_unit_row(lay_out(table, sheet, top, texts, ledger, given, left), table)
    for start, end, layout in _spans(table, first, sheets, ledger):
        found.append(Segment(layout, _body(table, layout, start, end, ledger)))
    return found


def _report_from_above(grid: _Grid, top: int, texts: Sequence[str], ledger: Ledger) -> None:
    """Say where a unit, or the whole heading, was taken from above the row of the headings."""
    for column, text in enumerate(texts):
        plain_text, _, unit = text.partition(" [")
        found = text_of(grid.rows[top][column]).strip()
        if text and not found:
            what = Sentence(
                "the heading '{text}' was taken from above the row of headings", text=text
            )
            ledger.add(_note("heading-from-above", what), top, column)
        if unit and found and "[" not in found and plain_text.endswith(found):
            what = Sentence(
                "the unit {unit} was taken from above the heading", unit=unit.rstrip("]")
            )
            ledger.add(_note("unit-from-above", what), top, column, found)


def _find_headings(grid: _Grid, sheet: Sheet) -> int | None:
    """Return the row that names most columns of a sheet, the first of equals."""
    best, most = None, 0
    for number in range(len(grid.rows)):
        if (count := known_headings(grid.headings(number, sheet), sheet)) > most:
            best, most = number, count
    return best


def _with_unit_row(layout: Layout, table: Table) -> Layout:
    """Give the columns without a unit the one that a row of units below the headings states."""
    below = layout.top + 1
    if below >= len(table.rows) or not _is_unit_row(table.rows[below], layout):
        return layout
    taken = tuple(_given(item, table.rows[below]) for item in layout.taken)
    return replace(layout, taken=taken, units_row=below)


def _given(item: Taken, row: Sequence[Raw]) -> Taken:
    kind = kind_of(item.column)
    text = text_of(row[item.index]).strip() if item.index < len(row) else ""
    if kind is None or not text or item.unit is not None:
        return item
    return replace(item, unit=read_unit(text, kind), units_in=None)


def _is_unit_row(row: Sequence[Raw], layout: Layout) -> bool:
    """Return whether a row holds units and nothing else, those of columns left aside too."""
    kinds = {item.index: kind_of(item.column) for item in layout.taken}
    cells = [(i, text_of(raw)) for i, raw in enumerate(row) if not is_blank(raw)]
    aside = tuple(Kind)
    return bool(cells) and all(
        any(unit_in(text, one) for one in ((kinds[i],) if i in kinds else aside) if one)
        for i, text in cells
    )


def _spans(
    table: Table, layout: Layout, sheets: Sequence[Sheet], ledger: Ledger
) -> Iterator[tuple[int, int, Layout]]:
    """Cut the rows below the headings where other headings begin another table."""
    start = (layout.units_row or layout.top) + 1
    openings = frozenset(name for sheet in sheets for name in names(sheet))
    for number in range(start, len(table.rows)):
        row = table.rows[number]
        if not _opens_like_headings(row, openings):
            continue
        sheet = max((layout.sheet, *sheets), key=lambda s: known_headings(row, s))
        if _same_headings(row, layout) or known_headings(row, sheet) < 2:
            continue
        yield start, number, layout
        texts = [text_of(raw) for raw in row]
        layout = _with_unit_row(lay_out(table, sheet, number, texts, ledger), table)
        start = (layout.units_row or layout.top) + 1
    yield start, len(table.rows), layout


def _opens_like_headings(row: Sequence[Raw], openings: frozenset[str]) -> bool:
    first = row[0] if row else ""
    if first == "":
        first = next((raw for raw in row if raw != ""), "")
    if not isinstance(first, str) or (first[-1:].isdecimal() and not _ends_in_digit(openings)):
        return False
    return plain(first) in openings


@cache
def _ends_in_digit(names_: frozenset[str]) -> bool:
    return any(name[-1:].isdecimal() for name in names_)


def _same_headings(row: Sequence[Raw], layout: Layout) -> bool:
    """Return whether a row repeats the headings in force."""
    cells = {i: text_of(raw) for i, raw in enumerate(row) if not is_blank(raw)}
    wanted = {item.index: plain(item.heading) for item in layout.taken}
    same = [i for i, text in cells.items() if wanted.get(i) == plain(text)]
    return len(same) >= 2 and len(same) >= len(cells) / 2


def _body(table: Table, layout: Layout, start: int, end: int, ledger: Ledger) -> Body:
    width = max((len(row) for row in table.rows), default=0)
    key = layout.of(layout.sheet.key[0])
    kept: list[int] = []
    heading = key.heading.casefold() if key and not key.index else None
    for number in range(start, end):
        row = table.rows[number]
        if heading is not None and _is_ordinary(row, heading):
            kept.append(number)
            continue
        if all(raw == "" or is_blank(raw) for raw in row):
            continue
        fault = _no_record(row, layout, key)
        if fault is None:
            kept.append(number)
        else:
            ledger.row(fault, number, text_of(next(raw for raw in row if not is_blank(raw))))
    rows = equally_wide([table.rows[number] for number in kept], width)
    _fill_merged(table, layout, kept, rows, ledger)
    return Body(rows, kept, table.semicolons)


def _is_ordinary(row: Sequence[Raw], heading: str) -> bool:
    """Return whether a row begins with an ordinary name, which no heading or total is."""
    first = row[0] if row else ""
    return type(first) is str and is_ordinary(first) and first.casefold() != heading


def _no_record(row: Sequence[Raw], layout: Layout, key: Taken | None) -> Fault | None:
    """Return why a row is no record: headings or units again, totals, loose text; else None."""
    cell = row[key.index] if key and key.index < len(row) else ""
    first = next(raw for raw in row if not is_blank(raw))
    if isinstance(first, str) and is_total(first):
        return _note("totals-row", "a row of totals was passed over")
    if key and isinstance(cell, str) and cell and cell.casefold() == key.heading.casefold():
        return _note("headings-repeated", "the headings stand here again and were passed over")
    if not is_blank(cell):
        return _loose_text() if _is_title(row, layout, cell) else None
    if _is_unit_row(row, layout):
        return _units_again(row, layout)
    used = {i for i, raw in enumerate(row) if not is_blank(raw)}
    if len(used) == 1 and isinstance(first, str) and not used & {t.index for t in layout.taken}:
        return _loose_text()
    return None


def _is_title(row: Sequence[Raw], layout: Layout, cell: Raw) -> bool:
    """Return whether words stand alone where a name should, in a table of several columns."""
    if len(layout.taken) == 1 or not isinstance(cell, str) or not is_in_words(cell.strip()):
        return False
    return sum(not is_blank(raw) for raw in row) == 1


def _loose_text() -> Fault:
    what = "text stands alone in a row and was not read; does it say something of the rows?"
    return Fault("loose-text", what, severity=Severity.LOOK)


def _note(code: str, what: str) -> Fault:
    return Fault(code, what, severity=Severity.NOTE)


def _units_again(row: Sequence[Raw], layout: Layout) -> Fault:
    """Return the note on a repeated row of units, or the stop if it states other units."""
    for item in layout.taken:
        kind = kind_of(item.column)
        text = text_of(row[item.index]).strip() if item.index < len(row) else ""
        if kind and text and isinstance(item.unit, Unit) and read_unit(text, kind) != item.unit:
            what = Sentence(
                "a row of units in the middle of the table says {text}, not {symbol}",
                text=text,
                symbol=item.unit.symbol,
            )
            remedy = "Split the table there, each part with its own headings and units"
            return Fault("units-change", what, remedy=remedy)
    return _note("units-repeated", "the units stand here again and were passed over")


def _fill_merged(
    table: Table, layout: Layout, kept: list[int], rows: list[list[Raw]], ledger: Ledger
) -> None:
    """Write the name in a merged block into each of its rows; say so of what is not spread."""
    used = {item.index for item in layout.taken}
    named = {item.index for item in layout.taken if item.column.form is Form.NAME}
    where = {number: i for i, number in enumerate(kept)}
    for first, left, last, right in table.merged:
        inside = [where[n] for n in range(first, last + 1) if n in where]
        if first < last and left == right and left in named and len(inside) > 1:
            value = rows[inside[0]][left]
            for i in inside:
                rows[i] = [*rows[i][:left], value, *rows[i][left + 1 :]]
            what = Sentence(
                "the merged cell was taken for rows {first} to {last}",
                first=str(first + 1),
                last=str(last + 1),
            )
            ledger.add(_note("merged-name", what), first, left, value)
        elif inside:
            value = rows[inside[0]][left]
            cells = len(inside) * len(used.intersection(range(left, right + 1)))
            if cells > 1 and not is_blank(value):
                block = f"{letters(left)}{first + 1}:{letters(right)}{last + 1}"
                ledger.add(_not_spread(block), first, left, value)


def _not_spread(block: str) -> Fault:
    return Fault(
        "merged-value",
        Sentence(
            "the cell is merged over {block}; its value was taken for the first cell alone",
            block=block,
        ),
        "the value in each cell that it holds for",
        severity=Severity.LOOK,
    )
