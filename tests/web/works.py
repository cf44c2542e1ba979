"""A change on its road at the desk: the line of three constants, everybody with an account."""

from __future__ import annotations

import html
import re
from typing import Any

from tests.operations.road import Road
from tests.web.desks import Visitor, signed_in

OFFERED = re.compile(r'<li><a class="button[^"]*" href="[^"]*?/([\w-]+)">')
ORDER = "/work-orders/WO-2031-001"


class Works:
    """The road of a change, and its people at the desk."""

    def __init__(self, road: Road) -> None:
        self.road, self._visitors = road, {}

    def visitor(self, name: str) -> Visitor:
        """Return somebody signed in, the same one each time."""
        if name not in self._visitors:
            self._visitors[name] = signed_in(self.road.register, name, now=self.road.now)
        return self._visitors[name]

    def offered(self, name: str, where: str) -> set[str]:
        """Return the acts that somebody is offered as buttons."""
        answer = self.visitor(name).look(where)
        assert answer.status_code == 200
        return set(OFFERED.findall(answer.text))

    def do(self, name: str, where: str, **fields: Any) -> Any:
        """Hand a form in as it was given out, with what is typed."""
        visitor = self.visitor(name)
        given = visitor.look(where).text
        seen = re.search(r'name="seen" value="([^"]*)"', given)
        version = re.search(r'name="version" value="([^"]*)"', given)
        if seen:
            fields = {"seen": html.unescape(seen[1])} | fields
        if version:
            fields = {"version": version[1]} | fields
        return visitor.hand_in(where, **fields)
