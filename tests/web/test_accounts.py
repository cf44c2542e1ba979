"""Accounts of others, one's own password, and tokens for programs."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from argon2 import PasswordHasher
from fastapi import APIRouter

from app.web.keys import SHORTEST, hashed
from app.web.tokens import Writer
from app.web.visits import SAFE_METHODS
from supports.errors import BadInput
from supports.model import Person
from supports.operations.accounts import close_account
from tests.operations.days import START
from tests.web.desks import PASSWORD, Visitor, desk_on, signed_in

OTHER = "five other quiet words"


def test_a_keeper_opens_an_account_and_its_owner_signs_in(staffed):
    with staffed.writing("KK", "", START, action="enter") as writing:
        writing.session.add(Person(name="N. New"))
    keeper = signed_in(staffed, "KK")
    assert '<option value="N. New"' in keeper.look("/accounts").text
    said = {"person": "N. New", "name": "Nadja", "password": OTHER}
    assert keeper.hand_in("/accounts", **said).status_code == 303
    assert signed_in(staffed, "KK").hand_in("/accounts", **said).status_code == 409
    assert Visitor(desk_on(staffed)).sign_in("nadja", OTHER).status_code == 303


def test_nobody_else_may_open_close_or_set_passwords(staffed):
    visitor = signed_in(staffed, "T1")
    assert 'href="/accounts"' not in visitor.look("/").text
    said = {"person": "T2", "name": "x", "password": OTHER}
    assert visitor.hand_in("/accounts", **said).status_code == 403
    assert visitor.hand_in("/accounts/s1/close").status_code == 403
    assert visitor.hand_in("/accounts/s1/password", password=OTHER).status_code == 403
    assert Visitor(desk_on(staffed)).sign_in("S1").status_code == 303


def test_a_keeper_sets_a_password_and_closes(staffed):
    keeper = signed_in(staffed, "KK")
    assert keeper.hand_in("/accounts/s1/password", password="short").status_code == 400
    assert keeper.hand_in("/accounts/s1/password", password=OTHER).status_code == 303
    assert Visitor(desk_on(staffed)).sign_in("S1").status_code == 400
    assert Visitor(desk_on(staffed)).sign_in("S1", OTHER).status_code == 303
    assert keeper.hand_in("/accounts/s1/close").status_code == 303
    assert Visitor(desk_on(staffed)).sign_in("S1", OTHER).status_code == 400
    assert keeper.hand_in("/accounts/nobody/close").status_code == 404


def test_a_closed_account_opens_again_for_the_same_person_only(staffed):
    keeper = signed_in(staffed, "KK")
    assert keeper.hand_in("/accounts/s1/close").status_code == 303
    taken = {"person": "S2", "name": "s1", "password": OTHER}
    assert keeper.hand_in("/accounts", **taken).status_code == 409
    again = {"person": "S1", "name": "back", "password": OTHER}
    assert keeper.hand_in("/accounts", **again).status_code == 303
    assert Visitor(desk_on(staffed)).sign_in("back", OTHER).status_code == 303
    assert Visitor(desk_on(staffed)).sign_in("s1").status_code == 400


def test_ones_own_password_wants_the_present_one_and_ends_other_sessions(staffed):
    here, there = signed_in(staffed, "S1"), signed_in(staffed, "S1")
    wrong = here.hand_in("/own-account/password", present="wrong", password=OTHER)
    assert wrong.status_code == 400
    right = here.hand_in("/own-account/password", present=PASSWORD, password=OTHER)
    assert right.status_code == 303
    assert here.look("/").status_code == 200
    assert there.look("/").status_code == 303
    around = here.hand_in("/accounts/s1/password", password=PASSWORD)
    assert around.status_code == 403


@pytest.mark.parametrize("password", ["x" * (SHORTEST - 1), "x" * 500, "my keeper and others"])
def test_a_poor_password_is_refused(password):
    with pytest.raises(BadInput):
        hashed(password, "Keeper")


def test_a_hash_is_argon2id_with_the_parameters_of_the_standard():
    """RFC 9106, section 4: second recommended option, 64 MiB, 3 passes, 4 lanes."""
    assert PasswordHasher().hash("anything").startswith("$argon2id$v=19$m=65536,t=3,p=4$")


def given(visitor, scope: str, days: int = 30) -> dict[str, str]:
    """Give oneself a token; return the header that shows it."""
    visitor.look("/own-account")
    said = {"name": "a script", "scope": scope, "days": days}
    text = visitor.hand_in("/own-account/tokens", **said).text
    key = re.search(r'<code class="id">([^<]+)</code>', text)[1]
    return {"authorization": f"Bearer {key}"}


def test_a_token_acts_for_its_owner_until_it_ends(staffed):
    shown = given(signed_in(staffed, "S1"), "read")
    answer = Visitor(desk_on(staffed)).get("/api/v1/token", headers=shown)
    said = {"person": "S1", "roles": ["stress engineer"], "scope": "read"}
    assert answer.json()["answer"] == said
    late = Visitor(desk_on(staffed, START + timedelta(days=30)))
    assert late.get("/api/v1/token", headers=shown).status_code == 401


def test_the_key_of_a_token_is_shown_once(staffed):
    visitor = signed_in(staffed, "S1")
    shown = given(visitor, "read")
    assert shown["authorization"].split()[1] not in visitor.look("/own-account").text


def test_a_token_withdrawn_or_of_a_closed_account_holds_no_more(staffed):
    visitor = signed_in(staffed, "S1")
    first, second = given(visitor, "read"), given(visitor, "read and write")
    number = re.findall(r"tokens/(\d+)/withdraw", visitor.look("/own-account").text)[-1]
    assert visitor.hand_in(f"/own-account/tokens/{number}/withdraw").status_code == 303
    program = Visitor(desk_on(staffed))
    assert program.get("/api/v1/token", headers=first).status_code == 401
    assert program.get("/api/v1/token", headers=second).status_code == 200
    close_account(staffed, "S1", acting="KK", now=START)
    assert program.get("/api/v1/token", headers=second).status_code == 401


def test_nobody_withdraws_the_token_of_another(staffed):
    given(signed_in(staffed, "S1"), "read")
    assert signed_in(staffed, "T1").hand_in("/own-account/tokens/1/withdraw").status_code == 403


def test_a_session_is_no_token_and_a_token_no_session(staffed):
    visitor = signed_in(staffed, "S1")
    refused = visitor.get("/api/v1/token")
    assert refused.status_code == 401
    assert refused.json()["what"] == "no token that holds was shown"
    shown = given(visitor, "read and write")
    stranger = Visitor(desk_on(staffed))
    assert stranger.get("/supports", headers=shown).status_code == 303
    assert stranger.post("/accounts/s2/close", headers=shown).status_code in {303, 403}
    assert Visitor(desk_on(staffed)).sign_in("S2").status_code == 303


def test_a_token_that_may_only_read_writes_nothing(staffed):
    router = APIRouter()

    @router.post("/api/v1/written")
    def written(visit: Writer) -> dict[str, str]:
        return {"by": visit.acting}

    assert "POST" not in SAFE_METHODS
    visitor = signed_in(staffed, "S1")
    shown = [given(visitor, scope) for scope in ("read", "read and write")]
    program = Visitor(desk_on(staffed))
    program.app.include_router(router)
    answers = [program.post("/api/v1/written", headers=one).status_code for one in shown]
    assert answers == [403, 200]
