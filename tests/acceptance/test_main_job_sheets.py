"""Sheets in twice, out and in again, and where each value came from; on both databases."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from sqlalchemy import func, select

from app.settings import open_register
from demo.plant.plant import write_plant
from supports.model import AuditBatch, Nameplate, SettingEvent
from supports.queries.lookups import point_of, unit_of
from supports.queries.provenance import origins_at, where_from
from supports.queries.support_views import support_views
from tests.acceptance.sheets import one_constant
from tests.acceptance.site import Site


def batches(site: Site) -> int:
    with open_register(site.url).reading() as session:
        return session.scalar(select(func.count(AuditBatch.id))) or 0


def exported(site: Site, name: str) -> dict[str, str]:
    """Export; return each sheet's text by its name."""
    into = site.folder / name
    site.type("register", "export", "--into", str(into))
    return {path.stem: path.read_text("utf-8-sig") for path in sorted((into / "csv").iterdir())}


def test_a_file_brought_in_twice_changes_nothing(site):
    sheets = one_constant("PS-1", 20.0, 22.1, rod=40.0)
    assert site.bring("site.xlsx", sheets).endswith("Stored.\n")
    before = batches(site)
    again = site.bring("site.xlsx", sheets)
    assert "Nothing to store" in again
    assert batches(site) == before
    assert not [line for line in again.splitlines() if " create" in line and "0 create" not in line]


def test_the_whole_plant_brought_in_twice_changes_nothing(site):
    files = write_plant(site.folder / "sheets")
    for path in files:
        site.type("sheets", "import", str(path), "--accept-the-good", person="KK")
    before = batches(site)
    for path in files:
        again = site.type("sheets", "import", str(path), "--accept-the-good", person="KK")
        assert "Nothing to store" in again, path.name
    assert batches(site) == before
    exported_and_back(site)


def exported_and_back(site: Site) -> None:
    """Hold the export of the plant against that of a register filled from the export."""
    out = exported(site, "out")
    assert len(out) == 14
    for form in ("register.xlsx", "csv"):
        other = Site(site.folder, str(site.folder / f"{form}.db"), site.patch)
        other.type("register", "create", "--plant", "Other Works")
        other.type("people", "add", "Keeper", "--role", "register keeper", "--initials", "KK")
        other.type("sheets", "import", str(site.folder / "out" / form), person="KK")
        assert exported(other, f"back-{form}") == out


def test_events_of_one_day_all_survive_the_way_out_and_in(site):
    sheets = one_constant("PS-1", 20.0, 22.1, rod=40.0)
    settings = sheets["Settings"]
    settings[0] = [*settings[0], "Which of that day", "Turns given [-]"]
    settings[1] += [None, None]
    settings.append([*settings[1][:3], 21.0, *settings[1][4:7], 2, 4.0])
    site.bring("site.xlsx", sheets)
    with open_register(site.url).reading() as session:
        loads = session.execute(select(SettingEvent.load, SettingEvent.turns_given)).all()
    assert [tuple(row) for row in loads] == [(20_000.0, None), (21_000.0, 4.0)]
    assert exported(site, "one")["Settings"].count("2021-05-05") == 2


@pytest.fixture
def loaded(site):
    """Give a site with one hanger whose plate was read in lbf."""
    sheets = one_constant("PS-1", 20.0, 22.1, rod=40.0)
    sheets["Nameplates"][1][2:8] = ["lbf", "in", 4500, 4050, 4950, 55]
    sheets["Nameplates"][1][14:16] = [8, -5.5]
    site.bring("plates 2031.xlsx", sheets)
    return site


def test_a_value_tells_its_file_sheet_cell_and_text(loaded):
    with open_register(loaded.url).reading() as session:
        unit = unit_of(session, "PS-1")
        plate = session.scalars(select(Nameplate).where(Nameplate.unit_id == unit.id)).one()
        origin = where_from(session, "nameplate", plate.id, "nameplate_load")
        unknown = where_from(session, "nameplate", plate.id, "rate")
    assert unknown is None
    assert (origin.text, origin.unit) == ("4500", "lbf")
    assert str(origin.place) == "plates 2031.xlsx Nameplates E2"
    assert origin.actor == "Person KK"
    assert origin.value == pytest.approx(20_017.0, abs=0.1)  # 4500 x 4.448222 N


def test_every_value_of_every_row_at_a_support_has_an_origin(loaded):
    with open_register(loaded.url).reading() as session:
        found = list(origins_at(session, point_of(session, "PS-1")))
        (view,) = support_views(session)
    stated = [origin for _, origin in found if origin.text]
    assert len(stated) > 40
    assert all(origin.place.sheet and origin.place.cell for _, origin in found)
    book = openpyxl.load_workbook(loaded.folder / "plates 2031.xlsx")
    for origin in stated:
        cell = book[origin.place.sheet][origin.place.cell].value
        shown = cell.date().isoformat() if hasattr(cell, "date") else str(cell)
        assert shown.removesuffix(".0") == origin.text.removesuffix(".0"), origin
    assert view.units[0].serial in {origin.text for origin in stated}


def test_the_page_of_a_support_shows_the_sources(loaded):
    page = loaded.say("support show PS-1 --sources")
    assert "'4500' [lbf] in plates 2031.xlsx Nameplates E2, by Person KK on 2031-05-05" in page
    assert "plates 2031.xlsx" not in loaded.say("support show PS-1")


def test_a_changed_value_tells_the_newer_file(loaded):
    sheets = one_constant("PS-1", 20.0, 22.1, rod=40.0)
    only = {"Nameplates": sheets["Nameplates"]}
    only["Nameplates"][1][2:8] = ["lbf", "in", 4600, 4050, 4950, 55]
    only["Nameplates"][1][14:16] = [8, -5.5]
    assert " 1 change" in loaded.bring("plates 2032.xlsx", only)
    page = loaded.say("support show PS-1 --sources")
    assert "'4600' [lbf] in plates 2032.xlsx Nameplates E2" in page
    assert "'4050' [lbf] in plates 2031.xlsx Nameplates F2" in page


def test_a_register_made_by_command_can_be_filled(tmp_path: Path, monkeypatch):
    site = Site(tmp_path, str(tmp_path / "made.db"), monkeypatch)
    assert "Next: supports people add" in site.type("register", "create", "--plant", "Works")
    site.people()
    site.type("sheets", "blank", str(tmp_path / "blank.xlsx"))
    assert "Nothing to store" in site.type(
        "sheets", "import", str(tmp_path / "blank.xlsx"), person="KK"
    )
