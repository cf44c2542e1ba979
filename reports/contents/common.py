"""What every paper carries, and the small values that papers share.

Pure data: SI floats inside, the symbol of the unit to print beside them. `None` is unknown and is
printed as such; it never counts as nought.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from supports.units import Kind

FLATS_IN_A_TURN = 6
"""Flats of a hexagon: the smallest step that a hand can count on a wrench."""


class PageSize(StrEnum):
    """Sheets that site printers hold."""

    A4 = "a4"
    LETTER = "us-letter"


class Direction(StrEnum):
    """Which way the load on the scale goes when the bolt is turned as told."""

    INCREASE = "increase"
    DECREASE = "decrease"


class TravelStopState(StrEnum):
    """What is known of a travel stop."""

    FITTED = "fitted"
    OUT = "out"
    SEIZED = "seized"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class PaperHead:
    """What stands on every page.

    Parameters
    ----------
    about
        Line, change or campaign that the paper is about.
    made
        When the paper was made, as given by whoever asked for it; nothing here reads a clock. With
        the zone of the plant's clock, where one is laid down.
    fingerprint
        Short fingerprint of the content, or of the register's state, as given.
    valid_until
        A date or an event in words.
    copy_number
        Number of the printed copy; empty leaves a line to write it on.
    chain_head
        Short head of the record's chain when the paper was made: what the register held then can
        be proved by it.
    """

    title: str
    number: str
    about: str
    revision: str
    made: datetime
    fingerprint: str
    valid_until: str
    plant: str
    copy_number: str = ""
    prepared_by: str = ""
    checked_by: str = ""
    approved_by: str = ""
    chain_head: str = ""


@dataclass(frozen=True, slots=True)
class Amount:
    """One SI value with the unit to print it in; `si` None is unknown."""

    si: float | None
    unit: str
    kind: Kind
    decimals: int | None = None


@dataclass(frozen=True, slots=True)
class Turns:
    """Whole turns and flats of one bolt, never negative; the direction stands apart."""

    whole: int
    flats: int = 0

    @property
    def total(self) -> float:
        """Turns as a decimal number."""
        return self.whole + self.flats / FLATS_IN_A_TURN

    def __str__(self) -> str:
        """Return the words printed: '8 turns 2 flats'."""
        parts = []
        if self.whole or not self.flats:
            parts.append(f"{self.whole} turn{'' if self.whole == 1 else 's'}")
        if self.flats:
            parts.append(f"{self.flats} flat{'' if self.flats == 1 else 's'}")
        return " ".join(parts)

    @property
    def short(self) -> str:
        """Return the words for a narrow column: '8 t 2 f'."""
        parts = [f"{self.whole} t"] if self.whole or not self.flats else []
        return " ".join((*parts, f"{self.flats} f") if self.flats else parts)


@dataclass(frozen=True, slots=True)
class Missing:
    """One thing that is not known, and who must supply it."""

    what: str
    who_supplies: str


@dataclass(frozen=True, slots=True)
class Signature:
    """One line to sign; `name` may be known beforehand."""

    role: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class LoadBasis:
    """Where the required loads come from.

    Parameters
    ----------
    screening
        True where they come from the hand method or the program's own line calculation.
    """

    calculation: str
    revision: str
    method: str
    sign_convention: str
    screening: bool
    cases: tuple[str, ...] = ()
