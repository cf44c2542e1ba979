"""The supports of a line as the screening calculation sees them, from what the register knows.

All units of a point act as one: their settings and rates are summed, what hangs below them is taken
off, and a point that holds several lines gives each its share.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from supports.calc.line.parts import Vector
from supports.calc.line.restraints import Anchor, Constant, Guide, Rest, Rod, Support, Variable
from supports.calc.travel import distance_from_top
from supports.calc.variable_spring import cold_load
from supports.rules.variable_rules import present_hot
from supports.snapshots import AttachmentView, NameplateView, PieceView, SupportView, UnitView
from supports.units import STANDARD_GRAVITY
from supports.vocabulary import InService, PieceKind, SupportKind

_NO_STATICS = {SupportKind.SHOCK_ARRESTOR, SupportKind.SWAY_BRACE}
_NOT_THERE = {InService.REMOVED, InService.SPARE, InService.PLANNED}


@dataclass(frozen=True, slots=True)
class Held:
    """A support of the model, or what is missing to make one; `notes` say what was taken."""

    support: Support | None = None
    missing: str = ""
    notes: tuple[str, ...] = ()


def held_by(view: SupportView, place: AttachmentView, along: Vector) -> Held:
    """Return the model of a support point where the pipe runs `along`."""
    if view.in_service in _NOT_THERE:
        return Held(notes=(f"{view.tag} is {view.in_service} and is left out.",))
    if view.in_service is InService.NOT_FOUND:
        return Held(missing=f"{view.tag}: whether it is there, it was not found")
    if view.kind in _NO_STATICS:
        return Held(notes=(f"{view.tag}: a {view.kind} holds nothing slow and is left out.",))
    if view.kind.is_spring:
        return _spring(view, place)
    support = _rigid(view, place.node, along)
    return Held(support) if support else Held(missing=f"{view.tag}: how a {view.kind} holds")


def _rigid(view: SupportView, node: str, along: Vector) -> Support | None:
    match view.kind:
        case SupportKind.RIGID_ROD:
            return Rod(view.tag, node)
        case SupportKind.REST | SupportKind.ROLLER | SupportKind.DUMMY_LEG:
            return Rest(view.tag, node)
        case SupportKind.ANCHOR:
            return Anchor(view.tag, node)
        case SupportKind.LINE_STOP:
            return Guide(view.tag, node, along)
        case SupportKind.GUIDE:
            return Guide(view.tag, node, across(along))
        case _:
            return None


def across(along: Vector) -> Vector:
    """Return the horizontal direction to the left of the run; east for a vertical pipe."""
    east, north, _ = along
    size = (east * east + north * north) ** 0.5
    return (1.0, 0.0, 0.0) if size < 1e-6 else (-north / size, east / size, 0.0)


def _spring(view: SupportView, place: AttachmentView) -> Held:
    share = place.share if place.share is not None or len(view.attachments) > 1 else 1.0
    if share is None:
        return Held(missing=f"{view.tag}: share of line {place.line} in its load")
    made = _constant if view.kind.is_constant else _variable
    return made(view, place.node, share)


def share_on(view: SupportView, line: str) -> float:
    """Return the part of a point's load that comes from a line [1]; all of it if none is said."""
    place = next((a for a in view.attachments if a.line == line), None)
    return 1.0 if place is None or place.share is None else place.share


def part_of(view: SupportView, unit: UnitView) -> float:
    """Return a unit's part of a change of load at its point, by moments [1]."""
    if len(view.units) < 2:
        return 1.0
    if view.arm_a is None or view.arm_b is None:
        return 1.0 / len(view.units)
    return (view.arm_b if unit.position == "A" else view.arm_a) / (view.arm_a + view.arm_b)


def _constant(view: SupportView, node: str, share: float) -> Held:
    settings = [unit.setting.load for unit in view.units if unit.setting]
    if not settings or len(settings) < len(view.units):
        return Held(missing=f"{view.tag}: present setting")
    down, up = _travel(view)
    bands = [u.nameplate.deviation for u in view.units if u.nameplate and u.nameplate.deviation]
    hanging, notes = _hanging(view)
    support = Constant(
        view.tag,
        node,
        setting=(sum(settings) - hanging) * share,
        friction=max(bands, default=None),
        travel_down=down,
        travel_up=up,
    )
    return Held(support, notes=(*notes, *_stops(view)))


def _travel(view: SupportView) -> tuple[float, float]:
    """Return the travel left below and above the shut-down mark [m]; unknown is no stop."""
    rooms = [_travel_of(unit.nameplate or NameplateView()) for unit in view.units]
    return min(down for down, _ in rooms), min(up for _, up in rooms)


def _travel_of(plate: NameplateView) -> tuple[float, float]:
    if plate.cold_mark is None or plate.total_travel is None or not plate.zero_end:
        return inf, inf
    top = distance_from_top(
        plate.cold_mark, plate.total_travel, zero_at_top=plate.zero_end == "top"
    )
    return plate.total_travel - top, top


def _variable(view: SupportView, node: str, share: float) -> Held:
    unknown = [what for unit in view.units for what in _unknown_of_variable(unit)]
    if unknown or not view.units:
        named = " and ".join(dict.fromkeys(unknown)) or "its unit"
        return Held(missing=f"{view.tag}: {named}")
    hanging, notes = _hanging(view)
    plates = [unit.nameplate or NameplateView() for unit in view.units]
    support = Variable(
        view.tag,
        node,
        setting=(sum(map(_at_level, view.units)) - hanging) * share,
        rate=sum(plate.rate or 0.0 for plate in plates) * share,
        load_low=_end(plates, "working_low", -inf, hanging) * share,
        load_high=_end(plates, "working_high", inf, hanging) * share,
    )
    return Held(support, notes=(*notes, *_stops(view)))


def _unknown_of_variable(unit: UnitView) -> list[str]:
    plate = unit.nameplate or NameplateView()
    facts = {
        "spring rate": plate.rate,
        "movement on the nameplate": plate.movement,
        "present setting and the plant's state then": present_hot(unit, plate.movement),
    }
    return [name for name, value in facts.items() if value is None]


def _at_level(unit: UnitView) -> float:
    """Return what a variable's scale shows with the pipe at the level of the model [N]."""
    plate = unit.nameplate or NameplateView()
    hot = present_hot(unit, plate.movement) or 0.0
    return cold_load(hot, plate.rate or 0.0, plate.movement or 0.0)


def _end(plates: list[NameplateView], which: str, unknown: float, hanging: float) -> float:
    """Return the load at an end of the travel of all units together [N]."""
    loads = [getattr(plate, which) for plate in plates]
    return unknown if None in loads else sum(loads) - hanging


def _stops(view: SupportView) -> tuple[str, ...]:
    """Say that a travel stop on record is taken out: the line is screened as it works."""
    locked = [unit.position for unit in view.units if unit.stops_in]
    return (f"{view.tag}: a travel stop is in by the register; taken as out.",) if locked else ()


def _hanging(view: SupportView) -> tuple[float, tuple[str, ...]]:
    """Return the weight that the units carry besides the pipe [N], with a note if not all known."""
    unknown = sum(piece.mass is None for piece in hanging_pieces(view))
    words = f"{view.tag}: mass of {unknown} hanging pieces not known, none taken off."
    return hanging_weight(view), (words,) if unknown else ()


def hanging_weight(view: SupportView) -> float:
    """Return the known weight of what hangs below the units of a point [N].

    A trapeze beam counts once: by the mass given for it, else as a piece of the stack.
    """
    beam = view.beam_mass or 0.0
    pieces = (p for p in hanging_pieces(view) if not (beam and p.kind == PieceKind.TRAPEZE_BEAM))
    return (sum(piece.mass or 0.0 for piece in pieces) + beam) * STANDARD_GRAVITY


def hanging_pieces(view: SupportView) -> list[PieceView]:
    """Return the pieces below the units: they weigh on the scales, not on the pipe.

    Pieces that hang on no one unit hang on all of them.
    """
    pieces: list[PieceView] = []
    if not view.units:
        return pieces
    for branch in sorted({piece.branch for piece in view.hardware}):
        own = [p for p in view.hardware if p.branch == branch]
        unit = next((p.position for p in own if p.kind == PieceKind.UNIT), 0)
        pieces += [p for p in own if p.position > unit]
    return pieces
