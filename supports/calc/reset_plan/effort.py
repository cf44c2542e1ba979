"""How long the optimiser may try, and how it tells what it reached."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Goal(StrEnum):
    """What a plan makes small; goals are taken one after the other, the first rules."""

    COST = "units touched, weighed by access"
    USE = "worst use of any limit"
    TURNS = "turns in all"


@dataclass(frozen=True, slots=True)
class Effort:
    """Bounds of the work of one optimisation.

    Parameters
    ----------
    seconds
        Time limit of one run of the optimiser [s].
    gap
        Relative gap at which a goal counts as reached [1].
    tangents
        Rounds in which tangents to resultant rules may be added.
    """

    seconds: float = 10.0
    gap: float = 1e-4
    tangents: int = 60


@dataclass(frozen=True, slots=True)
class Objective:
    """One goal as reached: its value, the bound that none can beat, the gap between them [1]."""

    goal: Goal
    value: float
    bound: float
    proved: bool

    @property
    def gap(self) -> float:
        """Part of the value that might still be saved [1]."""
        return max(0.0, self.value - self.bound) / max(abs(self.value), 1e-9)
