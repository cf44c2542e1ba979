"""A small file against a large register: what is read by name answers as all of it does."""

from __future__ import annotations

from datetime import date

import pytest

import app.intake
from app.intake import read_file
from app.settings import open_register
from importers.template import write_tables
from tests.acceptance.sheets import SETTINGS, one_constant

TODAY = date(2031, 5, 5)
SAID = ["A", "2030-05-05", 20.0, "scale", "shut down, drained", "N. N."]


@pytest.fixture
def plant(site):
    """Give five supports of one line; one was renamed, one is called otherwise by a source."""
    sheets = {n: list(rows) for n, rows in one_constant("PS-1024", 20.0, 20.1, rod=60.0).items()}
    for tag in ("PS-1025", "PS-1026", "PS-2001", "PS-3000"):
        for name, rows in one_constant(tag, 20.0, 20.1, rod=60.0).items():
            if name not in {"Lines", "Calculations"}:
                sheets[name].extend(rows[1:])
    for order, row in enumerate(sheets["Supports"][1:], start=1):
        row[2] = order
    site.bring("plant.xlsx", sheets)
    for name, word, tag in (("HX-7", "--renamed-from", "PS-1026"), ("A7", "--same-as", "PS-1025")):
        words = ("--source", "design", word, tag, "--reason", "on the drawing")
        site.type("sheets", "decide", name, *words, person="KK")
    return site


def test_what_is_read_by_name_answers_as_the_whole_register_does(plant, monkeypatch):
    """Present, former, accepted, cleaned, look-alike, near, strange; a load in the wrong unit."""
    tags = ["PS-1024", "PS-1026", "A7", "ps 1025", "PS-1O24", "PS-20011", "XX-9", "HX-7", "PS-2001"]
    rows = [[tag, *SAID] for tag in tags]
    rows[1][2] = "2030-04-04"
    rows[-1][3] = 4500
    lacking = [["Serial number", *SETTINGS[2:]], ["SN-PS-1025", *SAID[1:]]]
    write_tables(plant.folder / "tags.xlsx", {"Settings": [SETTINGS, *rows]})
    write_tables(plant.folder / "marks.xlsx", {"Settings": lacking})
    register = open_register(plant.url)

    def answers():
        found = [
            read_file(register, plant.folder / name, TODAY, source="design", on=TODAY)
            for name in ("tags.xlsx", "marks.xlsx")
        ]
        return [(one.result, one.joined, one.counts) for one in found]

    by_name = answers()
    monkeypatch.setattr(app.intake, "names_asked", lambda *_: None)
    of_all = answers()
    assert str(by_name) == str(of_all)
    (result, joined, _), (marked, _, _) = by_name
    assert {f.code for f in result.findings} >= {
        *("join-to-decide", "support-not-known", "tag-former", "tag-cleaned"),
        "unit-size-suspicious",
    }
    assert [record.key[:2] for record in marked.records] == [("PS-1025", "A")]
    assert joined.not_met == ("PS-2001", "PS-3000")
