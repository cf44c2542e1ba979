"""What is said of each row in the column of findings, and which column that is."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from importers.findings_column import FINDINGS, findings_column
from importers.reading import ReadResult
from importers.table import Raw, is_blank
from supports.findings import Finding, Severity

_ROW = re.compile(r"(?:row |[A-Z]{1,3})(\d+)")


WIDTH = 80
"""Characters that a line of the column takes."""
LINE = 15.0
"""Height of a line [points] as spreadsheet programs show it by default."""
_TALLEST = 409.0
"""No row of a workbook may be taller [points]."""


class Said(NamedTuple):
    """The words for one row, a line for each finding, and the gravest of them."""

    text: str
    worst: Severity

    @property
    def height(self) -> float:
        """Return the height [points] of a row that shows all of it."""
        lines = sum(-(-len(line) // WIDTH) or 1 for line in self.text.split("\n"))
        return min(LINE * lines, _TALLEST)


Texts = Mapping[int, Said]
"""What is to be said in each row, counted from 1."""


def said_of(result: ReadResult) -> dict[str, dict[int, Said]]:
    """Return what to write by sheet and row; what concerns no row stands at the headings.

    A sheet that was not read is not written into either.
    """
    rows: dict[str, dict[int, list[Finding]]] = defaultdict(lambda: defaultdict(list))
    tops = {count.sheet: count.heading_row for count in reversed(result.counts)}
    for finding in result.findings:
        sheet = written_on(finding, result)
        if sheet in tops:
            where = _ROW.fullmatch(finding.place.cell)
            number = int(where[1]) if where else tops[sheet]
            rows[sheet][max(number, tops[sheet])].append(finding)
    texts = {
        sheet: {n: _said(found) for n, found in lines.items()} for sheet, lines in rows.items()
    }
    for sheet, lines in texts.items():
        top = tops[sheet]
        there = lines.get(top)
        lines[top] = (
            Said(f"{FINDINGS}: {there.text}", there.worst)
            if there
            else Said(FINDINGS, Severity.NOTE)
        )
    return texts


def written_on(finding: Finding, result: ReadResult) -> str:
    """Return the sheet that tells of a finding; of a sheet that was not read, the first tells."""
    if finding.code == "sheet-not-known" and result.counts:
        return result.counts[0].sheet
    return finding.place.sheet


def _said(found: Sequence[Finding]) -> Said:
    worst = min((finding.severity for finding in found), key=lambda severity: severity.rank)
    return Said("\n".join(map(_words, found)), worst)


def _words(finding: Finding) -> str:
    sheet = finding.place.sheet if finding.code == "sheet-not-known" else ""
    place = replace(finding.place, file="", sheet=sheet)
    words = str(replace(finding, place=place, found=""))
    return f"{finding.severity} {finding.code}: {words}"


def column_of(rows: Sequence[Sequence[Raw]]) -> int:
    """Return the column of the findings: the old one, else the first that is free."""
    old = findings_column(rows)
    if old is not None:
        return old
    used = (i for row in rows for i, raw in enumerate(row) if not is_blank(raw))
    return max(used, default=-1) + 1
