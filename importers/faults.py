"""What is wrong with one cell, and the ledger that gives each fault its address.

One rule holds throughout: a fault of severity STOP means that a value was *not* taken; a fault of
any other severity means that it was.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import NamedTuple

from importers.table import Raw, Table, letters, text_of
from supports.findings import Finding, Place, Severity
from supports.proposals import Value
from supports.sentences import Sentence


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with one cell, wherever it stands."""

    code: str
    what: str
    expected: str = ""
    remedy: str = ""
    severity: Severity = Severity.STOP


LONGEST_VALUE = 250
"""Letters of a name, a number, a day or a word; what is longer is a text in the wrong column."""


def too_long(text: str, code: str = "text-too-long") -> Fault:
    """Return the fault of a text that stands where a short value should."""
    return Fault(
        code,
        Sentence(
            "the cell holds a text of {count} letters where a short value should stand",
            count=f"{len(text):,}",
        ),
        Sentence("no more than {most} letters", most=str(LONGEST_VALUE)),
        "Put the text into the column 'Note'",
    )


class Outcome(NamedTuple):
    """What a cell says, and what is to be said of it."""

    value: Value
    fault: Fault | None = None


def shortened(text: str) -> str:
    """Return a text as it may be shown in one line."""
    return text if len(text) <= LONGEST_VALUE else f"{text[:LONGEST_VALUE]}…"


@dataclass(slots=True)
class Ledger:
    """The findings of one sheet.

    Parameters
    ----------
    table
        Where the faults stand.
    named_in
        The column that holds the tag or line of a row.
    first_row
        The first row below the headings, counted from 0.
    """

    table: Table
    named_in: int | None = None
    first_row: int = 0
    findings: list[Finding] = field(default_factory=list)
    _told: set[tuple[str, int, int]] = field(default_factory=set)
    _grouped: dict[tuple[str, int], tuple[int, int]] = field(default_factory=dict)

    def add(self, fault: Fault, row: int, column: int, raw: Raw = "") -> None:
        """Put down the fault of one cell, row and column counted from 0; once for each cell."""
        if (fault.code, row, column) in self._told:
            return
        self._told.add((fault.code, row, column))
        self.findings.append(self._finding(fault, self.table.place(row, column), row, raw))

    def row(self, fault: Fault, row: int, found: str = "") -> None:
        """Put down the fault of a whole row."""
        self.findings.append(
            self._finding(
                fault,
                Place(
                    self.table.file, self.table.sheet, Sentence("row {count}", count=str(row + 1))
                ),
                row,
                found,
            )
        )

    def whole(self, fault: Fault, found: str = "") -> None:
        """Put down what is to be said of the whole sheet."""
        self.findings.append(
            self._finding(fault, Place(self.table.file, self.table.sheet), -1, found)
        )

    def once(self, fault: Fault, row: int, column: int, raw: Raw = "") -> None:
        """Put down a fault once for its column, and count the cells that share it."""
        first, times = self._grouped.get((fault.code, column), (len(self.findings), 0))
        self._grouped[(fault.code, column)] = (first, times + 1)
        if not times:
            self.add(fault, row, column, raw)
            return
        told = self.findings[first]
        cells = f"in {times + 1} cells of column {letters(column)}"
        self.findings[first] = replace(told, what=f"{fault.what}, {cells}")

    def _finding(self, fault: Fault, place: Place, row: int, raw: Raw) -> Finding:
        text = shortened(text_of(raw))
        return Finding(
            fault.code,
            fault.severity,
            fault.what,
            place,
            f"'{text}'" if text else "",
            fault.expected,
            fault.remedy,
            self._subject(row),
        )

    def _subject(self, row: int) -> str:
        if row < self.first_row or self.named_in is None:
            return ""
        return self.table.cell(row, self.named_in).text.strip()
