"""What limits a plan on a line: nozzles, hardware, rods and rests, working ranges, beams."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from supports.calc.hardware import Piece, stack_use
from supports.calc.line.restraints import Anchor, NozzleLimits
from supports.calc.reset_plan.limits import NozzleCheck, SupportLimits, Trapeze
from supports.calc.reset_plan.problem import PlanState
from supports.rules.reset_planning.springs import PlanUnit
from supports.snapshots import NameplateView, PieceView, RouteView, SupportView
from supports.units import STANDARD_GRAVITY
from supports.vocabulary import Arrangement, EndKind, PieceKind

AXES = ("Fx", "Fy", "Fz", "Mx", "My", "Mz")
BEAM_BETWEEN_STEPS = 0.05
"""How far a beam's units may stand from their shares between two steps, where the friction band is
not known (common practice, no source) [1]."""


@dataclass(frozen=True, slots=True)
class Limited:
    """Limits as the plan takes them, with what is missing and what was taken."""

    supports: tuple[SupportLimits, ...] = ()
    nozzles: tuple[NozzleCheck, ...] = ()
    trapezes: tuple[Trapeze, ...] = ()
    missing: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def nozzle_checks(route: RouteView, anchors: Iterable[Anchor]) -> Limited:
    """Return the limits of the line's nozzles; an anchor that is no nozzle has none."""
    plain = {end.node for end in route.ends if end.end_kind is EndKind.ANCHOR}
    checks, missing, free = [], [], []
    for anchor in anchors:
        if anchor.limits is None and anchor.node in plain:
            free.append(anchor.name)
        limits = anchor.limits or NozzleLimits()
        checks.append(NozzleCheck(anchor.name, limits))
        if anchor.node not in plain:
            missing += [f"{anchor.name}: {what}" for what in _unknown_limits(limits)]
    words = f"{', '.join(free)}: an anchor, no nozzle; no limit is held against it."
    return Limited(nozzles=tuple(checks), missing=tuple(missing), notes=(words,) if free else ())


def _unknown_limits(limits: NozzleLimits) -> Iterator[str]:
    """Give what is not known; resultants of both force and moment may stand for the components."""
    if limits.force is not None and limits.moment is not None:
        return
    unknown = [axis for axis, value in zip(AXES, limits.components, strict=True) if value is None]
    if len(unknown) == len(AXES):
        yield "nozzle limits"
    elif unknown:
        yield f"nozzle limits of {', '.join(unknown)}"


def support_limits(
    route: RouteView, units: Mapping[str, PlanUnit], states: Iterable[PlanState]
) -> Limited:
    """Return the loads that supports must keep: ratings, working ranges, rods in tension."""
    parts = [
        *(_of_unit(unit) for unit in units.values()),
        *(_of_rigid(view, states) for view in route.supports if not view.kind.is_spring),
    ]
    return Limited(
        supports=tuple(limit for part in parts for limit in part.supports),
        missing=tuple(what for part in parts for what in part.missing),
        notes=tuple(note for part in parts for note in part.notes),
    )


def _of_unit(unit: PlanUnit) -> Limited:
    """Return the rating of a unit's stack, and of a variable its working range, on its scale."""
    rating, unknown = scale_rating(unit.support, unit.unit.position)
    plate = unit.unit.nameplate or NameplateView()
    variable = unit.unit.kind.is_variable
    low = plate.working_low if variable else None
    high = _least(plate.working_high if variable else None, rating)
    known = (low, high) != (None, None) and (unit.turnable or variable)
    limits = [SupportLimits(unit.name, low, high)] if known else []
    missing = [f"{unit.name}: rating or mass of {name}" for name in unknown if unit.turnable]
    return Limited(supports=tuple(limits), missing=tuple(missing))


def _least(*values: float | None) -> float | None:
    return min((value for value in values if value is not None), default=None)


def scale_rating(support: SupportView, branch: str) -> tuple[float | None, tuple[str, ...]]:
    """Return the largest scale load that the stack of one branch bears [N], and what is unknown.

    With nothing on the pipe a piece carries what hangs below it; the rest of its capacity is left.

    Source: statics.
    """
    pieces = [piece for piece in support.hardware if piece.branch in {branch, "all"}]
    if not pieces:
        return None, ("the hardware stack",)
    own = next((p.position for p in pieces if p.kind == PieceKind.UNIT), 0)
    hanging = sum(p.mass or 0.0 for p in pieces if p.position > own) * STANDARD_GRAVITY
    use = stack_use(0.0, [_piece(piece) for piece in pieces])
    left = [
        p.capacity - p.load for p in use.pieces if p.capacity is not None and p.load is not None
    ]
    return (min(left) + hanging if left else None), use.unknown


def _piece(piece: PieceView) -> Piece:
    derating = 1.0 if piece.derating is None else piece.derating
    return Piece(f"{piece.kind} {piece.size}".strip(), piece.mass, piece.rated_load, derating)


def _of_rigid(view: SupportView, states: Iterable[PlanState]) -> Limited:
    """Return: a rod stays in tension, a rest in contact, wherever it carries before any turn."""
    limits, notes = [], []
    rating, _ = scale_rating(view, "") if view.hardware else (None, ())
    for state in states:
        if view.tag not in state.table.supports:
            continue
        load = float(state.table.base[state.table.supports.index(view.tag)])
        if load > 0.0:
            high = rating if rating is not None and rating > 0.0 else None
            limits.append(SupportLimits(view.tag, 0.0, high, (state.name,)))
        else:
            notes.append(f"{view.tag} does not carry ({state.name}) before any turn.")
    return Limited(supports=tuple(limits), notes=tuple(notes))


def trapezes(
    units: Mapping[str, PlanUnit], shares: Mapping[str, float], tolerance: float
) -> Limited:
    """Return the pairs that are set together, each near its share by moments.

    Parameters
    ----------
    shares
        Part of the pipe's load that the first unit of a pair must carry [1], where known better
        than by the arms of one pipe.
    """
    found, by_point = [], _pairs(units)
    for tag, (first, second) in by_point.items():
        part = shares.get(tag) or _share_of_first(first.support)
        if part is None:
            continue
        bands = [u.limits.friction for u in (first, second) if u.limits.friction]
        found.append(
            Trapeze(
                first.name,
                second.name,
                to_first=1.0 - part,
                to_second=part,
                beam_weight=(first.support.beam_mass or 0.0) * STANDARD_GRAVITY,
                tolerance=tolerance,
                step_tolerance=max(tolerance, min(bands, default=BEAM_BETWEEN_STEPS)),
            )
        )
    return Limited(trapezes=tuple(found))


def _pairs(units: Mapping[str, PlanUnit]) -> dict[str, tuple[PlanUnit, PlanUnit]]:
    points: dict[str, list[PlanUnit]] = {}
    for unit in units.values():
        points.setdefault(unit.support.tag, []).append(unit)
    return {tag: (pair[0], pair[1]) for tag, pair in points.items() if len(pair) == 2}


def _share_of_first(support: SupportView) -> float | None:
    """Return the part of the pipe's load on unit A by moments [1]; half on a riser pair."""
    if support.arrangement is Arrangement.RISER_PAIR:
        return 0.5
    if support.arm_a is None or support.arm_b is None or len(support.attachments) > 1:
        return None
    return support.arm_b / (support.arm_a + support.arm_b)


def tied(units: Mapping[str, PlanUnit], beams: Iterable[Trapeze]) -> dict[str, PlanUnit]:
    """Return the units with both of a pair held where one of them may not be turned."""
    known = {name for beam in beams for name in (beam.first, beam.second)}
    out = dict(units)
    for first, second in _pairs(units).values():
        for one, other in ((first, second), (second, first)):
            if one.turnable and not other.turnable:
                out[one.name] = held_back(one, f"its beam's other unit {other.name} is not turned")
            elif one.turnable and one.name not in known:
                out[one.name] = held_back(one, "cannot judge (missing: arms of the trapeze beam)")
    return out


def held_back(unit: PlanUnit, why: str) -> PlanUnit:
    """Return a unit that is not turned, for a reason."""
    limits = replace(
        unit.limits, step=None, low=None, plate=None, high=None, steps_up=None, steps_down=None
    )
    return replace(unit, limits=limits, not_turned=why, stepping=None)
