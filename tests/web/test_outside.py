"""Sign-in by the site's own service: a small provider of the tests, which also lies."""

from __future__ import annotations

from urllib.parse import parse_qs, urlsplit

import httpx2
import pytest
from joserfc.jwk import RSAKey
from sqlalchemy import select

from app.settings import CLIENT as CLIENT_NAME
from app.settings import ISSUER, sign_in_service
from app.settings import SECRET as SECRET_NAME
from app.web.outside import OutsideService
from demo.served import served
from supports.errors import BadInput
from supports.model import Account
from supports.operations.accounts import close_account
from tests.operations.days import START
from tests.web.desks import Visitor, desk_on
from tests.web.provider import CLIENT, NOW, SECRET, Provider, provider_app


@pytest.fixture(scope="module")
def running():
    provider = Provider()
    with served(provider_app(provider)) as address:
        provider.issuer = address
        yield provider


@pytest.fixture
def provider(running):
    running.subject, running.claims, running.signs_with = "person-7", {}, None
    return running


@pytest.fixture
def visitor(staffed, provider):
    with staffed.writing("KK", "", START, action="name outside") as writing:
        account = writing.session.scalar(select(Account).where(Account.name == "pl"))
        account.outside_name = f"{provider.issuer} person-7"
    service = OutsideService(provider.issuer, CLIENT, SECRET)
    return Visitor(desk_on(staffed, outside=service))


def brought(visitor, then="/"):
    """Go to the service and return the address that it sends the browser back to."""
    led = visitor.look(f"/sign-in/outside?then={then}")
    assert led.status_code == 303
    back = httpx2.get(led.headers["location"], follow_redirects=False).headers["location"]
    return back.replace("http://desk.test", "")


def test_somebody_known_there_is_signed_in_here_and_led_on(visitor):
    assert "service" in visitor.look("/sign-in").text
    answer = visitor.look(brought(visitor, "/lines"))
    assert (answer.status_code, answer.headers["location"]) == (303, "/lines")
    assert "planner" in visitor.look("/").text


def test_the_way_there_holds_state_nonce_and_challenge_but_no_secret(visitor):
    led = visitor.look("/sign-in/outside").headers["location"]
    asked = parse_qs(urlsplit(led).query)
    assert asked["code_challenge_method"] == ["S256"]
    assert asked["response_type"] == ["code"]
    assert asked["scope"] == ["openid"]
    assert len(asked["state"][0]) >= 32
    assert len(asked["nonce"][0]) >= 32
    assert SECRET.split()[0] not in led


def test_an_answer_is_good_once(visitor):
    back = brought(visitor)
    cookies = dict(visitor.cookies)
    assert visitor.look(back).status_code == 303
    visitor.cookies.clear()
    visitor.cookies.update(cookies)
    assert visitor.look(back).status_code == 403


def test_an_answer_brought_by_another_browser_is_refused(visitor, staffed):
    back = brought(visitor)
    stranger = Visitor(visitor.app.state.desk)
    assert stranger.look(back).status_code == 403
    brought(stranger)
    assert stranger.look(back).status_code == 403


@pytest.mark.parametrize(
    "lie",
    [
        {"aud": "another desk"},
        {"iss": "https://elsewhere.example"},
        {"nonce": "of another errand"},
        {"nonce": None},
        {"exp": NOW - 3600},
        {"exp": None},
        {"sub": None},
    ],
    ids=str,
)
def test_what_is_not_meant_for_this_desk_is_not_believed(visitor, provider, lie):
    provider.claims = lie
    answer = visitor.look(brought(visitor))
    assert answer.status_code == 403
    assert "cannot be believed" in answer.text
    assert visitor.look("/").status_code == 303


def test_what_another_key_signed_is_not_believed(visitor, provider):
    provider.signs_with = RSAKey.generate_key(2048, {"kid": "one"})
    assert visitor.look(brought(visitor)).status_code == 403


def test_somebody_without_an_account_is_told_the_words_to_open_one_with(visitor, provider):
    provider.subject = "person-8"
    answer = visitor.look(brought(visitor))
    assert answer.status_code == 403
    assert f"{provider.issuer} person-8" in answer.text


def test_a_closed_account_stays_closed(visitor, staffed):
    close_account(staffed, "pl", acting="KK", now=START)
    assert visitor.look(brought(visitor)).status_code == 403


def test_a_service_that_does_not_answer_is_told(staffed):
    service = OutsideService("http://127.0.0.1:9", CLIENT, SECRET)
    answer = Visitor(desk_on(staffed, outside=service)).look("/sign-in/outside")
    assert answer.status_code == 500
    assert "does not answer" in answer.text


def test_where_there_is_no_service_nobody_is_sent_to_one(staffed):
    visitor = Visitor(desk_on(staffed))
    assert "/sign-in/outside" not in visitor.look("/sign-in").text
    assert visitor.look("/sign-in/outside").status_code == 404


def test_the_service_is_named_whole_and_over_tls(monkeypatch):
    for name in (ISSUER, CLIENT_NAME, SECRET_NAME):
        monkeypatch.delenv(name, raising=False)
    assert sign_in_service() is None
    monkeypatch.setenv(ISSUER, "http://login.example")
    with pytest.raises(BadInput, match="by halves"):
        sign_in_service()
    monkeypatch.setenv(CLIENT_NAME, "desk")
    monkeypatch.setenv(SECRET_NAME, "secret")
    with pytest.raises(BadInput, match="TLS"):
        sign_in_service()
    monkeypatch.setenv(ISSUER, "https://login.example")
    assert sign_in_service() == ("https://login.example", "desk", "secret")
