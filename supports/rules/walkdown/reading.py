"""A row as it was found, and how a pointer written down becomes a length from the zero end."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from supports.rules.walkdown.words import DIVISIONS, Fault, Grade, Half, StopSeen, ZeroEnd, half_of
from supports.units import Kind, to_si
from supports.vocabulary import PlantState


@dataclass(frozen=True, slots=True)
class Found:
    """What was found at one row of a campaign; None and '' are blanks, never noughts.

    Load [N], pointer [m from zero], gap [m], rod angle [rad], pipe temperature [K].
    """

    read_on: date | None = None
    plant_state: PlantState = PlantState.UNKNOWN
    walkers: tuple[str, ...] = ()
    pipe_temperature: float | None = None
    load: float | None = None
    pointer: float | None = None
    stop: StopSeen | None = None
    rod_angle: float | None = None
    gap: float | None = None
    grade: Grade | None = None
    fault: Fault | None = None
    act_by: date | None = None
    how_soon: str = ""
    told: str = ""
    seen: bool | None = None
    why_not: str = ""
    serial: str = ""
    photos: str = ""
    remarks: str = ""
    doubts: dict[str, str] = field(default_factory=dict)

    @property
    def half(self) -> Half | None:
        """Return the half of the cycle it was read in."""
        return half_of(self.plant_state)

    @property
    def has_value(self) -> bool:
        """Return whether a pointer or a load was read."""
        return self.pointer is not None or self.load is not None

    @property
    def is_seen(self) -> bool:
        """Return whether somebody saw it: said so, or read a value."""
        return bool(self.seen) or (self.seen is None and self.has_value)

    @property
    def is_explained(self) -> bool:
        """Return whether it was seen, or not seen with a reason."""
        return self.is_seen or (self.seen is False and bool(self.why_not))


@dataclass(frozen=True, slots=True)
class PointerScale:
    """A pointer scale as the register knows it.

    Parameters
    ----------
    length
        From end to end [m].
    zero_end
        'top', 'bottom' or '' where nobody knows.
    """

    unit: str
    length: float | None
    zero_end: str


@dataclass(frozen=True, slots=True)
class PointerWritten:
    """A pointer as it was written down.

    Parameters
    ----------
    unit
        As chosen on the form; '' takes the scale's own.
    divisions
        Marks on the whole scale, where marks were counted.
    read_from
        The end that it was read from; '' takes the scale's own.
    """

    value: float
    unit: str = ""
    divisions: float | None = None
    read_from: str = ""


def pointer_from_zero(written: PointerWritten, scale: PointerScale) -> tuple[float | None, str]:
    """Return the pointer [m] counted from the scale's zero end, and what forbids it if None.

    Marks count in proportion: 7 on a scale of 10 marks and 200 mm stands at 140 mm.
    """
    length, doubt = _length(written, scale)
    if length is None:
        return None, doubt
    other_end = bool(written.read_from and scale.zero_end) and written.read_from != scale.zero_end
    if not other_end:
        return length, ""
    if scale.length is None:
        return None, f"read from the {written.read_from}, length of the scale not known"
    return scale.length - length, ""


def _length(written: PointerWritten, scale: PointerScale) -> tuple[float | None, str]:
    unit = written.unit or scale.unit
    if not unit:
        return None, "unit of the pointer not stated"
    if unit != DIVISIONS:
        return to_si(written.value, unit, Kind.LENGTH), ""
    if not written.divisions:
        return None, "read in divisions, number of divisions not stated"
    if scale.length is None:
        return None, "read in divisions, length of the scale not known"
    return written.value / written.divisions * scale.length, ""


def zero_end(word: str) -> str:
    """Return the end named, or ''."""
    return word if word in set(ZeroEnd) else ""
