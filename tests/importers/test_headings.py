"""Headings and the units that they state."""

from __future__ import annotations

import pytest

from importers.headings import names, split
from importers.sheets import HARDWARE, LINES, NAMEPLATES, SHEETS, SUPPORTS

PIECE = ["PS-1", "A", 1, "rod"]
KEYS = ["Support tag", "Hangs on unit", "Position in stack", "Piece"]


@pytest.mark.parametrize(
    "heading",
    ["Rated load [kN]", "Rated load (kN)", "Rated load, kN", "RATED  LOAD kN", "rated_load [KN]"],
)
def test_a_unit_in_the_heading_is_read(one, heading):
    result = one(HARDWARE, [*KEYS, heading], [*PIECE, 20.0])
    assert result.records[0].values["rated_load"] == pytest.approx(20_000.0, rel=1e-15)
    assert result.findings == ()
    assert result.records[0].source.cells["rated_load"].unit == "kN"


def test_a_unit_column_gives_the_unit_row_by_row(one):
    result = one(
        HARDWARE,
        [*KEYS, "Rated load", "Load unit"],
        ["PS-1", "A", 1, "rod", 20, "kN"],
        ["PS-1", "A", 2, "clamp", 4500, "lbf"],
        ["PS-1", "A", 3, "lug", 2041, "kgf"],
    )
    loads = [record.values["rated_load"] for record in result.records]
    # 1 lbf = 4.448222 N and 1 kgf = 9.80665 N: NIST SP 811 (2008), appendix B.8.
    assert loads == pytest.approx([20_000.0, 4500 * 4.4482216152605, 2041 * 9.80665], rel=1e-12)
    assert [r.source.cells["rated_load"].unit for r in result.records] == ["kN", "lbf", "kgf"]


def test_a_row_without_its_unit_gives_no_value(one, codes):
    result = one(HARDWARE, [*KEYS, "Rated load", "Load unit"], [*PIECE, 20, ""])
    assert codes(result) == ["unit-not-stated"]
    assert "rated_load" not in result.records[0].values
    assert result.findings[0].place.cell == "F2"


def test_a_heading_without_unit_quarantines_its_numbers(one):
    result = one(HARDWARE, [*KEYS, "Rated load"], [*PIECE, 20], ["PS-2", "A", 1, "rod", 21])
    (finding,) = result.findings
    assert (finding.code, finding.place.cell) == ("unit-not-stated", "E1")
    assert "2 values not taken" in finding.what
    assert result.forbids_storing
    assert all("rated_load" not in record.values for record in result.records)
    assert result.records[0].source.cells["rated_load"].text == "20"


@pytest.mark.parametrize(
    ("unit", "code", "word"),
    [
        ("kg", "unit-ambiguous", "kgf"),
        ("t", "unit-ambiguous", "long ton"),
        ("tons", "unit-ambiguous", "short ton"),
        ("#", "unit-ambiguous", "lbf"),
        ("lbs", "unit-ambiguous", "lbf"),
        ("k", "unit-ambiguous", "kip"),
        ("stone", "unit-unknown", "stone"),
        ("mm", "unit-unknown", "mm"),
    ],
)
def test_a_doubtful_unit_quarantines_its_numbers(one, unit, code, word):
    result = one(HARDWARE, [*KEYS, f"Rated load [{unit}]"], [*PIECE, 20])
    (finding,) = result.findings
    assert finding.code == code
    assert word in finding.what
    assert "rated_load" not in result.records[0].values


def test_load_per_turn_takes_the_unit_of_load_of_its_row(one):
    result = one(
        NAMEPLATES,
        ["Support tag", "Unit of load", "Unit of travel", "Load per turn", "Total travel"],
        ["PS-1", "lbf", "in", 60, 10],
    )
    assert result.records[0].values["load_per_turn"] == pytest.approx(60 * 4.4482216152605)
    assert result.records[0].values["total_travel"] == pytest.approx(0.254, rel=1e-15)


def test_unknown_headings_are_kept_as_text_and_noted(one):
    result = one(SUPPORTS, ["Support tag", "Colour", "Acces"], ["PS-1", "red", "ladder"])
    assert [(f.code, f.severity.value) for f in result.findings] == [
        ("heading-not-known", "NOTE"),
        ("heading-not-known", "NOTE"),
    ]
    assert result.findings[1].expected == "perhaps 'Access'"
    assert result.records[0].source.cells["Colour"].text == "red"
    assert result.records[0].values == {}
    assert not result.forbids_storing


def test_a_heading_that_stands_twice_is_not_read(one, codes):
    result = one(SUPPORTS, ["Support tag", "Area", "Unit area"], ["PS-1", "North", "South"])
    assert codes(result) == ["heading-twice"]
    assert result.records[0].values == {}


def test_titles_above_the_headings_are_passed_over(one):
    result = one(SUPPORTS, ["Supports of the plant"], [], ["Support tag", "Area"], ["PS-1", "N"])
    assert [r.key for r in result.records] == [("PS-1",)]


def test_words_in_brackets_that_belong_to_the_heading_are_no_unit():
    known = names(LINES)
    heading = split("Design pressure (gauge) [bar]", known)
    assert heading is not None
    assert (known[heading.name].field, heading.unit) == ("design_pressure", "bar")


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_no_two_columns_of_a_sheet_share_a_heading(sheet):
    seen: dict[str, str] = {}
    for column in sheet.columns:
        for text in (column.heading, *column.aliases):
            key = "".join(ch for ch in text.casefold() if ch.isalnum())
            assert seen.setdefault(key, column.field) == column.field


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_the_key_of_a_sheet_is_among_its_columns(sheet):
    fields = {column.field for column in sheet.columns}
    assert set(sheet.key) <= fields
    assert {name for name, _ in sheet.when_blank} <= set(sheet.key)
