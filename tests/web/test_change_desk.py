"""The change desk: who is offered what, who is refused, and two people at one change."""

from __future__ import annotations

import html
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.routing import APIRoute

from app.possible import on_change
from app.web.routes import changes, plans, stops, work_orders
from supports.database import Register, sqlite_url
from supports.operations.changes import Decision
from supports.operations.changes.deciding import THREE_PEOPLE
from supports.queries.change_record import signed_on_change
from supports.queries.change_views import change_view
from supports.queries.lookups import change_of, work_order_of
from supports.vocabulary import Role
from tests.operations.plant import PEOPLE
from tests.operations.road import Road, road_on
from tests.web.desks import Visitor, desk_on, furnish_desk
from tests.web.works import ORDER, Works

CHANGE = "/changes/CH-1"
ROUTERS = (changes.router, plans.router, work_orders.router, stops.router)


@pytest.fixture(scope="module")
def prepared(sqlite_migrated: Path, tmp_path_factory) -> Path:
    """Return the file of a register with a change that is before the approver."""
    path = Path(shutil.copy(sqlite_migrated, tmp_path_factory.mktemp("works") / "works.db"))
    register = Register(sqlite_url(path))
    road = road_on(register)
    furnish_desk(register)
    road.prepared()
    road.say(Decision.CHECK, by="S2")
    register.settle()
    register.close()
    return path


@pytest.fixture
def works(prepared: Path, tmp_path: Path) -> Iterator[Works]:
    """Give a copy of it to be written to."""
    register = Register(sqlite_url(Path(shutil.copy(prepared, tmp_path / "works.db"))))
    yield Works(Road(register))
    register.close()


@pytest.fixture(scope="module")
def standing(prepared: Path, tmp_path_factory) -> Iterator[Works]:
    """Give a copy that is only looked at, and where everything asked for is refused."""
    path = tmp_path_factory.mktemp("standing") / "works.db"
    register = Register(sqlite_url(Path(shutil.copy(prepared, path))))
    yield Works(Road(register))
    register.close()


# Who may


def addresses(method: str) -> list[str]:
    places = {"{number}": "CH-1", "{key}": "approve", "{tag:path}": "C1", "{position}": "A"}
    found = []
    for router in ROUTERS:
        for route in router.routes:
            if isinstance(route, APIRoute) and method in route.methods:
                path = route.path
                for place, words in places.items():
                    path = path.replace(place, words)
                found.append(path)
    return found


@pytest.mark.parametrize("address", addresses("GET"))
def test_nobody_looks_without_signing_in(standing, address):
    answer = Visitor(desk_on(standing.road.register)).get(address)
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/sign-in")


@pytest.mark.parametrize("address", addresses("POST"))
def test_nothing_is_taken_without_sign_in_or_from_elsewhere(standing, address):
    assert Visitor(desk_on(standing.road.register)).post(address).status_code in {303, 403}
    elsewhere = {"sec-fetch-site": "cross-site"}
    visitor = standing.visitor("RE")
    visitor.look(CHANGE)
    told = visitor.post(address, data={"form_key": visitor.form_key}, headers=elsewhere)
    assert told.status_code == 403


EVERYBODY = {"describe", "add-weights"}
OFFERED = {
    "RE": {"approve", "send-back", "refuse", "call-off"},
    "S1": {"send-back", "assess", "make-a-plan"},
    "S2": {"send-back", "assess", "make-a-plan"},
    "CO": {"call-off"},
}
"""What each is offered before the approver, besides writing the record; others nothing more."""


@pytest.mark.parametrize("name", PEOPLE)
def test_each_role_is_offered_what_it_may_and_told_who_may_else(standing, name):
    assert standing.offered(name, CHANGE) == EVERYBODY | OFFERED.get(name, set())
    text = standing.visitor(name).look(CHANGE).text
    if "approve" not in OFFERED.get(name, set()):
        assert "Approve: responsible engineer" in text


BY = {
    "sift": {"CO"}, "assess": {"S1", "S2"}, "approve": {"RE"}, "send-back": {"RE", "S1", "S2"},
    "refuse": {"RE"}, "close": {"CO"}, "put-in-force": {"RE"}, "ask-for-the-renewal-of": {"RE"},
    "find-like-for-like": {"CO"}, "write-the-work-order": {"PL", "S1", "S2", "CO"},
    "make-a-plan": {"S1", "S2"},
}  # fmt: skip
FILLED = {
    "reason": "asked by the test", "depth": "screening", "stretch": "all", "calculation": "C-1|B",
    "aim": "pipe back to its level", "until": "2031-06-01", "line": "L-1",
    "state": "shut down, drained",
}  # fmt: skip


TYPED, FIELD = {"reason", "stretch", "aim"}, re.compile(r'id="f-(reason|stretch|aim)"')


@pytest.mark.parametrize("act", BY)
def test_whoever_lacks_the_role_is_refused_and_the_refusal_is_kept(standing, act):
    road = standing.road
    for name in (one for one in PEOPLE if one not in BY[act]):
        before = len(road.refusals())
        answer = standing.do(name, f"{CHANGE}/do/{act}", **FILLED)
        assert answer.status_code == 403, name
        assert "Not done" in answer.text
        assert all(FILLED[one] in answer.text for one in TYPED & set(FIELD.findall(answer.text)))
        assert road.refusals()[before][0] == name
    assert road.state() == "before the approver"


def test_the_checker_who_stands_in_is_told_before_and_refused_after(standing):
    held = {Role.RESPONSIBLE_ENGINEER}
    road = standing.road
    with road.register.reading() as session:
        offers = on_change(session, change_of(session, "CH-1"), road.now.date())
    approve = next(one for one in offers if one.act == "approve")
    assert approve.for_whom("RE", held)
    assert not approve.for_whom("S2", held | {Role.STRESS_ENGINEER})
    assert approve.why == THREE_PEOPLE
    answer = standing.do("S2", f"{CHANGE}/do/approve", reason="as assessed")
    assert answer.status_code == 403


# Looking


PAGES = ("", "/supports", "/lines", "/history", "/add-weights", "/do/approve", "/do/describe")


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("language", ["en", "de"])
def test_every_page_is_there_in_both_languages_and_small(standing, page, language):
    visitor = standing.visitor("RE")
    visitor.cookies.set("language", language)
    answer = visitor.look(f"{CHANGE}{page}")
    visitor.cookies.delete("language")
    assert answer.status_code == 200
    assert f'<html lang="{language}">' in answer.text
    assert len(answer.text) < 150_000
    assert "style=" not in answer.text
    assert "supports change" not in answer.text


def test_the_assessment_says_verdict_numbers_limits_and_why(standing):
    text = standing.visitor("RE").look(f"{CHANGE}/supports").text
    for words in ("re-set", "20.00 kN", "22.10 kN", "+2.10 kN", "8 turns 2 flats", "+10.50 %"):
        assert words in text
    assert "3 supports on the affected lines: 3 re-set." in text


def test_a_line_that_cannot_be_screened_is_no_green(standing):
    text = standing.visitor("RE").look(f"{CHANGE}/lines").text
    assert "Cannot be screened." in text
    assert "✓" not in text.split("<main")[1]


@pytest.mark.parametrize("paper", ["change-assessment", "load-change-summary", "audit-record"])
def test_papers_are_handed_over_as_files(standing, paper):
    answer = standing.visitor("RE").get(f"/papers/{paper}?about=CH-1")
    assert answer.status_code == 200
    assert "attachment" in answer.headers["content-disposition"]


# Writing


ROW = {"line": "", "description": "", "way": "added", "mass": "", "along": "", "off_axis": "",
       "above_axis": "", "source": ""}  # fmt: skip


def rows(*typed: dict[str, str]) -> dict[str, list[str]]:
    return {name: [(ROW | one)[name] for one in typed] for name in ROW}


WISH = {"title": "a drain", "reason": "it holds water", "lines": "L-1", "duration": "permanent",
        "until": "", "wanted": "2031-07-01", "number": "CH-7"}  # fmt: skip


def test_a_change_is_noted_with_its_rows_in_one_go(works):
    typed = rows(
        {"description": "drain", "mass": "48", "along": "6.9"},
        {"description": "old valve", "way": "removed", "mass": "300 kg", "off_axis": "-0.2"},
        {},
    )
    answer = works.do("OP", "/changes/new", **WISH, **typed)
    assert answer.headers["location"] == "/changes/CH-7"
    with works.road.register.reading() as session:
        view = change_view(session, "CH-7")
    assert [(one.mass, one.along, one.off_axis) for one in view.weights] == [
        (48.0, 6.9, None), (-300.0, None, -0.2),
    ]  # fmt: skip
    assert view.requested_by == "OP"
    assert "-252.0 kg" in works.visitor("OP").look("/changes/CH-7").text


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ({"description": "drain"}, "row 1 is half filled in"),
        ({"description": "drain", "mass": "heavy"}, "a mass is a number with its unit"),
        ({"description": "drain", "mass": "-48"}, "above nought"),
        ({"description": "drain", "mass": "48", "line": "L-9"}, "does not touch the line"),
    ],
)
def test_a_faulty_row_takes_nothing_and_keeps_what_was_typed(works, row, told):
    answer = works.do("OP", "/changes/new", **WISH, **rows(row))
    assert answer.status_code == 400
    assert told in answer.text
    assert "it holds water" in answer.text
    assert 'value="drain"' in answer.text
    assert works.visitor("OP").look("/changes/CH-7").status_code == 404


def test_more_rows_keep_what_was_typed(works):
    answer = works.do("OP", "/changes/new", **WISH, **rows({"description": "drain"}), more="yes")
    assert answer.status_code == 200
    assert answer.text.count('name="mass"') == 4
    assert 'value="drain"' in answer.text


def test_hostile_words_stay_words(works):
    hostile = WISH | {"title": "<script>alert(1)</script>", "reason": '"><img src=x>'}
    works.do("OP", "/changes/new", **hostile, **rows({}))
    for page in ("/changes", "/changes/CH-7", "/changes/CH-7/history"):
        text = works.visitor("OP").look(page).text
        assert "<script>alert" not in text
        assert "<img" not in text


# Two at one change


def seen_of(works: Works, name: str, act: str) -> dict[str, str]:
    """Return what a form was given out with, before somebody else writes."""
    text = works.visitor(name).look(f"{CHANGE}/do/{act}").text
    return {"seen": html.unescape(re.findall(r'name="seen" value="([^"]*)"', text)[0])}


def test_what_another_wrote_since_is_not_written_over_and_nothing_typed_is_lost(works):
    seen = seen_of(works, "CO", "describe")
    works.do("PL", f"{CHANGE}/do/describe", technical_basis="by the planner")
    where = f"{CHANGE}/do/describe"
    answer = works.visitor("CO").hand_in(where, **seen, technical_basis="by the coordinator")
    assert answer.status_code == 409
    assert "changed since: technical basis" in answer.text
    assert ">by the coordinator</textarea>" in answer.text
    assert "It says now:" in answer.text
    assert "by the planner" in answer.text
    assert technical_basis(works) == "by the planner"
    works.do("CO", where, technical_basis="by the coordinator")
    assert technical_basis(works) == "by the coordinator"


def technical_basis(works: Works) -> str | None:
    with works.road.register.reading() as session:
        return change_of(session, "CH-1").technical_basis


def test_two_who_write_different_items_are_both_kept(works):
    seen = seen_of(works, "CO", "describe")
    unchanged = dict.fromkeys(("technical_basis", "time_period"), "as written in the study")
    works.do("PL", f"{CHANGE}/do/describe", technical_basis="by the planner")
    typed = unchanged | {"time_period": "till spring"}
    answer = works.visitor("CO").hand_in(f"{CHANGE}/do/describe", **seen, **typed)
    assert answer.status_code == 303
    with works.road.register.reading() as session:
        change = change_of(session, "CH-1")
        assert change.technical_basis == "by the planner"
        assert change.time_period == "till spring"


def test_nobody_signs_what_was_changed_since_they_looked(works):
    seen = seen_of(works, "RE", "approve")
    with works.road.register.writing("KK", "", works.road.now, action="retitle") as writing:
        change_of(writing.session, "CH-1").title = "a heavier valve"
    answer = works.visitor("RE").hand_in(f"{CHANGE}/do/approve", **seen, reason="as assessed")
    assert answer.status_code == 409
    assert "changed since: title and reason" in answer.text
    assert works.road.state() == "before the approver"


def test_a_void_signature_is_shown_with_what_changed(works):
    works.do("PL", f"{CHANGE}/do/describe", technical_basis="other words")
    text = works.visitor("RE").look(CHANGE).text
    assert "changed since: technical basis" in text
    with works.road.register.reading() as session:
        signed = signed_on_change(session, change_of(session, "CH-1"))
    assert {one.meaning for one in signed if not one.stands} == {"prepared", "checked"}


def test_the_mark_shown_is_the_mark_signed(works):
    page = works.visitor("RE").look(f"{CHANGE}/do/approve").text
    shown = page.split("with the mark ")[1].split(".")[0]
    works.do("RE", f"{CHANGE}/do/approve", reason="as assessed")
    with works.road.register.reading() as session:
        signed = signed_on_change(session, change_of(session, "CH-1"))[-1]
    assert signed.meaning == "approved"
    assert signed.mark[:12].upper() == shown.replace("-", "")


def test_an_order_planned_by_two_is_planned_by_one(works):
    works.do("RE", f"{CHANGE}/do/approve", reason="as assessed")
    works.do("PL", f"{CHANGE}/do/write-the-work-order", state="shut down, drained")
    old = {"version": "1", "crew": "3"}
    assert works.do("PL", f"{ORDER}/do/plan", crew="2").status_code == 303
    answer = works.visitor("CO").hand_in(f"{ORDER}/do/plan", **old)
    assert answer.status_code in {403, 409}
    works.visitor("CO").look(f"{ORDER}/do/plan")
    answer = works.visitor("CO").hand_in(f"{ORDER}/do/plan", **old)
    assert answer.status_code == 409
    assert 'value="3"' in answer.text
    with works.road.register.reading() as session:
        assert work_order_of(session, "WO-2031-001").crew == 2


def test_needs_of_the_sifting_are_offered_to_their_role(works):
    road = works.road
    road.say(Decision.SEND_BACK, by="RE")
    works.do("CO", f"{CHANGE}/do/sift", depth="screening", stretch="all", needs=["civil engineer"])
    assert works.offered("CE", CHANGE) >= {"agree", "object"}
    assert "agree" not in works.offered("IN", CHANGE)
