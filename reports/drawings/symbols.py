"""Signs for supports and pieces, each explained in the legend of the sheet that uses it.

A support's sign grows away from the pipe along `away`; constants are squares with a level bar,
variables squares with a slanting one: the first keeps its load, the second changes it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from reports.drawings.primitives import (
    PLAIN,
    STRONG,
    THIN,
    Circle,
    Fill,
    Item,
    Point,
    Shape,
    Stroke,
    Words,
)
from supports.vocabulary import RoutePiece, SupportKind

REACH = 7.2
"""How far a support's sign reaches from the pipe [mm]."""
UP, DOWN, ASIDE = (0.0, -1.0), (0.0, 1.0), (1.0, 0.0)


@dataclass(frozen=True, slots=True)
class Axes:
    """Axes of a sign: `away` from the pipe, `beside` across that."""

    at: Point
    away: Point

    def point(self, away: float, beside: float) -> Point:
        """Return a point by its distances along the axes [mm]."""
        (x, y), (dx, dy) = self.at, self.away
        return (x + dx * away - dy * beside, y + dy * away + dx * beside)

    def line(self, *points: Point, width: float = PLAIN) -> Stroke:
        """Return a line through points given along the axes."""
        return Stroke(tuple(self.point(*p) for p in points), width)

    def shape(self, *points: Point, fill: Fill = Fill.WHITE, width: float = PLAIN) -> Shape:
        """Return a closed shape through points given along the axes."""
        return Shape(tuple(self.point(*p) for p in points), fill, width)

    def square(self, near: float, far: float, half: float, fill: Fill = Fill.WHITE) -> Shape:
        """Return a rectangle across the axis."""
        return self.shape((near, -half), (near, half), (far, half), (far, -half), fill=fill)


def _stem(a: Axes, far: float) -> Stroke:
    return a.line((0.0, 0.0), (far, 0.0))


def _held(a: Axes) -> Stroke:
    """Draw the steel that the support stands on or hangs from."""
    return a.line((REACH, -2.2), (REACH, 2.2), width=STRONG)


def _constant(a: Axes) -> list[Item]:
    bar = a.line((4.6, -1.9), (4.6, 1.9), width=STRONG)
    return [_stem(a, REACH), a.square(2.7, 6.5, 1.9), bar, _held(a)]


def _variable(a: Axes) -> list[Item]:
    bar = a.line((2.7, -1.9), (6.5, 1.9), width=STRONG)
    return [_stem(a, REACH), a.square(2.7, 6.5, 1.9), bar, _held(a)]


def _rod(a: Axes) -> list[Item]:
    return [_stem(a, REACH), _held(a)]


def _strut(a: Axes) -> list[Item]:
    ends = [Circle(a.point(d, 0.0), 0.7, Fill.WHITE, PLAIN) for d in (1.2, 6.2)]
    return [_stem(a, REACH), *ends, _held(a)]


def _rest(a: Axes) -> list[Item]:
    return [a.shape((0.5, 0.0), (3.4, -1.9), (3.4, 1.9)), a.line((3.4, -2.6), (3.4, 2.6))]


def _roller(a: Axes) -> list[Item]:
    return [Circle(a.point(1.9, 0.0), 1.4, Fill.WHITE, PLAIN), a.line((3.4, -2.6), (3.4, 2.6))]


def _leg(a: Axes) -> list[Item]:
    return [a.square(0.4, 4.2, 0.7), a.line((4.2, -2.6), (4.2, 2.6), width=STRONG)]


def _anchor(a: Axes) -> list[Item]:
    cross = [a.line((-1.6, -1.6), (1.6, 1.6)), a.line((-1.6, 1.6), (1.6, -1.6))]
    return [a.square(-1.6, 1.6, 1.6), *cross]


def _guide(a: Axes) -> list[Item]:
    """Two bars beside the pipe; `away` is across the pipe."""
    return [a.line((d, -2.2), (d, 2.2), width=STRONG) for d in (-1.7, 1.7)]


def _line_stop(a: Axes) -> list[Item]:
    """Two bars that close the pipe's way; `away` is across the pipe."""
    return [a.line((-2.4, d), (2.4, d), width=STRONG) for d in (-1.0, 1.0)]


def _arrestor(a: Axes) -> list[Item]:
    return [_stem(a, REACH), a.square(3.0, 5.8, 0.9, Fill.BLACK), _held(a)]


def _brace(a: Axes) -> list[Item]:
    return [_stem(a, REACH), a.square(3.0, 5.8, 0.9), _held(a)]


def _counterweight(a: Axes) -> list[Item]:
    return [_stem(a, 4.6), Circle(a.point(5.4, 0.0), 1.6, Fill.BLACK, PLAIN)]


def _unknown(a: Axes) -> list[Item]:
    middle = a.point(5.0, 0.0)
    return [_stem(a, 3.2), Circle(middle, 1.8, Fill.WHITE, PLAIN), Words(middle, "?", 2.6)]


Maker = Callable[[Axes], list[Item]]
_MAKERS: dict[SupportKind, Maker] = {
    SupportKind.CONSTANT_HANGER: _constant,
    SupportKind.CONSTANT_REST: _constant,
    SupportKind.VARIABLE_HANGER: _variable,
    SupportKind.VARIABLE_REST: _variable,
    SupportKind.RIGID_ROD: _rod,
    SupportKind.RIGID_STRUT: _strut,
    SupportKind.REST: _rest,
    SupportKind.ROLLER: _roller,
    SupportKind.GUIDE: _guide,
    SupportKind.LINE_STOP: _line_stop,
    SupportKind.ANCHOR: _anchor,
    SupportKind.SHOCK_ARRESTOR: _arrestor,
    SupportKind.SWAY_BRACE: _brace,
    SupportKind.DUMMY_LEG: _leg,
    SupportKind.COUNTERWEIGHT: _counterweight,
    SupportKind.UNKNOWN: _unknown,
}
_BELOW = {
    SupportKind.REST,
    SupportKind.ROLLER,
    SupportKind.DUMMY_LEG,
    SupportKind.CONSTANT_REST,
    SupportKind.VARIABLE_REST,
}
_ACROSS = {SupportKind.GUIDE, SupportKind.LINE_STOP, SupportKind.ANCHOR}


def support_sign(kind: SupportKind, at: Point, run: Point) -> list[Item]:
    """Return a support's sign where the pipe runs along `run` on the paper."""
    return _MAKERS[kind](Axes(at, away_of(kind, run)))


def sign_along(kind: SupportKind, axes: Axes) -> list[Item]:
    """Return a support's sign along axes of one's own."""
    return _MAKERS[kind](axes)


def away_of(kind: SupportKind, run: Point) -> Point:
    """Return where the sign grows: up or down, aside of an upright pipe, or across the pipe."""
    if kind in _ACROSS:
        return (-run[1], run[0])
    if abs(run[0]) < 0.2:
        return ASIDE
    return DOWN if kind in _BELOW else UP


def nozzle_sign(at: Point, outward: Point) -> list[Item]:
    """Return the sign of a nozzle: a flange, and the equipment behind it."""
    a = Axes(at, outward)
    return [
        a.square(0.9, 4.2, 2.6, Fill.HATCH),
        a.line((0.0, -2.0), (0.0, 2.0), width=STRONG),
        a.line((0.9, -2.6), (0.9, 2.6), width=STRONG),
    ]


def weight_sign(at: Point, *, on: bool = True) -> list[Item]:
    """Return the sign of a weight put on (black) or taken off (white): an arrow onto the pipe."""
    a = Axes(at, UP)
    head = Fill.BLACK if on else Fill.WHITE
    stem = a.line((2.6, 0.0), (6.6, 0.0), width=STRONG)
    return [stem, a.shape((0.6, 0.0), (3.2, -1.3), (3.2, 1.3), fill=head)]


def piece_sign(piece: RoutePiece, start: Point, end: Point) -> list[Item]:
    """Return the sign of a valve, flange pair, reducer or body, drawn over the pipe."""
    middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    size = math.dist(start, end) or 1.0
    a = Axes(middle, ((end[0] - start[0]) / size, (end[1] - start[1]) / size))
    half = min(max(size / 2.0, 1.6), 2.6)
    match piece:
        case RoutePiece.VALVE:
            return [
                a.shape((-half, -1.5), (-half, 1.5), (0.0, 0.0)),
                a.shape((half, -1.5), (half, 1.5), (0.0, 0.0)),
            ]
        case RoutePiece.FLANGE_PAIR:
            return [a.line((d, -1.8), (d, 1.8), width=STRONG) for d in (-0.5, 0.5)]
        case RoutePiece.REDUCER:
            return [a.shape((-half, -1.5), (-half, 1.5), (half, 0.7), (half, -0.7))]
        case RoutePiece.RIGID:
            return [a.square(-half, half, 1.1, Fill.BLACK)]
        case _:
            return []


def break_sign(start: Point, end: Point) -> list[Item]:
    """Return the sign of a pipe drawn shorter than it is: two slanting strokes with a gap."""
    middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    size = math.dist(start, end) or 1.0
    a = Axes(middle, ((end[0] - start[0]) / size, (end[1] - start[1]) / size))
    gap = a.shape((-0.9, 1.2), (-0.1, -1.2), (0.9, -1.2), (0.1, 1.2), width=0.0)
    edges = [a.line((d - 0.4, 1.4), (d + 0.4, -1.4), width=THIN) for d in (-0.5, 0.5)]
    return [gap, *edges]
