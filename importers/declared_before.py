"""Units that a person declared for values of an earlier copy of a file, found again in this one.

A value is the same where sheet, heading with its unit, support and text are the same, whatever row
it stands in now. Another heading, unit or number is asked anew.
"""

from __future__ import annotations

from collections.abc import Mapping

from importers.columns import Body
from importers.declarations import declared_cell
from importers.faults import Fault, Ledger
from importers.headings import Layout, Taken
from importers.table import DeclaredCell, text_of
from importers.withheld import heading_in, named_in
from supports.findings import Severity
from supports.sentences import Sentence

SameValue = tuple[str, str, str, str]
"""Sheet, heading with its unit, support or line, and text."""
DeclaredBefore = Mapping[SameValue, str]
"""Unit by value."""


def take_declared_before(
    layout: Layout, body: Body, before: DeclaredBefore, ledger: Ledger
) -> None:
    """Put the units declared before into the cells of a table; say so once a column."""
    sheet = ledger.table.sheet
    here = {same[1:] for same in before if same[0] == sheet}
    for taken in layout.taken if here else ():
        for i in range(len(body.rows)):
            _take(layout, body, taken, i, before, ledger)


def _take(
    layout: Layout, body: Body, taken: Taken, i: int, before: DeclaredBefore, ledger: Ledger
) -> None:
    row = body.rows[i]
    raw = row[taken.index]
    if raw == "" or isinstance(raw, DeclaredCell):
        return
    same = (ledger.table.sheet, heading_in(taken, row), named_in(layout, row), text_of(raw))
    unit = before.get(same)
    if unit is None:
        return
    cell = declared_cell(ledger.table, f"row {body.numbers[i] + 1}", raw, unit)
    body.rows[i] = [*row[: taken.index], cell, *row[taken.index + 1 :]]
    what = Sentence(
        "the number was taken in {unit}, as declared for an earlier copy of this file", unit=unit
    )
    fault = Fault("unit-declared-before", what, severity=Severity.NOTE)
    ledger.once(fault, body.numbers[i], taken.index, raw)
