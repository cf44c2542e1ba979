"""The support points of the whole plant: where they stand, what they are, how they move."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import chain

from demo.plant.demo_line import DEMO_NUMBER, DEMO_POINTS, DemoPoint
from demo.plant.kinds import CARRIERS
from demo.plant.lines import TWIN_GAP, PlantLine, lines
from demo.plant.routes import Vector
from demo.plant.sites import movement, sites_of
from demo.plant.statics import Site, Stands, stands
from supports.units import STANDARD_GRAVITY
from supports.vocabulary import Arrangement, SupportKind

TWINS = ("1-FW-1213", "1-FW-1217")
"""Two lines that run side by side and share one support."""
ARMS = (0.600, 1.000)
"""Distances of the pipe from unit A and unit B on a trapeze [m]."""
SHARED_ARMS = (0.400, 0.400 + TWIN_GAP)
"""Distances of the two twin lines from unit A on their shared trapeze [m]."""
BEAM_WEIGHT = 1_200.0
"""Weight of a trapeze beam [N]."""
HUNG_FROM_UNITS = frozenset({SupportKind.CONSTANT_HANGER, SupportKind.VARIABLE_HANGER})
TRAPEZES = {"1-MS-1210": 5, "2-MS-2219": 4}
"""Lines other than the demo line with two units on a trapeze, and at which constant support."""


@dataclass(frozen=True, slots=True)
class Point:
    """One support point.

    Parameters
    ----------
    at
        Distance along its line [m].
    load
        Load that calculation revision A requires [N]; None where it carries none.
    moves
        Movement from shut down to operating: east, north, up [m].
    demo
        What the demo line says of it.
    also
        The other line that it holds, how far along that, and its load there [N].
    rate
        Rate of its variable spring, 0 where it has none [N/m].
    """

    tag: str
    line: PlantLine
    order: int
    at: float
    kind: SupportKind
    load: float | None
    moves: Vector
    arrangement: Arrangement = Arrangement.SINGLE
    demo: DemoPoint | None = None
    also: tuple[PlantLine, float, float] | None = None
    rate: float = 0.0

    @property
    def area(self) -> int:
        """Number of the unit area."""
        return self.line.area


@cache
def points() -> tuple[Point, ...]:
    """Return all support points, line by line."""
    taken = {point.tag for point in DEMO_POINTS}
    tags = {
        area: (tag for n in range(1000 * area + 1, 1000 * area + 999)
               if (tag := f"PS-{n}") not in taken)
        for area in (1, 2)
    }  # fmt: skip
    found = chain.from_iterable(_of_line(one, tags[one.area]) for one in lines())
    return _with_shared(list(found))


def _of_line(line: PlantLine, tags: Iterator[str]) -> list[Point]:
    if line.number == DEMO_NUMBER:
        return _demo_points(line)
    sites = sites_of(line)
    found = stands(line, sites)
    return _with_trapeze(
        line,
        [_point(next(tags), line, n, site, found[site.at]) for n, site in enumerate(sites, 1)],
    )


def _point(tag: str, line: PlantLine, order: int, site: Site, found: Stands) -> Point:
    load = found.load + (hung_mass(line) * STANDARD_GRAVITY if site.kind in HUNG_FROM_UNITS else 0)
    carried = round(load, -1) if site.kind in CARRIERS else None
    return Point(tag, line, order, site.at, site.kind, carried, found.moves, rate=site.rate)


def hung_mass(line: PlantLine) -> float:
    """Return the mass that hangs below the units of a support, rods and all [kg]."""
    return round(10.0 + 2.2 * line.nps, 1)


def _demo_points(line: PlantLine) -> list[Point]:
    ordered = sorted(DEMO_POINTS, key=lambda one: one.at)
    return [
        Point(
            one.tag, line, order, round(one.at, 6), one.kind, one.before,
            (*movement(line, one.at)[:2], one.up), one.arrangement, one,
        )
        for order, one in enumerate(ordered, start=1)
    ]  # fmt: skip


def _with_trapeze(line: PlantLine, found: list[Point]) -> list[Point]:
    """Hang one of the line's constant supports on two units."""
    constants = [p for p in found if p.kind is SupportKind.CONSTANT_HANGER]
    if line.number not in TRAPEZES or not constants:
        return found
    chosen = constants[min(TRAPEZES[line.number], len(constants)) - 1]
    pair = replace(chosen, arrangement=Arrangement.TRAPEZE)
    return [pair if point is chosen else point for point in found]


def _with_shared(found: list[Point]) -> tuple[Point, ...]:
    """Let the first carrier on the twins' long run hold both lines from one trapeze."""
    own = [p for p in found if p.line.number == TWINS[0]]
    other = [p for p in found if p.line.number == TWINS[1]]
    keeper = next(p for p in own if p.load and p.at > _long_run(p.line))
    beside = keeper.at - TWIN_GAP
    given_up = min(other, key=lambda p: abs(p.at - beside))
    load = given_up.load or keeper.load or 0.0
    shared = replace(
        keeper,
        kind=SupportKind.CONSTANT_HANGER,
        arrangement=Arrangement.TRAPEZE,
        also=(given_up.line, beside, load),
    )
    kept = [shared if p is keeper else p for p in found if p is not given_up]
    return tuple(kept)


def _long_run(line: PlantLine) -> float:
    """Return where the run east begins [m]; the first few metres of it are left free."""
    east = next(s for s in line.way.stretches if not s.is_bend and s.start[1:] == s.finish[1:])
    return east.begin + 3.0
