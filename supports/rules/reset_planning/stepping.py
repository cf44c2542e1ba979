"""Whole flats or half-turns of a unit against its load, with a banded load per turn too."""

from __future__ import annotations

from dataclasses import dataclass

from supports.calc.turns import LoadPerTurnTable, load_after_turns
from supports.errors import CannotCalculate


@dataclass(frozen=True, slots=True)
class Stepping:
    """How the set load of a unit follows the steps given.

    Parameters
    ----------
    step
        Load by one step, as the plan counts [N].
    table
        Load per turn as on the nameplate; None for the take-up of a variable.
    plate_turns
        Turns as the nameplate counts them for one turn of every bolt [1].
    """

    step: float
    steps_per_turn: int
    table: LoadPerTurnTable | None
    plate_turns: float = 1.0

    def after(self, setting: float, steps: float) -> float:
        """Return the set load after so many steps [N], up or down, band by band."""
        if self.table is None:
            return setting + steps * self.step
        return load_after_turns(setting, steps / self.steps_per_turn * self.plate_turns, self.table)

    def mean(self, setting: float, steps: int) -> float:
        """Return the mean load by one step over so many steps [N]."""
        return (self.after(setting, steps) - setting) / steps if steps else self.step


def load_step(
    load: float, table: LoadPerTurnTable, plate_turns: float, steps_per_turn: int
) -> float:
    """Return the load by one step near a load [N]: mean of one step up and one down.

    Source: definition of the load per turn.
    """
    ways = [_load_by(load, way * plate_turns / steps_per_turn, table) for way in (1.0, -1.0)]
    known = [size for size in ways if size is not None]
    return sum(known) / len(known) if known else 0.0


def _load_by(load: float, turns: float, table: LoadPerTurnTable) -> float | None:
    try:
        return abs(load_after_turns(load, turns, table) - load)
    except CannotCalculate:  # the table does not reach there
        return None
