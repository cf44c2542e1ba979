"""Columns that many sheets have, under the headings that strangers give them."""

from __future__ import annotations

from importers.declared import Column, Form

TAGS_CALLED = (
    "tag", "support", "support no", "support number", "hanger", "hanger no", "hanger tag",
)  # fmt: skip
LINES_CALLED = ("line", "line no", "pipe line", "pipe line number", "piping line")


def tag_column() -> Column:
    """Return the column that names the support of a row."""
    return Column("tag", "Support tag", Form.NAME, TAGS_CALLED, needed=True)


def unit_position_column() -> Column:
    """Return the column that tells apart the units of one support."""
    return Column("position", "Unit position", Form.NAME, ("position", "unit"))


def nth_column() -> Column:
    """Tell apart several events of one day; the first is left blank, then 2, 3, ..."""
    return Column("nth", "Which of that day", Form.WHOLE)


def line_column() -> Column:
    """Return the column that names the line of a row."""
    return Column("line", "Line number", Form.NAME, LINES_CALLED, needed=True)
