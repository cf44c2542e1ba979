"""Units as plants really write them. The examples are common practice, no source.

Factors: NIST SP 811 (2008), appendix B.8 and B.9 (1 lbf = 4.448 222 N, 1 kgf = 9.806 65 N,
1 in = 25.4 mm, 1 ft = 304.8 mm).
"""

from __future__ import annotations

import pytest

from importers.reading import read
from importers.sheets import HARDWARE, LINES, NAMEPLATES, READINGS, SETTINGS
from supports.errors import BadInput

SET = ["Support tag", "Unit position", "Set on", "Set load (kN)", "Method", "Set by"]


def set_rows(*loads):
    return [[f"PS-{i}", "A", "2020-05-17", load, "scale", "N. N."] for i, load in enumerate(loads)]


def test_one_load_in_three_units_under_one_heading(one):
    """Scenario: 20.0, 4500 and 2041 under 'Load (kN)', all of one design of 20 kN."""
    expected = {f"PS-{i}": 20_000.0 for i in range(3)}
    result = one(SETTINGS, SET, *set_rows(20.0, 4500, 2041), expected_loads=expected)
    assert [r.values["load"] for r in result.records] == [20_000.0]
    assert [(f.code, f.place.cell) for f in result.findings] == [
        ("unit-size-suspicious", "D3"),
        ("unit-size-suspicious", "D4"),
    ]
    first, second = (f.what for f in result.findings)
    assert "looks like lbf, not kN" in first
    assert "looks like daN or kgf (cannot be told apart by size), not kN" in second
    assert [f.found for f in result.findings] == ["'4500'", "'2041'"]
    assert result.forbids_storing


def test_with_their_units_declared_the_three_loads_agree(one):
    headings = [*SET[:3], "Set load", *SET[4:], "Unit of load"]
    rows = set_rows(20.0, 4500, 2041, 2041)
    units = ["kN", "lbf", "kgf", "daN"]
    result = one(SETTINGS, headings, *([*r, u] for r, u in zip(rows, units, strict=True)))
    loads = [record.values["load"] for record in result.records]
    assert loads == pytest.approx([20_000.0, 20_017.0, 20_015.4, 20_410.0], abs=0.5)
    assert result.findings == ()


def test_plates_in_the_same_file_tell_what_to_expect(workbook):
    plates = [
        ["Support tag", "Unit position", "Unit of load", "Unit of travel", "Nameplate load"],
        ["PS-0", "A", "kN", "mm", 20.0],
    ]
    result = read(workbook({"Settings": [SET, *set_rows(2041)], "Nameplates": plates}))
    assert [f.code for f in result.findings] == ["unit-size-suspicious"]


def test_a_rating_need_not_lie_near_the_load_that_is_carried(one):
    """1,700 lbf of rating over a load of 1.7 kN is no question of units."""
    heading = ["Support tag", "Position in stack", "Piece", "Rated load [lbf]"]
    result = one(HARDWARE, heading, ["PS-0", 1, "rod", 1700], expected_loads={"PS-0": 1_700.0})
    assert result.findings == ()


def test_loads_of_a_calculation_tell_what_to_expect_where_no_plate_does(one):
    required = {"PS-0": 20_000.0}
    result = one(SETTINGS, SET, *set_rows(2041), required_loads=required)
    assert [f.code for f in result.findings] == ["unit-size-suspicious"]
    plates = {"PS-0": 2_041_000.0}
    result = one(SETTINGS, SET, *set_rows(2041), required_loads=required, expected_loads=plates)
    assert result.findings == ()


@pytest.mark.parametrize("load", [7.0, 20.0, 21.0, 59.0])
def test_a_load_within_three_times_the_expected_is_not_suspicious(one, load):
    result = one(SETTINGS, SET, *set_rows(load), expected_loads={"PS-0": 20_000.0})
    assert result.findings == ()


@pytest.mark.parametrize(
    ("unit", "code", "words"),
    [
        ("kg", "unit-ambiguous", ["kgf", "mass"]),
        ("t", "unit-ambiguous", ["9.80665 kN", "8.8964 kN", "9.9640 kN"]),
        ("#", "unit-ambiguous", ["lbf"]),
        ("lbs", "unit-ambiguous", ["lbf"]),
        ("LB", "unit-ambiguous", ["lbf"]),
        ("k", "unit-ambiguous", ["kN", "kip"]),
        ("div", "unit-unknown", ["div"]),
    ],
)
def test_units_that_could_be_two_things_are_asked(one, unit, code, words):
    headings = [*SET[:3], f"Set load [{unit}]", *SET[4:]]
    result = one(SETTINGS, headings, *set_rows(20))
    assert [f.code for f in result.findings] == [code]
    assert all(word in result.findings[0].what for word in words)


def test_kips_are_kips(one):
    headings = [*SET[:3], "Set load [kips]", *SET[4:]]
    result = one(SETTINGS, headings, *set_rows(4.5))
    assert result.records[0].values["load"] == pytest.approx(20_017.0, abs=0.5)


STACK = ["Support tag", "Position in stack", "Piece"]


@pytest.mark.parametrize(
    ("cell", "metres"),
    [
        ('3 1/2"', 0.0889),
        ("3.5", 0.0889),
        ("3-1/2", 0.0889),
        ("3½", 0.0889),
        ("89 mm", 0.089),
        ("1'-6\"", 0.4572),
        ("1' 6 1/2\"", 0.4699),
        ("2'", 0.6096),
        ('1/2"', 0.0127),
    ],
)
def test_inches_in_fractions_and_feet_are_read_under_a_heading_in_inches(one, cell, metres):
    result = one(HARDWARE, [*STACK, "Length [in]"], ["PS-1", 1, "rod", cell])
    assert result.records[0].values["length"] == pytest.approx(metres, rel=1e-12)
    assert not result.forbids_storing


@pytest.mark.parametrize("cell", ["3-1/2", "3 1/2", "1/2"])
def test_a_fraction_without_mark_under_millimetres_is_asked(one, cell):
    result = one(HARDWARE, [*STACK, "Length [mm]"], ["PS-1", 1, "rod", cell])
    assert [f.code for f in result.findings] == ["fraction-without-inches"]
    assert "length" not in result.records[0].values


@pytest.mark.parametrize("cell", ["2'000", "1'010", "1'005.5"])
def test_an_apostrophe_before_three_digits_parts_thousands_in_some_countries(one, cell):
    result = one(HARDWARE, [*STACK, "Length [mm]"], ["PS-1", 1, "rod", cell])
    assert [f.code for f in result.findings] == ["number-ambiguous"]
    assert "length" not in result.records[0].values


PLATE = ["Support tag", "Unit position", "Unit of load", "Unit of travel"]


@pytest.mark.parametrize(
    ("heading", "cell", "rate"),
    [
        ("Rate [kgf/cm]", 80, 80 * 980.665),
        ("Rate [N/mm]", 80, 80_000.0),
        ("Rate [lbf/in]", 80, 80 * 175.1268),
        ("Rate [N/mm]", "450 lbf/in", 450 * 175.1268),
    ],
)
def test_spring_rates_in_their_units(one, heading, cell, rate):
    result = one(NAMEPLATES, [*PLATE, heading], ["PS-1", "A", "kN", "mm", cell])
    assert result.records[0].values["rate"] == pytest.approx(rate, rel=1e-6)


def test_a_spring_rate_in_kg_per_cm_is_asked(one):
    result = one(NAMEPLATES, [*PLATE, "Rate (kg/cm)"], ["PS-1", "A", "kN", "mm", 80])
    assert [f.code for f in result.findings] == ["unit-ambiguous"]
    assert "0.980665 N/mm" in result.findings[0].what


@pytest.mark.parametrize("cell", ["400", 400, 538])
def test_a_temperature_without_unit_is_asked(one, cell):
    result = one(LINES, ["Line number", "Design temperature"], ["L-1", cell])
    assert [f.code for f in result.findings] == ["unit-not-stated"]
    assert "design_temperature" not in result.records[0].values


def test_538_degrees_celsius_is_1000_degrees_fahrenheit(one):
    headings = ["Line number", "Design temperature [°F]", "Operating temperature [°C]"]
    values = one(LINES, headings, ["L-1", 1000, 537.778]).records[0].values
    assert values["design_temperature"] == pytest.approx(values["operating_temperature"], abs=0.01)


@pytest.mark.parametrize("cell", ["1,250", "12.500,00", "1 250", "1'250", "22,1"])
def test_decimal_commas_and_separators_are_asked(one, cell):
    result = one(HARDWARE, [*STACK, "Length [mm]"], ["PS-1", 1, "rod", cell])
    assert [f.code for f in result.findings] == ["number-ambiguous"]


def test_a_cell_shown_as_a_percentage_is_a_fraction_under_any_heading(tmp_path):
    import openpyxl

    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Nameplates"
    sheet.append([*PLATE, "Nameplate load", "Range minus [%]", "Range plus [%]"])
    sheet.append(["PS-1", "A", "kN", "mm", 20, 0.15, 10])
    sheet["F2"].number_format = "0%"
    book.save(tmp_path / "percent.xlsx")
    values = read(tmp_path / "percent.xlsx").records[0].values
    assert values["range_low"] == pytest.approx(17_000.0)
    assert values["range_high"] == pytest.approx(22_000.0)


def test_divisions_entered_as_millimetres_are_looked_at(workbook):
    plates = [[*PLATE, "Total travel"]] + [[f"PS-{i}", "A", "kN", "mm", 200] for i in range(3)]
    readings = [["Support tag", "Unit position", "Read on", "Read by", "Pointer [mm]"]]
    readings += [[f"PS-{i}", "A", "2020-05-17", "N. N.", 4 + i] for i in range(3)]
    result = read(workbook({"Nameplates": plates, "Readings": readings}))
    assert [(f.code, f.severity.value) for f in result.findings] == [("scale-divisions", "LOOK")]


def test_divisions_said_as_such_are_not_taken_for_a_length(one):
    headings = ["Support tag", "Unit position", "Read on", "Read by", "Pointer [div]"]
    result = one(READINGS, headings, ["PS-1", "A", "2020-05-17", "N. N.", 7])
    assert [f.code for f in result.findings] == ["unit-unknown"]
    assert "pointer" not in result.records[0].values


def test_millimetres_among_inches_are_looked_at(workbook):
    plates = [[*PLATE, "Total travel"]]
    travels = ['3 1/2"', "3.5", "3-1/2", 89]
    plates += [[f"PS-{i}", "A", "lbf", "in", travel] for i, travel in enumerate(travels)]
    result = read(workbook({"Nameplates": plates}))
    assert [(f.code, f.place.cell) for f in result.findings] == [("unit-size-suspicious", "E5")]
    assert "looks like mm under inches: 89" in result.findings[0].what
    assert not result.forbids_storing


@pytest.mark.parametrize(("unit", "load"), [("kgf", 20_015.4), ("daN", 20_410.0)])
def test_a_person_declares_the_units_of_single_cells(one, unit, load):
    """Scenario: after the declaration the values are taken, the text stays as found."""
    result = one(
        SETTINGS,
        SET,
        *set_rows(20.0, 4500, 2041),
        expected_loads={f"PS-{i}": 20_000.0 for i in range(3)},
        declared_units={("Settings", "D3"): "lbf", ("Settings", "D4"): unit},
    )
    loads = [record.values["load"] for record in result.records]
    assert loads == pytest.approx([20_000.0, 20_017.0, load], abs=0.5)
    assert [r.source.cells["load"].text for r in result.records] == ["20", "4500", "2041"]
    assert {(f.code, f.severity.value) for f in result.findings} == {
        ("unit-differs-from-heading", "LOOK")
    }


@pytest.mark.parametrize(
    ("cell", "words"),
    [("D9", "not there"), ("Z2", "not there"), ("here", "not there"), ("A2", "no bare number")],
)
def test_a_declaration_for_a_cell_without_a_number_is_refused(one, cell, words):
    with pytest.raises(BadInput, match=words):
        one(SETTINGS, SET, *set_rows(20.0), declared_units={("Settings", cell): "lbf"})
