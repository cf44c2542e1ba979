"""Every route has its line in the table of who may, and keeps to it."""

from __future__ import annotations

import asyncio
import shutil
from concurrent.futures import ThreadPoolExecutor

import pytest

from app.web.machine import about
from app.web.tokens import READ, WRITE
from app.web.visits import SAFE_METHODS, Visit
from supports.database import sqlite_url
from supports.vocabulary import Role
from tests.trust.route_table import (
    ACTS,
    ANYBODY,
    HANDED_IN,
    KEYS,
    LOOKED_AT,
    SIGNED,
    asked_of,
    is_for_programs,
    lines,
    routes,
    scope_declared,
)
from tests.web.asking import Asking, Unkept, bare
from tests.web.at_work import shown
from tests.web.desks import Visitor, desk_on


def test_every_route_has_its_line_and_every_line_its_route():
    looked_at = {one.path for one in routes() if "GET" in one.methods and not is_for_programs(one)}
    handed_in = {one.path for one in routes() if "POST" in one.methods and not is_for_programs(one)}
    assert looked_at == set(LOOKED_AT)
    assert handed_in == set(HANDED_IN) | set(ACTS)
    assert {path: set(ACTS[path]) for path in KEYS} == {path: set(KEYS[path]) for path in KEYS}
    assert {method for one in routes() for method in one.methods} <= SAFE_METHODS | {"POST"}


def test_what_a_route_asks_of_whoever_comes_is_what_its_line_says():
    for route in routes():
        for method in route.methods:
            if is_for_programs(route):
                assert asked_of(route) == scope_declared(method, route.path), route.path
            elif method == "GET" and LOOKED_AT[route.path].who in {ANYBODY, SIGNED}:
                assert asked_of(route) == LOOKED_AT[route.path].who, route.path


def test_each_route_answers_those_who_may_and_refuses_those_who_may_not(
    at_work_file, tmp_path, monkeypatch
):
    """Nobody, one who may and one who may not, in turn; `bench.who_may` asks as everybody."""
    register = Unkept(sqlite_url(shutil.copy(at_work_file, tmp_path / "unkept.db")))
    monkeypatch.setattr(Visit, "page", bare)
    asking, roles = Asking(register), tuple(Role)

    async def ask() -> list[str]:
        wrong = []
        for place, line in enumerate(lines()):
            who = line[3].who
            ours = [one for one in roles if isinstance(who, str) or one in who]
            others = [one for one in roles if one not in ours]
            chosen = [some[place % len(some)] for some in (ours, others) if some]
            wrong += [await asking.wrong(*line, one) for one in (None, *chosen)]
        return [one for one in wrong if one]

    with ThreadPoolExecutor(1) as beside:  # a browser of other tests keeps a loop in this thread
        assert beside.submit(asyncio.run, ask()).result() == []
    register.close()


@pytest.mark.parametrize("route", [one for one in routes() if is_for_programs(one)],
                         ids=lambda one: one.path)  # fmt: skip
def test_a_program_needs_a_token_of_the_scope(route, program_asks):
    (method,) = route.methods
    assert program_asks(method, route.path, {}) == 401
    if asked_of(route) == WRITE:
        assert program_asks(method, route.path, shown("S1", READ)) == 403


@pytest.fixture(scope="module")
def program_asks(at_work_file):
    register = Unkept(sqlite_url(at_work_file))
    program = Visitor(desk_on(register))
    yield lambda method, path, headers: program.request(method, path, headers=headers).status_code
    register.close()


def test_every_router_of_the_machine_interface_is_described():
    described = set(about.description()["paths"])
    ours = {one.path.replace(":path", "") for one in routes() if is_for_programs(one)}
    assert ours == described
