"""The column of findings in a file that was handed back: known by its heading, and passed over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from importers.stacked import SEARCHED_ROWS
from importers.table import Raw, Table

FINDINGS = "Findings"


def findings_column(rows: Sequence[Sequence[Raw]]) -> int | None:
    """Return the column of the findings, counted from 0; None where there is none."""
    for row in rows[:SEARCHED_ROWS]:
        for at, raw in enumerate(row):
            if isinstance(raw, str) and (raw == FINDINGS or raw.startswith(f"{FINDINGS}: ")):
                return at
    return None


def without_findings(table: Table) -> Table:
    """Return a table without what was written into it when it was handed back."""
    at = findings_column(table.rows)
    if at is None:
        return table
    return replace(table, rows=[_blanked(row, at) for row in table.rows])


def _blanked(row: Sequence[Raw], at: int) -> Sequence[Raw]:
    return row if at >= len(row) else [*row[:at], "", *row[at + 1 :]]
