"""The machine interface: the answers of the command line, by the same shapes, for programs."""

from __future__ import annotations

import json
from io import BytesIO

import pytest
from jsonschema import Draft202012Validator
from openpyxl import load_workbook

from app.cli.main import command_tree
from app.json_shapes import SHAPES, classes_of, numbers_of
from app.plainly import UNIT_BESIDE, UNITS, key_of
from app.shapes_of_machine import MACHINE_SHAPES
from app.web.machine.about import description
from app.web.problems import MEDIA_TYPE, Problem
from app.web.tokens import FROM_ADDRESS, WRITE
from importers.template import write_blank
from supports.model import Person
from tests.operations.days import START
from tests.web.at_work import CHANGE, FINDING, ORDER, PLAN, shown
from tests.web.desks import Visitor, desk_on, signed_in
from tests.web.tablets import WALK


@pytest.fixture
def program(at_work) -> Visitor:
    return Visitor(desk_on(at_work))


def ask(program: Visitor, path: str, **said):
    """Ask as a program that may only read; what is answered is of its described shape."""
    answer = program.get(f"/api/v1{path}", headers=shown() | said)
    assert answer.status_code == 200, answer.text
    return answer


ALSO_SAID = {
    f"/changes/{CHANGE}": ["change", "show", CHANGE],
    f"/plans/{PLAN}": ["plan", "show", PLAN],
    f"/work-orders/{ORDER}": ["work-order", "show", ORDER],
    "/supports/C1?sources=true": ["support", "show", "C1", "--sources"],
    "/supports/C1/units/A/history": ["unit", "history", "C1/A"],
    "/lines/L-1/check": ["line", "check", "L-1"],
    "/lines/L-1/comparison": ["line", "compare", "L-1"],
    "/lines/L-1/states": ["line", "states", "L-1"],
    f"/lines/L-1/screening?change={CHANGE}&aim=pipe%20back%20to%20its%20level": [
        "line", "screen", "L-1", "--change", CHANGE, "--aim", "pipe back to its level"],
    "/supports": ["support", "list"],
    "/travel-stops": ["stops", "count"],
    "/start-up?line=L-1": ["stops", "start-up", "--line", "L-1"],
    f"/findings?campaign={WALK}": ["walkdown", "findings", WALK],
    f"/walkdowns/{WALK}": ["walkdown", "show", WALK],
    "/record/refusals": ["audit", "refused"],
    "/as-of/2031-05-04?line=L-1": ["audit", "as-of", "2031-05-04", "--line", "L-1"],
}  # fmt: skip


def test_it_answers_what_the_command_line_answers(at_work, program, monkeypatch, capsys):
    monkeypatch.setenv("SUPPORTS_REGISTER", at_work.url.database)
    monkeypatch.setenv("SUPPORTS_CLOCK", START.isoformat())
    for path, words in ALSO_SAID.items():
        command_tree().main(args=[*words, "--json"], prog_name="supports", standalone_mode=False)
        said = json.loads(capsys.readouterr().out)["answer"]
        assert ask(program, path).json()["answer"] == said, path


def test_every_route_is_described_with_a_shape_that_is_one(program):
    described = program.get("/api/v1/openapi.json").json()
    assert described["openapi"].startswith("3.1")
    views = described["components"]["schemas"]
    assert set(views) >= {"SupportView", "ChangeStanding", "Problem", "SentReading"}
    for schema in views.values():
        Draft202012Validator.check_schema(schema)
    for operations in described["paths"].values():
        for operation in operations.values():
            assert {"200", "401"} <= set(operation["responses"])
            assert operation["description"]
    assert "422" not in described["paths"]["/api/v1/token"]["get"]["responses"]


def test_its_page_lists_every_route_and_asks_nobody_elsewhere(program):
    page = program.get("/api/v1/")
    assert page.status_code == 200
    assert all(path in page.text for path in description()["paths"])
    assert "//" not in page.text.replace("://desk.test", "").split("<main", 1)[-1]


def test_numbers_of_its_own_shapes_carry_their_unit():
    ends = tuple(f"_{unit}" for units in UNITS.values() for unit in units)
    known = {one for kind in SHAPES.values() for one in classes_of(kind)}
    own = {one for kind in MACHINE_SHAPES.values() for one in classes_of(kind)} - known
    assert {one.__name__ for one in own}.isdisjoint(one.__name__ for one in known)
    for kind in own:
        for view, name in numbers_of(kind):
            assert key_of(view, name).endswith(ends) or name in UNIT_BESIDE.get(view, ())


def test_lists_come_in_pages_that_join_without_gap(program):
    whole = ask(program, "/supports").json()
    assert whole["total"] == len(whole["answer"]) == 4
    assert whole["next"] is None
    found, after = [], ""
    while after is not None:
        page = ask(program, f"/supports?limit=3&after={after}")
        found += page.json()["answer"]
        after = page.json()["next"]
        assert (after is None) == ("link" not in page.headers)
    assert found == whole["answer"]
    batches = ask(program, "/record/batches?limit=5").json()
    behind = ask(program, f"/record/batches?limit=5&after={batches['next']}").json()
    assert behind["answer"][0]["number"] == batches["answer"][-1]["number"] + 1
    lost = program.get("/api/v1/changes?after=CH-404", headers=shown())
    assert lost.status_code == 400


def test_the_list_is_narrowed_as_at_the_desk_by_what_rules_find_too(program):
    tags = {
        asked: [one["tag"] for one in ask(program, f"/supports?{asked}").json()["answer"]]
        for asked in ("text=c", "kind=constant%20hanger", "severity=STOP&answer=fails", "line=L-9")
    }
    assert tags["text=c"] == ["C1", "C2"]
    assert tags["kind=constant%20hanger"] == ["C1", "C2"]
    assert set(tags["severity=STOP&answer=fails"]) <= {"C1", "C2", "V1", "R1"}
    assert tags["line=L-9"] == []


def test_an_answer_that_is_held_is_not_sent_again_until_something_is_written(at_work, program):
    first = ask(program, "/supports/C1")
    held = {"if-none-match": first.headers["etag"]}
    same = program.get("/api/v1/supports/C1", headers=shown() | held)
    assert (same.status_code, same.content) == (304, b"")
    with at_work.writing("KK", "", START, action="enter") as writing:
        writing.session.add(Person(name="N. New"))
    assert ask(program, "/supports/C1", **held).headers["etag"] != first.headers["etag"]


READ_AT_C1 = {
    "tag": "C1", "position": "A", "occasion": "as found", "load_N": 8_700.0, "pointer_m": 0.04,
    "read_on": "2031-05-04", "plant_state": "shut down, drained",
}  # fmt: skip


def test_a_reading_is_taken_once_known_again_and_never_overwritten(at_work, program):
    may = shown("T1", WRITE)
    address = f"/api/v1/work-orders/{ORDER}/readings"
    first = program.post(address, headers=may, json=READ_AT_C1)
    assert first.status_code == 200, first.text
    assert first.json()["answer"]["recorded"] is True
    again = program.post(address, headers=may, json=READ_AT_C1)
    assert again.json()["answer"] == first.json()["answer"] | {"recorded": False}
    other = program.post(address, headers=may, json=READ_AT_C1 | {"load_N": 9_000.0})
    assert (other.status_code, other.json()["code"]) == (409, "conflict")
    assert "recorded" in other.json()["found"]
    units = ask(program, f"/work-orders/{ORDER}").json()["answer"]["lines"]
    assert next(one for one in units if one["tag"] == "C1")["as_found"]["scale_load_N"] == 8_700.0
    nowhere = program.post(address, headers=may, json=READ_AT_C1 | {"tag": "C9"})
    assert nowhere.status_code == 404


def test_a_form_comes_back_filled_in(at_work, program):
    blank = signed_in(at_work, "T1").get(f"/papers/re-setting-pack?about={ORDER}&form=xlsx")
    answer = program.post(
        f"/api/v1/work-orders/{ORDER}/returned-form", headers=shown("T1", WRITE),
        files={"file": ("pack.xlsx", blank.content)},
    )  # fmt: skip
    assert answer.status_code == 200, answer.text
    assert all(one.endswith("nothing read") for one in answer.json()["answer"]["said"])


@pytest.fixture
def sheet(tmp_path) -> bytes:
    write_blank(tmp_path / "blank.xlsx")
    book, kept = load_workbook(tmp_path / "blank.xlsx"), BytesIO()
    rows = book["Lines"]
    heading = next(c for row in rows.iter_rows() for c in row if c.value == "Line number")
    rows.cell(heading.row + 1, heading.column, "L-77")
    book.save(kept)
    return kept.getvalue()


def test_a_sheet_is_stored_as_its_preview_said_or_refused(program, sheet):
    file = {"file": ("ours.xlsx", sheet)}
    seen = program.post("/api/v1/sheets/preview", headers=shown("KK"), files=file)
    assert seen.status_code == 200, seen.text
    mark = seen.json()["answer"]["mark"]
    address, may = "/api/v1/sheets/import", shown("KK", WRITE)
    for wrong in ({}, {"mark": "0" * 64}):
        assert program.post(address, headers=may, files=file, data=wrong).status_code in {400, 409}
    stored = program.post(address, headers=may, files=file, data={"mark": mark})
    assert stored.status_code == 200, stored.text
    assert stored.json()["answer"]["stored"] is True
    assert "L-77" in [one["number"] for one in ask(program, "/lines").json()["answer"]]
    late = program.post(address, headers=may, files=file, data={"mark": mark})
    assert (late.status_code, late.json()["code"]) == (409, "conflict")


@pytest.mark.parametrize("name", ["..", "", "a\nb.xlsx", "x" * 300, "../../etc/up.xlsx"])
def test_a_file_of_any_name_is_told_about_and_stays_where_it_belongs(program, name):
    answer = program.post(
        "/api/v1/sheets/preview", headers=shown(), files={"file": (name, b"no sheet")}
    )
    assert answer.status_code == 400
    assert answer.headers["content-type"] == MEDIA_TYPE


def test_what_stops_a_request_is_told_by_its_parts(program):
    told = program.get("/api/v1/supports/C11", headers=shown())
    assert told.status_code == 404
    assert told.headers["content-type"] == MEDIA_TYPE
    said = told.json()
    assert set(said) == set(Problem.__slots__)
    assert (said["code"], said["status"], said["instance"]) == (
        "not-found", 404, "/api/v1/supports/C11",
    )  # fmt: skip
    assert "C1" in said["remedy"]
    codes = {
        "/nowhere": 404, "/supports?limit=0": 400, "/supports?kind=soft": 400,
        "/as-of/soon?support=C1": 400, "/as-of/2031-05-04": 400,
    }  # fmt: skip
    for path, status in codes.items():
        answer = program.get(f"/api/v1{path}", headers=shown())
        assert (answer.status_code, answer.json()["status"]) == (status, status), path
    wrong = program.delete("/api/v1/supports", headers=shown())
    assert (wrong.status_code, wrong.headers["allow"]) == (405, "GET")


def test_keys_that_open_nothing_are_counted_and_end_in_patience(program):
    said = {"authorization": "Bearer no such key"}
    for _ in range(FROM_ADDRESS):
        answer = program.get("/api/v1/token", headers=said)
        assert (answer.status_code, answer.headers["www-authenticate"]) == (401, "Bearer")
    refused = program.get("/api/v1/token", headers=said)
    assert refused.status_code == 429
    assert int(refused.headers["retry-after"]) > 0
    assert ask(program, "/token").status_code == 200
    assert program.get("/api/v1/token").status_code == 401


def test_the_person_of_a_token_may_no_more_than_at_the_desk(program):
    refused = program.post(
        f"/api/v1/work-orders/{ORDER}/readings", headers=shown("T1"), json=READ_AT_C1
    )
    assert (refused.status_code, refused.json()["code"]) == (403, "not-allowed")
    assert ask(program, f"/findings?campaign={FINDING}").json()["total"] == 1
