"""What is typed for a new change: the wish, and rows for what is added and taken off."""

from __future__ import annotations

from starlette.datastructures import FormData, ImmutableMultiDict

from app.readings import quantity_in
from app.web.acts.asking import Said
from supports.errors import BadInput
from supports.operations.changes import Wish
from supports.sentences import Sentence, either, joined
from supports.snapshots import WeightItemView
from supports.units import Kind

ROWS = 3
"""Empty rows that a form is given out with."""
COLUMNS = ("line", "description", "way", "mass", "along", "off_axis", "above_axis", "source")
WAYS = ("added", "removed")


def fresh_rows(count: int = ROWS) -> list[dict[str, str]]:
    """Return empty rows."""
    return [dict.fromkeys(COLUMNS, "") for _ in range(count)]


def rows_typed(form: FormData) -> list[dict[str, str]]:
    """Return the rows as they were typed."""
    columns = {name: [str(one).strip() for one in form.getlist(name)] for name in COLUMNS}
    if len({len(values) for values in columns.values()}) != 1:
        raise BadInput("the rows of the form are not whole", remedy="Load the page again")
    return [dict(zip(COLUMNS, row, strict=True)) for row in zip(*columns.values(), strict=True)]


CARRIED = ("description", "way", "mass", "along", "source")
"""Columns that a link can fill in a new change's rows."""


def rows_carried(asked: ImmutableMultiDict[str, str]) -> list[dict[str, str]]:
    """Return the rows that an address brings along, as from a what-if; empty ones if it has none.

    Raises
    ------
    BadInput
        The columns are not of one length.
    """
    columns = {name: asked.getlist(name) for name in CARRIED}
    if len({len(values) for values in columns.values()}) != 1:
        raise BadInput("the rows in this address are not whole", remedy="Ask for the what-if again")
    carried = (dict(zip(CARRIED, row, strict=True)) for row in zip(*columns.values(), strict=True))
    return [dict.fromkeys(COLUMNS, "") | row for row in carried] or fresh_rows()


def weights_typed(rows: list[dict[str, str]], only_line: str = "") -> tuple[WeightItemView, ...]:
    """Return what is added and taken off; rows without description and mass are left out.

    Parameters
    ----------
    only_line
        The line of a row that names none.

    Raises
    ------
    BadInput
        A row is half filled in; no row is taken then.
    """
    return tuple(
        _weight(place, row, only_line)
        for place, row in enumerate(rows, start=1)
        if row["description"] or row["mass"]
    )


def _weight(place: int, row: dict[str, str], only_line: str) -> WeightItemView:
    line = row["line"] or only_line
    lacking = [name for name in ("description", "mass") if not row[name]]
    if not line:
        lacking.append("line")
    if lacking:
        raise BadInput(
            Sentence("row {place} is half filled in", place=str(place)),
            found=joined((Sentence("no {what}", what=one) for one in lacking), ", "),
        )
    if row["way"] not in WAYS:
        raise BadInput(
            Sentence("row {place} does not say the way", place=str(place)), expected=either(WAYS)
        )
    mass = quantity_in(row["mass"], "kg", Kind.MASS)
    if mass is None or mass <= 0.0:
        raise BadInput(
            Sentence("the mass of row {place}", place=str(place)),
            found=row["mass"],
            expected="above nought",
        )
    along, off, above = (
        quantity_in(row[name], "m", Kind.LENGTH) for name in ("along", "off_axis", "above_axis")
    )
    return WeightItemView(
        line, row["description"], mass if row["way"] == "added" else -mass, along, off, above,
        row["source"],
    )  # fmt: skip


def wish_typed(said: Said, rows: list[dict[str, str]]) -> Wish:
    """Return what somebody wishes for."""
    lines = tuple(one.strip() for one in said.text("lines").split(",") if one.strip())
    only = lines[0] if len(lines) == 1 else ""
    return Wish(
        title=said.text("title"),
        reason=said.text("reason"),
        lines=lines,
        duration=said.text("duration"),
        ends_on=said.day("until"),
        number=said.text("number"),
        wanted_on=said.day("wanted"),
        weights=weights_typed(rows, only),
    )
