"""A plate that nobody can read, from 'cannot judge' to a provisional one and back, on both bases.

Figures are worked by hand: 2.1 kN at 0.25 kN a turn is 8.4 turns, 8 turns 2 flats.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from app.settings import open_register
from supports.errors import BadInput, NotAllowed
from supports.queries.walkdowns.findings import finding_views
from tests.acceptance.sheets import NAMEPLATES, one_constant, plate
from tests.acceptance.site import Site
from tests.acceptance.walk import CHANGE, assessed, verdicts
from tests.reports.reading import pages, squeezed

HEADINGS = {
    "Nameplate load": "20 kN", "Adjusting range low": "17 kN", "Adjusting range high": "23 kN",
    "Load per turn": "0.25 kN/turn", "Direction to increase, as on plate": "clockwise from below",
    "Number of load bolts": "1", "Load per turn counts": "every bolt turned once",
    "Load bolt pitch": "3 mm", "Free thread to increase": "100 mm",
    "Free thread to decrease": "100 mm", "Total travel": "200 mm",
    "Design travel, up positive": "-140 mm", "Setting changes travel": "no",
    "May be turned locked": "yes",
}  # fmt: skip


@pytest.fixture
def unreadable(site):
    """Give a site with one constant whose plate is painted over."""
    sheets = one_constant("PS-1", 20.0, 22.1, rod=40.0)
    unread = plate("PS-1", 20.0, 17.0, 23.0, 0.25)
    sheets["Nameplates"] = [NAMEPLATES, [*unread[:4], *[None] * (len(unread) - 4)]]
    site.bring("site.xlsx", sheets)
    site.type("people", "add", "Person I2", "--role", "inspector", "--initials", "I2", person="KK")
    return site


def stated(site: Site, second: str, person: str = "S1", **changes: str) -> str:
    values = [w for h, v in HEADINGS.items() for w in ("--value", f"{h} = {changes.get(h, v)}")]
    return site.type(
        "unit", "provisional-plate", "PS-1", *values, "--drawing", "D-17 rev 2",
        "--measured", "20.3 kN with a load cell, 2031-05-02", "--with", second, person=person,
    )  # fmt: skip


def again(site: Site) -> dict[str, str]:
    """Assess the change once more; return the verdicts."""
    words = ("--calculation", "C-1", "--revision", "B", "--aim", "pipe at its level")
    return verdicts(site.type("change", "assess", CHANGE, *words, person="S1"))


def words_of(site: Site, *command: str) -> str:
    """Return all that the papers of a command say."""
    printed = site.type(*command, "--into", str(site.folder / "papers"), person="IN")
    files = [Path(word) for word in printed.split() if word.endswith(".pdf")]
    return squeezed(" ".join(page for file in files for page in pages(file.read_bytes())))


def walked(site: Site) -> None:
    """Walk the unit, judge it and sign the walk off."""
    site.say("walkdown plan yearly --on 2031-05-05 --number WD-1", person="IN")
    form = words_of(site, "walkdown", "package", "WD-1")
    assert squeezed("constant hanger, plate provisional") in form
    key = "--on 2031-05-05 --state 'operating, steady' --load 20 --load-unit kN"
    wrong = "--wrong 'plate not readable' --grade good --photos 1"
    site.say(f"walkdown key WD-1 PS-1 --walker 'Person T1' {key} {wrong}", person="FO")
    for step, person in (("read-in", "FO"), ("review", "I2"), ("judge", "I2")):
        site.say(f"walkdown {step} WD-1", person=person)
    with open_register(site.url).reading() as session:
        numbers = [one.number for one in finding_views(session)]
    for number in numbers:
        site.say(f"walkdown owner {number} 'Person S1' --due 2031-12-01", person="IN")
    site.say("walkdown owners-named WD-1", person="IN")
    site.say("walkdown verdict WD-1 'plate to be found'", person="S2")
    site.say("walkdown close WD-1", person="RE")


def test_a_plate_nobody_can_read_is_provisional_by_two_people_until_the_next_walk(unreadable):
    site = unreadable
    printed = assessed(site)
    assert verdicts(printed)["PS-1"].startswith("cannot judge (missing: ")
    assert "turns" not in verdicts(printed)["PS-1"]

    stated(site, "IN")
    assert again(site) == {"PS-1": "re-set: 8 turns 2 flats, clockwise from below"}
    with open_register(site.url).reading() as session:
        assert not finding_views(session)
    told = words_of(site, "change", "summary", CHANGE)
    assert "PLATEPROVISIONAL" in told
    assert squeezed("drawing D-17 rev 2; measured: 20.3 kN with a load cell") in told
    assert squeezed("Person S1 and Person IN") in told
    assert "provisional" in words_of(site, "paper", "make", "support-data-sheet", "PS-1")

    walked(site)
    assert again(site)["PS-1"].startswith("cannot judge (missing: ")
    assert "whole" in site.say("audit verify")
    with pytest.raises(BadInput, match="names values, a drawing and a measurement"):
        site.type("unit", "provisional-plate", "PS-1", "--value", "Total travel = 200 mm",
                  "--drawing", " ", "--measured", "x", "--with", "IN", person="S1")  # fmt: skip


def test_one_person_two_engineers_or_a_known_plate_do_not_make_it(unreadable):
    site = unreadable
    with pytest.raises(NotAllowed, match="state the plate themselves"):
        stated(site, "S1")
    with pytest.raises(NotAllowed, match="another who measured on site"):
        stated(site, "S2")
    with pytest.raises(NotAllowed, match="may state a provisional plate"):
        stated(site, "IN", person="T1")
    with pytest.raises(BadInput, match="heading = value"):
        site.type("unit", "provisional-plate", "PS-1", "--value", "Nameplate lode = 20 kN",
                  "--drawing", "D", "--measured", "x", "--with", "IN", person="S1")  # fmt: skip
    sheets = one_constant("PS-1", 20.0, 22.1, rod=40.0)
    site.bring("read.xlsx", {"Nameplates": sheets["Nameplates"]})
    with pytest.raises(BadInput, match="the plate at PS-1 is known"):
        stated(site, "IN")
