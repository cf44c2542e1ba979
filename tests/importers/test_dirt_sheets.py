"""Sheets as plants really keep them. The examples are common practice, no source."""

from __future__ import annotations

import openpyxl
import pytest
from openpyxl.styles import Font, PatternFill

from importers.reading import read
from importers.sheets import HARDWARE, NAMEPLATES, SUPPORTS

PIECES = ["Support tag", "Position in stack", "Piece"]


def found(result):
    return [(f.code, f.place.cell) for f in result.findings]


@pytest.fixture
def sheet(tmp_path):
    """Make a sheet, let it be changed, save it and read it."""

    def make(declared, rows, change=None, **options):
        book = openpyxl.Workbook()
        page = book.active
        page.title = declared.name
        for row in rows:
            page.append(row)
        if change:
            change(page)
        book.save(tmp_path / "plant.xlsx")
        return read(tmp_path / "plant.xlsx", **options)

    return make


def test_headings_two_rows_deep_and_merged_are_put_together(sheet):
    rows = [
        [
            "Support tag",
            "Unit of load",
            "Unit of travel",
            "Adjusting range",
            None,
            "Nameplate load",
        ],
        [None, None, None, "low", "high", None],
        ["PS-1", "kN", "mm", 18, 24, 20],
    ]

    def merge(page):
        for block in ("A1:A2", "B1:B2", "C1:C2", "D1:E1", "F1:F2"):
            page.merge_cells(block)

    result = sheet(NAMEPLATES, rows, merge)
    values = result.records[0].values
    assert (values["range_low"], values["range_high"]) == (18_000.0, 24_000.0)
    assert values["nameplate_load"] == 20_000.0
    assert result.findings == ()
    assert result.records[0].source.row == 3


def test_a_unit_merged_over_three_of_five_columns_holds_for_those_alone(sheet):
    rows = [
        [None, "kN", None, None, None, None],
        ["Support tag", "Nameplate load", "Range low", "Range high", "Total travel", "Stop rating"],
        ["PS-1", 20, 18, 24, 200, 60],
    ]
    rows = [
        [*row, *more]
        for row, more in zip(
            rows, ([None] * 2, ["Unit of load", "Unit of travel"], ["kN", "mm"]), strict=True
        )
    ]

    def merge(page):
        page.merge_cells("B1:D1")

    result = sheet(NAMEPLATES, rows, merge)
    assert result.records[0].values["nameplate_load"] == 20_000.0
    assert result.records[0].source.cells["range_high"].unit == "kN"
    stated = {t: result.records[0].source.cells[t].unit for t in ("total_travel", "stop_rating")}
    assert stated == {"total_travel": "mm", "stop_rating": "kN"}


def test_columns_outside_a_merged_unit_have_none(sheet):
    rows = [
        [None, None, None, "kN", None],
        [*PIECES, "Rated load", "Mass"],
        ["PS-1", 1, "rod", 20, 5],
    ]
    result = sheet(HARDWARE, rows)
    assert result.records[0].values["rated_load"] == 20_000.0
    assert found(result) == [("unit-from-above", "D2"), ("unit-not-stated", "E2")]


def test_a_row_of_units_below_the_headings_is_read(sheet):
    rows = [
        [*PIECES, "Rated load", "Length"],
        [None, None, None, "[kN]", "mm"],
        ["PS-1", 1, "rod", 20, 900],
    ]
    result = sheet(HARDWARE, rows)
    assert result.records[0].values == {"kind": "rod", "rated_load": 20_000.0, "length": 0.9}
    assert result.findings == ()


def test_headings_and_units_repeated_after_a_page_break_are_passed_over(sheet):
    head = [[*PIECES, "Rated load"], [None, None, None, "kN"]]
    rows = [*head, ["PS-1", 1, "rod", 20], *head, ["PS-2", 1, "rod", 21]]
    result = sheet(HARDWARE, rows)
    assert [record.key[0] for record in result.records] == ["PS-1", "PS-2"]
    assert found(result) == [("headings-repeated", "row 4"), ("units-repeated", "row 5")]
    assert not result.forbids_storing


def test_other_units_in_the_middle_of_a_table_stop_it(sheet):
    rows = [
        [*PIECES, "Rated load"],
        [None, None, None, "kN"],
        ["PS-1", 1, "rod", 20],
        [None, None, None, "lbf"],
        ["PS-2", 1, "rod", 4500],
    ]
    result = sheet(HARDWARE, rows)
    assert found(result) == [("units-change", "row 4")]
    assert result.forbids_storing


def test_two_tables_on_one_sheet_are_told_apart(sheet):
    rows = [
        ["Support tag", "Area"],
        ["PS-1", "North"],
        [],
        ["Support tag", "Unit position", "Unit type"],
        ["PS-1", "A", "constant hanger"],
    ]
    result = sheet(SUPPORTS, rows)
    assert [(r.subject, r.key) for r in result.records] == [
        ("support", ("PS-1",)),
        ("unit", ("PS-1", "A")),
    ]
    assert result.findings == ()


def test_a_second_table_with_other_columns_of_one_kind_is_read_by_its_own_headings(sheet):
    rows = [
        ["Support tag", "Area", "Access"],
        ["PS-1", "North", "ladder"],
        ["Support tag", "Access", "Area"],
        ["PS-2", "scaffold", "South"],
    ]
    result = sheet(SUPPORTS, rows)
    assert [dict(r.values) for r in result.records] == [
        {"area": "North", "access": "ladder"},
        {"area": "South", "access": "scaffold"},
    ]


def test_hidden_rows_columns_and_sheets_are_read_and_said(tmp_path):
    book = openpyxl.Workbook()
    page = book.active
    page.title = "Lines"
    page.append(["Line number"])
    page.append(["L-1"])
    hidden = book.create_sheet("Supports")
    for row in (["Support tag", "Area"], ["PS-1", "N"], ["PS-2", "N"], ["PS-3", "N"]):
        hidden.append(row)
    for number in (2, 3):
        hidden.row_dimensions[number].hidden = True
    hidden.column_dimensions["B"].hidden = True
    hidden.sheet_state = "hidden"
    hidden.auto_filter.ref = "A1:B4"
    hidden.auto_filter.add_filter_column(1, ["N"])
    book.save(tmp_path / "hidden.xlsx")
    result = read(tmp_path / "hidden.xlsx")
    assert len(result.records) == 4
    assert [f.code for f in result.findings] == [
        "hidden-sheet",
        "hidden-rows",
        "hidden-columns",
        "filter-left-on",
    ]
    assert "rows 2-3 are hidden" in result.findings[1].what
    assert "column B is hidden" in result.findings[2].what
    assert not result.forbids_storing


def test_a_value_merged_over_several_cells_is_taken_once_and_said(tmp_path):
    book = openpyxl.Workbook()
    page = book.active
    page.title = "Supports"
    page.append(["Support tag", "Elevation [m]", "Rod length [mm]", "Gap up [mm]", "Note"])
    page.append(["PS-1", 12.5, 2000])
    page.append(["PS-2"])
    page.append(["north side re-tagged in 2011"])
    for block in ("B2:B3", "C2:D2", "A4:E4"):
        page.merge_cells(block)
    book.save(tmp_path / "merged.xlsx")
    result = read(tmp_path / "merged.xlsx")
    assert found(result) == [
        ("loose-text", "row 4"),
        ("merged-value", "B2"),
        ("merged-value", "C2"),
    ]
    assert "merged over B2:B3" in result.findings[1].what
    assert [dict(r.values) for r in result.records] == [
        {"elevation": 12.5, "rod_length": 2.0},
        {},
    ]


def test_text_alone_beside_the_table_is_looked_at(sheet):
    rows = [
        ["Support tag", "Area"],
        ["PS-1", "North"],
        [None, None, "north side re-tagged in 2011"],
    ]
    result = sheet(SUPPORTS, rows)
    assert found(result) == [("loose-text", "row 3")]
    assert result.findings[0].found == "'north side re-tagged in 2011'"


def test_footnote_stars_on_headings_do_not_matter(sheet):
    result = sheet(HARDWARE, [[*PIECES, "Rated load [kN] *"], ["PS-1", 1, "rod", 20]])
    assert result.records[0].values["rated_load"] == 20_000.0


def test_another_order_of_columns_gives_the_same_records(sheet):
    one = sheet(HARDWARE, [[*PIECES, "Size"], ["PS-1", 1, "rod", "M24"]])
    other = sheet(HARDWARE, [["Size", *reversed(PIECES)], ["M24", "rod", 1, "PS-1"]])
    assert [(r.key, r.values) for r in one.records] == [(r.key, r.values) for r in other.records]


def test_one_sheet_for_each_area_is_one_register(workbook):
    path = workbook(
        {
            "Supports north": [["Support tag", "Area"], ["PS-1", "North"]],
            "Supports (south)": [["Tag", "Unit area", "Access"], ["PS-2", "South", "ladder"]],
        }
    )
    result = read(path)
    assert [record.key[0] for record in result.records] == ["PS-1", "PS-2"]
    assert [f.code for f in result.findings] == ["sheet-name-longer", "sheet-name-longer"]


def test_an_area_in_the_title_alone_is_looked_at(workbook):
    result = read(workbook({"Supports north": [["Support tag"], ["PS-1"]]}))
    assert [f.code for f in result.findings] == ["sheet-name-longer", "area-in-title"]
    assert "area" not in result.records[0].values


def test_one_tag_in_two_areas_told_by_the_title_alone_is_held_back(workbook):
    sheets = {
        "Supports north": [["Support tag", "Access"], ["PS-1", "ladder"]],
        "Supports south": [["Support tag", "Access"], ["PS-1", "scaffold"]],
    }
    result = read(workbook(sheets))
    assert "same-key-twice" in [f.code for f in result.findings]
    assert result.records == ()


def test_a_load_that_three_sheets_give_otherwise_waits_once_each_at_its_support(workbook):
    heads = [
        "Calculation",
        "Revision",
        "Support tag",
        "Line number",
        "Case",
        "Case kind",
        "Load, carrying positive [kN]",
    ]
    row = ["C-1", "A", "PS-1", "L-1", "hot", "operating"]
    names = [f"Calculation loads {way}" for way in ("north", "south", "west")]
    result = read(workbook({name: [heads, [*row, n]] for n, name in enumerate(names, start=20)}))
    assert result.records == ()
    waiting = [(w.sheet, w.cell, w.code, w.named) for w in result.withheld]
    assert sorted(waiting) == [(name, "row 2", "same-key-twice", "PS-1") for name in names]


def test_pictures_over_the_cells_are_said(tmp_path):
    import xlsxwriter

    pixel = bytes.fromhex(
        "89504e470d0a1a0a0000000d4948445200000001000000010804000000b51c0c02"
        "0000000b4944415478da6364f80f00010501012718e3660000000049454e44ae426082"
    )
    (tmp_path / "photo.png").write_bytes(pixel)
    book = xlsxwriter.Workbook(str(tmp_path / "photos.xlsx"))
    page = book.add_worksheet("Supports")
    page.write_row(0, 0, ["Support tag", "Area"])
    page.write_row(1, 0, ["PS-1", "North"])
    page.insert_image("B2", str(tmp_path / "photo.png"))
    book.close()
    result = read(tmp_path / "photos.xlsx")
    assert [f.code for f in result.findings] == ["pictures-not-read"]
    assert result.records[0].values == {"area": "North"}


@pytest.mark.parametrize("way", ["font", "fill"])
def test_a_colour_that_is_the_only_mark_of_a_value_is_looked_at(tmp_path, way):
    """A red new value, a yellow type: the colour is the only mark of a revision or a removal."""
    book = openpyxl.Workbook()
    page = book.active
    page.title = "Supports"
    page.append(["Support tag", "Area", "Note"])
    for number in range(1, 4):
        page.append([f"PS-{number}", "North", "see sketch"])
    for cell in page[1]:
        cell.fill = PatternFill("solid", fgColor="FF9999FF")
    page["C2"].fill = PatternFill("solid", fgColor="FFD9D9D9")
    if way == "font":
        page["B3"].font = Font(color="FFFF0000")
    else:
        page["B3"].fill = PatternFill("solid", fgColor="FFFFFF00")
    book.save(tmp_path / "plant.xlsx")
    (found,) = read(tmp_path / "plant.xlsx").findings
    assert (found.code, found.severity, found.place.cell) == ("colours-not-read", "LOOK", "B3")
    assert "1 cell stands out by colour" in found.what


def test_stripes_all_over_a_table_are_no_marks(tmp_path):
    book = openpyxl.Workbook()
    page = book.active
    page.title = "Supports"
    page.append(["Support tag", "Area"])
    for number in range(1, 7):
        page.append([f"PS-{number}", "North"])
        for cell in page[number + 1] if number % 2 else ():
            cell.fill = PatternFill("solid", fgColor="FFB7DEE8")
    book.save(tmp_path / "plant.xlsx")
    assert read(tmp_path / "plant.xlsx").findings == ()
