"""Work orders at the desk: readings judged at once, words of two roles, copies, travel stops."""

from __future__ import annotations

import io
import shutil
from collections.abc import Iterator
from pathlib import Path

import openpyxl
import pytest

from supports.database import Register, sqlite_url
from supports.model import Reading
from supports.operations.part_way import Round, record_round
from supports.queries.lookups import unit_of
from supports.queries.start_up import start_up_of
from supports.queries.stops import pins_in
from supports.queries.unit_history import settings_of
from tests.operations.road import Road, road_on
from tests.web.desks import furnish_desk
from tests.web.sheet_files import words
from tests.web.works import ORDER, Works

UNIT, AT = f"{ORDER}/units/C1/A", f"{ORDER}/at/C1/A"
DRAINED = {"state": "shut down, drained", "pointer": "40", "on": "2031-05-04"}


@pytest.fixture(scope="module")
def given_out(sqlite_migrated: Path, tmp_path_factory) -> Path:
    """Return the file of a register with a given-out order."""
    path = Path(shutil.copy(sqlite_migrated, tmp_path_factory.mktemp("orders") / "works.db"))
    register = Register(sqlite_url(path))
    road = road_on(register)
    furnish_desk(register)
    road.given_out()
    register.settle()
    register.close()
    return path


@pytest.fixture
def works(given_out: Path, tmp_path: Path) -> Iterator[Works]:
    """Give a copy of it."""
    register = Register(sqlite_url(Path(shutil.copy(given_out, tmp_path / "works.db"))))
    yield Works(Road(register, order="WO-2031-001"))
    register.close()


def found(works: Works, load: str = "20.0") -> None:
    answer = works.do("T1", f"{AT}/read-as-found", load=load, read_by="T1", **DRAINED)
    assert answer.headers["location"] == UNIT


def left(works: Works, load: str) -> None:
    typed = {"load": load, "read_by": "T1", "second_reader": "T2", "turns": "8.4"} | DRAINED
    assert works.do("T1", f"{AT}/read-as-left", **typed).status_code == 303


def test_each_role_is_offered_its_own_at_a_unit(works):
    assert works.offered("T1", UNIT) == {"read-as-found"}
    found(works)
    assert works.offered("T1", UNIT) == {"read-after-a-round", "read-as-left", "stop-part-way"}
    left(works, "22.1")
    assert works.offered("IN", UNIT) == {"accept"}
    assert works.offered("S2", UNIT) == {"accept"}
    assert works.offered("T1", UNIT) == set()
    assert "Accept as left: inspector, stress engineer" in works.visitor("T1").look(UNIT).text


@pytest.mark.parametrize("name", ["T1", "PL", "RE", "OP", "CO"])
def test_accepting_is_for_inspectors_and_stress_engineers_who_did_not_read(works, name):
    found(works)
    left(works, "22.1")
    assert works.do(name, f"{AT}/accept").status_code == 403
    assert works.road.states()["C1"] == "finished, to be checked"


def test_a_bare_number_is_in_the_unit_of_the_scale_and_another_unit_is_taken_with_its_name(works):
    found(works, "4496.2 lbf")
    left(works, "22.10")
    with works.road.register.reading() as session:
        unit = unit_of(session, "C1", "").id
        newest = settings_of(session, [unit])[unit][-1]
    assert newest.load == pytest.approx(22_100.0)
    text = works.visitor("T1").look(UNIT).text
    assert "20.00 kN" in text  # 4496.2 lbf of 4.448222 N


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"load": ""}, "its scale load must be read"),
        ({"load": "about 20"}, "a load is a number with its unit"),
        ({"load": "20.0", "on": "2031-05-05"}, "a day to come"),
        ({"load": "20.0", "state": "operating, steady"}, "may not begin"),
    ],
)
def test_what_is_no_reading_is_not_taken_and_nothing_typed_is_lost(works, typed, told):
    said = DRAINED | {"note": "ladder is short"} | typed
    answer = works.do("T1", f"{AT}/read-as-found", **said)
    assert answer.status_code in {400, 409}
    assert told in answer.text
    assert "ladder is short" in answer.text
    assert works.road.states()["C1"] == "written"


@pytest.mark.parametrize(
    ("expected", "load", "told"),
    [
        ("20.75", "20.75", "✓ as expected"),
        ("20.75", "20.95", "STOP: tell the engineer"),
        ("", "20.75", "? cannot judge"),
    ],
)
def test_a_round_is_judged_at_once(works, expected, load, told):
    """Three turns of 250 N: 20.00 to 20.75 kN; 20 % of the step is 150 N. Common practice."""
    found(works)
    typed = {"number": "1", "load": load, "expected": expected}
    answer = works.do("T1", f"{AT}/read-after-a-round", **typed)
    assert answer.headers["location"] == f"{UNIT}#rounds"
    assert told in works.visitor("T1").look(UNIT).text


def test_a_round_counts_from_what_was_read_before_it(works):
    """By the command, too: the step is counted from the last round where no plan foretells it."""
    found(works)
    road = works.road

    def read(number: int, load: float, expected: float | None) -> bool | None:
        done = Round(number, load, "T1", expected=expected)
        return record_round(road.register, road.order, ("C1", ""), done, acting="T1", now=road.now)

    assert read(1, 20_700.0, 20_750.0) is True
    assert read(2, 21_000.0, 21_450.0) is False  # 300 of 750 N: far off
    assert read(3, 21_750.0, None) is None


def test_found_elsewhere_waits_for_the_engineer(works):
    found(works, "21.0")
    assert works.road.states()["C1"] == "as-found differs, back to the engineer"
    assert works.do("T1", f"{AT}/release", reason="go on").status_code == 403
    assert works.do("S1", f"{AT}/release", reason="scale sticks").status_code == 303
    assert works.road.states()["C1"] == "in hand"


def test_out_of_its_window_two_roles_accept_in_writing(works):
    found(works)
    left(works, "21.4")
    where = f"{AT}/accept-out-of-window"
    assert works.do("IN", where, reason="near enough").status_code == 403
    missing = works.do("S1", where, reason="bolt is seized")
    assert missing.status_code == 400
    assert "bolt is seized" in missing.text
    said = {"reason": "bolt is seized", "nozzle_check": "78 %"}
    assert works.do("S1", where, **said).status_code == 303
    assert works.do("S1", where, **said).status_code == 403
    assert works.do("RE", where, reason="as the engineer says").status_code == 303
    assert works.road.states()["C1"] == "accepted in writing"
    assert "nozzles: 78 %" in works.visitor("RE").look(UNIT).text


def test_work_stopped_part_way_is_let_on_by_an_engineer_alone(works):
    found(works)
    typed = {"load": "21.0", "second_reader": "T2", "note": "bolt runs hard"} | DRAINED
    assert works.do("T1", f"{AT}/stop-part-way", **typed).status_code == 303
    assert works.offered("T1", UNIT) == set()
    assert works.offered("S1", UNIT) == {"release"}


def test_copies_go_out_by_number_and_come_back(works):
    typed = {"to": "crew two\n\n control room "}
    assert works.do("T1", f"{ORDER}/do/give-out", **typed).status_code == 403
    assert works.do("PL", f"{ORDER}/do/give-out", **typed).status_code == 303
    text = works.visitor("PL").look(ORDER).text
    assert "crew two" in text
    assert "control room" in text
    pack = works.visitor("PL").get("/papers/re-setting-pack?about=WO-2031-001&copy=2")
    assert pack.status_code == 200
    works.do("FO", f"{ORDER}/do/take-a-copy-back", copy="2", fate="lost")
    assert "✓ lost" in works.visitor("PL").look(ORDER).text
    again = works.visitor("PL").get("/papers/re-setting-pack?about=WO-2031-001&copy=2")
    assert again.status_code == 409


def test_no_form_is_no_return(works):
    assert works.do("T1", f"{ORDER}/do/take-a-form-back").status_code == 400


def test_the_packs_workbook_comes_back_through_the_desk(works):
    visitor = works.visitor("T1")
    book = visitor.get("/papers/re-setting-pack?about=WO-2031-001&copy=1&form=xlsx")
    assert book.headers["content-disposition"].endswith(".xlsx")
    where = f"{ORDER}/do/take-a-form-back"
    visitor.look(where)
    sent = {"data": {"form_key": visitor.form_key}}
    good = visitor.post(where, files={"file": ("pack.xlsx", book.content)}, **sent)
    assert good.headers["location"] == ORDER
    bad = visitor.post(where, files={"file": ("pack.xlsx", b"no workbook")}, **sent)
    assert bad.status_code == 400


def test_a_form_that_says_otherwise_is_shown_with_both_and_a_person_chooses(works):
    found(works)
    visitor = works.visitor("T1")
    given = visitor.get("/papers/re-setting-pack?about=WO-2031-001&copy=1&form=xlsx").content
    book = openpyxl.load_workbook(io.BytesIO(given))
    sheet = book["As-found as-left"]
    top = next(r for r in range(1, 30) if sheet.cell(r, 1).value == "Tag" or any(
        cell.value == "Row fingerprint" for cell in sheet[r]))  # fmt: skip
    columns = {cell.value: cell.column for cell in sheet[top]}
    row = next(r for r in range(top + 1, top + 9) if sheet.cell(r, columns["Tag"]).value == "C1")
    sheet.cell(row, columns["As-found load [load unit]"]).value = 18.5
    sheet.cell(row, columns["Read by"]).value = "T1"
    filled = io.BytesIO()
    book.save(filled)
    where = f"{ORDER}/do/take-a-form-back"
    visitor.look(where)
    answer = visitor.post(
        where, data={"form_key": visitor.form_key}, files={"file": ("a.xlsx", filled.getvalue())}
    )
    page = answer.headers["location"]
    assert page.startswith(f"{ORDER}/forms/")
    shown = words(visitor.look(page).text)
    assert "C1 as found blank 18.50 kN" in shown
    assert "load 18.50 kN on the form, 20.00 kN recorded" in shown
    visitor.cookies.set("language", "de")
    german = words(visitor.look(page).text)
    assert "Last 18.50 kN auf dem Formular, 20.00 kN eingetragen" in german
    visitor.cookies.set("language", "en")
    said = {"tag": "C1", "occasion": "as found", "keep": "recorded"}
    assert visitor.hand_in(f"{page}/choose", **said).status_code == 400
    chosen = visitor.hand_in(f"{page}/choose", **said, reason="read twice by two")
    assert chosen.status_code == 303, words(chosen.text)
    assert "recorded stands T1, " in words(visitor.look(page).text)
    with works.road.register.reading() as session:
        loads = {one.scale_load for one in session.query(Reading)}
    assert 18_500.0 not in loads
    assert f"{page}" in visitor.look(ORDER).text
    assert visitor.look(f"/sheets/in/{page.rpartition('/')[2]}").status_code == 404


@pytest.mark.parametrize("language", ["en", "de"])
def test_every_page_is_there_in_both_languages(works, language):
    works.visitor("S1").cookies.set("language", language)
    forms = ("read-as-found", "read-as-left", "read-after-a-round", "stop-part-way", "release",
             "accept-out-of-window", "compare", "keep-as-it-is", "release-hold")  # fmt: skip
    found(works)
    pages = ["/work-orders", ORDER, UNIT, f"{ORDER}/do/plan", f"{ORDER}/do/give-out",
             "/travel-stops", "/travel-stops/in", "/travel-stops/out", "/start-up",
             "/changes/make-safe", *(f"{AT}/{form}" for form in forms)]  # fmt: skip
    for page in pages:
        answer = works.visitor("S1").look(page)
        assert answer.status_code == 200, page
        assert "supports work-order" not in answer.text
        assert len(answer.text) < 150_000


# Travel stops and start-up


def test_a_stop_that_is_in_is_counted_and_in_the_way_by_name(works):
    typed = {"unit": "C1", "pin": "TP-1", "reason": "weight is off"}
    assert works.do("T1", "/travel-stops/in", **typed).headers["location"] == "/travel-stops"
    assert works.do("T1", "/travel-stops/in", **typed).status_code == 409
    page = works.visitor("OP").look("/travel-stops?line=L-1").text
    assert "In: 1" in page
    answer = works.visitor("OP").look("/start-up?line=L-1").text
    assert "travel stop TP-1 is in C1/A" in answer
    with works.road.register.reading() as session:
        assert str(start_up_of(session, works.road.now, "L-1").answer) == "no"
    away = {"pin": "C1/A|TP-1", "found": "on the floor", "reason": "found"}
    alone = works.do("T1", "/travel-stops/out", **away)
    assert alone.status_code == 400
    assert "on the floor" in alone.text
    seen = away | {"witness": "OP", "freed_by": "IN"}
    assert works.do("T1", "/travel-stops/out", **seen).status_code == 303
    with works.road.register.reading() as session:
        assert pins_in(session) == []
    assert "None is in." in works.visitor("OP").look("/travel-stops").text


def test_an_unknown_line_is_answered_with_the_nearest(works):
    answer = works.visitor("OP").look("/start-up?line=L-11")
    assert answer.status_code == 404
    assert "L-1" in answer.text


def test_what_made_a_line_safe_begins_a_change(works):
    typed = {
        "what": "travel stop in", "lines": "L-1", "reason": "rod bent", "leader": "OP",
        "engineer": "S1", "unit": "C2", "pin": "TP-9", "load": "", "state": "unknown",
    }  # fmt: skip
    alone = works.do("OP", "/changes/make-safe", **(typed | {"engineer": "OP"}))
    assert alone.status_code == 403
    assert "rod bent" in alone.text
    answer = works.do("OP", "/changes/make-safe", **typed)
    page = works.visitor("CO").look(answer.headers["location"]).text
    assert "Made safe at once. The full change is due by" in page
    assert "made safe, to be taken through" in page
