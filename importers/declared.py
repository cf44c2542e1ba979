"""How a sheet is declared: its columns, how their cells are read, what names a row.

Declarations are compared by identity: each is made once, and they are looked up very often.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, StrEnum

from supports.units import Kind


class Form(Enum):
    """How a cell is read."""

    TEXT = "text"
    NAME = "tag or other name"
    """Text that names a thing; a cell that holds a number may have lost zeros and is refused."""
    WHOLE = "whole number"
    DAY = "date"
    UNIT = "unit"
    TURN_TABLE = "load-per-turn table"


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """One column: the field that it fills and how its cells are read.

    Parameters
    ----------
    form
        A `Form`, a kind of quantity, or the closed list of words taken.
    aliases
        Other headings accepted; compared without case, spaces and punctuation.
    unit_column
        Heading of a column that gives the unit row by row, where the heading gives none.
    signed
        A negative value has a meaning.
    """

    field: str
    heading: str
    form: Form | Kind | type[StrEnum] = Form.TEXT
    aliases: tuple[str, ...] = ()
    needed: bool = False
    unit_column: str = ""
    signed: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Sheet:
    """One sheet: what its rows are, which columns name a row.

    Parameters
    ----------
    key
        The fields that name a row; their values stand in the key alone.
    facts_in_key
        Fields of the key that are facts of the record too (the day of an event).
    when_blank
        What a blank key cell stands for, where the support has no more than one unit.
    """

    name: str
    subject: str
    key: tuple[str, ...]
    columns: tuple[Column, ...]
    aliases: tuple[str, ...] = ()
    facts_in_key: tuple[str, ...] = ()
    when_blank: tuple[tuple[str, str], ...] = ()

    def column(self, field: str) -> Column:
        """Return the column of a field."""
        return next(c for c in self.columns if c.field == field)


def kind_of(column: Column) -> Kind | None:
    """Return the kind of quantity whose unit a column needs; None if it holds no quantities."""
    if column.form is Form.TURN_TABLE:
        return Kind.LOAD
    return column.form if isinstance(column.form, Kind) else None


LOAD_UNIT = "Unit of load"
TRAVEL_UNIT = "Unit of travel"

UNIT_COLUMNS = {
    LOAD_UNIT: (Kind.LOAD, ("load unit", "scale unit")),
    TRAVEL_UNIT: (Kind.LENGTH, ("travel unit", "pointer unit")),
}
"""Columns that may stand on any sheet to give units row by row: what for, and other headings."""
