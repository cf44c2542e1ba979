"""What holds a line: constants, variables, rods, rests, guides, anchors and nozzles.

Every support becomes one or more *components*: a direction at a point with the law

    f = preload − rate × q + contact,    low ≤ q + compliance × contact ≤ high

where q is the movement along the direction and f the force on the pipe, both positive along it. The
contact pushes only at an end of the range; low = high makes a two-way restraint.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, isinf

from supports.calc.line.parts import NOWHERE, Vector
from supports.findings import Place

Six = tuple[float, float, float, float, float, float]

AXES = ("Fx", "Fy", "Fz", "Mx", "My", "Mz")
UP: Vector = (0.0, 0.0, 1.0)
HERE: Vector = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Constant:
    """A constant support: pulls with its setting, whatever the pipe does between its travel ends.

    Parameters
    ----------
    setting
        Present set load [N].
    friction
        Half of the friction band as a share of the setting [1]; None if unknown.
    travel_down, travel_up
        Travel left below and above the level of the model [m]; infinite if unknown.
    """

    name: str
    node: str
    setting: float
    friction: float | None = None
    travel_down: float = inf
    travel_up: float = inf
    offset: Vector = HERE
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Variable:
    """A variable spring: load = setting at the level of the model, minus rate × rise.

    Parameters
    ----------
    setting
        Load [N] with the pipe at the level of the model.
    rate
        Spring rate [N/m].
    load_low, load_high
        Loads at the travel ends [N], where the spring meets a stop; infinite if unknown.
    """

    name: str
    node: str
    setting: float
    rate: float
    load_low: float = -inf
    load_high: float = inf
    offset: Vector = HERE
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Rod:
    """A rigid rod: pulls up only. `slack` [m] is the sink before it carries; stiffness [N/m]."""

    name: str
    node: str
    slack: float = 0.0
    stiffness: float = inf
    offset: Vector = HERE
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Rest:
    """A rest: pushes up only. `gap` [m] is the sink before it carries; stiffness [N/m]."""

    name: str
    node: str
    gap: float = 0.0
    stiffness: float = inf
    offset: Vector = HERE
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Guide:
    """A guide, line stop or strut: holds both ways along `direction`, after `gap` [m] each way."""

    name: str
    node: str
    direction: Vector
    gap: float = 0.0
    stiffness: float = inf
    offset: Vector = HERE
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class NozzleLimits:
    """What the pipe may put on equipment: six sizes [N], [N·m]; and where the figures come from.

    None means that the figure is not known.
    """

    components: tuple[float | None, ...] = (None,) * 6
    force: float | None = None
    moment: float | None = None
    source: str = ""


@dataclass(frozen=True, slots=True)
class Anchor:
    """An anchor or nozzle with six stiffnesses [N/m], [N·m/rad]; infinite is rigid, 0 is free."""

    name: str
    node: str
    stiffness: Six = (inf,) * 6
    limits: NozzleLimits | None = None
    place: Place = NOWHERE


Spring = Constant | Variable
OneWay = Rod | Rest
Support = Constant | Variable | Rod | Rest | Guide | Anchor


@dataclass(frozen=True, slots=True)
class Component:
    """One direction of one support with its law; `axis` is its place among Fx to Mz of an anchor.

    Parameters
    ----------
    preload
        [N]; rate [N/m]; compliance [m/N] or [rad/(N·m)]; low, high [m] or [rad].
    """

    support: str
    node: str
    direction: Vector
    turning: bool = False
    axis: int = 2
    offset: Vector = HERE
    preload: float = 0.0
    rate: float = 0.0
    compliance: float = 0.0
    low: float = -inf
    high: float = inf


def components_of(support: Support) -> tuple[Component, ...]:
    """Return the components of one support."""
    match support:
        case Constant():
            return (_constant(support),)
        case Variable():
            return (_variable(support),)
        case Rod(slack=free) | Rest(gap=free):
            return (_one_way(support, free),)
        case Guide():
            return (_guide(support),)
        case Anchor():
            return tuple(_anchored(support, axis) for axis in range(6) if support.stiffness[axis])


def is_spring(support: Support) -> bool:
    """Return whether the support is a constant or a variable."""
    return isinstance(support, Constant | Variable)


def is_one_way(support: Support) -> bool:
    """Return whether the support can lift off or go slack."""
    return isinstance(support, Rod | Rest)


def spring_range(unit: Variable, setting: float) -> tuple[float, float]:
    """Return the movements at which a variable with this setting meets its stops.

    From load = setting − rate × q: low = (setting − load_high) / rate and the like.

    Parameters
    ----------
    setting
        Load with the pipe at the level of the model [N].

    Returns
    -------
    tuple of float
        Lowest and highest movement [m]; infinite where the end load is not known.

    Source: Hooke's law.
    """
    low = -inf if isinf(unit.load_high) else (setting - unit.load_high) / unit.rate
    high = inf if isinf(unit.load_low) else (setting - unit.load_low) / unit.rate
    return low, high


def _constant(unit: Constant) -> Component:
    return Component(
        unit.name,
        unit.node,
        UP,
        offset=unit.offset,
        preload=unit.setting,
        low=-unit.travel_down,
        high=unit.travel_up,
    )


def _variable(unit: Variable) -> Component:
    low, high = spring_range(unit, unit.setting)
    return Component(
        unit.name,
        unit.node,
        UP,
        offset=unit.offset,
        preload=unit.setting,
        rate=unit.rate,
        low=low,
        high=high,
    )


def _one_way(support: OneWay, free: float) -> Component:
    return Component(
        support.name,
        support.node,
        UP,
        offset=support.offset,
        compliance=1.0 / support.stiffness,
        low=-free,
    )


def _guide(guide: Guide) -> Component:
    x, y, z = guide.direction
    length = (x * x + y * y + z * z) ** 0.5
    return Component(
        guide.name,
        guide.node,
        (x / length, y / length, z / length),
        offset=guide.offset,
        compliance=1.0 / guide.stiffness,
        low=-guide.gap,
        high=guide.gap,
    )


def _anchored(anchor: Anchor, axis: int) -> Component:
    along = axis % 3
    return Component(
        anchor.name,
        anchor.node,
        (float(along == 0), float(along == 1), float(along == 2)),
        turning=axis > 2,  # the first three axes shift, the others turn
        axis=axis,
        compliance=1.0 / anchor.stiffness[axis],
        low=0.0,
        high=0.0,
    )
