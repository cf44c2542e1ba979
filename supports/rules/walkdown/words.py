"""The words of a walkdown: what is written on forms and chosen from lists."""

from __future__ import annotations

from enum import StrEnum

from supports.vocabulary import PlantState


class Half(StrEnum):
    """The half of a cycle that a walk belongs to: two walks make a pair."""

    OPERATING = "operating"
    SHUT_DOWN = "shut down"

    @property
    def other(self) -> Half:
        """Return the other half of the pair."""
        return Half.SHUT_DOWN if self is Half.OPERATING else Half.OPERATING


OPERATING_STATES = frozenset({PlantState.OPERATING_STEADY, PlantState.OPERATING_PART_LOAD})
SHUT_DOWN_STATES = frozenset({PlantState.SHUT_DOWN_FULL, PlantState.SHUT_DOWN_DRAINED})


def half_of(state: PlantState) -> Half | None:
    """Return the half that a plant state belongs to; None where it says nothing of movement."""
    if state in OPERATING_STATES:
        return Half.OPERATING
    return Half.SHUT_DOWN if state in SHUT_DOWN_STATES else None


class Grade(StrEnum):
    """The condition of a support, as the inspector grades it."""

    GOOD = "good"
    WORN = "worn"
    ACT_BY_DATE = "act by date"
    UNSAFE_NOW = "unsafe now"
    NOT_SEEN = "not seen"


class StopSeen(StrEnum):
    """What was seen of a travel stop."""

    IN = "in"
    OUT = "out"
    SEIZED = "seized"
    MISSING = "out and missing"
    """Out of the unit and not in its holder either."""


class ZeroEnd(StrEnum):
    """The end that a pointer scale counts from."""

    TOP = "top"
    BOTTOM = "bottom"


class HowSoon(StrEnum):
    """How soon a finding wants an answer."""

    NOW = "now"
    BEFORE_START = "before start"
    NEXT_OUTAGE = "next outage"
    WATCH = "watch"


class Fault(StrEnum):
    """What is wrong with a support, as far as eyes tell."""

    CORROSION = "corrosion"
    SPRING_BROKEN = "spring broken"
    HOUSING_DENTED = "housing dented"
    PLATE_UNREADABLE = "plate not readable"
    POINTER_BENT = "pointer bent"
    ROD_BENT = "rod bent"
    CLAMP_SLIPPED = "clamp slipped"
    PIN_WORN = "pin worn"
    WELD_CRACKED = "weld cracked"
    GROUT_CRACKED = "grout cracked"
    FASTENER_LOOSE = "fastener loose or missing"
    FOREIGN_OBJECT = "foreign object"
    INSULATED_OVER = "insulated over"
    TOUCHES_STEEL = "touches steel"
    VIBRATION = "vibration"
    LEAK_NEAR = "leak near by"
    LOW_FLUID = "low fluid"
    OTHER = "other, see remarks"


class PhotoSubject(StrEnum):
    """What a photo shows, in the order in which they are taken."""

    PLATE = "plate"
    SCALE = "scale"
    POINTER = "pointer"
    ASSEMBLY = "assembly"
    OTHER = "other"


DIVISIONS = "divisions"
"""Unit of a pointer scale that counts marks, not lengths."""

_BOXES = {
    "why_not": "why not seen",
    "read_on": "day",
    "fault": "what is wrong",
    "stop": "travel stop",
    "told": "told whom",
    "serial": "serial on the plate",
}


def box_words(field: str) -> str:
    """Return what a box of a form is called where something is said of it.

    >>> box_words("plant_state"), box_words("read_on")
    ('plant state', 'day')
    """
    return _BOXES.get(field) or field.replace("_", " ")
