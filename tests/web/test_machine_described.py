"""The machine interface keeps to its own description, whatever it is asked: by schemathesis."""

from __future__ import annotations

from app.web.desk import make_desk
from tests.web.described import told_apart
from tests.web.desks import desk_on


def test_whatever_is_asked_is_answered_as_described(at_work):
    seen = told_apart(make_desk(desk_on(at_work)), examples=3)
    assert seen[200] > 30
    assert {400, 404} <= set(seen)
    assert max(seen) < 500
