"""Rules for what hangs above and below: rods, clamps, lugs, the swing of the rod."""

from __future__ import annotations

from collections.abc import Iterator

from supports.calc.elementwise import at_most
from supports.calc.hardware import Piece, StackUse, stack_use
from supports.calc.swing import swing_angle
from supports.findings import Severity
from supports.rules.answers import RuleAnswer, judged, unjudged
from supports.rules.required import UnitDemand
from supports.rules.site_settings import SiteSettings, limits
from supports.snapshots import PieceView, SupportView, UnitView
from supports.units import STANDARD_GRAVITY, Kind, shown
from supports.vocabulary import Arrangement, PieceKind

_CLAMPS = {PieceKind.CLAMP, PieceKind.RISER_CLAMP, PieceKind.SHOE}
_FASTENED = {PieceKind.WELD, PieceKind.LUG, PieceKind.BEAM_CLIP}


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


def hardware_answers(
    support: SupportView,
    unit: UnitView | None,
    demand: UnitDemand,
    stack: StackUse | None,
    settings: SiteSettings,
) -> Iterator[RuleAnswer]:
    """Ask every rule of the stack and of the rod's swing."""
    yield _pieces(support, unit, demand, stack)
    yield from _overloaded(support, unit, stack)
    yield _swing(support, demand, settings)


def _pieces(
    support: SupportView, unit: UnitView | None, demand: UnitDemand, stack: StackUse | None
) -> RuleAnswer:
    rule, severity = "weakest-piece-unknown", Severity.ACT
    if not _branch(support, unit):
        return unjudged(rule, severity, "hardware stack")
    if stack is None:
        return unjudged(rule, severity, *(demand.missing or ("required load",)))
    if stack.unknown:
        return unjudged(rule, severity, *(f"rating or mass of {name}" for name in stack.unknown))
    weakest = stack.weakest
    text = f"weakest piece {weakest.name}, {weakest.utilisation:.1%}" if weakest else ""
    return judged(rule, severity, text, fails=False)


def _overloaded(
    support: SupportView, unit: UnitView | None, stack: StackUse | None
) -> Iterator[RuleAnswer]:
    if stack is None:
        return
    scale = (unit.nameplate.scale_unit if unit and unit.nameplate else "") or "kN"
    for view, use in zip(_branch(support, unit), stack.pieces, strict=True):
        if use.utilisation is None:
            continue
        text = (
            f"{use.name} carries {shown(use.load, scale, Kind.LOAD)} of "
            f"{shown(use.capacity, scale, Kind.LOAD)}: {use.utilisation:.1%}"
        )
        over = not at_most(use.utilisation, 1.0)
        source = view.rating_source or "rating as registered"
        yield judged(_rule_for(view), Severity.STOP, text, fails=over, source=source)


def _rule_for(piece: PieceView) -> str:
    if piece.derating is not None and piece.derating < 1.0:
        return "derated-by-condition"
    if piece.kind in _CLAMPS:
        return "clamp-over-rating-hot"
    if piece.kind in _FASTENED:
        return "weld-or-lug-over"
    return "trapeze-beam-over" if piece.kind == PieceKind.TRAPEZE_BEAM else "rod-over-rating"


def _swing(support: SupportView, demand: UnitDemand, settings: SiteSettings) -> RuleAnswer:
    rule, severity = "rod-swing-large", Severity.ACT
    if demand.sideways is None or support.rod_length is None:
        return unjudged(rule, severity, "horizontal movement or rod length")
    offset = support.rod_offset or 0.0
    apart = max(abs(demand.sideways - offset), abs(offset))
    angle = swing_angle(min(apart, support.rod_length), support.rod_length)
    text = (
        f"rod {shown(support.rod_length, 'mm', Kind.LENGTH)} long swings "
        f"{shown(angle, '°', Kind.ANGLE)}; limit {shown(settings.swing, '°', Kind.ANGLE)}"
    )
    too_far = not at_most(angle, settings.swing)
    return judged(rule, severity, text, fails=too_far, source=limits()["swing"].source)
