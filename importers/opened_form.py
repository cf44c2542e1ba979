"""Forms that come back, opened whole or refused: whatever was done to the file, in one sentence."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any
from zipfile import is_zipfile

from openpyxl import load_workbook

from importers.package import Package
from supports.errors import FileUnusable


def opened_form(path: Path) -> Any:
    """Return a form as a workbook, formulas as what they last showed.

    Raises
    ------
    FileUnusable
        It is no workbook, is damaged, or unpacks to more than any form holds.
    """
    try:
        data = path.read_bytes()
    except OSError as error:
        raise _unusable(path, error.strerror or str(error)) from error
    if not is_zipfile(io.BytesIO(data)):
        raise _unusable(path, "another kind of file")
    package = Package(path.name, data)  # which refuses what unpacks beyond all measure
    if not package.is_of_xml_sheets:
        raise _unusable(path, "another kind of file")
    try:
        return load_workbook(io.BytesIO(data), data_only=True)
    except Exception as error:  # a parser may raise anything on damaged parts
        raise _unusable(path, "damaged parts") from error


def facts_of(sheet: Any) -> dict[str, str]:
    """Return what the sheet of facts about a form says: a name and a value in each row."""
    rows = (row for row in sheet.iter_rows(values_only=True) if len(row) > 1)
    return {str(row[0]): str(row[1]) for row in rows}


def _unusable(path: Path, found: str) -> FileUnusable:
    return FileUnusable(
        "the form cannot be opened as a workbook", where=path.name, found=found,
        remedy="Open it in a spreadsheet program, save it anew as .xlsx and hand that in",
    )  # fmt: skip
