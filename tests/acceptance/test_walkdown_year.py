"""A year of four campaigns on the invented plant: every planted fault is found, on both databases.

What is planted is known beforehand; the rules are those of the trade (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date

import openpyxl

from app.settings import open_register
from demo.plant.plant import write_plant
from supports.queries.walkdowns.findings import finding_views
from supports.queries.walkdowns.lookups import campaign_of, content_of_form, form_of
from supports.rules.walkdown.form import FormRow
from supports.rules.walkdown.words import Half
from tests.acceptance.site import Site
from tests.acceptance.walkdown_plant import inspectors

LINES = ("1-HO-1203", "1-MS-1202")
WALKS = (
    ("operating, steady", "2032-03-12", ""),
    ("shut down, full", "2032-04-02", "WD-2032-001"),
    ("operating, steady", "2032-10-08", ""),
    ("shut down, full", "2032-10-29", "WD-2032-003"),
)
DRIFT = 0.0025
"""Planted drift of a pointer [m per year]."""
FIRST = date(2025, 3, 10)


@dataclass
class Walk:
    """One walk as it is written: day, half, and what stands in which row."""

    day: date
    half: Half
    first_of_cycle: bool
    cells: dict[str, dict[str, object]] = field(default_factory=dict)

    def pointer(self, row: FormRow, value: float) -> None:
        scale = {"in": 0.0254, "mm": 0.001}[row.pointer_unit]
        self.cells.setdefault(row.tag, {})["Found pointer"] = value / scale


Plant = Callable[[Walk, FormRow], None]


def drifting(walk: Walk, row: FormRow) -> None:
    years = (walk.day - FIRST).days / 365.25
    last = next(one for one in reversed(row.last) if one.plant_state.startswith(walk.half))
    known = walk.cells.setdefault("", {}).setdefault(walk.half, last.pointer)
    walk.pointer(row, known - DRIFT * years)


def swapped(walk: Walk, row: FormRow) -> None:
    marks = {Half.OPERATING: row.plate.cold_mark, Half.SHUT_DOWN: row.plate.hot_mark}
    walk.pointer(row, marks[walk.half])


def jammed(walk: Walk, row: FormRow) -> None:
    walk.pointer(row, row.plate.cold_mark + 0.001)


def stuck_stop(walk: Walk, row: FormRow) -> None:
    walk.pointer(row, row.plate.cold_mark)
    walk.cells[row.tag]["Travel stop"] = "seized"


def bottomed(walk: Walk, row: FormRow) -> None:
    if walk.half is Half.OPERATING:
        walk.pointer(row, row.plate.total_travel)


PLANTED: dict[str, tuple[Plant, set[str]]] = {
    "PS-1025": (drifting, {"drift-between-walks"}),
    "PS-1021": (swapped, {"moves-the-wrong-way"}),
    "PS-1023": (jammed, {"moves-too-little"}),
    "PS-1019": (stuck_stop, {"lock-in-while-running", "lock-seized"}),
    "PS-1024": (bottomed, {"on-the-stop"}),
}


def walk_the_plant(walk: Walk, rows: tuple[FormRow, ...]) -> None:
    """Write every box: what is expected, and what is planted."""
    for row in rows:
        cells = walk.cells.setdefault(row.tag, {})
        cells |= {"Seen?": "yes", "Condition": "good", "Photo numbers": str(row.order)}
        wanted = row.expected
        if wanted is not None and wanted.pointer is not None:
            walk.pointer(row, wanted.pointer)
        if wanted is not None and wanted.load is not None:
            cells["Found load"] = wanted.load / {"kN": 1e3, "lbf": 4.4482216152605}[row.load_unit]
        if row.tag in PLANTED:
            PLANTED[row.tag][0](walk, row)


def fill_form(site: Site, number: str, walk: Walk) -> str:
    """Fill the form as issued; return the file."""
    path = site.folder / f"{number}-walkdown-rev1.xlsx"
    book = openpyxl.load_workbook(path)
    for line in book["Walk"].iter_rows(min_row=6):
        line[3].value, line[4].value, line[5].value = "Person T1", walk.day, line[2].value
    lines = list(book["Readings"].iter_rows(min_row=5))
    heads = [cell.value for cell in lines[0]]
    for line in lines[1:]:
        for heading, value in walk.cells.get(line[1].value, {}).items():
            line[heads.index(heading)].value = value
    book.save(path)
    return str(path)


def campaign(site: Site, state: str, day: str, pair: str, drift: dict) -> str:
    """Take one campaign from the plan to its sign-off; return its number."""
    lines = [word for line in LINES for word in ("--line", line)]
    pairing = ("--pair", pair) if pair else ()
    site.type(
        "walkdown", "plan", f"{state} walk", "--on", day, "--state", state, "--springs-only",
        *lines, *pairing, person="IN", on=day,
    )  # fmt: skip
    number = site.type("walkdown", "list", on=day).split()[0]
    site.type("walkdown", "package", number, "--into", str(site.folder), person="IN", on=day)
    site.type("walkdown", "out", number, "--walker", "Person T1", person="IN", on=day)
    with open_register(site.url).reading() as session:
        content = content_of_form(form_of(session, campaign_of(session, number)))
    walk = Walk(date.fromisoformat(day), content.half, not pair, {"": drift})
    walk_the_plant(walk, content.rows)
    file = fill_form(site, number, walk)
    assert "with conflicts" in site.type("walkdown", "return", number, file, person="FO", on=day)
    site.type("walkdown", "read-in", number, person="FO", on=day)
    site.type("walkdown", "review", number, person="I2", on=day)
    site.type("walkdown", "judge", number, person="I2", on=day)
    return number


def close(site: Site, number: str, day: str) -> None:
    """Give every finding its owner and sign the campaign off."""
    for one in found(site, number):
        site.type(
            "walkdown", "owner", one.number, "Person S1", "--due", "2032-12-20", person="IN", on=day
        )
    site.type("walkdown", "owners-named", number, person="IN", on=day)
    site.type("walkdown", "verdict", number, "fit to run on", person="S1", on=day)
    site.type("walkdown", "close", number, person="RE", on=day)


def found(site: Site, number: str) -> list:
    with open_register(site.url).reading() as session:
        return finding_views(session, campaign_of(session, number))


def test_a_year_of_walks_finds_all_that_was_planted_and_little_else(site):
    inspectors(site)
    for path in write_plant(site.folder / "sheets"):
        site.type("sheets", "import", str(path), "--accept-the-good", person="KK")
    drift: dict = {}
    told: dict[str, set[str]] = {}
    others: dict[str, set[str]] = {}
    for state, day, pair in WALKS:
        number = campaign(site, state, day, pair, drift)
        for one in found(site, number):
            (told if one.tag in PLANTED else others).setdefault(one.tag, set()).add(one.code)
        close(site, number, day)
    for tag, (_, codes) in PLANTED.items():
        assert codes <= told.get(tag, set()), tag
    movement = {"moves-the-wrong-way", "moves-too-little", "on-the-stop", "lock-seized"}
    assert {tag: codes & movement for tag, codes in others.items() if codes & movement} == {}
    report = site.type("walkdown", "report", number, "--into", str(site.folder)).strip()
    assert (site.folder / report).read_bytes().startswith(b"%PDF")
    assert "signed off" in site.type("walkdown", "list")
    drawn = site.type("walkdown", "trend", "PS-1025", "--into", str(site.folder / "drawn"))
    assert "mm a year" in (site.folder / "drawn" / "PS-1025-pointer.svg").read_text("utf-8"), drawn
    assert "overdue" in site.type("walkdown", "findings", "--overdue", on="2032-12-24")
