"""A quantity written as text: one number, perhaps with its unit; all else is a question.

Fractions are read where they can mean one thing: beside an inch mark, or under a heading in
inches or feet. Every other writing than one plain number is a fault with its own code.
"""

from __future__ import annotations

import math
import re
from typing import NamedTuple

from importers.faults import Fault
from importers.tag_words import ditto_fault, is_ditto

_N = r"(?:\d+(?:\.\d*)?|\.\d+)"
_PLAIN = re.compile(rf"[-+−]?{_N}(?:[eE][-+]?\d+)?")
_NUMBER_AND_UNIT = re.compile(
    rf"(?P<number>[-+−]?{_N}(?:[eE][-+]?\d+)?)\s*(?P<unit>[^\d\s.,;:/±~?<>=*x×()+-][^\d?]*(?:\^?[234])?)"
)
_COMMAS = re.compile(r"[-+−]?\d+(?:[., \u00a0\u2009\u202f'’]\d+)+\s*(?P<unit>\D*)")
_FRACTION = re.compile(
    r"(?P<sign>[-−]?)(?:(?P<whole>\d+)[\s-]+)?(?P<over>\d+)\s*[/⁄]\s*(?P<under>\d+)\s*(?P<unit>[\"″]|''|in\.?|inch(?:es)?)?"
)
_VULGAR = {
    "½": " 1/2",
    "¼": " 1/4",
    "¾": " 3/4",
    "⅛": " 1/8",
    "⅜": " 3/8",
    "⅝": " 5/8",
    "⅞": " 7/8",
}
_FEET = re.compile(
    r"(?P<sign>[-−]?)(?P<feet>\d+)\s*(?:['′]|ft\.?|feet)\s*-?\s*(?P<inches>.*?)\s*(?:[\"″]|''|in\.?)?"
)
_THREE_DIGITS = re.compile(r"\d{3}")
_INCH_MARKS = {'"', "″", "''", "in", "in.", "inch", "inches"}


class Amount(NamedTuple):
    """A number and the unit written beside it; '' where none is."""

    number: float
    unit: str = ""


FRACTION_OF_HEADING = "fraction"
"""Stands for the unit of a fraction without mark: the heading must say inches or feet."""


def read_amount(text: str) -> Amount | Fault:
    r"""Read one number with or without a unit; whatever may mean two things is a fault.

    >>> read_amount("22.1 kN")
    Amount(number=22.1, unit='kN')
    >>> read_amount('3 1/2"')
    Amount(number=3.5, unit='in')
    >>> read_amount("1'-6\"")
    Amount(number=18.0, unit='in')
    """
    spelled = text.strip(" \u00a0\t\n")
    for sign, words in _VULGAR.items():
        spelled = spelled.replace(sign, words).strip()
    if _PLAIN.fullmatch(spelled):
        return _finite(spelled, "")
    if match := _NUMBER_AND_UNIT.fullmatch(spelled):
        if match["unit"].strip(" .").casefold() in _DOUBTING:
            return _uncertain()
        if "'" not in match["unit"] or match["unit"] in _INCH_MARKS | {"'"}:
            return _finite(match["number"], match["unit"].replace("''", '"'))
    return _feet_or_fraction(spelled) or _fault(spelled)


def _finite(number: str, unit: str) -> Amount | Fault:
    value = float(number.replace("−", "-"))
    if math.isfinite(value):
        return Amount(value, unit.strip())
    return too_large()


def too_large() -> Fault:
    """Return the fault of a number that no quantity can have."""
    return Fault("text-in-number-cell", "the number is too large to be one")


def _feet_or_fraction(spelled: str) -> Amount | None:
    if match := _FEET.fullmatch(spelled):
        inches = _inches(match["inches"].strip())
        if inches is None or not 0.0 <= inches < 12.0:
            return None
        return Amount((-1.0 if match["sign"] else 1.0) * (12.0 * int(match["feet"]) + inches), "in")
    match = _FRACTION.fullmatch(spelled)
    if (
        not match
        or not 0 < int(match["over"]) < int(match["under"])
        or int(match["under"]) not in _PARTS
    ):
        return None
    value = int(match["whole"] or 0) + int(match["over"]) / int(match["under"])
    return Amount(
        -value if match["sign"] else value, "in" if match["unit"] else FRACTION_OF_HEADING
    )


def _inches(text: str) -> float | None:
    """Return the inches behind feet; three digits are the thousands of another country."""
    if _THREE_DIGITS.match(text):
        return None
    if not text or _PLAIN.fullmatch(text):
        return float(text or 0.0)
    fraction = _feet_or_fraction(text)
    return fraction.number if fraction else None


_PARTS = {2, 4, 8, 16, 32, 64}
"""Parts of an inch in use; 18.5/20.2 and 2/3 are something else."""
_DOUBTING = {"tbc", "tba", "tbd", "approx", "est", "ca", "about", "max", "min", "e", "circa"}
_QUESTIONS = (
    (
        re.compile(r".*(?:±|\+\s*/\s*-|\+-).*"),
        "tolerance-in-cell",
        "the cell holds a tolerance beside its value",
        "the value alone; the tolerance in a note",
    ),
    (
        re.compile(rf"(?:.*{_N}\s*[x×*@]\s*{_N}.*)", re.IGNORECASE),
        "several-numbers",
        "the cell holds a count times a load; is it the load of one unit or of all?",
        "the load of one unit, one row for each unit",
    ),
    (
        re.compile(
            rf"[-+−]?{_N}\s*(?:/|\bto\b|;|\bor\b|\s-\s|–|…|\.\.)\s*[-+−]?{_N}\s*\D*", re.IGNORECASE
        ),
        "two-values",
        "the cell holds two values: hot and cold, least and most, or units A and B?",
        "one value in each column, or one row for each unit",
    ),
    (
        re.compile(
            rf"\s*(?:[~≈<>≤≥]|ca\.?|approx\.?|about|max\.?|min\.?|est\.?)\s*[-+−]?{_N}.*",
            re.IGNORECASE,
        ),
        "value-uncertain",
        "the value is marked as uncertain or as a limit",
        "the value alone, and the doubt in a note",
    ),
    (
        re.compile(
            rf"[-+−]?{_N}[^?]*\?+|[-+−]?{_N}.*\b(?:tbc|tba|tbd|approx|est)\b.*", re.IGNORECASE
        ),
        "value-uncertain",
        "the value is marked as uncertain or as a limit",
        "the value alone, and the doubt in a note",
    ),
    (
        _COMMAS,
        "number-ambiguous",
        "commas, points and spaces in the number can be read in two ways",
        "a number such as 1250 or 1.25, without thousands separators",
    ),
)


def _uncertain() -> Fault:
    return Fault(*_QUESTIONS[3][1:])


def _fault(spelled: str) -> Fault:
    if is_ditto(spelled):
        return ditto_fault("")
    for pattern, code, what, expected in _QUESTIONS:
        if pattern.fullmatch(spelled):
            return Fault(code, what, expected)
    return Fault(
        "text-in-number-cell",
        "the cell holds text where a number should stand",
        remedy="Leave it blank if the value is not known",
    )
