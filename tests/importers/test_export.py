"""The blank workbook, and the register written out and read back without a difference."""

from __future__ import annotations

from datetime import date

import openpyxl
import pytest

from importers.export import export_csv, export_xlsx, tables_of
from importers.reading import read
from importers.sheets import SHEETS
from importers.template import write_blank, write_tables
from importers.unit_choice import CUSTOMARY, METRIC, heading_with_unit
from supports.proposals import Verb, compare

EXISTING = {
    ("line", ("L-1",)): {"area": "North", "nominal_size": "12", "outside_diameter": 0.3239,
                         "design_temperature": 811.15, "content_density": 7.5},
    ("support", ("PS-10",)): {"kind": "rest", "line": "L-1", "order_along": 2},
    ("support", ("007",)): {"kind": "constant hanger", "line": "L-1", "order_along": 1,
                            "elevation": -0.1, "note": "=1+1", "former_tag": "1E5"},
    ("unit", ("007", "A")): {"kind": "constant hanger", "serial": "0042", "year_built": 1987},
    ("nameplate", ("007", "A")): {"scale_unit": "lbf", "pointer_unit": "in", "provisional": "no",
                                  "nameplate_load": 20016.997268672254, "range_low": 17014.0,
                                  "range_high": 23018.123456789, "load_per_turn": 266.893,
                                  "load_per_turn_table": [[17014.0, 20000.1, 260.0],
                                                          [20000.1, 23018.0, 270.0]],
                                  "total_travel": 0.254, "deviation": 0.055},
    ("hardware", ("007", "all", "3")): {"kind": "clamp", "rated_load": 25000.0, "derating": 0.9},
    ("setting", ("007", "A", "2011-05-17", "")): {
        "happened_on": date(2011, 5, 17), "load": 20016.9, "turns_given": 8.333,
        "method": "scale", "set_by": "N. N."},
    ("reading", ("007", "A", "2024-02-29", "N. N.", "")): {
        "read_on": date(2024, 2, 29), "read_by": "N. N.", "scale_load": 19999.9,
        "rod_angle": -0.0314159, "pointer": 0.1234, "plant_state": "operating, steady"},
    ("nozzle limit", ("L-1", "N1")): {"force_x": 1234.5, "moment_z": 10000.0 / 3, "machine": "yes"},
}  # fmt: skip


@pytest.mark.parametrize("units", [METRIC, CUSTOMARY], ids=["metric", "customary"])
@pytest.mark.parametrize("form", ["xlsx", "csv"])
def test_what_is_written_reads_back_without_a_difference(tmp_path, form, units):
    path = tmp_path / ("out.xlsx" if form == "xlsx" else "out")
    (export_xlsx if form == "xlsx" else export_csv)(path, EXISTING, units=units)
    result = read(path)
    assert result.findings == ()
    proposals = compare(result.records, EXISTING)
    assert [p.record.key for p in proposals if p.verb is not Verb.SAME] == []
    assert {(r.subject, r.key) for r in result.records} == set(EXISTING)
    for record in result.records:
        assert set(record.values) == set(EXISTING[record.subject, record.key])


def test_a_plate_without_unit_of_load_is_written_with_the_unit_in_the_cell():
    existing = {("nameplate", ("PS-1", "A")): {"nameplate_load": 20_000.0, "total_travel": 0.2}}
    ((name, rows),) = tables_of(existing)
    row = dict(zip(rows[0], rows[1], strict=True))
    assert name == "Nameplates"
    assert (row["Nameplate load"], row["Total travel"]) == ("20.0 kN", "200.0 mm")
    assert row["Unit of load"] is None


def test_supports_are_written_in_natural_order():
    existing = {("support", (tag,)): {} for tag in ("PS-10", "PS-9", "PS-100")}
    ((_, rows),) = tables_of(existing)
    assert [row[0] for row in rows[1:]] == ["PS-9", "PS-10", "PS-100"]


def test_numbers_are_written_as_people_write_them():
    existing = {("support", ("PS-1",)): {"rod_length": 1.1}}
    ((_, rows),) = tables_of(existing)
    assert 1100.0 in rows[1]


def test_text_never_becomes_a_formula(tmp_path):
    write_tables(tmp_path / "x.xlsx", {"Supports": [["Support tag"], ["=1+1"], ["@x"], ["007"]]})
    sheet = openpyxl.load_workbook(tmp_path / "x.xlsx")["Supports"]
    assert [(c.value, c.data_type) for c in sheet["A"][1:]] == [
        ("=1+1", "s"),
        ("@x", "s"),
        ("007", "s"),
    ]


def test_csv_text_never_becomes_a_formula(tmp_path):
    export_csv(tmp_path, EXISTING)
    assert "'=1+1" in (tmp_path / "Supports.csv").read_text("utf-8-sig")


def test_same_content_same_bytes(tmp_path):
    for name in ("a.xlsx", "b.xlsx"):
        export_xlsx(tmp_path / name, EXISTING)
        write_blank(tmp_path / f"blank-{name}")
    assert (tmp_path / "a.xlsx").read_bytes() == (tmp_path / "b.xlsx").read_bytes()
    assert (tmp_path / "blank-a.xlsx").read_bytes() == (tmp_path / "blank-b.xlsx").read_bytes()


def test_the_blank_workbook_is_taken_and_holds_nothing(tmp_path):
    write_blank(tmp_path / "blank.xlsx")
    result = read(tmp_path / "blank.xlsx")
    assert (result.records, result.findings) == ((), ())
    assert [count.sheet for count in result.counts] == [sheet.name for sheet in SHEETS]


def test_the_blank_workbook_has_headings_with_units_drop_downs_and_notes(tmp_path):
    write_blank(tmp_path / "blank.xlsx")
    book = openpyxl.load_workbook(tmp_path / "blank.xlsx")
    sheet = book["Supports"]
    headings = [cell.value for cell in sheet[1]]
    assert "Rod length pin to pin [mm]" in headings
    assert sheet["A1"].font.bold
    assert "Must be filled" in sheet["A1"].comment.text
    kind = sheet.cell(1, headings.index("Support type") + 1).column_letter
    (rule,) = [v for v in sheet.data_validations.dataValidation if f"{kind}2" in str(v.sqref)]
    words = book["Words"][rule.formula1.split("!")[1].replace("$", "")]
    assert "constant hanger" in [cell.value for row in words for cell in row]
    assert sheet["A2"].number_format == "General" or sheet.column_dimensions["A"].width


@pytest.mark.parametrize("units", [METRIC, CUSTOMARY], ids=["metric", "customary"])
def test_a_unit_is_chosen_for_every_quantity(units):
    for sheet in SHEETS:
        for column in sheet.columns:
            assert heading_with_unit(column, units).startswith(column.heading)
