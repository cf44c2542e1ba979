"""What leaves the register: sheets that come in again, history to be read, the rest by count."""

from __future__ import annotations

import csv

import openpyxl

from tests.acceptance.sheets import one_constant


def test_the_export_says_what_is_not_in_it(site):
    site.bring("plant.xlsx", one_constant("PS-1", 20.0, 22.1, rod=60.0))
    site.type(
        "sheets", "decide", "HX-1", "--renamed-from", "PS-1", "--since", "2031-05-01", person="KK"
    )
    site.type("stops", "in", "HX-1", "P-7", "--reason", "=test", person="T1")
    into = site.folder / "out"
    said = site.type("register", "export", "--into", str(into))
    assert "come in again" in said
    assert "2 rows of Tags through time" in said
    assert "1 row of join decision" in said
    assert "rows of audit entry" in said
    book = openpyxl.load_workbook(into / "history.xlsx")
    tags = [[cell.value for cell in row] for row in book["Tags through time"].iter_rows()]
    assert [row[1] for row in tags[1:]] == ["PS-1", "HX-1"]
    assert len(book["People and roles"]["A"]) == 12
    with (into / "history" / "Travel stops.csv").open(encoding="utf-8-sig", newline="") as file:
        (head, row) = csv.reader(file)
    assert dict(zip(head, row, strict=True))["Pin number"] == "P-7"
    assert dict(zip(head, row, strict=True))["Reason"] == "'=test"
    everything = "".join(path.read_text("utf-8-sig") for path in (into / "history").iterdir())
    assert "k" * 32 not in everything, "the key that seals forms never leaves"


def test_readings_of_a_unit_taken_down_are_counted(site):
    site.bring("plant.xlsx", one_constant("PS-1", 20.0, 22.1, rod=60.0))
    from app.settings import open_register
    from supports.model import UnitPlacement
    from tests.acceptance.conftest import NOW

    with open_register(site.url).writing("KK", "", NOW, action="test") as writing:
        placement = writing.session.query(UnitPlacement).one()
        placement.until = NOW.date()
    said = site.type("register", "export", "--into", str(site.folder / "out"))
    assert "1 row of setting of a unit that hangs nowhere now" in said
