"""Open what people hand over: a workbook, a CSV file or a folder of them."""

from __future__ import annotations

import hashlib
import io
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from pathlib import Path

import python_calamine as calamine

from importers.hushed import library_hushed
from importers.package import Package
from importers.sheet_xml import SheetFacts
from importers.table import (
    ErrorCell,
    MaskedCell,
    MovingCell,
    PercentCell,
    Raw,
    RefusedCell,
    StruckCell,
    Table,
    UncountedCell,
    text_of,
)
from importers.text_files import is_error_text, read_text_table
from supports.errors import FileUnusable
from supports.findings import Finding, Place, Severity
from supports.sentences import Sentence, joined

MAX_BYTES = 300_000_000
WORKBOOKS = (".xlsx", ".xlsm")
OTHER_WORKBOOKS = (".xls", ".xlsb", ".ods")
"""Their values are read; what formats and formulas tell is not."""
TEXTS = (".csv", ".tsv", ".txt")

_MOST_SHARED = 50_000
"""Different texts remembered while a sheet is read."""
_TOGETHER = 500
"""Rows looked at together, a column at a time."""

_ZIP = b"PK\x03\x04"
_COMPOUND = bytes.fromhex("d0cf11e0a1b11ae1")
_PANIC = "PanicException"
_ENCRYPTED = "EncryptedPackage".encode("utf-16-le")


@dataclass(frozen=True, slots=True)
class SourceFile:
    """A file read, with its SHA-256, so that anybody can tell later which one it was."""

    name: str
    sha256: str


def digest_of(files: Sequence[SourceFile]) -> str:
    """Return the SHA-256 of a file, or of the hashes of all files of a folder."""
    if len(files) == 1:
        return files[0].sha256
    lines = "".join(f"{file.sha256}  {file.name}\n" for file in files)
    return hashlib.sha256(lines.encode()).hexdigest()


def digest_at(path: Path) -> str:
    """Return the digest of a file or of a folder of text files, without reading any further."""
    items = _texts_of(path) if path.is_dir() else [path]
    return digest_of([_source(item.name, _bytes_of(item)) for item in items])


def _source(name: str, data: bytes) -> SourceFile:
    return SourceFile(name, hashlib.sha256(data).hexdigest())


@dataclass(frozen=True, slots=True)
class Workbook:
    """All tables of what was handed over."""

    files: tuple[SourceFile, ...]
    tables: tuple[Table, ...]
    findings: tuple[Finding, ...] = ()


def open_workbook(path: Path) -> Workbook:
    """Open a workbook, a text file or a folder of text files.

    Raises
    ------
    FileUnusable
        Missing, empty, damaged, protected by a password, too large or of another kind.
    """
    if path.is_dir():
        return _joined([_open_file(item) for item in _texts_of(path)])
    return _open_file(path)


def _texts_of(folder: Path) -> list[Path]:
    found = sorted(item for item in folder.iterdir() if item.suffix.lower() in TEXTS)
    if not found:
        raise FileUnusable("the folder holds no CSV files", where=folder.name)
    return found


def _joined(books: Sequence[Workbook]) -> Workbook:
    return Workbook(
        tuple(file for book in books for file in book.files),
        tuple(table for book in books for table in book.tables),
        tuple(finding for book in books for finding in book.findings),
    )


def _open_file(path: Path) -> Workbook:
    data = _bytes_of(path)
    files = (_source(path.name, data),)
    _refuse_protected(path.name, data)
    if data.startswith(_ZIP) and path.suffix.lower() in (*WORKBOOKS, *OTHER_WORKBOOKS):
        package = Package(path.name, data)
        if path.suffix.lower() in WORKBOOKS or package.is_of_xml_sheets:
            return Workbook(files, tuple(_tables(path.name, data, package)))
        package.refuse_far_cells()
        return _other_workbook(path.name, data, files)
    if data.startswith(_COMPOUND) and path.suffix.lower() in OTHER_WORKBOOKS:
        return _other_workbook(path.name, data, files)
    if path.suffix.lower() in TEXTS and not data.startswith((_ZIP, _COMPOUND)):
        table, findings = read_text_table(path.name, path.stem, data)
        return Workbook(files, (table,), tuple(findings))
    raise FileUnusable(
        "the file is not a workbook or a text table that can be read",
        where=path.name,
        found=Sentence("a file ending in '{suffix}'", suffix=path.suffix)
        if path.suffix
        else "a file without an ending",
        expected=Sentence(
            "one of {names}", names=joined((*WORKBOOKS, *OTHER_WORKBOOKS, *TEXTS), ", ")
        ),
        remedy="Save the sheets as .xlsx or as CSV and try again",
    )


def _bytes_of(path: Path) -> bytes:
    try:
        size = path.stat().st_size
        if size > MAX_BYTES:
            raise FileUnusable(
                Sentence(
                    "the file has {size} bytes; {most} are the limit",
                    size=f"{size:,}",
                    most=f"{MAX_BYTES:,}",
                ),
                where=path.name,
            )
        data = path.read_bytes()
    except OSError as fault:
        raise FileUnusable(
            Sentence("the file cannot be opened ({fault})", fault=str(fault.strerror)),
            where=path.name,
            remedy="Check the name, and that no other program holds it",
        ) from fault
    if not data.strip():
        raise FileUnusable("the file is empty", where=path.name)
    return data


def _refuse_protected(name: str, data: bytes) -> None:
    if data.startswith(_COMPOUND) and _ENCRYPTED in data:
        raise _protected(name)


def _protected(name: str) -> FileUnusable:
    return FileUnusable(
        "the workbook is protected by a password",
        where=name,
        remedy="Take the password off in the spreadsheet program and save it again",
    )


def _tables(name: str, data: bytes, package: Package) -> Iterator[Table]:
    facts = {sheet: (told, remarks) for sheet, told, remarks in package.facts()}
    for table in read_sheets(name, data):
        told, remarks = facts.get(table.sheet, (SheetFacts(), {}))
        yield replace(
            table,
            rows=_with_marks(table.rows, told),
            hidden_rows=told.hidden_rows,
            hidden_columns=told.hidden_columns,
            filtered=told.filtered,
            remarks=remarks,
            starts_in_1904=package.starts_in_1904,
            saved_on=package.saved_on,
            pictures=package.pictures(table.sheet),
            coloured=told.marks.coloured,
        )


def _other_workbook(name: str, data: bytes, files: tuple[SourceFile, ...]) -> Workbook:
    tables = tuple(replace(t, rows=_with_error_texts(t.rows)) for t in read_sheets(name, data))
    return Workbook(files, tables, (_not_told(name),))


def _not_told(name: str) -> Finding:
    return Finding(
        "marks-not-told",
        Severity.LOOK,
        "this kind of workbook does not tell error cells, hidden rows, struck-through text, "
        "comments, percentages and units that a format shows; its values alone were read",
        Place(name),
        remedy="Save it as .xlsx to have them looked at",
    )


def _with_error_texts(rows: Sequence[Sequence[Raw]]) -> list[list[Raw]]:
    return [
        [ErrorCell(raw) if isinstance(raw, str) and is_error_text(raw) else raw for raw in row]
        for row in rows
    ]


def read_sheets(name: str, data: bytes) -> list[Table]:
    """Read the values of every sheet of a workbook of any kind."""
    try:
        with library_hushed():
            book = calamine.CalamineWorkbook.from_filelike(io.BytesIO(data))
            return [
                _table(
                    name,
                    book.get_sheet_by_name(sheet.name),
                    hidden=sheet.visible is not calamine.SheetVisibleEnum.Visible,
                )
                for sheet in book.sheets_metadata
                if sheet.typ is calamine.SheetTypeEnum.WorkSheet
            ]
    except calamine.PasswordError as fault:
        raise _protected(name) from fault
    except calamine.CalamineError as fault:
        raise _damaged(name, str(fault)) from fault
    except BaseException as fault:  # the reader's own panic is no Exception
        if type(fault).__name__ != _PANIC:
            raise
        raise _damaged(name, "its parts do not fit together") from fault


def _damaged(name: str, why: str) -> FileUnusable:
    return FileUnusable(
        Sentence("the workbook is damaged ({why})", why=why),
        where=name,
        remedy="Open it in a spreadsheet program, save it anew and try again",
    )


def _table(name: str, sheet: calamine.CalamineSheet, *, hidden: bool) -> Table:
    margin: list[Raw] = [""] * (sheet.start[1] if sheet.start else 0)
    found = (margin + row for row in sheet.iter_rows()) if margin else sheet.iter_rows()
    rows = list(_shared(found))
    blocks = tuple((a, b, c, d) for (a, b), (c, d) in sheet.merged_cell_ranges or ())
    return Table(name, sheet.name, rows, hidden=hidden, merged=blocks)


def _shared(rows: Iterator[list[Raw]]) -> Iterator[list[Raw]]:
    """Give each text one object for all its cells, which saves memory and look-ups.

    The rows are all equally wide, as the reader gives them.
    """
    known: dict[Raw, Raw] = {}
    while block := list(islice(rows, _TOGETHER)):
        if len(known) > _MOST_SHARED:
            known.clear()
        columns = [_texts_once(column, known) for column in zip(*block, strict=True)]
        yield from map(list, zip(*columns, strict=True)) if columns else block


def _texts_once(column: Sequence[Raw], known: dict[Raw, Raw]) -> Iterable[Raw]:
    kinds = set(map(type, column))
    if kinds == {str}:
        return map(known.setdefault, column, column)
    if str in kinds:
        return [known.setdefault(raw, raw) if type(raw) is str else raw for raw in column]
    return column


def _with_marks(found: Sequence[Sequence[Raw]], facts: SheetFacts) -> list[list[Raw]]:
    """Put marked cells in their place: the reader gives an error as a blank and tells no format."""
    rows = [row if isinstance(row, list) else list(row) for row in found]
    refused: dict[tuple[int, int], RefusedCell] = {}
    refused |= {at: ErrorCell(text) for at, text in facts.errors.items()}
    refused |= {at: UncountedCell(text) for at, text in facts.marks.uncounted.items()}
    for (row, column), cell in refused.items():
        rows.extend([] for _ in range(row + 1 - len(rows)))
        rows[row].extend([""] * (column + 1 - len(rows[row])))
        rows[row][column] = cell
    for row, column in facts.marks.percent:
        if (value := _at(rows, row, column)) and isinstance(value, float):
            rows[row][column] = PercentCell(value)
    for (row, column), form in facts.marks.shown.items():
        if type(value := _at(rows, row, column)) is float:
            rows[row][column] = form.text(value) or MaskedCell(text_of(value))
    for (row, column), text in facts.marks.struck.items():
        if (value := _at(rows, row, column)) != "":
            rows[row][column] = StruckCell(text or f"~~{text_of(value)}~~")
    for row, column in facts.marks.moving:
        if (value := _at(rows, row, column)) != "":
            rows[row][column] = MovingCell(text_of(value))
    return rows


def _at(rows: Sequence[Sequence[Raw]], row: int, column: int) -> Raw:
    return rows[row][column] if row < len(rows) and column < len(rows[row]) else ""
