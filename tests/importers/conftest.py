"""Sheets made on the spot, as a plant would hand them over."""

from __future__ import annotations

import csv
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from importers.declared import Sheet
from importers.reading import ReadResult, read

Rows = Sequence[Sequence[Any]]


@pytest.fixture
def workbook(tmp_path: Path) -> Callable[[Mapping[str, Rows]], Path]:
    """Write sheets with openpyxl, so that our own writer proves nothing about our own reader."""

    def write(sheets: Mapping[str, Rows], name: str = "plant.xlsx") -> Path:
        book = openpyxl.Workbook()
        book.remove(book.active)
        for title, rows in sheets.items():
            sheet = book.create_sheet(title)
            for row in rows:
                sheet.append(list(row))
        book.save(tmp_path / name)
        return tmp_path / name

    return write


@pytest.fixture
def text_file(tmp_path: Path) -> Callable[..., Path]:
    """Write rows as CSV."""

    def write(name: str, rows: Rows, delimiter: str = ",", encoding: str = "utf-8") -> Path:
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        with path.open("w", newline="", encoding=encoding) as file:
            csv.writer(file, delimiter=delimiter).writerows(rows)
        return path

    return write


@pytest.fixture
def one(workbook: Callable[..., Path]) -> Callable[..., ReadResult]:
    """Read a workbook of one declared sheet from its rows, headings first."""

    def reader(sheet: Sheet, *rows: Sequence[Any], **options: Any) -> ReadResult:
        return read(workbook({sheet.name: rows}), **options)

    return reader


@pytest.fixture
def codes() -> Callable[[ReadResult], list[str]]:
    """Return the codes of what was found, in order."""
    return lambda result: [finding.code for finding in result.findings]
