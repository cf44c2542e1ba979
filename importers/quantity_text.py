"""A quantity written as text: one number, perhaps with its unit, and nothing else."""

from __future__ import annotations

import math
import re
from typing import NamedTuple

from importers.faults import Fault

_PLAIN = re.compile(r"[-+−]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?")
_NUMBER_AND_UNIT = re.compile(
    r"(?P<number>[-+−]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?)\s*(?P<unit>[^\d\s.,;:/±~?<>=*x-].*)?"
)
_COMMAS = re.compile(r"[-+−]?\d+(?:[., \u00a0\u2009\u202f']\d+)+\s*(?P<unit>\D*)")


class Amount(NamedTuple):
    """A number and the unit written beside it; '' where none is."""

    number: float
    unit: str = ""


def read_amount(text: str) -> Amount | Fault:
    """Read one number with or without a unit; whatever may mean two things is a fault.

    >>> read_amount("22.1 kN")
    Amount(number=22.1, unit='kN')
    """
    spelled = text.strip(" \u00a0\t")
    if _PLAIN.fullmatch(spelled):
        return _finite(spelled, "")
    if match := _NUMBER_AND_UNIT.fullmatch(spelled):
        return _finite(match["number"], match["unit"] or "")
    if _COMMAS.fullmatch(spelled):
        return Fault(
            "number-ambiguous",
            "commas, points and spaces in the number can be read in two ways",
            "a number such as 1250 or 1.25",
            "Write it without thousands separators and with a point for the decimals",
        )
    return Fault("text-in-number-cell", "the cell holds text where a number should stand")


def _finite(number: str, unit: str) -> Amount | Fault:
    value = float(number.replace("−", "-"))
    if math.isfinite(value):
        return Amount(value, unit.strip())
    return Fault("text-in-number-cell", "the number is too large to be one")
