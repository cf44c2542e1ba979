"""The user's own workbook back with a column of findings, mended there and imported as it is."""

from __future__ import annotations

import csv
import zipfile

import openpyxl
import pytest
from openpyxl.styles import PatternFill
from openpyxl.worksheet.datavalidation import DataValidation

from app.settings import open_register
from supports.errors import BadInput, InputHasFaults
from supports.queries.intake import doubts
from tests.acceptance.sheets import SETTINGS, one_constant
from tests.acceptance.site import Site
from tests.open_documents import open_document

ROWS = [
    ["PS-1", "A", "2030-05-05", 20.0, "scale", "shut down, drained", "N. N."],
    ["PS-1", "A", "2030-06-05", "20 kg", "scale", "shut down, drained", "N. N."],
    ["PS-1", "A", "2030-07-05", "~20", "scale", "shut down, drained", "N. N."],
]


@pytest.fixture
def plant(site) -> Site:
    site.bring("plant.xlsx", one_constant("PS-1", 20.0, 20.1, rod=60.0))
    return site


def handed_in(site: Site) -> str:
    """Write a workbook with a title, a filled cell, a drop-down and a formula, by another hand."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Settings"
    sheet.append(["Settings as of June & July"])
    sheet.append(SETTINGS)
    for row in ROWS:
        sheet.append(row)
    sheet["D5"].fill = PatternFill("solid", fgColor="FFFF00")
    words = DataValidation(type="list", formula1='"scale,load cell"')
    words.add("E3:E50")
    sheet.add_data_validation(words)
    book.create_sheet("Sums")["A1"] = "=1+1"
    path = site.folder / "june.xlsx"
    book.save(path)
    return str(path)


def back(site: Site, path: str, *words: str) -> tuple[str, str]:
    into = str(site.folder / "back" / "june.xlsx")
    return site.type("sheets", "check", path, "--findings-back", into, *words), into


def test_the_column_stands_beside_the_rows_and_nothing_else_is_touched(plant):
    path = handed_in(plant)
    said, into = back(plant, path)
    assert "4 findings stand in" in said
    before, after = openpyxl.load_workbook(path), openpyxl.load_workbook(into)
    sheet = after["Settings"]
    column = [sheet.cell(row, 8).value for row in range(1, 6)]
    assert (column[0], column[2]) == (None, None)
    assert column[1].startswith("Findings: NOTE sheet-not-known: Sums: ")
    assert "unit-ambiguous" in column[3]
    assert "STOP" in column[4]
    for row in before["Settings"].iter_rows():
        for cell in row:
            assert sheet[cell.coordinate].value == cell.value
    assert sheet["D5"].fill.fgColor.rgb == "00FFFF00"
    assert str(sheet.data_validations.dataValidation[0].sqref) == "E3:E50"
    assert after["Sums"]["A1"].value == "=1+1"
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(into) as new:
        assert new.namelist() == old.namelist()
        changed = [n for n in old.namelist() if old.read(n) != new.read(n)]
    assert set(changed) == {"xl/worksheets/sheet1.xml", "xl/styles.xml"}


def test_each_row_is_coloured_by_the_gravest_of_its_findings(plant):
    _, into = back(plant, handed_in(plant))
    sheet = openpyxl.load_workbook(into)["Settings"]
    fills = [sheet.cell(row, 8).fill.fgColor.rgb for row in range(1, 6)]
    assert fills == ["00000000", "FFE7EBEF", "00000000", "FFF8CBAD", "FFF8CBAD"]
    assert sheet["H4"].alignment.wrap_text
    assert sheet["D5"].fill.fgColor.rgb == "00FFFF00"


def test_the_copy_is_mended_and_imported_as_it_is(plant):
    path = handed_in(plant)
    with pytest.raises(InputHasFaults):
        plant.type("sheets", "import", path, person="KK")
    plant.type("sheets", "import", path, "--accept-the-good", person="KK")
    assert len(waiting(plant)) == 2
    _, into = back(plant, path)
    book = openpyxl.load_workbook(into)
    book["Settings"]["D4"] = "20 kN"
    book.save(into)
    said = plant.type("sheets", "import", into, "--accept-the-good", person="KK")
    assert "heading-not-known" not in said
    assert "1 value that waited was taken" in said
    book = openpyxl.load_workbook(into)
    book["Settings"]["D5"] = 20.1
    book.save(into)
    done = plant.type("sheets", "import", into, person="KK")
    assert "1 value that waited was taken" in done
    assert waiting(plant) == []
    assert "Nothing to store" in plant.type("sheets", "import", into, person="KK")


def waiting(site: Site):
    with open_register(site.url).reading() as session:
        return doubts(session)


def test_a_second_round_replaces_the_column(plant):
    _, into = back(plant, handed_in(plant))
    book = openpyxl.load_workbook(into)
    book["Settings"]["D4"] = "20 kN"
    book.save(into)
    second = str(plant.folder / "second" / "june.xlsx")
    plant.type("sheets", "check", into, "--findings-back", second)
    sheet = openpyxl.load_workbook(second)["Settings"]
    assert sheet.max_column == 8
    assert sheet["H4"].value is None
    assert "STOP" in sheet["H5"].value


def test_what_concerns_a_whole_column_stands_at_its_headings(plant):
    heading = [*SETTINGS[:3], "Set load [kg]", *SETTINGS[4:]]
    path = str(plant.write("kg.xlsx", {"Settings": [heading, ROWS[0]]}))
    into = str(plant.folder / "kg back.xlsx")
    plant.type("sheets", "check", path, "--findings-back", into)
    sheet = openpyxl.load_workbook(into)["Settings"]
    assert sheet["H1"].value.startswith("Findings: STOP unit-ambiguous: D1: ")
    said = plant.type("sheets", "check", into)
    assert "heading-not-known" not in said


def test_a_text_file_comes_back_as_a_text_file(plant):
    path = plant.folder / "Settings.csv"
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file, delimiter=";").writerows([SETTINGS, *ROWS])
    into = plant.folder / "back" / "Settings.csv"
    plant.type("sheets", "check", str(path), "--findings-back", str(into))
    with into.open(newline="", encoding="utf-8-sig") as file:
        rows = list(csv.reader(file, delimiter=";"))
    assert rows[0] == [*SETTINGS, "Findings"]
    assert [bool(row[7]) for row in rows[1:]] == [False, True, True]
    assert "heading-not-known" not in plant.type("sheets", "check", str(into))


def test_a_copy_never_takes_the_place_of_the_file_itself(plant):
    path = handed_in(plant)
    with pytest.raises(BadInput, match="overwritten by its own copy"):
        plant.type("sheets", "check", path, "--findings-back", path)


def test_a_folder_of_text_files_comes_back_as_a_folder(plant):
    folder, into = plant.folder / "csv", plant.folder / "csv back"
    folder.mkdir()
    with (folder / "Settings.csv").open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows([SETTINGS, *ROWS])
    (folder / "Lines.csv").write_text("Line number\nL-9\n", encoding="utf-8")
    plant.type("sheets", "check", str(folder), "--findings-back", str(into))
    assert sorted(item.name for item in into.iterdir()) == ["Lines.csv", "Settings.csv"]
    with (into / "Settings.csv").open(newline="", encoding="utf-8-sig") as file:
        rows = list(csv.reader(file))
    assert [bool(row[7]) for row in rows] == [True, False, True, True]
    with pytest.raises(BadInput, match="into a folder"):
        plant.type("sheets", "check", str(folder), "--findings-back", str(plant.folder / "a.xlsx"))
    assert "heading-not-known" not in plant.type("sheets", "check", str(into))


def test_an_open_document_comes_back_as_xlsx_with_the_same_cells_and_is_imported(plant):
    path = plant.folder / "june.ods"
    open_document(path, [SETTINGS, *ROWS], name="Settings")
    with pytest.raises(BadInput, match=r"anew as \.xlsx"):
        plant.type("sheets", "check", str(path), "--findings-back", str(path.with_name("b.txt")))
    into = plant.folder / "june back.xlsx"
    words = ("--accept-the-good", "--findings-back", str(into.with_suffix(".ods")))
    said = plant.type("sheets", "import", str(path), *words, person="KK")
    assert f"in {into}, anew as .xlsx with the same values in the same cells" in said
    book = openpyxl.load_workbook(into)
    sheet = book["Settings"]
    assert [[cell.value for cell in row[:7]] for row in sheet.iter_rows()] == [SETTINGS, *ROWS]
    assert sheet["H3"].value.startswith("STOP unit-ambiguous: D3: ")
    assert sheet["H3"].fill.fgColor.rgb == "FFF8CBAD"
    assert (sheet.freeze_panes, sheet.row_dimensions[3].height) == ("A2", 30.0)
    sheet["D3"], sheet["D4"] = "20 kN", 20.2
    book.save(into)
    said = plant.type("sheets", "import", str(into), person="KK")
    assert "Stored. 2 values that waited were taken." in said
