"""A re-set problem: the states of the line, the limits, and what access costs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from supports.calc.line.influence import FloatArray, InfluenceTable
from supports.calc.reset_plan.limits import (
    NozzleCheck,
    SupportLimits,
    Target,
    Trapeze,
    UnitLimits,
)
from supports.errors import BadInput, NotFound


@dataclass(frozen=True, slots=True)
class PlanState:
    """A state of the line; `working` marks the one in which people turn bolts."""

    table: InfluenceTable
    working: bool = False

    @property
    def name(self) -> str:
        """Name of the state."""
        return self.table.state


@dataclass(frozen=True, slots=True)
class PlanProblem:
    """Everything that a re-set plan depends on.

    Parameters
    ----------
    states
        Influence tables that share their columns, e.g. cold and operating.
    group_costs
        What opening each scaffold group costs [h], or 0 to count units alone.
    additions
        Columns that stand for supports which could be added, and what each would cost; a plan
        leaves them out, the cheapest way round an impossible re-set may call for them.
    keep_status
        Whether rods must stay in tension, rests in contact and units off their stops.

    Raises
    ------
    BadInput
        No state, none of them a working state, or states with different columns.
    NotFound
        A limit names something that the influence tables do not have.
    """

    states: tuple[PlanState, ...]
    units: tuple[UnitLimits, ...]
    supports: tuple[SupportLimits, ...] = ()
    nozzles: tuple[NozzleCheck, ...] = ()
    trapezes: tuple[Trapeze, ...] = ()
    targets: tuple[Target, ...] = ()
    group_costs: Mapping[str, float] = field(default_factory=dict)
    additions: Mapping[str, float] = field(default_factory=dict)
    keep_status: bool = True

    def __post_init__(self) -> None:
        columns = {state.table.units for state in self.states}
        if len(columns) != 1 or not any(state.working for state in self.states):
            raise BadInput(
                "a re-set plan needs influence tables with the same units, one of them a working "
                "state",
                found=", ".join(state.name for state in self.states) or "no state",
            )
        self._refuse_unknown()

    def _refuse_unknown(self) -> None:
        table = self.states[0].table
        beams = [name for pair in self.trapezes for name in (pair.first, pair.second)]
        units = [unit.name for unit in self.units]
        _refuse("unit", [*units, *beams, *self.additions], self.columns)
        _refuse("unit with limits", beams, units)
        _refuse("support", (limit.name for limit in self.supports), table.supports)
        _refuse("nozzle", (check.name for check in self.nozzles), table.nozzles)
        _refuse("unit or support", (t.name for t in self.targets), (*units, *table.supports))

    @property
    def columns(self) -> tuple[str, ...]:
        """Springs of the influence tables, in their order."""
        return self.states[0].table.units

    @property
    def by_name(self) -> dict[str, UnitLimits]:
        """Limits of each unit that has any."""
        return {unit.name: unit for unit in self.units}

    @property
    def missing(self) -> tuple[str, ...]:
        """What is unknown, so that the plan cannot vouch for it."""
        of_units = [f"{u.name}: {what}" for u in self.units for what in u.missing]
        bare = [f"{n.name}: limits" for n in self.nozzles if n.limits is None and not n.combined]
        judged = {n.name for n in self.nozzles}
        table = self.states[0].table
        unjudged = [f"{name}: limits" for name in table.nozzles if name not in judged]
        return (*of_units, *bare, *unjudged)

    def changes(self, settings: Mapping[str, float]) -> FloatArray:
        """Return the change of each column [N] from the present settings to new ones [N]."""
        now = {unit.name: unit.setting for unit in self.units}
        _refuse("unit with limits", settings, now)
        return np.array([settings.get(n, now.get(n, 0.0)) - now.get(n, 0.0) for n in self.columns])

    def from_settings(self, settings: Mapping[str, float]) -> PlanProblem:
        """Return the same problem from other present settings [N], by superposition.

        The free thread moves along with a unit that was found turned.
        """
        change = self.changes(settings)
        states = tuple(replace(s, table=_moved(s.table, change)) for s in self.states)
        units = tuple(_turned(u, settings.get(u.name, u.setting)) for u in self.units)
        return replace(self, states=states, units=units)


def _moved(table: InfluenceTable, change: FloatArray) -> InfluenceTable:
    return replace(table, base=table.base + table.effect @ change)


def _turned(unit: UnitLimits, setting: float) -> UnitLimits:
    if setting == unit.setting:
        return unit
    steps = (setting - unit.setting) / unit.step if unit.step else 0.0
    up = None if unit.steps_up is None else unit.steps_up - steps
    down = None if unit.steps_down is None else unit.steps_down + steps
    return replace(unit, setting=setting, steps_up=up, steps_down=down)


def _refuse(kind: str, names: Iterable[str], known: Iterable[str]) -> None:
    unknown = sorted(set(names) - set(known))
    if unknown:
        raise NotFound(f"the re-set problem names a {kind} that it lacks", found=", ".join(unknown))
