"""Plate values as people type them: a heading of the sheet 'Nameplates' and what stands there."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from app.readings import quantity
from app.words import word
from importers.declared import Column, Form
from importers.sheets import NAMEPLATES
from supports.errors import BadInput
from supports.operations.provisional_plates import plate_fields
from supports.tags import suggestions
from supports.units import Kind


def plate_values(texts: Iterable[str]) -> dict[str, float | int | str]:
    """Return values by field from texts like 'Nameplate load = 20 kN'.

    Raises
    ------
    BadInput
        No such heading, or what stands there cannot be read.
    """
    columns = {
        one.heading.lower(): one for one in NAMEPLATES.columns if one.field in plate_fields()
    }
    values: dict[str, float | int | str] = {}
    for text in texts:
        heading, _, said = (part.strip() for part in text.partition("="))
        column = columns.get(heading.lower())
        if column is None or not said:
            near = suggestions(heading, [one.heading for one in columns.values()])
            raise BadInput(
                "a value of a plate is 'heading = value'", found=f"'{text}'",
                expected="a heading of the sheet 'Nameplates'",
                remedy=f"Did you mean {near[0]}?" if near else "",
            )  # fmt: skip
        values[column.field] = _value(column, said)
    return values


def _value(column: Column, said: str) -> float | int | str:
    form = column.form
    if isinstance(form, Kind):
        value = quantity(said, form)
        if value is None:
            raise BadInput("a value is missing", where=column.heading)
        return value
    if form is Form.WHOLE:
        if not said.isdigit():
            raise BadInput("a whole number is wanted", where=column.heading, found=said)
        return int(said)
    if isinstance(form, type) and issubclass(form, StrEnum):
        return str(word(form, said))
    return said
