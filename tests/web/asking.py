"""Everybody asks for every address of the desk, and nothing of it is kept."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any

from httpx2 import ASGITransport, AsyncClient
from starlette.responses import HTMLResponse

from app.web.desk import make_desk
from app.web.keys import form_key_of
from app.web.visits import Visit
from supports.database import Register
from supports.rules.catalogue import RULES
from supports.vocabulary import Role
from tests.operations.plant import PEOPLE
from tests.trust.route_table import ANYBODY, KEYS, TABLET, Line
from tests.web.at_work import CHANGE, FINDING, ORDER, PLAN, session_of
from tests.web.desks import desk_on
from tests.web.tablets import WALK

NUMBERS = {
    "/changes": CHANGE, "/plans": PLAN, "/work-orders": ORDER, "/walkdowns": WALK,
    "/findings": FINDING, "/lines": "L-1", "/own-account": "1", "/tablet/copies/walk": WALK,
    "/tablet/copies/work": ORDER, "/rules/of": RULES[0].id, "/sheets/doubts": "1",
    "/record/batch": "1",
}  # fmt: skip
PLACES = {
    "{tag:path}": "C1", "{position}": "A", "{name:path}": "unknown", "{edition}": "0",
    "{copy}": "1", "{token}": "0" * 32, "{form}": "workbook",
    "{then}": "2031-05-04", "{table}": "line", "{row}": "1", "{key}": "", "{act}": "",
}  # fmt: skip
NAMES = {"/accounts": "t1", "/papers": "line-summary?about=L-1&form=html",
         "/rules/limits": "tolerance", "/tablet": "store.js"}  # fmt: skip
FILLED = {
    "reason": "asked by the test", "depth": "screening", "stretch": "all", "calculation": "C-1|B",
    "aim": "pipe back to its level", "until": "2031-06-01", "line": "L-1", "title": "a walk",
    "state": "shut down, drained", "walk_on": "2031-05-06", "words": "seen", "person": "T1",
    "day": "2031-05-20", "name": "kept", "load": "8.7 kN", "pointer": "40 mm", "which": "1",
    "on": "2031-05-04", "why": "fewest", "tag": "C1", "walker": "T1", "how_soon": "watch",
    "what": "a crack", "password": "five other quiet words", "scope": "read", "language": "de",
    "pin": "9", "witness": "T2", "read_by": "T1",
}  # fmt: skip
PERSON = {role: name for name, role in reversed(PEOPLE.items())}
"""Somebody of each role."""


class Unkept(Register):
    """A register in which every write is done as always, and taken back at its end."""

    @contextmanager
    def writing(self, *words: Any, **named: Any) -> Iterator[Any]:
        """Give one transaction that is taken back."""
        with suppress(_UndoneError), super().writing(*words, **named) as writing:
            yield writing
            _undo()

    @contextmanager
    def off_the_record(self) -> Iterator[Any]:
        """Give one transaction that is taken back."""
        with suppress(_UndoneError), super().off_the_record() as session:
            yield session
            _undo()


class _UndoneError(Exception):
    """What was written goes again."""


def _undo() -> None:
    raise _UndoneError


def address_of(path: str, key: str) -> str:
    """Return an address that names what is there."""
    named = path
    for beginning, number in NUMBERS.items():
        if path.startswith(beginning):
            named = named.replace("{number}", number).replace("{number:path}", number)
    for beginning, name in NAMES.items():
        if path.startswith(beginning):
            named = named.replace("{name}", name)
    for place, words in PLACES.items():
        named = named.replace(place, words or key or KEYS.get(path, ("",))[0])
    return named


def bare(_: Visit, template: str, status: int = 200, **__: Any) -> HTMLResponse:
    """Return a page without drawing it: who may see it does not hang on how it looks."""
    return HTMLResponse(template, status)


class Asking:
    """Requests to one desk, as anybody."""

    def __init__(self, register: Register) -> None:
        desk = ASGITransport(make_desk(desk_on(register)))
        self.client = AsyncClient(transport=desk, base_url="http://desk.test")

    async def wrong(self, method: str, path: str, key: str, line: Line, who: Role | None) -> str:
        """Ask; return in words what is not as the table says; '' if it is."""
        headers = {}
        if who is not None:
            session = session_of(PERSON[who])
            headers = {"cookie": f"desk={session}", "x-form-key": form_key_of(session)}
        data = {**FILLED, **line.said} if method == "POST" else None
        address = address_of(path, key)
        answer = await self.client.request(method, address, headers=headers, data=data)
        if fits(answer.status_code, method, line, who):
            return ""
        return f"{method} {address} by {who or 'nobody'}: {answer.status_code}, {line}"


def fits(status: int, method: str, line: Line, who: Role | None) -> bool:
    """Return whether an answer is one that the table allows."""
    if who is None and method == "POST":
        return status in ({401, 403} if line.who != TABLET else {401, 403, 400})
    if who is None and line.who != ANYBODY:
        return status == (401 if line.who == TABLET else 303)
    if isinstance(line.who, str) or who in line.who:
        return status == line.status if line.status else status not in {401, 403, 500}
    return status == 403 or (line.early and 400 <= status < 500)
