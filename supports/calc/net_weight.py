"""Net weight of a change: what comes on, what goes off, where its centre is, and its twist.

Axes: x along the pipe, y up, z across, with the origin on the pipe axis.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum
from math import fsum

from supports.units import STANDARD_GRAVITY

Point = tuple[float, float, float]


class Way(IntEnum):
    """Whether an item comes on or goes off; the number is its sign."""

    ADDED = 1
    REMOVED = -1


@dataclass(frozen=True, slots=True)
class Item:
    """One item of a change: `mass` [kg] and `centre` [m]; unknown is None."""

    name: str
    mass: float | None
    centre: Point | None = None
    way: Way = Way.ADDED


@dataclass(frozen=True, slots=True)
class NetWeight:
    """Net `mass` [kg], `weight` [N], `centre` [m] and the `twist` about the pipe axis [N·m].

    `without_mass` and `without_centre` name the items that are not in the sums concerned. As long
    as `without_mass` has a name, mass and weight are not the whole.
    """

    mass: float
    weight: float
    centre: Point | None
    twist: float | None
    without_mass: tuple[str, ...]
    without_centre: tuple[str, ...]

    @property
    def is_complete(self) -> bool:
        """Return whether every item had a mass."""
        return not self.without_mass


def net_weight(items: Sequence[Item]) -> NetWeight:
    """Add up a change: mass, weight, centre of gravity and twist.

    Parameters
    ----------
    items
        Items added and removed.

    Returns
    -------
    NetWeight
        Σ ± m [kg], its weight [N], Σ ± m r / Σ ± m [m] and Σ ± m g z [N·m]; centre and twist are
        None if an item lacks its mass or its centre.

    Notes
    -----
    Source: statics.
    """
    weighed = [(one, one.way * one.mass) for one in items if one.mass is not None]
    without_mass = tuple(one.name for one in items if one.mass is None)
    without_centre = tuple(one.name for one in items if one.centre is None)
    mass = fsum(signed for _, signed in weighed)
    placed = not (without_mass or without_centre)
    return NetWeight(
        mass=mass,
        weight=mass * STANDARD_GRAVITY,
        centre=_centre(weighed, mass) if placed and mass else None,
        twist=_first_moment(weighed, 2) * STANDARD_GRAVITY if placed else None,
        without_mass=without_mass,
        without_centre=without_centre,
    )


def off_axis_moment(mass: float, offset: float) -> float:
    """Return the twist of one mass beside the pipe axis.

    Parameters
    ----------
    mass
        Mass [kg].
    offset
        Horizontal distance of its centre from the pipe axis [m].

    Returns
    -------
    float
        m g z [N·m].

    Notes
    -----
    Source: statics.
    """
    return mass * STANDARD_GRAVITY * offset


def _first_moment(weighed: Sequence[tuple[Item, float]], axis: int) -> float:
    return fsum(signed * one.centre[axis] for one, signed in weighed if one.centre is not None)


def _centre(weighed: Sequence[tuple[Item, float]], mass: float) -> Point:
    x, y, z = (_first_moment(weighed, axis) / mass for axis in range(3))
    return x, y, z
