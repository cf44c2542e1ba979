"""Nothing that is written out acts as a formula when a spreadsheet opens it, whatever it says."""

from __future__ import annotations

import ast
import csv
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest

import app
import importers
import reports
from importers.export import export_csv, export_xlsx, write_csv
from importers.template import write_tables
from reports.xlsx.resetting_pack import resetting_pack_xlsx
from supports.database import Register, sqlite_url
from supports.model import Base
from supports.queries.existing import today
from supports.queries.leaving import history_tables
from tests.reports import examples
from tests.rows import PLAIN, fill
from tests.trust.licences import ROOT

EVIL = ("=1+1", "+1+1", "-1+1", "@SUM(A1)", "\t=1", '=HYPERLINK("x")', "'=1+1")
SIGNS = ("=", "+", "-", "@", "\t", "\r")


@pytest.mark.parametrize("words", EVIL)
def test_a_register_full_of_formulas_leaves_as_text(sqlite_migrated, tmp_path, monkeypatch, words):
    path = tmp_path / "register.db"
    path.write_bytes(sqlite_migrated.read_bytes())
    monkeypatch.setitem(PLAIN, str, words)
    register = Register(sqlite_url(path))
    with register.engine.begin() as connection:
        fill(connection, Base.metadata)
        connection.exec_driver_sql("UPDATE support_tag SET valid_to = NULL")
        connection.exec_driver_sql("UPDATE unit_placement SET until = NULL")
        connection.exec_driver_sql("UPDATE nameplate SET load_per_turn_table = NULL")
    with register.reading() as session:
        values, history = today(session).values, history_tables(session)
    register.close()
    assert len(values) > 5
    export_xlsx(tmp_path / "register.xlsx", values)
    write_tables(tmp_path / "history.xlsx", history)
    export_csv(tmp_path / "csv", values)
    write_csv(tmp_path / "history", history)
    for book in tmp_path.glob("*.xlsx"):
        assert formulas(book) == []
        assert words in texts(book), book.name
    for sheet in tmp_path.rglob("*.csv"):
        assert live(sheet) == []


def test_a_form_full_of_formulas_is_written_as_text(tmp_path):
    words = EVIL[0]
    unit = replace(examples.constant_in_range(), serial=words, place=words, notes=(words,))
    pack = replace(examples.pack(), units=(unit,), reason=words, job=words)
    made = resetting_pack_xlsx(pack, form_id="WO-1/1", row_fingerprints=defaultdict(str))
    (tmp_path / "pack.xlsx").write_bytes(made)
    assert formulas(tmp_path / "pack.xlsx") == []
    assert words in texts(tmp_path / "pack.xlsx")


def cells(path: Path) -> Iterator[openpyxl.cell.Cell]:
    book = openpyxl.load_workbook(path)
    for sheet in book.worksheets:
        for row in sheet.iter_rows():
            yield from row
    book.close()


def formulas(path: Path) -> list[str]:
    return [cell.coordinate for cell in cells(path) if cell.data_type == "f"]


def texts(path: Path) -> set[str]:
    return {str(cell.value) for cell in cells(path)}


def live(path: Path) -> list[str]:
    """Return cells that a spreadsheet would take for a formula; numbers may begin with a sign."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        found = [cell for row in csv.reader(file) for cell in row if cell.startswith(SIGNS)]
    return [cell for cell in found if not number(cell)]


def number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return text[0] in "+-"


def calls(name: str) -> list[tuple[str, ast.Call]]:
    """Return every call of something by its last name, in all that writes files for users."""
    found = []
    for package in (importers, reports, app):
        for path in sorted(Path(package.__file__ or "").parent.rglob("*.py")):
            text = path.read_text("utf-8")
            if name.rpartition(".")[2] not in text:
                continue
            for node in ast.walk(ast.parse(text)):
                called = ast.unparse(node.func) if isinstance(node, ast.Call) else ""
                if called == name or called.endswith(f".{name}"):
                    found.append((path.relative_to(ROOT).as_posix(), node))
    return found


def test_every_workbook_is_opened_with_formulas_off():
    made = calls("xlsxwriter.Workbook")
    assert {path for path, _ in made} >= {"importers/template.py", "reports/xlsx/book.py"}
    for path, _ in made:
        said = (ROOT / path).read_text("utf-8")
        assert said.count('"strings_to_formulas": False') == said.count("xlsxwriter.Workbook("), (
            path
        )
    assert calls("write_formula") == calls("write_array_formula") == []


def test_every_writer_of_separated_text_is_one_that_is_tested_for_it():
    written = {path for path, _ in calls("csv.writer")}
    assert written == {"importers/export.py", "importers/findings_back.py"}
    assert calls("DictWriter") == calls("to_csv") == []
