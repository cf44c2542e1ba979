"""A weight moved along a line: what every support and nozzle carries, wherever it is hung."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from supports.calc.line.restraints import Guide
from supports.calc.line.results import LineResult
from supports.calc.line.review import worst_uses
from supports.calc.line.solver import solve_states
from supports.calc.line.states import added
from supports.errors import BadInput
from supports.rules.line.build import BuiltLine, built_line
from supports.rules.line.screening import ready_line
from supports.snapshots import RouteView, WeightItemView

STATIONS = 40
"""Places between the ends of a line at which the weight is hung, besides the supports."""


@dataclass(frozen=True, slots=True)
class Hung:
    """A line with the weight hung at one place.

    Parameters
    ----------
    along
        Distance along the line [m].
    loads
        Load of each support that carries [N], by tag.
    sinks
        How far the pipe sinks at each support [m], by tag.
    changed
        Supports that lift, land or meet a stop although they do not without the weight.
    nozzles
        Share of the worst limit of each nozzle [1]; None where it has no limits.
    """

    along: float
    loads: Mapping[str, float]
    sinks: Mapping[str, float]
    changed: tuple[str, ...]
    nozzles: Mapping[str, float | None]


@dataclass(frozen=True, slots=True)
class MovingWeight:
    """A weight [kg] along a line: without it, and at every station.

    Parameters
    ----------
    length
        Of the line [m].
    at
        Distance of each support along the line [m], by tag.
    """

    mass: float
    length: float
    at: Mapping[str, float]
    without: Hung
    stations: tuple[Hung, ...]

    def nearest(self, along: float) -> int:
        """Return the number of the station nearest to a place [m]."""
        places = [abs(one.along - along) for one in self.stations]
        return places.index(min(places))


def moving_weight(route: RouteView, mass: float) -> MovingWeight:
    """Hang a weight at one station of a line after the other; nothing is re-set.

    The line is factored once; supports that lift or land are followed at every station.

    Parameters
    ----------
    mass
        Of what is hung on [kg]; negative where it is taken off.
    """
    if not mass:
        raise BadInput("no weight is named", expected="a mass that is not zero, as '500 kg'")
    built = built_line(route)
    places = _stations(built)
    number = route.line.number
    items = [WeightItemView(number, f"{place:.3f}", mass, along=place) for place in places]
    ready = ready_line(route, items)
    states = [ready.present, *(added(ready.present, one) for one in ready.masses)]
    results = solve_states(ready.system, states)
    before = results[0]
    return MovingWeight(
        mass,
        max(built.distances.values()),
        {tag: built.distances[node] for tag, node in built.tags_at.items()},
        _hung(0.0, before, before),
        tuple(
            _hung(place, result, before) for place, result in zip(places, results[1:], strict=True)
        ),
    )


def _stations(built: BuiltLine) -> list[float]:
    """Return places evenly along the line and at every support, none twice."""
    length = max(built.distances.values())
    at_supports = [built.distances[node] for node in built.tags_at.values()]
    evenly = [length * n / STATIONS for n in range(1, STATIONS)]
    near = length / STATIONS / 3.0
    kept = [place for place in evenly if all(abs(place - other) > near for other in at_supports)]
    return _apart(sorted([*kept, *at_supports]))


def _apart(places: Sequence[float]) -> list[float]:
    kept: list[float] = []
    for place in places:
        if not kept or place - kept[-1] > 0.01:
            kept.append(place)
    return kept


def _hung(along: float, result: LineResult, before: LineResult) -> Hung:
    sideways = {one.name for one in result.frame.line.supports if isinstance(one, Guide)}
    held = {tag: one for tag, one in result.supports.items() if tag not in sideways}
    return Hung(
        along=along,
        loads={tag: one.load for tag, one in held.items()},
        sinks={tag: before.supports[tag].movement - one.movement for tag, one in held.items()},
        changed=tuple(
            tag for tag, one in held.items() if one.standing is not before.supports[tag].standing
        ),
        nozzles=worst_uses(result),
    )
