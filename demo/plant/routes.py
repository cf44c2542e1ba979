"""The way of a line through space: legs along the plant's axes, joined by round elbows."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

Vector = tuple[float, float, float]
"""East, north, up [m]."""

EAST, WEST, NORTH, SOUTH, UP, DOWN = (
    (1.0, 0.0, 0.0),
    (-1.0, 0.0, 0.0),
    (0.0, 1.0, 0.0),
    (0.0, -1.0, 0.0),
    (0.0, 0.0, 1.0),
    (0.0, 0.0, -1.0),
)
QUARTER = math.pi / 2.0


@dataclass(frozen=True, slots=True)
class Leg:
    """From corner to corner: a direction and the `length` [m] between the two corners."""

    direction: Vector
    length: float


@dataclass(frozen=True, slots=True)
class Stretch:
    """A straight or an elbow: `begin` and `end` along the line [m], and its two end points."""

    begin: float
    end: float
    start: Vector
    finish: Vector
    is_bend: bool

    @property
    def is_vertical(self) -> bool:
        """Return whether it is a riser or a drop."""
        return not self.is_bend and self.start[:2] == self.finish[:2]

    def at(self, distance: float) -> Vector:
        """Return the point of a straight at a distance along the line [m]."""
        share = (distance - self.begin) / (self.end - self.begin)
        return shifted(self.start, difference(self.finish, self.start), share)


def shifted(point: Vector, direction: Vector, length: float) -> Vector:
    """Return the point moved by so many lengths of the direction."""
    east, north, up = (round(p + d * length, 9) for p, d in zip(point, direction, strict=True))
    return (east, north, up)


def difference(one: Vector, other: Vector) -> Vector:
    """Return `one` less `other`."""
    return (one[0] - other[0], one[1] - other[1], one[2] - other[2])


@dataclass(frozen=True, slots=True)
class Route:
    """The whole way; `radius` of all elbows [m]."""

    stretches: tuple[Stretch, ...]
    radius: float

    @property
    def length(self) -> float:
        """Length of the centre line [m]."""
        return self.stretches[-1].end

    def stretch_at(self, distance: float) -> Stretch:
        """Return the stretch at a distance along the line [m]."""
        return next(s for s in self.stretches if distance <= s.end + 1e-6)

    def point_at(self, distance: float) -> Vector:
        """Return the point at a distance along the line [m]; within an elbow, its end."""
        stretch = self.stretch_at(distance)
        at_start = math.isclose(distance, stretch.begin, abs_tol=1e-6)
        if stretch.is_bend:
            return stretch.start if at_start else stretch.finish
        return stretch.at(distance)

    def off_bends(self, distance: float, clearance: float = 0.3) -> float:
        """Return the distance, moved on past an elbow that it falls into or beside [m]."""
        for stretch in self.stretches:
            if stretch.is_bend and stretch.begin - clearance < distance < stretch.end + clearance:
                return round(stretch.end + clearance, 3)
        return round(distance, 3)


def route(start: Vector, legs: Sequence[Leg], radius: float) -> Route:
    """Lay out the legs from a start, an elbow of 90 degrees at every corner."""
    return Route(tuple(_stretches(start, legs, radius)), radius)


def _stretches(start: Vector, legs: Sequence[Leg], radius: float) -> Iterable[Stretch]:
    point, done = start, 0.0
    for index, leg in enumerate(legs):
        last = index == len(legs) - 1
        straight = leg.length - radius * ((index > 0) + (not last))
        finish = shifted(point, leg.direction, straight)
        yield Stretch(done, round(done + straight, 9), point, finish, is_bend=False)
        point, done = finish, round(done + straight, 9)
        if not last:
            corner = shifted(point, leg.direction, radius)
            finish = shifted(corner, legs[index + 1].direction, radius)
            around = round(done + radius * QUARTER, 9)
            yield Stretch(done, around, point, finish, is_bend=True)
            point, done = finish, around


@dataclass(frozen=True, slots=True)
class Fitting:
    """A valve, a flange pair or a reducer within a straight.

    Parameters
    ----------
    begin, length
        Where it begins along the line and how long it is [m].
    piece
        'valve', 'flange pair' or 'reducer'.
    mass
        Its mass [kg].
    offset
        Its centre of mass from the middle of its axis: east, north, up [m].
    """

    begin: float
    length: float
    piece: str
    mass: float
    offset: Vector = (0.0, 0.0, 0.0)

    @property
    def end(self) -> float:
        """Where it ends along the line [m]."""
        return self.begin + self.length

    @property
    def middle(self) -> float:
        """Where its middle is along the line [m]."""
        return self.begin + self.length / 2.0


@dataclass(frozen=True, slots=True)
class Element:
    """What lies between two neighbouring nodes; `fitting` where it is no plain pipe."""

    begin: float
    end: float
    piece: str
    fitting: Fitting | None


def elements(
    way: Route, fittings: Sequence[Fitting], supports: Iterable[float]
) -> tuple[Element, ...]:
    """Cut a route at elbows, fittings and supports."""
    stops = {0.0, *(s.end for s in way.stretches), *supports}
    stops |= {edge for f in fittings for edge in (f.begin, f.end)}
    ordered = sorted({round(stop, 6) for stop in stops})
    return tuple(_element(way, fittings, *pair) for pair in pairwise(ordered))


def _element(way: Route, fittings: Sequence[Fitting], begin: float, end: float) -> Element:
    middle = (begin + end) / 2.0
    fitting = next((f for f in fittings if f.begin < middle < f.end), None)
    if fitting:
        return Element(begin, end, fitting.piece, fitting)
    return Element(begin, end, "bend" if way.stretch_at(middle).is_bend else "pipe", None)
