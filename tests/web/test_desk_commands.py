"""The commands of the desk: how it is opened, and the accounts that may sign in."""

from __future__ import annotations

import json
import shutil

import pytest

from app.cli.main import run
from app.settings import CLOCK, REGISTER, SETUP_CODE, TLS
from supports.database import Register, sqlite_url
from supports.errors import BadInput, NotAllowed
from supports.operations.site import found_register
from tests.operations.days import START
from tests.web.desks import Visitor, desk_on

WORDS = "six more quiet words"


@pytest.fixture
def typed(staffed, monkeypatch):
    """Type commands on the staffed register; passwords are typed as `WORDS`."""
    for name in (SETUP_CODE, TLS):
        monkeypatch.setenv(name, "")
        monkeypatch.delenv(name)
    monkeypatch.setenv(REGISTER, staffed.url.database)
    monkeypatch.setenv(CLOCK, START.isoformat())
    monkeypatch.setattr("getpass.getpass", lambda *_: WORDS)
    return run


@pytest.fixture
def served(monkeypatch):
    """Catch what would be served."""
    caught = {}
    monkeypatch.setattr("uvicorn.run", lambda what, **said: caught.update(said, what=what))
    return caught


def test_the_desk_says_where_it_is_and_serves_one_process(typed, served, capsys):
    typed(["desk", "open", "--port", "9000"])
    assert served["what"] == "app.web.desk:desk_here"
    assert (served["host"], served["port"], served["workers"]) == ("127.0.0.1", 9000, 1)
    said = capsys.readouterr().out
    assert "Test Works" in said
    assert "http://127.0.0.1:9000" in said
    assert "Setup code" not in said


def test_a_setup_code_is_said_while_nobody_can_sign_in(
    typed, served, capsys, sqlite_migrated, tmp_path
):
    path = shutil.copy(sqlite_migrated, tmp_path / "new.db")
    new = Register(sqlite_url(path))
    found_register(new, plant="New Works", form_key="k" * 32, acting="tests", now=START)
    new.close()
    typed(["desk", "open", "--register", str(path)])
    assert "Setup code for the first account: " in capsys.readouterr().out


def test_a_register_in_a_file_is_served_by_one_process(typed, served):
    with pytest.raises(BadInput, match="served by one process"):
        typed(["desk", "open", "--workers", "2"])
    assert served == {}


def test_open_to_others_without_tls_is_warned_about(typed, served, capsys):
    typed(["desk", "open", "--host", "0.0.0.0"])  # noqa: S104  nothing is served here
    assert "without TLS" in capsys.readouterr().out
    typed(["desk", "open", "--host", "0.0.0.0", "--behind-tls"])  # noqa: S104  the same
    assert "without TLS" not in capsys.readouterr().out
    assert served["proxy_headers"] is True


def test_accounts_are_opened_listed_and_closed(typed, staffed, capsys):
    typed(["desk", "account", "close", "s1", "--as", "KK"])
    typed(["desk", "account", "list"])
    assert "(closed)" in capsys.readouterr().out
    typed(["desk", "account", "open", "S1", "esse", "--as", "KK"])
    assert Visitor(desk_on(staffed)).sign_in("esse", WORDS).status_code == 303
    typed(["desk", "account", "password", "s2", "--as", "S2"])
    assert Visitor(desk_on(staffed)).sign_in("s2", WORDS).status_code == 303
    with pytest.raises(NotAllowed):
        typed(["desk", "account", "close", "s2", "--as", "T1"])


def test_a_password_is_asked_for_on_the_error_channel_and_the_answer_stays_clean(typed, capsys):
    typed(["desk", "account", "password", "s2", "--as", "S2", "--json"])
    said = capsys.readouterr()
    assert json.loads(said.out)["said"] == ["s2 has a new password; its sessions have ended."]
    assert "Password:" in said.err
    assert "Repeat for confirmation:" in said.err
