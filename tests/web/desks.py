"""A desk on a register of tests, and a visitor who fills in its forms as a browser would."""

from __future__ import annotations

import re
from datetime import datetime
from functools import cache
from itertools import count
from typing import Any

from httpx2 import Response
from sqlalchemy import select
from starlette.testclient import TestClient

from app.web.desk import make_desk
from app.web.keys import hashed
from app.web.visits import Desk
from supports.database import Register
from supports.model import Account, AccountPassword, Person
from supports.operations.site import found_register
from supports.queries.accounts import sign_in_name
from tests.operations.days import START

PASSWORD = "nine quiet hangers"  # noqa: S105  of invented people
SETUP_CODE = "code of the tests"
FORM_KEY = re.compile(r'name="form_key" value="(\w+)"')


@cache
def password_hash() -> str:
    """Return the hash of everybody's password; it is dear on purpose, so it is made once."""
    return hashed(PASSWORD)


_NUMBERS = count(1)


def drawn_key() -> str:
    """Return a key that no other is like."""
    return f"key-{next(_NUMBERS):032d}"


def desk_on(register: Register, now: datetime = START, **said: Any) -> Desk:
    """Return a desk whose clock stands still."""
    said = {"setup_code": SETUP_CODE, "now": lambda: now, "fresh_key": drawn_key} | said
    return Desk(register, **said)


def furnish_desk(register: Register) -> None:
    """Name the plant and open an account for everybody who is in the register."""
    found_register(register, plant="Test Works", form_key="k" * 32, acting="KK", now=START)
    with register.writing("KK", "", START, action="open accounts") as writing:
        for person in writing.session.scalars(select(Person)).all():
            account = Account(person_id=person.id, name=sign_in_name(person.name), opened_at=START)
            writing.session.add(account)
            writing.session.flush()
            kept = AccountPassword(account_id=account.id, hash=password_hash(), set_at=START)
            writing.session.add(kept)


class Visitor(TestClient):
    """Somebody at the desk: keeps cookies, follows nothing by itself, hands in form keys."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(make_desk(desk), follow_redirects=False, base_url="http://desk.test")
        self.form_key = ""

    def look(self, address: str, **asked: Any) -> Response:
        """Look at a page; remember its form key."""
        answer = self.get(address, **asked)
        found = FORM_KEY.search(answer.text)
        self.form_key = found[1] if found else self.form_key
        return answer

    def hand_in(self, address: str, **fields: Any) -> Response:
        """Hand in a form of the page looked at last."""
        return self.post(address, data={"form_key": self.form_key} | fields)

    def sign_in(self, name: str, password: str = PASSWORD) -> Response:
        """Sign in."""
        self.look("/sign-in")
        answer = self.hand_in("/sign-in", name=name, password=password)
        if answer.status_code == 303:
            self.look("/own-account")
        return answer


def signed_in(register: Register, name: str, **said: Any) -> Visitor:
    """Return a visitor who is signed in."""
    visitor = Visitor(desk_on(register, **said))
    assert visitor.sign_in(name).status_code == 303
    return visitor
