"""A stranger's headings two and three rows deep: put together, proposed, confirmed, then silent."""

from __future__ import annotations

import openpyxl
import pytest

from importers.confirming import Confirmation, confirmed
from importers.proposing import propose
from importers.reading import read
from importers.stacked import stack_of
from importers.table import Table

DEEP = [
    ["Register of hangers, unit 3"],
    ["Pos.", "Nameplate", "", "", "Remark"],
    ["", "Load [kN]", "Travel [mm]", "", ""],
    ["", "", "cold", "hot", ""],
    ["PS-1", 20.0, 40.0, 90.0, "north side"],
    ["PS-2", 22.5, 35.0, 80.0, ""],
]
MERGED = ("A2:A4", "B2:D2", "B3:B4", "C3:D3", "E2:E4")
TOGETHER = [
    "Pos.",
    "Nameplate Load [kN]",
    "Nameplate Travel cold [mm]",
    "Nameplate Travel hot [mm]",
    "Remark",
]
READ = {
    "Pos.": "Support tag",
    "Nameplate Load [kN]": "Nameplate load [kN]",
    "Nameplate Travel cold [mm]": "Cold mark [mm]",
    "Nameplate Travel hot [mm]": "Hot mark [mm]",
}


@pytest.fixture
def deep(tmp_path):
    book = openpyxl.Workbook()
    book.active.title = "Springs"
    for row in DEEP:
        book.active.append([cell or None for cell in row])
    for block in MERGED:
        book.active.merge_cells(block)
    book.save(tmp_path / "deep.xlsx")
    return tmp_path / "deep.xlsx"


def test_headings_three_rows_deep_are_proposed_together_with_their_units(deep):
    (sheet,) = propose(deep, "Nameplates")
    assert [column.heading for column in sheet.columns] == TOGETHER
    assert sheet.top == 3
    assert "kN" in [column.unit for column in sheet.columns]


def test_what_was_confirmed_of_stacked_headings_is_read_in_silence(deep):
    (sheet,) = propose(deep, "Nameplates")
    said = Confirmation(
        read=READ, left=("Remark",), constants={"Unit of load": "kN", "Unit of travel": "mm"}
    )
    profile = confirmed(sheet, said)
    result = read(deep, profiles={"Springs": profile})
    first, second = result.records
    assert (first.key[0], second.key[0]) == ("PS-1", "PS-2")
    assert first.values["nameplate_load"] == pytest.approx(20_000.0)
    assert first.values["cold_mark"] == pytest.approx(0.040)
    assert second.values["hot_mark"] == pytest.approx(0.080)
    assert first.source.place("nameplate_load").cell == "B5"
    assert not result.forbids_storing
    assert not {f.code for f in result.findings} & {"heading-not-known", "profile-column-missing"}


@pytest.mark.parametrize(
    "above",
    [["Hangers of unit 3"], ["as of 2019", "", "", "", ""], [], [12.0, "x", "y"]],
    ids=["title", "day", "blank", "values"],
)
def test_what_stands_above_a_table_is_no_part_of_its_headings(above):
    table = Table("f", "s", [above, ["Tag", "Line", "Load [kN]"], ["PS-1", "L-1", 20.0]])
    stack = stack_of(table)
    assert stack.first == stack.top == 1
    assert stack.columns == [["Tag"], ["Line"], ["Load [kN]"]]


def test_a_sheet_that_lacks_a_column_is_told_and_the_others_are_judged(workbook):
    path = workbook(
        {
            "Lines": [["Line number"], ["L-1"]],
            "Supports": [["Suport tagg", "Area"], ["PS-1", "North"]],
        }
    )
    result = read(path)
    assert [record.key for record in result.records] == [("L-1",)]
    (told,) = [f for f in result.findings if f.code == "column-missing"]
    assert told.place.sheet == "Supports"
    assert "no row of the sheet was read" in told.what
    assert "'Suport tagg'" in told.remedy
    assert result.forbids_storing


def test_a_heading_that_says_enough_alone_keeps_its_name_under_a_group(workbook):
    rows = [["", "Identity", "Identity"], ["Remark", "Support tag", "Area"], ["x", "PS-1", "North"]]
    (sheet,) = propose(workbook({"Supports": rows}))
    assert [column.heading for column in sheet.columns] == ["Remark", "Support tag", "Area"]
    assert read(workbook({"Supports": rows})).records[0].values["area"] == "North"
