"""In and out of the desk: first account, sign-in, lock-out, sessions, forms from elsewhere."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlalchemy import func, select

from app.web.guards import UploadCeiling
from app.web.routes.doors import BY_NAME, WINDOW, inside
from supports.model import AuditEntry, DeskSession, FailedSignIn
from supports.operations.accounts import close_account, set_password
from supports.operations.desk_sessions import LASTS, RESTS, SEEN_EVERY
from supports.operations.people import end_role
from supports.operations.site import found_register
from supports.vocabulary import Role
from tests.operations.days import START, day
from tests.web.desks import (
    PASSWORD,
    SETUP_CODE,
    Visitor,
    desk_on,
    furnish_desk,
    password_hash,
    signed_in,
)


def test_who_is_not_signed_in_is_led_to_the_sign_in_and_back(staffed):
    visitor = Visitor(desk_on(staffed))
    answer = visitor.look("/supports?area=A")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/sign-in?then=/supports%3Farea%3DA"
    assert 'name="then" value="/supports?area=A"' in visitor.look(answer.headers["location"]).text
    begun = visitor.hand_in("/sign-in", name="S1", password=PASSWORD, then="/supports?area=A")
    assert (begun.status_code, begun.headers["location"]) == (303, "/supports?area=A")


def test_the_first_account_of_an_empty_register(register):
    found_register(register, plant="Test Works", form_key="k" * 32, acting="tests", now=START)
    visitor = Visitor(desk_on(register))
    assert visitor.look("/sign-in").headers["location"] == "/first-run"
    visitor.look("/first-run")
    said = {"person": "R. Keeper", "name": "Keeper", "password": "four quiet words here"}
    assert visitor.hand_in("/first-run", code="guess", **said).status_code == 400
    short = said | {"password": "short"}
    assert "too short" in visitor.hand_in("/first-run", code=SETUP_CODE, **short).text
    assert visitor.hand_in("/first-run", code=SETUP_CODE, **said).status_code == 303
    assert visitor.sign_in("keeper", said["password"]).status_code == 303
    assert "R. Keeper" in visitor.look("/").text


def test_the_setup_is_over_once_there_is_an_account(staffed):
    visitor = Visitor(desk_on(staffed))
    assert visitor.look("/first-run").status_code == 403
    visitor.look("/sign-in")
    said = {"person": "KK", "name": "other", "password": "four quiet words here"}
    assert visitor.hand_in("/first-run", code=SETUP_CODE, **said).status_code == 403


def test_without_a_setup_code_nobody_sets_up(register):
    found_register(register, plant="Test Works", form_key="k" * 32, acting="tests", now=START)
    visitor = Visitor(desk_on(register, setup_code=""))
    visitor.look("/first-run")
    said = {"person": "Thief", "name": "thief", "password": "four quiet words here", "code": ""}
    assert visitor.hand_in("/first-run", **said).status_code == 400


def test_a_wrong_password_and_an_unknown_name_are_answered_alike(staffed):
    visitor = Visitor(desk_on(staffed))
    visitor.look("/sign-in")
    known = visitor.hand_in("/sign-in", name="S1", password="wrong")
    unknown = visitor.hand_in("/sign-in", name="S9", password="wrong")
    assert known.status_code == unknown.status_code == 400
    assert known.text.replace("S1", "S9") == unknown.text


def test_after_a_few_failures_even_the_right_password_waits(both_staffed):
    visitor = Visitor(desk_on(both_staffed))
    for _ in range(BY_NAME):
        assert visitor.sign_in("S1", "wrong").status_code == 400
    assert visitor.sign_in("S1").status_code == 429
    assert visitor.sign_in("S2").status_code == 303
    later = Visitor(desk_on(both_staffed, START + WINDOW + timedelta(seconds=1)))
    assert later.sign_in("S1").status_code == 303


def test_a_sign_in_forgets_the_failures_before_it(staffed):
    visitor = Visitor(desk_on(staffed))
    for _ in range(2):
        for _ in range(BY_NAME - 1):
            visitor.sign_in("S1", "wrong")
        assert visitor.sign_in("S1").status_code == 303


def test_signing_out_ends_the_session_itself(staffed):
    visitor = signed_in(staffed, "S1")
    kept = dict(visitor.cookies)
    assert visitor.hand_in("/sign-out").status_code == 303
    visitor.cookies.update(kept)
    assert visitor.look("/").status_code == 303


def test_a_session_rests_and_ends(both_staffed):
    visitor = signed_in(both_staffed, "S1")
    desk = visitor.app.state.desk

    def at(moment):
        other = Visitor(desk_on(both_staffed, moment, fresh_key=desk.fresh_key))
        other.cookies.update(dict(visitor.cookies))
        return other.look("/").status_code

    assert at(START + RESTS) == 303
    step = RESTS - SEEN_EVERY
    moment = START
    while moment + step < START + LASTS:
        moment += step
        assert at(moment) == 200
    assert at(START + LASTS) == 303


def test_a_closed_account_and_a_new_password_end_sessions(both_staffed):
    first, second = signed_in(both_staffed, "S1"), signed_in(both_staffed, "S2")
    close_account(both_staffed, "S1", acting="KK", now=START)
    set_password(both_staffed, "S2", password_hash(), acting="S2", now=START)
    assert first.look("/").status_code == second.look("/").status_code == 303
    assert first.sign_in("S1").status_code == 400
    assert second.sign_in("S2").status_code == 303


def test_roles_are_those_of_the_day(staffed):
    visitor = signed_in(staffed, "S1")
    assert "stress engineer" in visitor.look("/").text
    end_role(staffed, "S1", Role.STRESS_ENGINEER, acting="KK", now=START)
    tomorrow = signed_in(staffed, "S1", now=day(1))
    assert "no role today" in tomorrow.look("/").text


@pytest.mark.parametrize(
    "wrong",
    [
        {"data": {}},
        {"data": {"form_key": "0" * 64}},
        {"headers": {"sec-fetch-site": "cross-site"}, "data": None},
        {"headers": {"origin": "https://elsewhere.example"}, "data": None},
    ],
    ids=["no key", "wrong key", "told by the browser", "other origin"],
)
def test_a_form_from_elsewhere_is_refused(staffed, wrong):
    visitor = signed_in(staffed, "S1")
    if wrong["data"] is None:
        wrong = wrong | {"data": {"form_key": visitor.form_key}}
    assert visitor.post("/sign-out", **wrong).status_code == 403
    assert visitor.look("/").status_code == 200


def test_a_form_opened_before_the_sign_in_is_stale_after_it(staffed):
    visitor = Visitor(desk_on(staffed))
    visitor.look("/sign-in")
    before = visitor.form_key
    visitor.sign_in("S1")
    assert visitor.post("/sign-out", data={"form_key": before}).status_code == 403


def test_cookies_and_headers_are_safe(staffed):
    visitor = Visitor(desk_on(staffed, secure=True))
    visitor.base_url = "https://desk.test"
    visitor.look("/sign-in")
    answer = visitor.hand_in("/sign-in", name="S1", password=PASSWORD)
    cookie = answer.headers["set-cookie"]
    assert cookie.startswith("__Host-desk=")
    for part in ("HttpOnly", "Secure", "SameSite=lax", "Path=/"):
        assert part in cookie
    page = visitor.look("/")
    policy = page.headers["content-security-policy"]
    assert "'unsafe" not in policy
    assert "default-src 'none'" in policy
    assert "frame-ancestors 'none'" in policy
    assert page.headers["x-content-type-options"] == "nosniff"
    assert page.headers["cache-control"] == "no-store"
    assert "max-age" in page.headers["strict-transport-security"]


def test_no_page_holds_script_or_style_of_its_own(staffed):
    visitor = signed_in(staffed, "S1")
    for address in ("/", "/supports", "/own-account", "/nowhere"):
        text = visitor.look(address).text
        assert "<style" not in text
        assert " style=" not in text
        assert "onclick" not in text
        assert text.count("<script") == text.count("<script src=")


def test_what_is_too_large_is_refused_said_or_not(staffed, monkeypatch):
    monkeypatch.setattr(UploadCeiling.__init__, "__kwdefaults__", {"ceiling": 1000})
    visitor = Visitor(desk_on(staffed))
    visitor.look("/sign-in")
    large = b"name=" + b"x" * 2000
    kind = {"content-type": "application/x-www-form-urlencoded"}
    assert visitor.post("/sign-in", content=large, headers=kind).status_code == 413
    parts = iter([large[:900], large[900:]])
    assert visitor.post("/sign-in", content=parts, headers=kind).status_code == 413


def test_secrets_leave_no_trail_and_are_kept_as_hashes(both_staffed):
    signed_in(both_staffed, "S1")
    with both_staffed.reading() as session:
        tables = set(session.scalars(select(AuditEntry.table_name).distinct()))
        said = "".join(map(str, session.scalars(select(AuditEntry.after))))
        marks = list(session.scalars(select(DeskSession.mark)))
    assert "account" in tables
    assert not tables & {"account_password", "desk_session", "failed_sign_in"}
    assert password_hash() not in said
    assert all(len(mark) == 64 and "key" not in mark for mark in marks)


def test_a_record_is_not_written_off_the_record(staffed):
    from supports.errors import NotAllowed
    from supports.model import Person

    with pytest.raises(NotAllowed, match="with its trail"), staffed.off_the_record() as session:
        session.add(Person(name="Nobody"))


def test_failures_are_forgotten_after_a_day(both_staffed):
    Visitor(desk_on(both_staffed)).sign_in("S1", "wrong")
    Visitor(desk_on(both_staffed, day(2))).sign_in("S2", "wrong")
    with both_staffed.reading() as session:
        assert session.scalar(select(func.count(FailedSignIn.id))) == 1


@pytest.mark.parametrize(
    "address",
    ["https://elsewhere.example", "//elsewhere.example", "/\\elsewhere", "elsewhere", "", "/a\nb"],
)
def test_no_address_leads_outside(address):
    assert inside(address) == "/"


def test_a_trouble_is_told_in_the_houses_form(staffed):
    text = signed_in(staffed, "S1").look("/nowhere").text
    for word in ("Not done", "Where", "/nowhere", "Remedy"):
        assert word in text


def test_the_language_is_kept(staffed):
    visitor = signed_in(staffed, "S1")
    assert '<html lang="en">' in visitor.look("/").text
    visitor.hand_in("/language", language="de", then="/")
    assert '<html lang="de">' in visitor.look("/").text
    assert visitor.hand_in("/language", language="tlh").status_code == 400


def test_furnishing_needs_a_keeper(register):
    from supports.errors import NotAllowed
    from supports.operations.accounts import NewAccount, open_account
    from tests.operations.plant import furnish

    furnish(register)
    with pytest.raises(NotAllowed, match="may open accounts"):
        open_account(register, NewAccount("S1", "s1"), acting="S1", now=START)
    furnish_desk(register)
