"""A re-set plan as a value: what each unit gets, what it costs, and why if it cannot be done."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from supports.calc.reset_plan.effort import Objective
from supports.calc.reset_plan.judge import NOTHING_USED, Use
from supports.calc.reset_plan.limits import UnitLimits
from supports.calc.reset_plan.rows import Label
from supports.calc.turns import FLATS_PER_TURN, TurnCount


class Status(StrEnum):
    """How planning ended."""

    DONE = "planned"
    BROKEN = "given loads break a limit"
    IMPOSSIBLE = "cannot be done"
    UNDECIDED = "not decided within the time allowed"


@dataclass(frozen=True, slots=True)
class UnitPlan:
    """What one unit gets.

    Parameters
    ----------
    steps
        Steps, above zero to increase the load; their size is that of the unit's limits.
    load_before, load_after
        Set load [N].
    range_use
        Share of its side of the adjusting range, counted from nameplate [1]; None if unknown.
    turns_up, turns_down
        Turns left in the range after the re-set [1]; None if unknown.
    """

    name: str
    steps: int
    turns: float
    load_before: float
    load_after: float
    range_use: float | None
    turns_up: float | None
    turns_down: float | None

    @property
    def count(self) -> TurnCount:
        """Turns and flats, without direction."""
        return TurnCount.of_flats(round(abs(self.turns) * FLATS_PER_TURN))


@dataclass(frozen=True, slots=True)
class Clash:
    """A limit that cannot be kept with the others, and by how much it is passed.

    `amount` has the unit of the label; `share` is that part of the limit's scale [1].
    """

    label: Label
    amount: float
    share: float


@dataclass(frozen=True, slots=True)
class ReliefStep:
    """One thing to do: `replace` a unit or `add` a support, set to `load` [N].

    `short` is how far the load lies outside the present range [N]; 0 for an added support.
    """

    action: str
    name: str
    load: float
    short: float
    cost: float


@dataclass(frozen=True, slots=True)
class Relief:
    """The cheapest way round an impossible re-set: what to replace or add, and then to turn."""

    steps: tuple[ReliefStep, ...]
    units: tuple[UnitPlan, ...]
    cost: float
    proved: bool


@dataclass(frozen=True, slots=True)
class ResetPlan:
    """A re-set plan, or why there is none.

    Parameters
    ----------
    units
        Units that are turned, in the order of the line.
    objectives
        Goals in the order in which they were taken, with bound and gap.
    worst
        The limit used most at the end, in any state.
    uses
        Every limit with its use at the end, the most used first.
    clashes, relief
        Only for a plan that cannot be done.
    missing
        What is not known, so that the plan cannot vouch for it.
    """

    status: Status
    units: tuple[UnitPlan, ...] = ()
    objectives: tuple[Objective, ...] = ()
    worst: Use = NOTHING_USED
    uses: tuple[Use, ...] = ()
    clashes: tuple[Clash, ...] = ()
    relief: Relief | None = None
    missing: tuple[str, ...] = ()

    @property
    def settings(self) -> dict[str, float]:
        """Set load [N] after the plan of each unit that is turned."""
        return {unit.name: unit.load_after for unit in self.units}

    @property
    def turns(self) -> float:
        """Turns in all [1]."""
        return sum(abs(unit.turns) for unit in self.units)

    @property
    def gap(self) -> float:
        """Largest gap of all goals [1]; 0 when each is proved."""
        return max((goal.gap for goal in self.objectives), default=0.0)


def unit_plan(unit: UnitLimits, steps: int) -> UnitPlan:
    """Say what `steps` do to a unit.

    load after = setting + steps × load per step; turns left = room in the range / load per turn.

    Source: definition of the load per turn; the range is counted from nameplate (common practice).
    """
    after = unit.setting + steps * (unit.step or 0.0)
    use, up, down = None, None, None
    if unit.range is not None:
        low, plate, high = unit.range
        side = high - plate if after >= plate else plate - low
        use = abs(after - plate) / side if side else None
        if unit.step:
            per_turn = unit.step * unit.steps_per_turn
            up, down = (high - after) / per_turn, (after - low) / per_turn
    return UnitPlan(
        unit.name, steps, steps / unit.steps_per_turn, unit.setting, after, use, up, down
    )
