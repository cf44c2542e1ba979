"""The supports of a line as the screening calculation sees them, from what the register knows."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from supports.calc.line.parts import Vector
from supports.calc.line.restraints import (
    Anchor,
    Constant,
    Guide,
    NozzleLimits,
    Rest,
    Rod,
    Support,
    Variable,
)
from supports.calc.travel import distance_from_top
from supports.calc.variable_spring import cold_load
from supports.rules.variable_rules import present_hot
from supports.snapshots import (
    NameplateView,
    NozzleLimitView,
    PieceView,
    RouteEndView,
    SupportView,
    UnitView,
)
from supports.units import STANDARD_GRAVITY
from supports.vocabulary import SupportKind

UP: Vector = (0.0, 0.0, 1.0)
_NO_STATICS = {SupportKind.SHOCK_ARRESTOR, SupportKind.SWAY_BRACE}


@dataclass(frozen=True, slots=True)
class Held:
    """A support of the model, or what is missing to make one."""

    support: Support | None = None
    missing: str = ""
    note: str = ""


def held_by(view: SupportView, node: str, along: Vector) -> Held:
    """Return the model of a support point at a node where the pipe runs `along`."""
    kind = view.kind
    if kind.is_constant:
        return _constant(view, node)
    if kind.is_variable:
        return _variable(view, node)
    if kind in _NO_STATICS:
        return Held(note=f"{view.tag}: a {kind} holds nothing slow and is left out")
    support = _rigid(view, node, along)
    return Held(support) if support else Held(missing=f"{view.tag}: how a {kind} holds the pipe")


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
    """Return the horizontal direction across a pipe; east for a vertical one."""
    east, north, _ = along
    size = (east * east + north * north) ** 0.5
    return (1.0, 0.0, 0.0) if size < 1e-6 else (-north / size, east / size, 0.0)


def _constant(view: SupportView, node: str) -> Held:
    """Return all units of the point as one force: settings less what hangs below the units."""
    if not view.units or any(unit.setting is None for unit in view.units):
        return Held(missing=f"{view.tag}: present setting")
    pulled = sum(unit.setting.load for unit in view.units if unit.setting)
    hanging, note = _hanging(view)
    down, up = _travel(view.units[0])
    bands = [u.nameplate.deviation for u in view.units if u.nameplate and u.nameplate.deviation]
    return Held(
        Constant(
            view.tag,
            node,
            setting=pulled - hanging,
            friction=max(bands) if bands else None,
            travel_down=down,
            travel_up=up,
        ),
        note=note,
    )


def _travel(unit: UnitView) -> tuple[float, float]:
    """Return the travel left below and above the shut-down mark [m]; unknown is no stop."""
    plate = unit.nameplate or NameplateView()
    if plate.cold_mark is None or plate.total_travel is None or not plate.zero_end:
        return inf, inf
    top = distance_from_top(
        plate.cold_mark, plate.total_travel, zero_at_top=plate.zero_end == "top"
    )
    return plate.total_travel - top, top


def _variable(view: SupportView, node: str) -> Held:
    unit = view.units[0] if view.units else None
    plate = (unit.nameplate if unit else None) or NameplateView()
    hot = present_hot(unit, plate.movement) if unit else None
    if hot is None or plate.rate is None or plate.movement is None:
        return Held(missing=f"{view.tag}: present setting, spring rate or movement")
    hanging, note = _hanging(view)
    return Held(
        Variable(
            view.tag,
            node,
            setting=cold_load(hot, plate.rate, plate.movement) - hanging,
            rate=plate.rate,
            load_low=-inf if plate.working_low is None else plate.working_low - hanging,
            load_high=inf if plate.working_high is None else plate.working_high - hanging,
        ),
        note=note,
    )


def _hanging(view: SupportView) -> tuple[float, str]:
    """Return the weight that the units carry besides the pipe [N], with a note if not all known."""
    pieces: list[PieceView] = []
    for unit in view.units:
        branch = [p for p in view.hardware if p.branch == unit.position]
        own = next((p.position for p in branch if p.kind == "unit"), 0)
        pieces += [p for p in branch if p.position > own]
    unknown = [p for p in pieces if p.mass is None]
    mass = sum(p.mass or 0.0 for p in pieces) + (view.beam_mass or 0.0)
    note = f"{view.tag}: mass of {len(unknown)} hanging pieces not known" if unknown else ""
    return mass * STANDARD_GRAVITY, note


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
