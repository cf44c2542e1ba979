"""Column profiles: signs and axes declared before loads are taken; guesses with their reasons."""

from __future__ import annotations

import json

import pytest

from importers.guesses import guess_columns
from importers.profiles import Axes, Profile, calculation_profile
from importers.reading import read
from importers.sheets import SUPPORTS
from importers.table import Table
from supports.errors import BadInput, ColumnMissing

NAMES = {"Point": "Support tag", "Line": "Line number"}
FIXED = {"calculation": "C-1", "revision": "B", "case": "W+P+T", "case_kind": "operating"}


def report(*row):
    return [["Point", "Line", "FX", "FY", "FZ", "DX", "DY", "DZ"], ["PS-1", "L-1", *row]]


A = report(120.0, -80.0, -22_100.0, 3.0, -1.0, 12.5)
"""Up is Z, forces on the support in N, movements in mm."""
B = report(0.12, 22.1, -0.08, 3.0, 12.5, 1.0)
"""Up is Y, forces on the pipe in kN, movements in mm."""


def profile_of(axes, unit):
    return calculation_profile(
        axes,
        forces={"x": "FX", "y": "FY", "z": "FZ"},
        force_unit=unit,
        movements={"x": "DX", "y": "DY", "z": "DZ"},
        movement_unit="mm",
        headings=NAMES,
        constants=FIXED,
    )


PROFILE_A = profile_of(Axes("+z", "support", east="+x", north="+y"), "N")
PROFILE_B = profile_of(Axes("+y", "pipe", east="+x", north="-z"), "kN")


@pytest.mark.parametrize(("rows", "profile"), [(A, PROFILE_A), (B, PROFILE_B)], ids=["A", "B"])
def test_two_conventions_give_one_carrying_load(workbook, rows, profile):
    """Scenario: -22,100 N on the support, up = Z, and +22.1 kN, up = Y, are one load."""
    result = read(workbook({"Restraints": rows}), profiles={"Restraints": profile})
    (record,) = result.records
    assert record.key == ("C-1", "B", "PS-1", "L-1", "W+P+T")
    assert record.values["load"] == pytest.approx(22_100.0, rel=1e-12)
    assert record.values["movement_up"] == pytest.approx(0.0125, rel=1e-12)
    assert record.values["movement_east"] == pytest.approx(0.003, rel=1e-12)
    assert record.values["movement_north"] == pytest.approx(-0.001, rel=1e-12)
    assert record.values["case_kind"] == "operating"
    assert not result.forbids_storing
    assert record.source.cells["load"].text in {"-22100", "22.1"}


def test_without_a_profile_nothing_is_taken_from_such_columns(workbook):
    head = ["Calculation", "Revision", "Tag", "Line", "Case", "Case kind"]
    row = ["C-1", "B", "PS-1", "L-1", "W", "operating"]
    sheets = {"Calculation loads": [[*head, "Load [N]", "FZ"], [*row, -22_100, -22_100]]}
    result = read(workbook(sheets))
    doubts = [f.place.cell for f in result.findings if f.code == "sign-or-axis-doubt"]
    assert doubts == ["H1", "G1"]
    assert result.forbids_storing
    assert "load" not in result.records[0].values


@pytest.mark.parametrize("heading", ["Movement", "Design travel"])
def test_a_movement_whose_heading_does_not_say_which_way_is_positive_is_asked(workbook, heading):
    head = ["Support tag", "Unit of load", "Unit of travel", heading]
    result = read(workbook({"Nameplates": [head, ["PS-1", "kN", "mm", 25]]}))
    assert [(f.code, f.place.cell) for f in result.findings] == [("sign-or-axis-doubt", "D1")]
    assert result.findings[0].expected.startswith(f"the heading '{heading}, up positive'")
    assert not {"movement", "design_travel"} & result.records[0].values.keys()
    head[3] += ", up positive"
    result = read(workbook({"Nameplates": [head, ["PS-1", "kN", "mm", -25]]}))
    assert result.findings == ()
    assert -0.025 in result.records[0].values.values()


def test_a_strangers_table_without_a_profile_lacks_its_columns(workbook):
    with pytest.raises(ColumnMissing):
        read(workbook({"Calculation loads": A}))


def test_a_heading_that_states_the_sign_needs_no_profile(workbook):
    head = ["Calculation", "Revision", "Tag", "Line", "Case", "Case kind"]
    row = ["C-1", "B", "PS-1", "L-1", "W", "operating", -3]
    sheets = {"Calculation loads": [[*head, "Load, carrying positive [kN]"], row]}
    result = read(workbook(sheets))
    assert result.findings == ()
    assert result.records[0].values["load"] == -3000.0


def test_a_profile_is_plain_data(workbook):
    stored = json.loads(json.dumps(PROFILE_A.as_data()))
    assert Profile.from_data(stored) == PROFILE_A


@pytest.mark.parametrize(
    ("axes", "load", "up"),
    [
        (Axes("+z", "support"), 22_100.0, 0.0125),
        (Axes("-z", "support"), -22_100.0, -0.0125),
        (Axes("+z", "pipe"), -22_100.0, 0.0125),
        (Axes("-z", "pipe"), 22_100.0, -0.0125),
    ],
)
def test_each_convention_turns_what_it_must(workbook, axes, load, up):
    result = read(workbook({"R": A}), profiles={"R": profile_of(axes, "N")})
    assert result.records[0].values["load"] == pytest.approx(load)
    assert result.records[0].values["movement_up"] == pytest.approx(up)


def test_axes_that_contradict_each_other_are_refused():
    with pytest.raises(BadInput, match="one axis"):
        profile_of(Axes("+z", "support", east="-z"), "N")
    with pytest.raises(BadInput, match="upward force"):
        calculation_profile(Axes("+z", "support"), forces={"y": "FY"}, force_unit="N")


def test_a_constant_off_its_list_is_refused(workbook):
    profile = Profile("Calculation loads", PROFILE_A.headings, {}, {**FIXED, "case_kind": "hot"})
    with pytest.raises(BadInput, match="'Case kind' is not on the list"):
        read(workbook({"R": A}), profiles={"R": profile})


def test_guesses_give_their_reason_and_their_runner_up():
    rows = [
        ["Supp. tag", "Typ of support", "Rod lenght (mm)", "Qzx", "Area"],
        ["PS-1", "constant hanger", 1200.0, "?", "N"],
        ["PS-2", "rest", 900.0, "-", "N"],
    ]
    guesses = guess_columns(Table("f", "s", rows), SUPPORTS, 0)
    assert [guess.field for guess in guesses] == ["tag", "kind", "rod_length", "", "area"]
    rod = guesses[2]
    assert "resembles 'Rod length" in rod.reason
    assert "unit mm is one of a length" in rod.reason
    assert "100% of its values" in rod.reason
    assert rod.runner_up not in {"", "rod_length"}
    assert rod.score > rod.runner_up_score > 0.0
    assert guesses[3].reason == "nothing fits well enough"
    assert guesses[4].score == 1.0
