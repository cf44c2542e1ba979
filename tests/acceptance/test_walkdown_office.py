"""A form filled in with LibreOffice, saved by it, and taken back: the ids hold, the boxes are read.

Skipped where the Debian package libreoffice-calc is missing: no Python package brings it.
"""

from __future__ import annotations

import pytest
from sqlalchemy import select

from app.settings import open_register
from supports.model import WalkEntry
from supports.queries.walkdowns.lookups import campaign_of, content_of_form, form_of
from tests.acceptance.site import Site
from tests.acceptance.walkdown_plant import fill, planned
from tests.office import OFFICE, WHY_NOT, cells_of, type_into

pytestmark = pytest.mark.skipif(not OFFICE, reason=WHY_NOT)


@pytest.fixture(scope="module")
def profile(tmp_path_factory):
    """Give a folder for the office program's own settings."""
    return tmp_path_factory.mktemp("office")


def entries(site: Site, number: str) -> dict[str, WalkEntry]:
    """Return what was taken, by tag."""
    with open_register(site.url).reading() as session:
        form = content_of_form(form_of(session, campaign_of(session, number)))
        tags = {row.item_id: row.tag for row in form.rows}
        held = {tags[one.item_id]: one for one in session.scalars(select(WalkEntry))}
        session.expunge_all()
        return held


def test_a_form_filled_in_with_an_office_program_comes_back_whole(site, profile):
    fill(site)
    number = planned(site)
    blank = site.folder / f"{number}-walkdown-rev1.xlsx"
    filled = site.folder / "filled by hand.xlsx"
    at = cells_of(blank, "Readings")
    walk = cells_of(blank, "Walk")
    typed = {
        walk["L-7", "Walked by"]: "Person T1",
        walk["L-7", "Day of reading"]: "2031-05-06",
        walk["L-7", "Plant state found"]: "operating, steady",
        at["C-1", "Found pointer"]: "178.5",
        at["C-1", "Found load"]: "20.1",
        at["C-1", "Condition"]: "good",
        at["C-2", "Found pointer"]: "7",
        at["C-2", "Unit of the pointer"]: "divisions",
        at["C-2", "Marks on the whole scale"]: "10",
        at["C-2", "Act by"]: "2031-09-01",
        at["C-3", "Seen?"]: "no",
        at["C-3", "Not seen, because"]: "scaffold, ladder and light missing",
        at["C-4", "Found load"]: "about 20",
        # Boxes that are locked: the program does not take what is typed there.
        at["C-5", "Tag"]: "C-99",
        at["C-5", "Row seal"]: "0000",
    }
    type_into(blank, filled, typed, profile)
    said = site.type("walkdown", "return", number, str(filled), person="FO", on="2031-05-09")
    assert "8 rows" in said
    assert "C-4: NOT TAKEN load: 'about 20'" in said
    taken = entries(site, number)
    first, marks, unseen = taken["C-1"], taken["C-2"], taken["C-3"]
    assert first.values["pointer"] == pytest.approx(0.1785)
    assert first.values["load"] == pytest.approx(20.1e3)
    assert (first.values["grade"], first.walker, f"{first.read_on}") == (
        "good", "Person T1", "2031-05-06",
    )  # fmt: skip
    # 7 of 10 marks on 200 mm stand at 140 mm.
    assert marks.values["pointer"] == pytest.approx(0.140)
    assert marks.values["act_by"] == "2031-09-01"
    assert "load" not in marks.values
    assert (unseen.values["seen"], unseen.values["why_not"]) == (
        False, "scaffold, ladder and light missing",
    )  # fmt: skip
    assert set(taken) == {"C-1", "C-2", "C-3", "C-4"}
    again = site.type("walkdown", "return", number, str(filled), person="FO", on="2031-05-10")
    assert "read in before; nothing was changed" in again
