"""A walkdown form saved by another program reads back the same; what is no form is refused."""

from __future__ import annotations

import subprocess

import openpyxl
import pytest

from importers.walkdown_form import read_walk
from reports.xlsx.walkdown_form import walkdown_form_xlsx
from supports.errors import ColumnMissing, FileUnusable, SheetMissing
from tests.office import OFFICE, WHY_NOT
from tests.reports.test_walkdown_papers import SEALS, package


@pytest.fixture
def form(tmp_path):
    """Return a form with one row filled in."""
    path = tmp_path / "form.xlsx"
    path.write_bytes(walkdown_form_xlsx(package(), SEALS))
    book = openpyxl.load_workbook(path)
    walk, rows = book["Walk"], book["Readings"]
    heads = {cell.value: cell.column for cell in rows[5]}
    walk["D6"], walk["E6"], walk["F6"] = "T1", "2031-05-06", "operating, steady"
    rows.cell(6, heads["Found pointer"], 7)
    rows.cell(6, heads["Unit of the pointer"], "divisions")
    rows.cell(6, heads["Marks on the whole scale"], 10)
    rows.cell(7, heads["Walked by, if another"], "T2")
    book.save(path)
    return path


def test_sheet_facts_go_to_each_row_and_a_row_may_name_another_walker(form):
    back = read_walk(form)
    assert [row.walker for row in back.rows] == ["T1", "T2", "T1", "T1"]
    written = back.rows[0].written
    assert (written["pointer"], written["divisions"]) == (7, 10)
    assert (written["read_on"], written["plant_state"]) == ("2031-05-06", "operating, steady")


@pytest.mark.skipif(not OFFICE, reason=WHY_NOT)
def test_saved_again_by_an_office_program_it_reads_the_same(form, tmp_path):
    into, profile = tmp_path / "saved", tmp_path / "profile"
    subprocess.run(
        [OFFICE, f"-env:UserInstallation=file://{profile}", "--headless", "--convert-to", "xlsx",
         "--outdir", str(into), str(form)], check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    one, other = read_walk(form), read_walk(into / form.name)
    assert other.form_id == one.form_id
    assert [(r.item_id, r.tag, r.line, r.seal, r.walker) for r in other.rows] == [
        (r.item_id, r.tag, r.line, r.seal, r.walker) for r in one.rows
    ]
    assert [row.written for row in other.rows] == [row.written for row in one.rows]


def test_what_is_no_form_is_refused(tmp_path):
    broken = tmp_path / "broken.xlsx"
    broken.write_bytes(b"not a workbook")
    with pytest.raises(FileUnusable):
        read_walk(broken)
    book = openpyxl.Workbook()
    book.save(tmp_path / "other.xlsx")
    with pytest.raises(SheetMissing):
        read_walk(tmp_path / "other.xlsx")
    for name in ("Walk", "Readings", "_meta"):
        book.create_sheet(name)
    book["_meta"].append(["form_id", "WD-1/1"])
    book.save(tmp_path / "empty.xlsx")
    with pytest.raises(ColumnMissing):
        read_walk(tmp_path / "empty.xlsx")
