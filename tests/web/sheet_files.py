"""Workbooks handed in at the desk, and a visitor who hands them in."""

from __future__ import annotations

import html
import re
from pathlib import Path
from typing import Any

from importers.template import Table, write_tables
from supports.database import Register
from tests.web.desks import Visitor, signed_in

LINES = [["Line number", "Area"], ["L-9", "A1"]]
SUPPORTS = [
    ["Support tag", "Line number", "Support type", "Note"],
    ["PS-1", "L-9", "rigid rod", "new scaffold"],
    ["PS-2", "L-9", "rigid rod", ""],
]
SETTINGS = [
    ["Support tag", "Unit position", "Set on", "Set load", "Method", "Set by"],
    ["C1", "A", "2030-01-02", "4496.2 lbf", "scale", "T1"],
    ["C2", "A", "2030-01-02", 22, "scale", "T1"],
]
"""A load with its unit, and one without."""


def now_and_here(work: Any) -> None:
    """Do long work at once, so that a test need not wait for it."""
    work()


class Clerk:
    """Somebody at the desk who hands workbooks in."""

    def __init__(self, register: Register, folder: Path, name: str = "KK", **said: Any) -> None:
        self.register, self.folder = register, folder
        self.visitor: Visitor = signed_in(register, name, **{"hands": now_and_here} | said)

    def hand_in(self, name: str, tables: dict[str, Table], source: str = "") -> str:
        """Hand a workbook in; return the address of its page."""
        path = self.folder / name
        write_tables(path, tables)
        return str(self.send(name, path.read_bytes(), source).headers["location"])

    def send(self, name: str, content: bytes, source: str = "") -> Any:
        """Send a file as a browser would."""
        self.visitor.look("/sheets")
        return self.visitor.post(
            "/sheets", data={"form_key": self.visitor.form_key, "source": source},
            files={"file": (name, content)},
        )  # fmt: skip

    def text(self, address: str, status: int = 200) -> str:
        """Return what stands on a page, without its marks."""
        answer = self.visitor.look(address)
        assert answer.status_code == status, address
        return words(answer.text)

    def store(self, address: str, **fields: str) -> str:
        """Ask that a file be stored as it was shown; return what the page says then."""
        mark = re.search(r'name="mark" value="(\w+)"', self.visitor.look(address).text)
        assert mark
        answer = self.visitor.hand_in(f"{address}/store", mark=mark[1], **fields)
        return words(answer.text) if answer.status_code != 303 else self.text(address)


def words(page: str) -> str:
    """Return the words of a page, a single space between them."""
    inside = page.partition("<main")[2]
    return html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", inside)))
