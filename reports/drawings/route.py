"""What the drawings of a line need to know of it: places, pieces, what holds it, what is added."""

from __future__ import annotations

from dataclasses import dataclass

from supports.vocabulary import RoutePiece, SupportKind

Vector = tuple[float, float, float]
"""East, north, up [m]."""


@dataclass(frozen=True, slots=True)
class DrawnPiece:
    """A piece between two nodes; `corner` where the tangents of a bend meet [m]."""

    start: str
    end: str
    piece: RoutePiece
    corner: Vector | None = None


@dataclass(frozen=True, slots=True)
class DrawnSupport:
    """A support at a node, with the words that go with its tag."""

    tag: str
    kind: SupportKind
    node: str
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DrawnEnd:
    """An end of the line: a nozzle, or an anchor."""

    name: str
    node: str
    nozzle: bool
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DrawnWeight:
    """Something put on or taken off at a node."""

    node: str
    words: tuple[str, ...]
    put_on: bool = True


@dataclass(frozen=True, slots=True)
class DrawnRoute:
    """A line in space as it is drawn; pieces in the order of the flow."""

    number: str
    nodes: dict[str, Vector]
    pieces: tuple[DrawnPiece, ...]
    supports: tuple[DrawnSupport, ...] = ()
    ends: tuple[DrawnEnd, ...] = ()
    weights: tuple[DrawnWeight, ...] = ()
    flow: str = "order of the register"
    """What the arrow at the start stands for."""
