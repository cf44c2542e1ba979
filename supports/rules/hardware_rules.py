"""The stack of one unit as it is printed: every piece with its load and its use."""

from __future__ import annotations

from supports.calc.hardware import Piece, StackUse, stack_use
from supports.rules.required import UnitDemand
from supports.snapshots import PieceView, SupportView, UnitView
from supports.units import STANDARD_GRAVITY
from supports.vocabulary import Arrangement, PieceKind


def stack_of(support: SupportView, unit: UnitView | None, demand: UnitDemand) -> StackUse | None:
    """Return how every piece is used at the largest load; None without load or pieces.

    Pieces of the unit's own branch carry the unit's load; on a riser pair each is checked for all
    the load, as one of the two may come to carry it (common practice, no source).
    """
    largest = demand.largest
    pieces = _branch(support, unit)
    if largest is None or not pieces:
        return None
    if support.arrangement is Arrangement.RISER_PAIR:
        largest *= 2.0
    hanging = sum(p.mass or 0.0 for p in _below(pieces)) * STANDARD_GRAVITY
    return stack_use(largest - hanging, [_piece(p) for p in pieces])


def _branch(support: SupportView, unit: UnitView | None) -> list[PieceView]:
    """Return the unit's own branch from steel to pipe; all pieces where there is no unit."""
    if unit is None:
        return list(support.hardware)
    return [p for p in support.hardware if p.branch == unit.position]


def _below(pieces: list[PieceView]) -> list[PieceView]:
    own = next((p.position for p in pieces if p.kind == PieceKind.UNIT), 0)
    return [p for p in pieces if p.position > own]


def _piece(piece: PieceView) -> Piece:
    name = f"{piece.kind} {piece.size}".strip()
    derating = 1.0 if piece.derating is None else piece.derating
    return Piece(name, piece.mass, piece.rated_load, derating)
