"""Readings as people type them: a number with its unit."""

from __future__ import annotations

import re
from datetime import date

from app.words import word
from supports.errors import QuantityUnreadable
from supports.operations.unit_work import UnitReading
from supports.sentences import Sentence
from supports.units import Kind, number, to_si
from supports.vocabulary import PlantState


def quantity(text: str, kind: Kind) -> float | None:
    """Read '22.1 kN' into SI; a blank is not known.

    Raises
    ------
    QuantityUnreadable
        No number, no unit, or one that could mean two things.
    """
    if not text.strip():
        return None
    parts = re.fullmatch(r"\s*([-+−]?[\d.,]+)\s*(.*?)\s*", text)
    if parts is None:
        raise QuantityUnreadable(
            Sentence("a {kind} is a number with its unit", kind=kind),
            found=f"'{text}'",
            expected="e.g. '22.1 kN'",
        )
    return to_si(number(parts[1]), parts[2], kind)


def quantity_in(text: str, unit: str, kind: Kind) -> float | None:
    """Read a quantity into SI; a number without a unit is in the one that stands beside it.

    >>> quantity_in("22.1", "kN", Kind.LOAD), quantity_in("22100 N", "kN", Kind.LOAD)
    (22100.0, 22100.0)
    """
    bare = re.fullmatch(r"\s*[-+−]?[\d.,]+\s*", text)
    return quantity(f"{text} {unit}" if bare else text, kind)


def round_words(good: bool | None) -> str:
    """Return what is said at once of the scale after a round."""
    if good is None:
        return "cannot judge (missing: the load expected after it, or before it)"
    return "as expected" if good else "STOP: tell the engineer"


def reading(
    place: tuple[str, str],
    load: str,
    pointer: str,
    plant_state: str,
    day: date,
    *,
    read_by: str,
    note: str = "",
    second_reader: str = "",
    turns_given: float | None = None,
) -> UnitReading:
    """Return a reading from words."""
    return UnitReading(
        tag=place[0],
        position=place[1],
        read_on=day,
        plant_state=word(PlantState, plant_state),
        load=quantity(load, Kind.LOAD),
        pointer=quantity(pointer, Kind.LENGTH),
        read_by=read_by,
        second_reader=second_reader,
        turns_given=turns_given,
        note=note,
    )
