"""What cells say, and every doubt about one cell under its code and address."""

from __future__ import annotations

from datetime import date, datetime, time

import pytest

from importers.sheets import (
    CALCULATIONS,
    HARDWARE,
    LINES,
    NAMEPLATES,
    REQUIRED_LOADS,
    SETTINGS,
    SUPPORTS,
)


@pytest.mark.parametrize("tag", ["007", "1E5", "NA", "0457", "12-3", "1.00", "TRUE", "nan", "-5"])
def test_tags_stay_text(one, tag):
    result = one(SUPPORTS, ["Support tag"], [tag])
    assert [record.key for record in result.records] == [(tag,)]
    assert result.findings == ()


@pytest.mark.parametrize(
    "value", [7, 457.0, 1.0e24, datetime.combine(date(2026, 3, 12), time()), time(8, 30), True]
)
def test_a_number_or_a_date_in_a_tag_cell_is_a_finding(one, value):
    result = one(SUPPORTS, ["Support tag"], [value])
    (finding,) = result.findings
    assert finding.code == "number-in-tag-cell"
    assert finding.place.cell == "A2"
    assert finding.found
    assert result.records == ()
    assert result.counts[0].held_back == 1


def test_odd_dashes_and_spaces_in_a_tag_are_mended_and_listed(one):
    result = one(SUPPORTS, ["Support tag"], ["PS\u20131024\u00a0A "])
    assert result.records[0].key == ("PS-1024 A",)
    assert result.records[0].source.cells["tag"].text == "PS\u20131024\u00a0A "
    assert [f.code for f in result.findings] == ["tag-cleaned"]


def test_a_number_in_a_text_cell_is_taken_as_text_with_one_note(one):
    result = one(LINES, ["Line number", "Schedule"], ["L-1", 40], ["L-2", 80], ["L-3", "XS"])
    assert [r.values["schedule"] for r in result.records] == ["40", "80", "XS"]
    (finding,) = result.findings
    assert finding.code == "number-as-text"
    assert "in 2 cells of column B" in finding.what


def test_a_blank_gives_no_entry(one):
    result = one(SUPPORTS, ["Support tag", "Area", "Rod length [mm]"], ["PS-1", " ", None])
    assert result.records[0].values == {}
    assert set(result.records[0].source.cells) == {"tag", "area"}


def test_a_zero_is_a_value(one):
    result = one(SUPPORTS, ["Support tag", "Elevation [m]"], ["PS-1", 0])
    assert result.records[0].values == {"elevation": 0.0}


@pytest.mark.parametrize(
    ("cell", "code"),
    [
        ("n/a", "text-in-number-cell"),
        ("abc 12", "text-in-number-cell"),
        ("1,250", "number-ambiguous"),
        ("12.500,00", "number-ambiguous"),
        ("1 000", "number-ambiguous"),
        ("22.1 kg", "unit-ambiguous"),
        ("22.1 parsec", "unit-unknown"),
        (-22.1, "negative-not-possible"),
        (True, "text-in-number-cell"),
        (date(2020, 1, 1), "text-in-number-cell"),
        ("9" * 400, "text-in-number-cell"),
    ],
)
def test_a_cell_that_is_no_quantity_leaves_its_field_out(one, cell, code):
    headings = ["Support tag", "Hangs on unit", "Position in stack", "Rated load [kN]", "Piece"]
    result = one(HARDWARE, headings, ["PS-1", "all", 1, cell, "rod"])
    (finding,) = result.findings
    assert (finding.code, finding.place.cell, finding.subject) == (code, "D2", "PS-1")
    assert "rated_load" not in result.records[0].values
    assert result.forbids_storing


@pytest.mark.parametrize("cell", ["n/a", ""])
def test_a_setting_without_a_load_is_held_back(one, cell):
    result = one(SETTINGS, SETTING, ["PS-1", "A", "2020-05-17", cell, "scale", "N. N."])
    assert result.records == ()
    assert result.forbids_storing


SETTING = ["Support tag", "Unit position", "Set on", "Set load [kN]", "Method", "Set by"]


@pytest.mark.parametrize(
    ("cell", "newtons"),
    [(22.1, 22_100), ("22.1", 22_100), (" 22.1 ", 22_100), ("22.1 kN", 22_100), ("2.21e1", 22_100)],
)
def test_one_plain_number_is_a_quantity(one, cell, newtons):
    result = one(SETTINGS, SETTING, ["PS-1", "A", "2020-05-17", cell, "scale", "N. N."])
    assert result.records[0].values["load"] == pytest.approx(newtons, rel=1e-14)
    assert result.findings == ()


def test_a_unit_in_the_cell_wins_over_the_heading_and_is_said(one, codes):
    result = one(SETTINGS, SETTING, ["PS-1", "A", "2020-05-17", "4500 lbf", "scale", "N. N."])
    assert result.records[0].values["load"] == pytest.approx(20_016.997, abs=0.001)
    assert codes(result) == ["unit-differs-from-heading"]
    assert not result.forbids_storing


def test_a_required_load_may_be_negative(one):
    result = one(
        REQUIRED_LOADS,
        [
            "Calculation",
            "Revision",
            "Tag",
            "Line",
            "Case",
            "Case kind",
            "Load, carrying positive [N]",
        ],
        ["C-1", "0", "PS-1", "L-1", "operating", "operating", -500],
    )
    assert result.records[0].values == {"case_kind": "operating", "load": -500.0}
    assert result.records[0].key == ("C-1", "0", "PS-1", "L-1", "operating")


def test_temperatures_may_be_negative_but_not_below_absolute_zero(one, codes):
    headings = ["Line number", "Design temperature [°C]"]
    result = one(LINES, headings, ["L-1", -40], ["L-2", -300])
    assert result.records[0].values["design_temperature"] == pytest.approx(233.15)
    assert codes(result) == ["negative-not-possible"]


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        (date(2020, 5, 17), date(2020, 5, 17)),
        (datetime.combine(date(2020, 5, 17), time(14, 30)), date(2020, 5, 17)),
        ("2020-05-17", date(2020, 5, 17)),
        ("2020/5/17", date(2020, 5, 17)),
        ("17 May 2020", date(2020, 5, 17)),
        ("17-Sept-2020", date(2020, 9, 17)),
        ("May 17, 2020", date(2020, 5, 17)),
        ("05/05/2020", date(2020, 5, 5)),
    ],
)
def test_a_day_that_can_mean_one_thing_is_read(one, cell, expected):
    result = one(SETTINGS, SETTING, ["PS-1", "A", cell, 1, "scale", "N. N."])
    assert result.records[0].values["happened_on"] == expected
    assert result.records[0].key == ("PS-1", "A", expected.isoformat(), "")
    assert result.findings == ()


def test_a_day_after_the_latest_is_not_possible(one):
    row = ["PS-1", "A", "2030-01-01", 1, "scale", "N. N."]
    result = one(SETTINGS, SETTING, row, latest=date(2026, 1, 1))
    assert [f.code for f in result.findings] == ["date-not-possible"]
    assert result.records == ()


def test_a_word_off_the_list_is_a_finding_with_the_nearest(one):
    result = one(SUPPORTS, ["Support tag", "Support type"], ["PS-1", "constant hangar"])
    (finding,) = result.findings
    assert finding.code == "word-not-known"
    assert "constant hanger" in finding.remedy
    assert "kind" not in result.records[0].values


@pytest.mark.parametrize("word", ["constant hanger", "Constant Hanger", "CONSTANT-HANGER"])
def test_case_and_dashes_in_words_do_not_matter(one, word):
    result = one(SUPPORTS, ["Support tag", "Support type"], ["PS-1", word])
    assert result.records[0].values == {"kind": "constant hanger"}


@pytest.mark.parametrize(("cell", "whole"), [(3, 3), (3.0, 3), ("3", 3), ("3.0", 3)])
def test_whole_numbers(one, cell, whole):
    result = one(SUPPORTS, ["Support tag", "Order along line"], ["PS-1", cell])
    assert result.records[0].values == {"order_along": whole}
    assert type(result.records[0].values["order_along"]) is int


@pytest.mark.parametrize(
    "cell", [3.5, "three", "3.5", date(2020, 1, 1), 2**31, -1e305, "-99999999999", 1e18]
)
def test_what_is_not_a_whole_number_is_refused(one, codes, cell):
    result = one(SUPPORTS, ["Support tag", "Order along line"], ["PS-1", cell])
    assert codes(result) == ["not-a-whole-number"]


def test_a_blank_key_holds_the_row_back(one):
    result = one(CALCULATIONS, CALCULATION, ["C-1", "", "hand", "issued"])
    (finding,) = result.findings
    assert (finding.code, finding.place.cell) == ("key-missing", "row 2")
    assert "'Revision'" in finding.what
    assert result.records == ()


CALCULATION = ["Calculation", "Revision", "Method", "Status"]


def test_a_load_per_turn_table_is_read_in_the_unit_of_its_row(one):
    result = one(NAMEPLATES, PLATE, ["PS-1", "kN", "mm", "18 to 20: 0.25; 20 to 24: 0.3"])
    assert result.records[0].values["load_per_turn_table"] == [
        [18_000.0, 20_000.0, 250.0],
        [20_000.0, 24_000.0, 300.0],
    ]


PLATE = ["Support tag", "Unit of load", "Unit of travel", "Load per turn table"]


@pytest.mark.parametrize("text", ["0.25", "20 to 18: 0.25", "18 to 20: 0.2; 21 to 24: 0.3", "x"])
def test_a_table_with_gaps_or_turned_bands_is_refused(one, codes, text):
    assert codes(one(NAMEPLATES, PLATE, ["PS-1", "kN", "mm", text])) == ["turn-table-unreadable"]
