"""One published value, our value beside it, and how far apart they may be."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum


class Trust(StrEnum):
    """How far the published value was confirmed."""

    READ = "read in the source"
    MEMORY = "from memory"
    CLOSED_FORM = "closed form"
    """A textbook formula that anybody can derive."""
    BY_HAND = "worked by hand"
    LIBRARY = "worked out by an independent library"


@dataclass(frozen=True, slots=True)
class PublishedCheck:
    """One published value with the call that has to come near it.

    Parameters
    ----------
    subject
        What part of the arithmetic it holds.
    source, place
        Who published it, in which edition; clause, table or page.
    what
        The quantity, in words.
    printed
        The value with the digits as printed.
    published
        The same as a number, in `unit`.
    unit
        Unit of the published value, of the difference and of the tolerance; '' is a plain number.
    ours
        Works out our value, in `unit`.
    tolerance
        Greatest difference allowed, both ways.
    because
        Where the tolerance comes from.
    """

    subject: str
    source: str
    place: str
    what: str
    printed: str
    published: float
    unit: str
    ours: Callable[[], float]
    tolerance: float
    because: str
    trust: Trust

    def run(self) -> Checked:
        """Work out our value and hold it against the published one."""
        return Checked(self, float(self.ours()))


@dataclass(frozen=True, slots=True)
class Checked:
    """A published value with ours beside it."""

    check: PublishedCheck
    ours: float

    @property
    def difference(self) -> float:
        """Return ours less the published value, in the unit of the check."""
        return self.ours - self.check.published

    @property
    def agrees(self) -> bool:
        """Return whether the difference is within the tolerance; not a number never is."""
        return abs(self.difference) <= self.check.tolerance


def half_last_digit(printed: str) -> float:
    """Return half a unit of the last digit printed.

    >>> half_last_digit("28.26"), half_last_digit("4.448222E+03")
    (0.005, 0.0005)
    """
    digits, _, power = printed.upper().partition("E")
    _, _, decimals = digits.partition(".")
    return float(f"5e{int(power or 0) - len(decimals) - 1}")
