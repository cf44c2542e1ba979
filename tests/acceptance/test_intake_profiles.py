"""What a stranger's columns mean: proposed with reasons, confirmed once, silent next year."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from app.settings import open_register
from supports.errors import BadInput, ColumnMissing, NotAllowed, SheetMissing
from supports.model import RequiredLoad, SupportPoint
from tests.acceptance.sheets import CALCULATIONS, LINES
from tests.acceptance.site import Site

LIST = ["Supp. tag", "Line numbr", "Typ of support", "Rod lenght (mm)", "Qzx"]
REPORT = ["Support tag", "Line number", "FX (N)", "FY (N)", "FZ (N)", "DZ (mm)"]
CALC = ["Calculation=C-1", "Revision=B", "Case=W+P+T", "Case kind=operating"]


@pytest.fixture
def office(site) -> Site:
    """Give a site with a line, and a list as its design office keeps it."""
    site.bring("lines.xlsx", {"Lines": [LINES, ["L-1", "N", "12"]]})
    rows = [["PS-1", "L-1", "constant hanger", 3000, "?"], ["PS-2", "L-1", "rest", 900, "-"]]
    site.write("office 2031.xlsx", {"Hangers 2031": [["as of May"], [], LIST, *rows]})
    return site


def in_(site: Site, name: str) -> str:
    return str(site.folder / name)


def confirm(site: Site, name: str, *words: str, person: str = "KK") -> str:
    return site.type("sheets", "confirm", in_(site, name), *words, person=person)


def test_a_strangers_list_is_proposed_with_reason_and_runner_up(office):
    said = office.type("sheets", "propose", in_(office, "office 2031.xlsx"))
    assert "sheet 'Hangers 2031', headings in row 3: read as 'Supports'" in said
    row = next(line for line in said.splitlines() if "Rod lenght" in line)
    assert "Rod length pin to pin [mm]" in row
    assert "resembles" in row
    assert "; else " in row
    assert any("Qzx" in line and "(left aside)" in line for line in said.splitlines())


def test_nothing_is_read_before_a_person_has_confirmed(office):
    path = in_(office, "office 2031.xlsx")
    with pytest.raises(SheetMissing, match="sheets propose"):
        office.type("sheets", "import", path, person="KK")
    with pytest.raises(SheetMissing, match="sheets propose"):
        office.type("sheets", "import", path, "--source", "office", person="KK")
    with pytest.raises(NotAllowed, match="nobody is named"):
        confirm(office, "office 2031.xlsx", "--source", "office", person="")
    with pytest.raises(BadInput, match="belongs to a source"):
        confirm(office, "office 2031.xlsx")


def test_a_profile_is_confirmed_once_and_next_years_file_is_silent(office):
    kept = confirm(office, "office 2031.xlsx", "--source", "office")
    assert "left aside: Qzx" in kept
    first = office.type(
        "sheets", "import", in_(office, "office 2031.xlsx"), "--source", "office", person="KK"
    )
    assert "2 create" in first
    newer = [["PS-1", "L-1", "constant hanger", 3000, ""], ["PS-3", "L-1", "guide", None, ""]]
    office.write("office 2032.xlsx", {"Hangers 2032": [LIST, *newer]})
    said = office.type(
        "sheets", "import", in_(office, "office 2032.xlsx"), "--source", "office", person="KK"
    )
    assert said.splitlines()[1:] == [
        "  support            1 create      0 change      1 same",
        "Stored.",
    ]
    with open_register(office.url).reading() as session:
        assert len(session.scalars(select(SupportPoint)).all()) == 3


def test_a_column_that_is_gone_next_year_is_said(office):
    confirm(office, "office 2031.xlsx", "--source", "office")
    rows = [LIST[:3], ["PS-1", "L-1", "rest"]]
    office.write("office 2032.xlsx", {"Hangers 2031": rows})
    said = office.type("sheets", "check", in_(office, "office 2032.xlsx"), "--source", "office")
    assert "profile-column-missing" in said
    assert "'Rod lenght (mm)'" in said


def test_a_profile_is_replaced_by_a_new_one_and_the_old_one_stays_known(office):
    confirm(office, "office 2031.xlsx", "--source", "office")
    confirm(office, "office 2031.xlsx", "--source", "office", "--leave", "Rod lenght (mm)")
    lines = office.type("sheets", "profiles").splitlines()
    assert [line.rpartition("(")[2] for line in lines] == ["replaced)", "holds)"]
    assert all("by Person KK" in line for line in lines)
    said = office.type("sheets", "check", in_(office, "office 2031.xlsx"), "--source", "office")
    assert "heading-not-known" not in said


WRONG = (
    (("--read", "Nix=Note"), "no such heading"),
    (("--read", "Qzx=Colour"), "no such column"),
    (("--read", "Qzx"), "not understood"),
    (("--constant", "Colour=red"), "no column 'Colour'"),
    (("--constant", "Support type=lamp"), "not on the list"),
    (("--sheet", "Nix"), "no sheet 'Nix'"),
    (("--as-sheet", "Nix"), "no sheet 'Nix' to read it as"),
)


def test_what_cannot_be_confirmed_is_told_and_nothing_is_kept(office):
    for words, match in WRONG:
        with pytest.raises(BadInput, match=match):
            confirm(office, "office 2031.xlsx", "--source", "office", *words)
    assert office.type("sheets", "profiles") == "Nothing is confirmed yet.\n"


@pytest.fixture
def stress(office) -> Site:
    """Give reports of two conventions on the same load: 22.1 kN carried."""
    confirm(office, "office 2031.xlsx", "--source", "office")
    office.type(
        "sheets", "import", in_(office, "office 2031.xlsx"), "--source", "office", person="KK"
    )
    calculation = ["C-1", "B", "full analysis", "issued", "2031-05-01"]
    office.bring("calc.xlsx", {"Calculations": [CALCULATIONS, calculation]})
    office.write("a.xlsx", {"Restraints": [REPORT, ["PS-1", "L-1", 120, -80, -22_100, 12.5]]})
    b = [REPORT[0], REPORT[1], "FX", "FY", "FZ", "DY"]
    office.write("b.xlsx", {"Nodes": [b, ["PS-1", "L-1", 0.12, 22.1, -0.08, 12.5]]})
    return office


CONSTANTS = [word for text in CALC for word in ("--constant", text)]
A = ("--source", "group A", "--up", "+z", "--forces-on", "support", *CONSTANTS)
UNITS = ("--force-unit", "kN", "--movement-unit", "mm")
B = ("--source", "group B", "--up", "+y", "--forces-on", "pipe", *UNITS, *CONSTANTS)


@pytest.mark.parametrize(("name", "words"), [("a.xlsx", A), ("b.xlsx", B)])
def test_loads_are_taken_only_with_their_sign_and_axes(stress, name, words):
    """Scenario: -22,100 N on the support, up = Z, and +22.1 kN, up = Y, are one load."""
    assert "sign and axes are to be declared" in stress.type("sheets", "propose", in_(stress, name))
    with pytest.raises(BadInput, match="without their sign and axes"):
        confirm(stress, name, *words[:2])
    confirm(stress, name, *words)
    stress.type("sheets", "import", in_(stress, name), *words[:2], person="KK")
    with open_register(stress.url).reading() as session:
        (load,) = session.scalars(select(RequiredLoad)).all()
        assert load.load == pytest.approx(22_100.0, rel=1e-12)
        assert load.movement_up == pytest.approx(0.0125, rel=1e-12)


def test_a_calculation_without_axes_is_not_read_as_if_it_had_them(stress):
    with pytest.raises((SheetMissing, ColumnMissing)):
        stress.type("sheets", "import", in_(stress, "a.xlsx"), person="KK")
    for words, match in (
        (("--up", "+w", "--forces-on", "support"), "--up is not an axis"),
        (("--up", "+z"), "what the forces act on"),
        (("--up", "+z", "--forces-on", "support", "--east", "+z", *UNITS), "one axis"),
        (("--up", "+z", "--forces-on", "support", "--force-unit", ""), "unit of the forces"),
        (
            (
                "--up",
                "+z",
                "--forces-on",
                "pipe",
                *UNITS,
                "--read",
                "FZ=Movement up [mm]",
                "--force",
                "z=FX",
            ),
            "of 'FZ' it is not said along which axis",
        ),
    ):
        with pytest.raises(BadInput, match=match):
            confirm(stress, "b.xlsx", "--source", "group B", *words, *CONSTANTS)
