"""Loads as plants really keep them. The examples are common practice, no source."""

from __future__ import annotations

import openpyxl
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.styles import Font

from importers.reading import read
from importers.sheets import READINGS

READ = ["Support tag", "Unit position", "Read on", "Read by", "Scale load [kN]"]


def rows(*loads):
    return [[f"PS-{i}", "A", "2020-05-17", "N. N.", load] for i, load in enumerate(loads)]


NOT_ONE_LOAD = [
    ("-22100", "negative-not-possible"),
    (-22.1, "negative-not-possible"),
    ("18.5/20.2", "two-values"),
    ("18.5 - 20.2", "two-values"),
    ("18.5 to 20.2 kN", "two-values"),
    ("20 (2x10)", "several-numbers"),
    ("2 x 20", "several-numbers"),
    ("~20", "value-uncertain"),
    ("20?", "value-uncertain"),
    (">20", "value-uncertain"),
    ("20 TBC", "value-uncertain"),
    ("ca. 20", "value-uncertain"),
    ("2'000", "number-ambiguous"),
    ("20 +/-", "tolerance-in-cell"),
    ("20 ± 10 %", "tolerance-in-cell"),
    (0, "zero-or-nines"),
    ("0", "zero-or-nines"),
    (999, "zero-or-nines"),
    (9999, "zero-or-nines"),
    ("0.0", "zero-or-nines"),
    ("0 kN", "zero-or-nines"),
    ("-0", "zero-or-nines"),
    ("9999.00", "zero-or-nines"),
    ("999 kN", "zero-or-nines"),
    ('"', "ditto"),
    ("not read", "text-in-number-cell"),
    ("-", "text-in-number-cell"),
]


def test_what_is_not_one_load_is_a_question(one):
    result = one(READINGS, READ, *rows(*(cell for cell, _ in NOT_ONE_LOAD)))
    found = {f.place.cell: (f.code, f.severity.value) for f in result.findings}
    assert len(found) == len(result.findings) == len(NOT_ONE_LOAD)
    for row, (record, (cell, code)) in enumerate(
        zip(result.records, NOT_ONE_LOAD, strict=True), start=2
    ):
        assert found[f"E{row}"] == (code, "STOP")
        assert "scale_load" not in record.values
        assert record.source.cells["scale_load"].text == str(cell)


def marked(tmp_path, value, font=None):
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Readings"
    for row in [READ, *rows(20.5, 21.5)]:
        sheet.append(row)
    sheet["E2"] = value
    if font:
        sheet["E2"].font = font
    book.save(tmp_path / "marked.xlsx")
    return read(tmp_path / "marked.xlsx")


def test_a_struck_through_load_is_not_taken(tmp_path):
    result = marked(tmp_path, 20.5, Font(strike=True))
    assert [(f.code, f.place.cell, f.found) for f in result.findings] == [
        ("struck-through", "E2", "'~~20.5~~'")
    ]
    assert ["scale_load" in record.values for record in result.records] == [False, True]


def test_an_old_value_struck_beside_a_new_one_is_shown_with_both(tmp_path):
    text = CellRichText(TextBlock(InlineFont(strike=True), "18.5"), " 20.2")
    result = marked(tmp_path, text)
    assert [(f.code, f.found) for f in result.findings] == [("struck-through", "'~~18.5~~ 20.2'")]
    assert "scale_load" not in result.records[0].values


def test_struck_text_kept_among_the_shared_texts_is_seen_too(tmp_path):
    import xlsxwriter

    book = xlsxwriter.Workbook(str(tmp_path / "shared.xlsx"))
    sheet = book.add_worksheet("Readings")
    for r, row in enumerate([READ, *rows(20.5, 21.5)]):
        sheet.write_row(r, 0, row)
    struck = book.add_format({"font_strikeout": True})
    sheet.write_rich_string("E2", struck, "18.5", " 20.2")
    book.close()
    result = read(tmp_path / "shared.xlsx")
    assert [(f.code, f.found) for f in result.findings] == [("struck-through", "'~~18.5~~ 20.2'")]


def test_an_error_in_place_of_a_number_is_not_a_blank(tmp_path):
    result = marked(tmp_path, "#REF!")
    assert [(f.code, f.found) for f in result.findings] == [("error-cell", "'#REF!'")]
    assert result.forbids_storing


def test_plate_loads_copied_as_readings_are_looked_at(workbook):
    plates = [["Support tag", "Unit position", "Unit of load", "Unit of travel", "Nameplate load"]]
    plates += [[f"PS-{i}", "A", "kN", "mm", 20.5 + i] for i in range(3)]
    sheets = {"Nameplates": plates, "Readings": [READ, *rows(20.5, 21.5, 22.5)]}
    result = read(workbook(sheets))
    assert [(f.code, f.severity.value) for f in result.findings] == [
        ("readings-equal-plates", "LOOK")
    ]
    sheets["Readings"][1][4] = 20.9
    assert read(workbook(sheets)).findings == ()


def test_loads_in_whole_kn_throughout_are_looked_at(one):
    result = one(READINGS, READ, *rows(20, 21, 22, 23, 24))
    assert [f.code for f in result.findings] == ["loads-rounded"]
    assert one(READINGS, READ, *rows(20, 21, 22, 23, 24.5)).findings == ()


def test_a_row_of_totals_is_passed_over(one):
    result = one(READINGS, READ, *rows(20.5, 21.5), ["TOTAL", None, None, None, 42.0])
    assert [(f.code, f.place.cell) for f in result.findings] == [("totals-row", "row 4")]
    assert len(result.records) == 2


LOADS = ["Calculation", "Revision", "Tag", "Line", "Case", "Case kind"]
CARRYING = "Load, carrying positive [kN]"


def case(tag, kind, load, *more):
    return ["C-1", "0", tag, "L-1", kind, kind, load, *more]


def test_hardware_weight_included_in_some_rows_only_is_looked_at(workbook):
    headings = [*LOADS, CARRYING, "Load includes hardware"]
    sheet = [headings, case("PS-1", "operating", 20.5, "yes"), case("PS-2", "operating", 21, "no")]
    result = read(workbook({"Calculation loads": sheet}))
    assert [(f.code, f.place.cell) for f in result.findings] == [("hardware-weight-mixed", "H3")]


def test_a_test_load_in_the_operating_case_is_looked_at(workbook):
    sheet = [[*LOADS, CARRYING], case("PS-1", "operating", 30.5), case("PS-1", "test", 30.5)]
    result = read(workbook({"Calculation loads": sheet}))
    assert [(f.code, f.subject) for f in result.findings] == [("test-load-as-operating", "PS-1")]
