"""CSV and tab-separated text: every cell stays the text that it is."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter

from importers.package import MAX_ROWS
from importers.table import ErrorCell, Table
from supports.errors import FileUnusable
from supports.findings import Finding, Place, Severity
from supports.sentences import Sentence

SEPARATORS = ",;\t"
_SAMPLE = 40
_ERROR_TEXT = re.compile(r"#(?:REF!|N/A|VALUE!|DIV/0!|NAME\?|NULL!|NUM!|SPILL!|CALC!)|Err:\d{3}")
_FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")


def read_text_table(file: str, sheet: str, data: bytes) -> tuple[Table, list[Finding]]:
    """Read one text file.

    Raises
    ------
    FileUnusable
        Not text, no separator to be seen, or a quote that never closes.
    """
    text, findings = _decoded(file, data)
    separator, body = _separator(file, text)
    rows: list[list[str]] = []
    reader = csv.reader(io.StringIO(body, newline=""), delimiter=separator, strict=True)
    try:
        if "'" in body or _ERROR_TEXT.search(body):
            rows.extend([_cell(cell) for cell in row] for row in reader)
        else:
            rows.extend(reader)
    except csv.Error as fault:
        raise FileUnusable(
            Sentence("the text cannot be read as a table ({fault})", fault=str(fault)),
            where=f"{file} line {reader.line_num}",
            remedy="Check the quotation marks there",
        ) from fault
    if len(rows) > MAX_ROWS:
        raise FileUnusable(
            Sentence("the file has {count} rows, more than a sheet can", count=f"{len(rows):,}"),
            where=file,
        )
    return Table(file, sheet, rows, all_text=True, semicolons=separator == ";"), findings


def open_text(file: str, data: bytes) -> tuple[str, str, str]:
    """Return the line that names the separator if there is one, the cells, the separator."""
    text = _decoded(file, data)[0]
    separator, body = _separator(file, text)
    return text[: len(text) - len(body)], body, separator


def is_error_text(text: str) -> bool:
    """Return whether a text is what a failed formula shows.

    >>> is_error_text("#REF!"), is_error_text("Err:502"), is_error_text("#12")
    (True, True, False)
    """
    return text[:1] in {"#", "E"} and _ERROR_TEXT.fullmatch(text) is not None


def _cell(text: str) -> str:
    return ErrorCell(text) if is_error_text(text) else unguarded(text)


def guarded(text: str) -> str:
    """Put an apostrophe before text that a spreadsheet would take for a formula.

    >>> guarded("=1+1"), guarded("PS-1"), unguarded(guarded("-12"))
    ("'=1+1", 'PS-1', '-12')
    """
    return f"'{text}" if text.lstrip("'").startswith(_FORMULA_SIGNS) else text


def unguarded(text: str) -> str:
    """Take that apostrophe away again."""
    if text[:1] == "'" and text.lstrip("'").startswith(_FORMULA_SIGNS):
        return text[1:]
    return text


def _decoded(file: str, data: bytes) -> tuple[str, list[Finding]]:
    if data[:2] in {b"\xff\xfe", b"\xfe\xff"}:
        return _in_encoding(file, data, "utf-16"), []
    if b"\x00" in data:
        raise FileUnusable(
            "the file is not text",
            where=file,
            expected="CSV text or a workbook",
            remedy="Save the sheet as .xlsx or as CSV and try again",
        )
    try:
        return data.decode("utf-8-sig"), []
    except UnicodeDecodeError:
        return _in_encoding(file, data, "cp1252"), [_encoding_finding(file)]


def _in_encoding(file: str, data: bytes, encoding: str) -> str:
    try:
        return data.decode(encoding)
    except UnicodeDecodeError as fault:
        raise FileUnusable(
            "the letters of the file cannot be told",
            where=file,
            expected="UTF-8 or Windows-1252 text",
            remedy="Save it as 'CSV UTF-8'",
        ) from fault


def _encoding_finding(file: str) -> Finding:
    return Finding(
        "encoding-assumed",
        Severity.NOTE,
        "the text is not UTF-8 and was read as Windows-1252",
        Place(file),
        remedy="Check letters with accents, or save it as 'CSV UTF-8'",
    )


def _separator(file: str, text: str) -> tuple[str, str]:
    first, _, rest = text.partition("\n")
    if first.lower().startswith("sep=") and len(first.strip()) == 5:
        return first.strip()[4], rest
    scores = {mark: _score(text, mark) for mark in SEPARATORS}
    best = max(scores, key=lambda mark: scores[mark])
    if scores[best] == 0 and text.strip() and len(first.split()) > 1 and "\n" in text.strip():
        return ",", text
    if sum(score == scores[best] for score in scores.values()) > 1 and scores[best] > 0:
        raise FileUnusable(
            "the separator of the columns cannot be told",
            where=file,
            expected="comma, semicolon or tab, the same throughout",
            remedy="Put a first line 'sep=;' with the separator used",
        )
    return best, text


def _score(text: str, mark: str) -> int:
    """Count the cells of the first lines that agree in their number of columns."""
    lines = csv.reader(io.StringIO(text[:20_000], newline=""), delimiter=mark)
    try:
        widths = [len(row) for _, row in zip(range(_SAMPLE), lines, strict=False) if row]
    except csv.Error:
        return 0
    return max((width * times for width, times in Counter(widths).items() if width > 1), default=0)
