"""Whole sheets: keys, doubles, unit positions, ranges, and what is held back."""

from __future__ import annotations

import pytest

from importers.known import AskedLate
from importers.reading import read
from importers.sheets import HARDWARE, NAMEPLATES, READINGS, SUPPORTS, UNITS
from supports.errors import SheetMissing

PLATE = ["Support tag", "Unit position", "Unit of load", "Unit of travel", "Nameplate load"]


def test_records_come_in_the_order_of_storing(workbook):
    path = workbook(
        {
            "Supports": [["Support tag", "Line number"], ["PS-1", "L-1"]],
            "Lines": [["Line number", "Area"], ["L-1", "North"]],
        }
    )
    assert [record.subject for record in read(path).records] == ["line", "support"]


def test_one_key_twice_with_other_values_holds_both_back(one):
    result = one(SUPPORTS, ["Support tag", "Area"], ["PS-1", "N"], ["PS-2", "N"], ["PS-1", "S"])
    assert [f.code for f in result.findings] == ["same-key-twice"] * 2
    assert sorted(f.place.cell for f in result.findings) == ["row 2", "row 4"]
    assert [record.key for record in result.records] == [("PS-2",)]


def test_a_row_repeated_word_for_word_counts_once(one, codes):
    result = one(SUPPORTS, ["Support tag", "Area"], ["PS-1", "N"], ["PS-1", "N"])
    assert codes(result) == ["row-repeated"]
    assert not result.forbids_storing
    assert len(result.records) == 1


def test_a_blank_position_of_a_single_unit_is_a(one):
    result = one(UNITS, ["Support tag", "Unit position", "Unit type"], ["PS-1", "", "rigid strut"])
    assert result.records[0].key == ("PS-1", "A")
    assert result.findings == ()


def test_a_blank_position_beside_another_unit_is_asked(one, codes):
    headings = ["Support tag", "Unit position", "Unit type"]
    result = one(UNITS, headings, ["PS-1", "", "constant hanger"], ["PS-1", "B", "constant hanger"])
    assert codes(result) == ["position-not-stated"]
    assert [record.key for record in result.records] == [("PS-1", "B")]


def test_the_units_sheet_tells_later_sheets_how_many_units_there_are(workbook):
    units = [["Support tag", "Unit position", "Unit type"]]
    units += [[tag, position, "constant hanger"] for tag, position in ("1A", "1B", "2A")]
    units = [units[0], ["PS-1", "A", "constant hanger"], ["PS-1", "B", "constant hanger"]]
    units.append(["PS-2", "A", "constant hanger"])
    readings = [["Support tag", "Read on", "Read by"]]
    readings += [["PS-1", "2020-05-17", "N. N."], ["PS-2", "2020-05-17", "N. N."]]
    result = read(workbook({"Readings": readings, "Units": units}))
    assert [f.code for f in result.findings] == ["position-not-stated"]
    assert result.records[-1].key == ("PS-2", "A", "2020-05-17", "N. N.", "")


def test_units_known_to_the_register_are_asked_too(one):
    row = ["PS-1", "2020-05-17", "N. N."]
    headings = ["Support tag", "Read on", "Read by"]
    assert one(READINGS, headings, row, positions={"PS-1": ["A"]}).findings == ()
    result = one(READINGS, headings, row, positions={"PS-1": ["A", "B"]})
    assert [f.code for f in result.findings] == ["position-not-stated"]


def test_the_register_is_asked_for_units_once_and_only_where_a_row_does_not_say_its_own(one):
    asked = []

    def answer():
        asked.append("asked")
        return {"PS-1": ["A", "B"]}

    headings = ["Support tag", "Unit position", "Read on", "Read by"]
    stated, bare = ["PS-1", "B", "2020-05-17", "N. N."], ["PS-1", "", "2020-05-17", "N. N."]
    assert one(READINGS, headings, stated, positions=AskedLate(answer)).findings == ()
    assert asked == []
    other = ["PS-2", *bare[1:]]
    result = one(READINGS, headings, bare, other, positions=AskedLate(answer))
    assert [(f.code, f.place.cell) for f in result.findings] == [("position-not-stated", "row 2")]
    assert asked == ["asked"]


def test_a_blank_branch_means_all_units(one):
    headings = ["Support tag", "Hangs on unit", "Position in stack", "Piece"]
    result = one(HARDWARE, headings, ["PS-1", None, 3, "clamp"])
    assert result.records[0].key == ("PS-1", "all", "3")
    assert result.records[0].values == {"kind": "clamp"}


@pytest.mark.parametrize(
    ("heading", "minus"),
    [("Range minus [%]", 15), ("Range minus [%]", -15), ("Range minus [-]", 0.15)],
)
def test_a_range_in_parts_is_counted_from_the_nameplate_load(one, heading, minus):
    row = ["PS-1", "A", "kN", "mm", 20.0, minus, "10 %"]
    result = one(NAMEPLATES, [*PLATE, heading, "Range plus"], row)
    values = result.records[0].values
    assert values["range_low"] == pytest.approx(17_000.0, rel=1e-12)
    assert values["range_high"] == pytest.approx(22_000.0, rel=1e-12)
    assert "range_minus" not in values
    assert result.records[0].source.cells["range_minus"].text in {"15", "-15", "0.15"}
    assert result.findings == ()


def test_a_bare_part_without_unit_is_not_taken(one, codes):
    result = one(NAMEPLATES, [*PLATE, "Range minus"], ["PS-1", "A", "kN", "mm", 20.0, 15])
    assert codes(result) == ["unit-not-stated"]
    assert "range_low" not in result.records[0].values


def test_a_range_said_twice_must_agree(one, codes):
    headings = [*PLATE, "Range low", "Range minus [%]"]
    agreeing = one(NAMEPLATES, headings, ["PS-1", "A", "kN", "mm", 20.0, 17.05, 15])
    assert agreeing.findings == ()
    assert agreeing.records[0].values["range_low"] == pytest.approx(17_050.0)
    result = one(NAMEPLATES, headings, ["PS-1", "A", "kN", "mm", 20.0, 16.0, 15])
    assert codes(result) == ["range-said-twice"]
    assert "range_low" not in result.records[0].values


def test_a_range_in_parts_needs_the_load(one, codes):
    row = ["PS-1", "A", "kN", "mm", None, 15]
    assert codes(one(NAMEPLATES, [*PLATE, "Range minus [%]"], row)) == ["range-without-load"]


def test_ranges_of_many_rows_are_each_judged_by_their_own_row(one):
    rows = [
        ["PS-1", "A", "kN", "mm", 20.0, None, 15],
        ["PS-2", "A", "kN", "mm", 20.0, 16.0, 15],
        ["PS-3", "A", "kN", "mm", None, None, 15],
        ["PS-4", "A", "kN", "mm", 20.0, 18.0, None],
    ]
    result = one(NAMEPLATES, [*PLATE, "Range low", "Range minus [%]"], *rows)
    assert [(f.code, f.place.cell) for f in result.findings] == [
        ("range-said-twice", "G3"),
        ("range-without-load", "G4"),
    ]
    lows = [record.values.get("range_low") for record in result.records]
    assert lows == [pytest.approx(17_000.0), None, None, pytest.approx(18_000.0)]


@pytest.mark.parametrize(("low", "high"), [(24, 18), (21, 24), (17, 19)])
def test_a_range_that_does_not_hold_the_load_is_refused(one, low, high):
    row = ["PS-1", "A", "kN", "mm", 20.0, low, high]
    result = one(NAMEPLATES, [*PLATE, "Range low", "Range high"], row)
    assert [f.code for f in result.findings] == ["range-upside-down"]
    assert result.findings[0].place.cell in {"F2", "G2"}
    assert {"range_low", "range_high"}.isdisjoint(result.records[0].values)


def test_an_ambiguous_unit_of_a_plate_holds_the_row_back(one):
    result = one(NAMEPLATES, PLATE, ["PS-1", "A", "kg", "mm", 2041])
    assert {f.code for f in result.findings} == {"unit-ambiguous"}
    assert result.records == ()


def test_unknown_and_empty_sheets_are_noted(workbook):
    path = workbook({"Supports": [["Support tag"], ["PS-1"]], "Lines": [], "Photos": [["x"]]})
    assert [f.code for f in read(path).findings] == ["sheet-not-known", "sheet-empty"]


def test_a_single_sheet_is_taken_whatever_its_name(workbook):
    path = workbook({"Sheet1": [["Support tag"], ["PS-1"]]})
    assert len(read(path, (SUPPORTS,)).records) == 1


def test_workbook_and_csv_give_the_same_records(workbook, text_file):
    rows = [
        ["Support tag", "Support type", "Order along line", "Elevation [m]", "Access"],
        ["007", "constant hanger", 1, 12.5, "ladder"],
        ["1E5", "rest", 2, -0.25, ""],
    ]
    book = read(workbook({"Supports": rows}))
    text = read(text_file("Supports.csv", rows))
    assert book.findings == text.findings == ()
    pairs = zip(book.records, text.records, strict=True)
    assert all((a.subject, a.key, a.values) == (b.subject, b.key, b.values) for a, b in pairs)
    assert len(book.records) == 2


def test_every_finding_says_where_and_every_stop_holds_something_back(one):
    rows = [[7, "rest", "x"], ["PS-1", "rust", "3"], ["PS-2", "rest", 3.5], ["", "rest", 1]]
    result = one(SUPPORTS, ["Support tag", "Support type", "Order along line"], *rows)
    assert len(result.findings) == 5
    for finding in result.findings:
        assert finding.place.file == "plant.xlsx"
        assert finding.place.sheet == "Supports"
        assert finding.place.cell
        assert finding.forbids_storing
    assert [dict(record.values) for record in result.records] == [
        {"order_along": 3},
        {"kind": "rest"},
    ]


def test_the_collector_is_left_as_it_was(one, workbook):
    import gc

    assert gc.isenabled()
    one(SUPPORTS, ["Support tag"], ["PS-1"])
    assert gc.isenabled()
    with pytest.raises(SheetMissing):
        read(workbook({"Other": [["x"]], "More": [["x"]]}))
    assert gc.isenabled()
