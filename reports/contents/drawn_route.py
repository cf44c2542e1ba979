"""A line of the register as the drawings need it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from reports.contents.written import amount, cut
from reports.drawings.route import DrawnEnd, DrawnPiece, DrawnRoute, DrawnSupport, DrawnWeight
from reports.languages import IN_ENGLISH, Texts
from supports.calc.line.parts import Bend, LumpedMass, Part, RigidPart
from supports.rules.line.build import BuiltLine
from supports.snapshots import RouteView
from supports.units import Kind
from supports.vocabulary import EndKind, RoutePiece

LISTED, LONGEST_WORDS = 4, 40
"""Items named at one place, and signs of each; the paper's table holds them all."""


def drawn_route(
    route: RouteView,
    built: BuiltLine,
    masses: Sequence[LumpedMass] = (),
    words: Mapping[str, tuple[str, ...]] | None = None,
    say: Texts = IN_ENGLISH,
) -> DrawnRoute:
    """Return what the drawings need of a line.

    Parameters
    ----------
    masses
        What a change adds, at nodes of the built line.
    words
        What is written beneath the name of each support, nozzle or anchor.
    """
    told = words or {}
    kinds = {f"{e.from_node}-{e.to_node}": e.piece for e in route.elements}
    ends = {end.node: end for end in route.ends}
    return DrawnRoute(
        number=route.line.number,
        nodes={n.name: (n.x, n.y, n.z) for n in built.line.nodes},
        pieces=tuple(_piece(part, kinds) for part in built.line.parts),
        supports=tuple(
            DrawnSupport(view.tag, view.kind, built.tags_at[view.tag], told.get(view.tag, ()))
            for view in route.supports
            if view.tag in built.tags_at and built.tags_at[view.tag] not in ends
        ),
        ends=tuple(
            DrawnEnd(
                anchor.name,
                anchor.node,
                nozzle=ends[anchor.node].end_kind is EndKind.NOZZLE,
                words=told.get(anchor.name, ()),
            )
            for anchor in built.line.anchors
            if anchor.node in ends
        ),
        weights=_weights(masses, say),
    )


def _piece(part: Part, kinds: Mapping[str, RoutePiece]) -> DrawnPiece:
    if isinstance(part, Bend):
        return DrawnPiece(part.start, part.end, RoutePiece.BEND, part.corner)
    usual = RoutePiece.RIGID if isinstance(part, RigidPart) else RoutePiece.PIPE
    return DrawnPiece(part.start, part.end, kinds.get(part.name, usual))


def _weights(masses: Sequence[LumpedMass], say: Texts) -> tuple[DrawnWeight, ...]:
    """Return one sign for all that comes on and goes off at a node."""
    at: dict[str, list[LumpedMass]] = {}
    for mass in masses:
        at.setdefault(mass.node, []).append(mass)
    return tuple(_weight(node, group, say) for node, group in at.items())


def _weight(node: str, group: Sequence[LumpedMass], say: Texts) -> DrawnWeight:
    net = sum(mass.mass for mass in group)
    if len(group) == 1:
        return DrawnWeight(node, (_signed(net), _words(group[0])), put_on=net > 0.0)
    items = [f"{_signed(mass.mass)} {_words(mass)}" for mass in group]
    more = len(items) - LISTED
    listed = (*items[:LISTED], *((say("and {count} more", count=more),) if more > 0 else ()))
    whole = say("{mass} net", mass=_signed(net))
    return DrawnWeight(node, (whole, *listed), put_on=net > 0.0)


def _signed(mass: float) -> str:
    return f"{'+' if mass > 0 else ''}{amount(mass, 'kg', Kind.MASS)}"


def _words(mass: LumpedMass) -> str:
    return cut(mass.name.partition(" ")[2], LONGEST_WORDS)
