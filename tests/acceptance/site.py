"""A small site whose people type commands and hand in workbooks, as they would."""

from __future__ import annotations

import contextlib
import io
import shlex
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from importers.template import write_tables

PEOPLE = {
    "KK": "register keeper",
    "S1": "stress engineer",
    "S2": "stress engineer",
    "RE": "responsible engineer",
    "CO": "change coordinator",
    "PL": "planner",
    "IN": "inspector",
    "T1": "technician",
    "T2": "technician",
    "FO": "foreman",
    "OP": "operations",
}
"""Initials and role; the first enters all others."""

DAY = "2031-05-05"
Rows = Sequence[Sequence[Any]]


@dataclass
class Site:
    """A register, and a folder for what is handed over."""

    folder: Path
    url: str
    patch: Any

    def type(self, *words: str, person: str = "", on: str = DAY) -> str:
        """Run one command as somebody; return what it prints."""
        from app.cli.main import run

        for name, value in {
            "SUPPORTS_REGISTER": self.url,
            "SUPPORTS_PERSON": person,
            "SUPPORTS_CLOCK": f"{on}T08:00:00",
        }.items():
            self.patch.setenv(name, value)
        printed = io.StringIO()
        with contextlib.redirect_stdout(printed):
            run(words)
        return printed.getvalue()

    def say(self, line: str, *, person: str = "", on: str = DAY) -> str:
        """Run a command written as one line."""
        return self.type(*shlex.split(line), person=person, on=on)

    def people(self) -> None:
        """Enter everybody, each with one role."""
        for initials, role in PEOPLE.items():
            words = ("people", "add", f"Person {initials}", "--role", role, "--initials", initials)
            self.type(*words, person="KK" if initials != "KK" else "")

    def write(self, name: str, sheets: Mapping[str, Rows]) -> Path:
        """Write a workbook as somebody would hand it in."""
        path = self.folder / name
        write_tables(path, {sheet: [list(row) for row in rows] for sheet, rows in sheets.items()})
        return path

    def bring(self, name: str, sheets: Mapping[str, Rows]) -> str:
        """Write a workbook and import it."""
        path = self.write(name, sheets)
        return self.type("sheets", "import", str(path), person="KK")
