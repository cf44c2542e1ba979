"""Read what people hand over into records and findings; nothing is stored here."""

from __future__ import annotations

import difflib
import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from types import MappingProxyType

from importers.columns import Body, equally_wide
from importers.declared import Sheet
from importers.faults import Fault, Ledger
from importers.headings import find_headings, lay_out, plain
from importers.rows import Positions, SheetRead, read_rows
from importers.sheets import HELP_SHEETS, SHEETS, UNITS
from importers.table import Raw, Table, is_blank, text_of
from importers.workbook import SourceFile, Workbook, open_workbook
from supports.errors import ColumnMissing, SheetMissing
from supports.findings import Finding, Place, Severity, any_forbids
from supports.proposals import Record

_NOTHING_KNOWN: Positions = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class SheetCount:
    """Rows of a sheet: read, and held back because of a finding."""

    sheet: str
    rows: int
    held_back: int


@dataclass(frozen=True, slots=True)
class ReadResult:
    """All that was read: the good records, in the order in which they must be stored.

    A row with a fault in what names it, or in a needed cell, gives no record; a fault in another
    cell leaves that field out. Both are findings of severity STOP, and `forbids_storing` is then
    true: the whole is refused, unless somebody decides by name to store the good rows alone.
    """

    records: tuple[Record, ...]
    findings: tuple[Finding, ...]
    files: tuple[SourceFile, ...]
    counts: tuple[SheetCount, ...]

    @property
    def forbids_storing(self) -> bool:
        """Whether a finding forbids storing all of it."""
        return any_forbids(self.findings)

    @property
    def file_name(self) -> str:
        """Name of what was read."""
        return ", ".join(file.name for file in self.files)

    @property
    def digest(self) -> str:
        """SHA-256 of the file, or of the hashes of all files of a folder."""
        if len(self.files) == 1:
            return self.files[0].sha256
        lines = "".join(f"{file.sha256}  {file.name}\n" for file in self.files)
        return hashlib.sha256(lines.encode()).hexdigest()


def read(
    path: Path,
    sheets: Sequence[Sheet] = SHEETS,
    *,
    positions: Positions = _NOTHING_KNOWN,
    latest: date | None = None,
) -> ReadResult:
    """Read a workbook, a text file or a folder of text files.

    Parameters
    ----------
    sheets
        The sheets to look for. With a single one, the only table of a file is taken for it
        whatever its name.
    positions
        Unit positions known of each support, for rows that do not say which unit.
    latest
        No day may lie after this one; usually today.

    Raises
    ------
    FileUnusable, SheetMissing, ColumnMissing
        The file, its sheets or its columns are not those expected.
    """
    book = open_workbook(path)
    findings = list(book.findings)
    pairs = _paired(book, sheets, findings)
    reads: list[tuple[Sheet, Table, SheetRead]] = []
    known = {tag: set(found) for tag, found in positions.items()}
    for sheet, table in pairs:
        done = _read_table(table, sheet, known, latest, findings)
        if done is not None:
            reads.append((sheet, table, done))
            _learn_positions(sheet, done, known)
    return ReadResult(
        tuple(record for _, _, done in reads for record in done.records),
        tuple(findings),
        book.files,
        tuple(SheetCount(table.sheet, done.rows, done.held_back) for _, table, done in reads),
    )


def _learn_positions(sheet: Sheet, done: SheetRead, known: dict[str, set[str]]) -> None:
    if sheet.subject == UNITS.subject:
        for record in done.records:
            known.setdefault(record.key[0], set()).add(record.key[1])


def _paired(
    book: Workbook, sheets: Sequence[Sheet], findings: list[Finding]
) -> list[tuple[Sheet, Table]]:
    """Return each declared sheet with its tables, in the order of storing."""
    if len(sheets) == 1 and len(book.tables) == 1:
        return [(sheets[0], book.tables[0])]
    wanted = _by_name(sheets)
    pairs: list[tuple[Sheet, Table]] = []
    for table in book.tables:
        sheet = wanted.get(plain(table.sheet))
        if table.sheet in HELP_SHEETS:
            continue
        if sheet is None:
            findings.append(_unknown_sheet(table))
        else:
            pairs.append((sheet, table))
    if not pairs:
        raise _no_sheet(book, sheets)
    return sorted(pairs, key=lambda pair: list(sheets).index(pair[0]))


def _by_name(sheets: Iterable[Sheet]) -> dict[str, Sheet]:
    return {plain(name): sheet for sheet in sheets for name in (sheet.name, *sheet.aliases)}


def _unknown_sheet(table: Table) -> Finding:
    return Finding(
        "sheet-not-known",
        Severity.NOTE,
        "the sheet has another name than those declared and was not read",
        Place(table.file, table.sheet),
    )


def _no_sheet(book: Workbook, sheets: Sequence[Sheet]) -> SheetMissing:
    names, found = [s.name for s in sheets], [t.sheet for t in book.tables]
    near = [n for f in found for n in difflib.get_close_matches(f, names, n=1, cutoff=0.6)]
    return SheetMissing(
        "none of the sheets is one to be read",
        where=", ".join(file.name for file in book.files),
        found=", ".join(f"'{name}'" for name in found) or "no sheets",
        expected="one of " + ", ".join(f"'{name}'" for name in names),
        remedy=f"Is '{near[0]}' meant? Then name the sheet so" if near else "Name the sheets so",
    )


def _read_table(
    table: Table,
    sheet: Sheet,
    positions: Positions,
    latest: date | None,
    findings: list[Finding],
) -> SheetRead | None:
    ledger = Ledger(table)
    if all(is_blank(raw) for row in table.rows for raw in row):
        ledger.whole(Fault("sheet-empty", "the sheet is empty", severity=Severity.NOTE))
        findings.extend(ledger.findings)
        return None
    top = find_headings(table, sheet)
    if top is None:
        raise _no_headings(table, sheet)
    layout = lay_out(table, sheet, top, ledger)
    body = _body(table, top)
    tag = layout.of(sheet.key[0])
    ledger.subjects = _subjects(table.rows, tag.index if tag else 0)
    done = read_rows(layout, body, ledger, positions, latest)
    findings.extend(ledger.findings)
    return done


def _subjects(rows: Sequence[Sequence[Raw]], index: int) -> list[str]:
    return [text_of(row[index]).strip() if index < len(row) else "" for row in rows]


def _no_headings(table: Table, sheet: Sheet) -> ColumnMissing:
    return ColumnMissing(
        f"no row holds the headings of the sheet '{sheet.name}'",
        where=f"{table.file} {table.sheet}",
        expected=", ".join(f"'{c.heading}'" for c in sheet.columns if c.needed),
        remedy="Put the headings into one row above the values",
    )


def _body(table: Table, top: int) -> Body:
    width = max(len(row) for row in table.rows)
    numbered = [(i, row) for i, row in _below(table.rows, top) if not _is_empty(row)]
    return Body(equally_wide([row for _, row in numbered], width), [i for i, _ in numbered])


def _below(rows: Sequence[Sequence[Raw]], top: int) -> Iterator[tuple[int, Sequence[Raw]]]:
    return ((i, rows[i]) for i in range(top + 1, len(rows)))


def _is_empty(row: Sequence[Raw]) -> bool:
    return all(raw == "" or is_blank(raw) for raw in row)
