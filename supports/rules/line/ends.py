"""The ends of a line: anchors and nozzles with their stiffness, their movement and their limits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf, isinf

from supports.calc.line.restraints import Anchor, NozzleLimits, Support
from supports.snapshots import NozzleLimitView, RouteEndView, RouteView


def ends_of(route: RouteView) -> tuple[Anchor, ...]:
    """Return the anchors and nozzles at the ends of a line."""
    return tuple(end_of(end, _limits_at(route, end.node)) for end in route.ends)


def end_of(end: RouteEndView, limits: NozzleLimitView | None) -> Anchor:
    """Return the model of a line's end, rigid where no stiffness is given."""
    linear = inf if end.stiffness is None else end.stiffness
    turning = inf if end.rotational_stiffness is None else end.rotational_stiffness
    name = (limits.nozzle if limits else "") or end.nozzle or f"{end.end_kind} {end.node}"
    return Anchor(
        name,
        end.node,
        stiffness=(linear, linear, linear, turning, turning, turning),
        limits=nozzle_limits_of(limits) if limits else None,
    )


def nozzle_limits_of(limits: NozzleLimitView) -> NozzleLimits:
    """Return nozzle limits as the calculation reads them."""
    return NozzleLimits(
        components=(*limits.forces, *limits.moments),
        force=limits.force_resultant,
        moment=limits.moment_resultant,
        source=limits.source,
    )


def without_doubles(
    ends: Sequence[Anchor], supports: Sequence[Support]
) -> tuple[tuple[Support, ...], tuple[str, ...]]:
    """Return all that holds a line, each node held once, and what was left out.

    A support where an end holds the pipe rigidly, or where the same support stands twice, adds
    nothing and would leave its share of the load undecided.
    """
    kept: list[Support] = list(ends)
    notes: list[str] = []
    for support in supports:
        other = next((one for one in kept if _holds_all_of(one, support)), None)
        if other is None:
            kept.append(support)
        else:
            notes.append(f"{support.name} stands where {other.name} holds already; left out.")
    return tuple(kept), tuple(notes)


def _holds_all_of(one: Support, support: Support) -> bool:
    if one.node != support.node:
        return False
    if isinstance(one, Anchor) and all(map(isinf, one.stiffness)):
        return True
    return type(one) is type(support) and not hasattr(one, "setting") and _same_way(one, support)


def _same_way(one: Support, other: Support) -> bool:
    return getattr(one, "direction", None) == getattr(other, "direction", None)


def nameless(route: RouteView) -> Iterator[NozzleLimitView]:
    """Give the nozzles whose limits stand at no end of the route: nothing is held against them."""
    nodes = {end.node for end in route.ends}
    return (limits for limits in route.nozzles if limits.node not in nodes)


def _limits_at(route: RouteView, node: str) -> NozzleLimitView | None:
    return next((n for n in route.nozzles if n.node == node), None)
