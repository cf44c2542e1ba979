"""Nozzle loads against limits that come as data with a source; no limit lives in this code."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from supports.calc.elementwise import ratio
from supports.calc.tables import row
from supports.units import FloatOrArray, Kind, from_si


@dataclass(frozen=True, slots=True)
class CombinedRule:
    """A rule of the kind a·F + b·M ≤ c·De in the units its publication is written in.

    De is the nominal size up to `full_size_up_to`, above it (`added_above` + size) /
    `divisor_above`; these three are in `diameter_unit`.
    """

    name: str
    force_factor: float
    moment_factor: float
    limit_per_diameter: float
    force_unit: str
    moment_unit: str
    diameter_unit: str
    full_size_up_to: float
    added_above: float
    divisor_above: float
    source: str


@dataclass(frozen=True, slots=True)
class ComponentUse:
    """One component: `load` and `limit` [N or N·m], `share` of the limit [1]; unknown is None."""

    name: str
    load: float | None
    limit: float
    share: float | None


def combined_rule(name: str) -> CombinedRule:
    """Read a combined rule from the shipped table.

    Parameters
    ----------
    name
        Name in the table, such as 'steam turbine'.

    Returns
    -------
    CombinedRule
        The rule with its source.

    Raises
    ------
    CannotCalculate
        The table has no such rule.

    Notes
    -----
    Source: see the row.
    """
    found = row("nozzle_combined_rules", "name", name)
    return CombinedRule(
        name=found["name"],
        force_factor=float(found["force_factor"]),
        moment_factor=float(found["moment_factor"]),
        limit_per_diameter=float(found["limit_per_diameter"]),
        force_unit=found["force_unit"],
        moment_unit=found["moment_unit"],
        diameter_unit=found["diameter_unit"],
        full_size_up_to=float(found["full_size_up_to"]),
        added_above=float(found["added_above"]),
        divisor_above=float(found["divisor_above"]),
        source=found["source"],
    )


def equivalent_diameter(nominal: float, rule: CombinedRule) -> float:
    """Return the diameter that a combined rule counts with.

    Parameters
    ----------
    nominal
        Nominal size of the nozzle [m].
    rule
        The rule.

    Returns
    -------
    float
        De in the rule's own unit of length [1].

    Notes
    -----
    Equation: D up to the full size, (added + D) / divisor above. Source: the rule's own.
    """
    size = from_si(nominal, rule.diameter_unit, Kind.LENGTH)
    if size <= rule.full_size_up_to:
        return size
    return (rule.added_above + size) / rule.divisor_above


def combined_use(force: float, moment: float, nominal: float, rule: CombinedRule) -> float:
    """Return the use of a combined rule.

    Parameters
    ----------
    force
        Resultant force at the nozzle [N].
    moment
        Resultant moment at the nozzle [N·m].
    nominal
        Nominal size of the nozzle [m].
    rule
        The rule.

    Returns
    -------
    float
        (a F + b M) / (c De), worked in the rule's own units; above 1 is over [1].

    Notes
    -----
    Source: the rule's own.
    """
    loaded = rule.force_factor * from_si(force, rule.force_unit, Kind.LOAD)
    turned = rule.moment_factor * from_si(moment, rule.moment_unit, Kind.MOMENT)
    return ratio(loaded + turned, rule.limit_per_diameter * equivalent_diameter(nominal, rule))


def resultant(x: float, y: float, z: float) -> float:
    """Return the resultant of three components.

    Parameters
    ----------
    x, y, z
        Components of a force [N] or of a moment [N·m].

    Returns
    -------
    float
        √(x² + y² + z²) [N or N·m].

    Notes
    -----
    Source: geometry.
    """
    return math.hypot(x, y, z)


def component_uses(
    loads: Mapping[str, float | None], limits: Mapping[str, float]
) -> tuple[ComponentUse, ...]:
    """Judge nozzle components one by one.

    Parameters
    ----------
    loads
        Load by component name, such as 'fy' [N] or 'mz' [N·m].
    limits
        Limit by component name, without sign [N or N·m].

    Returns
    -------
    tuple of ComponentUse
        One for each limit, |load| / limit; a load not known stays None and is no pass [1].

    Notes
    -----
    Source: the limits' own, such as an equipment standard or the maker's data.
    """
    return tuple(_component_use(name, loads.get(name), limit) for name, limit in limits.items())


def _component_use(name: str, load: float | None, limit: float) -> ComponentUse:
    return ComponentUse(name, load, limit, None if load is None else ratio(abs(load), limit))


def imbalance_bound(
    imbalance: FloatOrArray, distance: FloatOrArray
) -> tuple[FloatOrArray, FloatOrArray]:
    """Return the most that a vertical imbalance near a nozzle can put on it.

    Parameters
    ----------
    imbalance
        Imbalance at the support, such as its half friction band [N].
    distance
        Distance of the support from the nozzle [m].

    Returns
    -------
    tuple of two FloatOrArray
        Force E [N] and moment E x [N·m].

    Notes
    -----
    Source: statics; all of it goes to the nozzle as if nothing else held the line.
    """
    return imbalance, imbalance * distance
