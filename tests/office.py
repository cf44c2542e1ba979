"""An office program as somebody on site has it: opens a form, types into boxes, saves it again.

LibreOffice (Debian package libreoffice-calc), without a window. What is typed goes through the
program's own cells, so that its protection of sheets and its idea of a number count.
"""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path
from xml.sax.saxutils import escape

import openpyxl

OFFICE = shutil.which("soffice") or ""
WHY_NOT = "no LibreOffice here (Debian package libreoffice-calc)"
WAIT = 120
_MODULE = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Module1"
 script:language="StarBasic">{}</script:module>
"""
Typed = Mapping[tuple[str, str], str]
"""{(sheet, cell): what is typed}."""


def cells_of(file: Path, sheet: str) -> dict[tuple[str, str], tuple[str, str]]:
    """Return {(what stands under 'Tag' or 'Line', heading): (sheet, cell)} of a form."""
    rows = list(openpyxl.load_workbook(file)[sheet].iter_rows())
    key = "Tag" if sheet == "Readings" else "Line"
    start, heads = next(
        (number, names) for number, row in enumerate(rows)
        if key in (names := [cell.value for cell in row])
    )  # fmt: skip
    return {
        (row[heads.index(key)].value, heading): (sheet, cell.coordinate)
        for row in rows[start + 1 :]
        for heading, cell in zip(heads, row, strict=True)
    }


def type_into(source: Path, target: Path, typed: Typed, profile: Path) -> None:
    """Open a workbook, type into cells as a person would, and save it as another workbook."""
    steps = [_typing(sheet, cell, words) for (sheet, cell), words in typed.items()]
    _run(profile, _opened(source), *steps, _saved(target))


def _opened(source: Path) -> str:
    return (
        "Dim hidden(0) As New com.sun.star.beans.PropertyValue\n"
        'hidden(0).Name = "Hidden" : hidden(0).Value = True\n'
        f'book = StarDesktop.loadComponentFromURL("{source.as_uri()}", "_blank", 0, hidden())\n'
    )


def _typing(sheet: str, cell: str, words: str) -> str:
    text = words.replace('"', '""')
    return (
        f'book.Sheets.getByName("{sheet}").getCellRangeByName("{cell}").FormulaLocal = "{text}"\n'
    )


def _saved(target: Path) -> str:
    return (
        "Dim how(0) As New com.sun.star.beans.PropertyValue\n"
        'how(0).Name = "FilterName" : how(0).Value = "Calc MS Excel 2007 XML"\n'
        f'book.storeToURL("{target.as_uri()}", how())\n'
        "book.close(True)\n"
    )


def _run(profile: Path, *steps: str) -> None:
    home = profile / "user" / "basic" / "Standard"
    if not home.is_dir():
        _office(profile, "--terminate_after_init")
    text = f"Sub Main\nDim book As Object\n{''.join(steps)}End Sub\n"
    (home / "Module1.xba").write_text(_MODULE.format(escape(text)), encoding="utf-8")
    _office(profile, "macro:///Standard.Module1.Main")


def _office(profile: Path, *words: str) -> None:
    subprocess.run(
        [OFFICE, f"-env:UserInstallation={profile.as_uri()}", "--headless", "--norestore", *words],
        check=True, capture_output=True, timeout=WAIT,
    )  # fmt: skip
