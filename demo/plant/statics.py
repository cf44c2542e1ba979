"""How the lines stand in operation by the screening calculation: the stand-in for an analysis.

What a calculation on record requires of a support and how far the pipe moves there is taken from
here, so that a line screened from the register is found as its papers say.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise

from demo.plant.lines import PlantLine
from demo.plant.routes import Element, Vector, difference, elements
from demo.plant.services import ZERO_CELSIUS
from supports.calc.line.line import Line
from supports.calc.line.restraints import (
    UP,
    Anchor,
    Constant,
    Guide,
    Rest,
    Rod,
    Support,
    Variable,
)
from supports.calc.line.results import LineResult
from supports.calc.line.solver import factored_line, solve_states
from supports.calc.line.states import State, cold, operating
from supports.rules.line.build import built_line
from supports.rules.line.holding import across
from supports.rules.line.metal import OPERATING
from supports.snapshots import (
    LineView,
    RouteElementView,
    RouteEndView,
    RouteNodeView,
    RouteView,
)
from supports.vocabulary import EndKind, RoutePiece, SupportKind


@dataclass(frozen=True, slots=True)
class Site:
    """Where a support stands along the line [m], what it is and how stiff its spring [N/m]."""

    at: float
    kind: SupportKind
    rate: float = 0.0


@dataclass(frozen=True, slots=True)
class Stands:
    """What a support carries in operation [N] and how the pipe moves there: east, north, up [m]."""

    load: float
    moves: Vector
    lifts: bool = False
    """The warm line lifts off; the load is the one shut down."""


def stands(line: PlantLine, sites: Sequence[Site]) -> dict[float, Stands]:
    """Return how a line stands at its supports, by their distance along it [m].

    The springs are set so that the pipe, shut down and full, stands level.
    """
    system = factored_line(_model(line, sites))
    springs = [spring.name for spring in system.frame.line.springs]
    level = replace(cold(OPERATING), locked=dict.fromkeys(springs, 0.0))
    shut = solve_states(system, [level])[0]
    settings = {name: shut.supports[name].load for name in springs}
    hot = solve_states(system, [replace(_running(line), settings=settings)])[0]
    return {site.at: _stands(tag, shut, hot) for tag, site in _named(sites)}


def _stands(tag: str, shut: LineResult, hot: LineResult) -> Stands:
    east, north, up = hot.movement(tag)[:3]
    moves = (round(east, 3), round(north, 3), round(up, 3))
    load = _load(tag, hot)
    lifts = load <= 0.0 < _load(tag, shut)
    return Stands(_load(tag, shut) if lifts else load, moves, lifts)


def _load(tag: str, result: LineResult) -> float:
    if tag in result.nozzles:
        return result.nozzles[tag][2]
    return result.supports[tag].load if tag in result.supports else 0.0


def _named(sites: Sequence[Site]) -> list[tuple[str, Site]]:
    """Return each place with the name of its node, which is its support's name too."""
    return [(f"S{number}", site) for number, site in enumerate(sites)]


def _running(line: PlantLine) -> State:
    moved = {end.nozzle: (*end.movement, 0.0, 0.0, 0.0) for end in line.ends}
    return operating(OPERATING, line.service.operating + ZERO_CELSIUS, moved)


def _model(line: PlantLine, sites: Sequence[Site]) -> Line:
    cut = elements(line.way, line.fittings, (site.at for site in sites))
    stops = [cut[0].begin, *(element.end for element in cut)]
    names = {stop: str(number) for number, stop in enumerate(stops)}
    names |= {min(stops, key=partial(_apart, site.at)): tag for tag, site in _named(sites)}
    bare = built_line(_route(line, cut, names)).line
    held = (_held(line, site, tag) for tag, site in _named(sites))
    return replace(bare, supports=(*bare.supports, *(one for one in held if one)))


def _apart(one: float, other: float) -> float:
    return abs(one - other)


def _route(line: PlantLine, cut: Sequence[Element], names: dict[float, str]) -> RouteView:
    first, last = names[cut[0].begin], names[cut[-1].end]
    return RouteView(
        line=_view(line),
        material=line.service.material,
        insulation_thickness=line.service.insulation,
        insulation_density=None,
        cladding_mass_per_length=line.mass.cladding,
        content_density=line.service.content,
        nodes=tuple(RouteNodeView(n, *line.way.point_at(stop)) for stop, n in names.items()),
        elements=tuple(
            _element(element, *pair, line.way.radius)
            for element, pair in zip(cut, pairwise(names.values()), strict=True)
        ),
        ends=tuple(
            RouteEndView(node, EndKind.NOZZLE, end.nozzle, rotational_stiffness=end.turning)
            for node, end in zip((first, last), line.ends, strict=True)
        ),
    )


def _view(line: PlantLine) -> LineView:
    return LineView(
        id=0,
        number=line.number,
        outside_diameter=line.pipe.outside_diameter,
        wall=line.pipe.wall,
        pipe_mass_per_length=line.mass.pipe,
        insulation_mass_per_length=line.mass.insulation,
        content_mass_per_length=line.mass.content,
        operating_temperature=line.service.operating + ZERO_CELSIUS,
    )


def _element(element: Element, begins: str, ends: str, radius: float) -> RouteElementView:
    fitting = element.fitting
    share = (element.end - element.begin) / fitting.length if fitting else 0.0
    return RouteElementView(
        begins,
        ends,
        RoutePiece(element.piece),
        bend_radius=radius if element.piece == "bend" else None,
        mass=fitting.mass * share if fitting else None,
        centre=fitting.offset if fitting else (0.0, 0.0, 0.0),
    )


def _held(line: PlantLine, site: Site, tag: str) -> Support | None:
    if site.kind.is_constant:
        return Constant(tag, tag, setting=0.0)
    if site.kind.is_variable:
        return Variable(tag, tag, setting=0.0, rate=site.rate)
    if site.kind in _RESTS:
        return Rest(tag, tag)
    stretch = line.way.stretch_at(site.at)
    along = UP if stretch.is_vertical else difference(stretch.finish, stretch.start)
    others: dict[SupportKind, Support] = {
        SupportKind.RIGID_ROD: Rod(tag, tag),
        SupportKind.ANCHOR: Anchor(tag, tag),
        SupportKind.LINE_STOP: Guide(tag, tag, along),
        SupportKind.GUIDE: Guide(tag, tag, across(along)),
    }
    return others.get(site.kind)


_RESTS = frozenset({SupportKind.REST, SupportKind.ROLLER, SupportKind.DUMMY_LEG})
