"""What an engineer asks of a re-set plan: the aim, the smallest step, the state of the work."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from supports.calc.line.aims import Aim
from supports.vocabulary import PlantState


class PlanAim(StrEnum):
    """What the loads after the re-set are to be; an engineer chooses, nobody else."""

    CALCULATION = "loads of the calculation"
    LEVEL = "pipe back to its level"
    NOZZLE_FREE = "nozzle free of force and moment"
    LEAST_NOZZLE_CHANGE = "least change to nozzle"
    LIMITS = "every limit kept, nothing more"

    @property
    def of_line(self) -> Aim | None:
        """Return the aim of the line calculation behind it; None where it needs none."""
        return {
            PlanAim.LEVEL: Aim.LEVEL,
            PlanAim.NOZZLE_FREE: Aim.NOZZLE_FREE,
            PlanAim.LEAST_NOZZLE_CHANGE: Aim.LEAST_NOZZLE_CHANGE,
        }.get(self)


class PlanKind(StrEnum):
    """What a plan was made from."""

    FIRST = "from the assessment"
    AS_FOUND = "from as-found readings"
    UNDO = "back from as-left readings"


WORK_STATES = (PlantState.SHUT_DOWN_DRAINED, PlantState.SHUT_DOWN_FULL, PlantState.OPERATING_STEADY)
"""States of the line in which bolts may be turned and which the line calculation knows."""

FLATS, HALF_TURNS = 6, 2
"""Steps to a turn."""


@dataclass(frozen=True, slots=True)
class PlanWish:
    """How a plan is to be made.

    Parameters
    ----------
    steps_per_turn
        6 for whole flats, 2 for half-turns.
    work_state
        State of the line while people turn bolts.
    friction_share
        Part of each nameplate's friction band that limits must bear at both of its ends [1].
    alternatives
        Whether other plans are laid beside the first.
    """

    aim: PlanAim = PlanAim.CALCULATION
    steps_per_turn: int = FLATS
    work_state: PlantState = PlantState.SHUT_DOWN_DRAINED
    alternatives: bool = False
    friction_share: float = 1.0
