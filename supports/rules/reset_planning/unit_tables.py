"""Influence tables by support point made into tables by unit: what each scale shows.

The line model has one spring for a support point, and leaves out what hangs below its units. With
the part s that this line has in the point's load, the force f on the pipe, the weight h that hangs
below, and a set-load change x of one unit,

    force on the pipe grows by s x,      all scales together show f / s + h

and of two units the second shows its setting + x − rate × movement, the first the rest, a travel
stop's force included.

Source: statics; Hooke's law.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from supports.calc.line.influence import FloatArray, InfluenceTable
from supports.calc.line.line import Line
from supports.calc.reset_plan.problem import PlanState
from supports.calc.reset_plan.recheck import Resolve
from supports.rules.reset_planning.springs import PlanUnit


@dataclass(frozen=True, slots=True)
class Layout:
    """Which units stand for a support point; a point without any is a prop, a rod or a rest.

    Parameters
    ----------
    at
        Units of each point in their order.
    hanging
        Weight below the units of each point [N].
    """

    units: Mapping[str, PlanUnit]
    at: Mapping[str, tuple[str, ...]]
    hanging: Mapping[str, float]

    def places(self, points: Iterable[str]) -> tuple[tuple[str, str], ...]:
        """Return name and point of each unit, or of the point itself where it has none."""
        return tuple((name, point) for point in points for name in self.at.get(point, (point,)))

    def share(self, name: str) -> float:
        """Return the part of a unit's load that comes from this line [1]."""
        return self.units[name].share if name in self.units else 1.0

    def point(self, name: str) -> str:
        """Return the support point of a unit, a prop or a rod."""
        return self.units[name].support.tag if name in self.units else name


def layout_of(line: Line, units: Iterable[PlanUnit]) -> Layout:
    """Return which units stand for the springs of a line."""
    springs = {spring.name: spring.setting for spring in line.springs}
    by_name = {unit.name: unit for unit in units if unit.support.tag in springs}
    at: dict[str, tuple[str, ...]] = {}
    hanging: dict[str, float] = {}
    for name, unit in by_name.items():
        point = unit.support.tag
        at[point] = (*at.get(point, ()), name)
        below = hanging.get(point, -springs[point] / unit.share)
        hanging[point] = below + unit.limits.setting
    return Layout(by_name, at, hanging)


def by_unit(table: InfluenceTable, layout: Layout) -> InfluenceTable:
    """Return the table with units in place of their points."""
    rows = layout.places(table.supports)
    names = tuple(name for name, _ in rows)
    points = [table.supports.index(point) for _, point in rows]
    moved = [table.pointers.index(point) for _, point in rows]
    spring = np.array([name in layout.units for name in names])
    effect = np.vstack(
        [
            _load_effects(table, layout, rows),
            _columns(table, layout, [table.loads_end + at for at in moved]),
            _columns(table, layout, range(table.pointers_end, len(table.base))),
        ]
    )
    return replace(
        table,
        units=tuple(name for name, _ in layout.places(table.units)),
        supports=names,
        pointers=names,
        base=unit_values(table.base, table, layout, {}),
        effect=effect,
        load_floor=np.where(spring, -np.inf, table.load_floor[points]),
        load_ceiling=np.where(spring, np.inf, table.load_ceiling[points]),
        pointer_low=table.pointer_low[moved],
        pointer_high=table.pointer_high[moved],
    )


def unit_values(
    values: FloatArray, table: InfluenceTable, layout: Layout, changes: Mapping[str, float]
) -> FloatArray:
    """Return results by point [N], [m], [N·m] as results by unit.

    Parameters
    ----------
    values
        In the order of the table by point.
    changes
        Set-load changes of units that the values hold already [N].
    """
    loads: list[float] = []
    movements: list[float] = []
    for row, point in enumerate(table.supports):
        movement = float(values[table.loads_end + table.pointers.index(point)])
        shown = _shown(float(values[row]), movement, point, layout, changes)
        loads += shown
        movements += [movement] * len(shown)
    return np.array([*loads, *movements, *values[table.pointers_end :]])


def _shown(
    force: float, movement: float, point: str, layout: Layout, changes: Mapping[str, float]
) -> list[float]:
    """Return what the scales of a point show [N]; the force itself where it has no unit."""
    names = layout.at.get(point, ())
    if not names:
        return [force]
    units = [layout.units[name] for name in names]
    together = force / units[0].share + layout.hanging[point]
    others = [
        unit.limits.setting + changes.get(unit.name, 0.0) - unit.rate * movement
        for unit in units[1:]
    ]
    return [together - sum(others), *others]


def _load_effects(
    table: InfluenceTable, layout: Layout, rows: tuple[tuple[str, str], ...]
) -> FloatArray:
    columns = [name for name, _ in layout.places(table.units)]
    out = _columns(table, layout, [table.supports.index(point) for _, point in rows])
    moved = _columns(
        table, layout, [table.loads_end + table.pointers.index(point) for _, point in rows]
    )
    own = {name: np.array([float(column == name) for column in columns]) for name, _ in rows}
    for row, (name, point) in enumerate(rows):
        names = layout.at.get(point, ())
        if not names:
            continue
        if name == names[0]:
            out[row] /= layout.share(name)
            for other in names[1:]:
                out[row] -= own[other] - layout.units[other].rate * moved[row]
        else:
            out[row] = own[name] - layout.units[name].rate * moved[row]
    return out


def _columns(table: InfluenceTable, layout: Layout, rows: Iterable[int]) -> FloatArray:
    places = layout.places(table.units)
    picked = [table.units.index(point) for _, point in places]
    share = np.array([layout.share(name) for name, _ in places])
    out: FloatArray = table.effect[np.ix_(list(rows), picked)] * share
    return out


def states_by_unit(states: Iterable[PlanState], layout: Layout) -> tuple[PlanState, ...]:
    """Return plan states by unit from those by point."""
    return tuple(replace(state, table=by_unit(state.table, layout)) for state in states)


@dataclass(frozen=True, slots=True)
class ResolveByUnit:
    """The full solve of a line, asked and answered by unit; see `recheck.Resolve`."""

    inner: Resolve
    tables: Mapping[str, InfluenceTable]
    layout: Layout

    def __call__(
        self, state: str, changes: Mapping[str, float], held: Mapping[str, float]
    ) -> FloatArray:
        """Return loads [N], movements [m] and nozzle components [N], [N·m] of one state."""
        at_points: dict[str, float] = {}
        for name, change in changes.items():
            point, part = self.layout.point(name), self.layout.share(name) * change
            at_points[point] = at_points.get(point, 0.0) + part
        levels = {self.layout.point(name): level for name, level in held.items()}
        solved = self.inner(state, at_points, levels)
        return unit_values(solved, self.tables[state], self.layout, changes)
