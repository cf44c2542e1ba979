"""Words of the tablet form: the lists in its boxes, and register words that its script shows."""

from __future__ import annotations

from reports.contents.common import Direction
from reports.contents.resetting_pack import TurnedPart
from reports.xlsx.walkdown_form import LOAD_UNITS, POINTER_UNITS, TEMPERATURE_UNITS
from supports.rules.walkdown.words import Fault, Grade, HowSoon, PhotoSubject, StopSeen, ZeroEnd
from supports.rules.workflow import LineState
from supports.vocabulary import PlantState, SupportKind


def form_lists() -> dict[str, list[str]]:
    """Return what may be chosen in each box, in the register's own words."""
    return {
        "plant_state": [str(one) for one in PlantState],
        "stop": [str(one) for one in StopSeen],
        "grade": [str(one) for one in Grade],
        "fault": [str(one) for one in Fault],
        "how_soon": [str(one) for one in HowSoon],
        "read_from": [str(one) for one in ZeroEnd],
        "subject": [str(one) for one in PhotoSubject],
        "pointer_unit": list(POINTER_UNITS),
        "load_unit": list(LOAD_UNITS),
        "temperature_unit": list(TEMPERATURE_UNITS),
    }


def register_words() -> list[str]:
    """Return the register's words that cards show outside of lists."""
    closed = (SupportKind, TurnedPart, PhotoSubject, Direction, PlantState, LineState)
    return [str(one) for words in closed for one in words]
