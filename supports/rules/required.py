"""What one unit has to carry: from the loads of all lines and cases at its support point."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from supports.calc.site_measurement import case_spread
from supports.calc.trapeze import BeamLoad, shares, shares_of_several
from supports.snapshots import SupportView, UnitView
from supports.units import STANDARD_GRAVITY
from supports.vocabulary import Arrangement, CaseKind, Known


@dataclass(frozen=True, slots=True)
class CaseLoad:
    """The load at one unit in one case [N]."""

    case: str
    kind: CaseKind
    load: float


@dataclass(frozen=True, slots=True)
class UnitDemand:
    """What a unit must carry.

    Parameters
    ----------
    cases
        Load by case, hardware below the unit included [N].
    governing
        Load to set: the operating case, or the middle of several [N].
    spread
        Half spread of several operating cases, relative to the middle [1].
    movement_up, sideways
        Cold to hot: up positive, and horizontal resultant [m].
    """

    cases: tuple[CaseLoad, ...] = ()
    governing: float | None = None
    spread: float | None = None
    movement_up: float | None = None
    sideways: float | None = None
    missing: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def largest(self) -> float | None:
        """Return the largest load of the operating, sustained and occasional cases [N]."""
        loads = [c.load for c in self.cases if c.kind is not CaseKind.TEST]
        return max(loads, default=None)


def demand(support: SupportView, unit: UnitView | None, tolerance: float) -> UnitDemand:
    """Return what a unit must carry, or what is missing to say so.

    Parameters
    ----------
    unit
        None for a support without a unit: a rest, a guide.
    tolerance
        Share below which hardware weight that nobody knows to be counted may be let go [1].
    """
    missing = _missing_lines(support)
    if missing:
        return UnitDemand(missing=missing)
    hanging, notes, unclear = _hanging_weight(support, unit, tolerance)
    cases = []
    for case, kind in _cases(support):
        load = _share(support, unit, case)
        if load is None:
            return UnitDemand(missing=_missing_for_share(support, case))
        cases.append(CaseLoad(case, kind, load + hanging))
    return _summed(support, tuple(cases), notes, unclear)


def _summed(
    support: SupportView,
    cases: tuple[CaseLoad, ...],
    notes: tuple[str, ...],
    unclear: tuple[str, ...],
) -> UnitDemand:
    operating = [c.load for c in cases if c.kind is CaseKind.OPERATING]
    if not operating:
        return UnitDemand(cases, missing=("required operating load",))
    spread = case_spread(operating)
    up, sideways = _movements(support)
    return UnitDemand(
        cases=cases,
        governing=spread.middle,
        spread=spread.relative if len(operating) > 1 else None,
        movement_up=up,
        sideways=sideways,
        missing=unclear,
        notes=notes,
    )


def _missing_lines(support: SupportView) -> tuple[str, ...]:
    covered = {r.line for r in support.required}
    absent = [line for line in support.lines if line not in covered]
    if not support.attachments:
        return ("line that the support holds", "required load")
    return tuple(f"required load from line {line}" for line in absent)


def _cases(support: SupportView) -> Iterable[tuple[str, CaseKind]]:
    """Return the cases that every line of the support is worked out for."""
    by_case: dict[str, list[CaseKind]] = {}
    for required in support.required:
        by_case.setdefault(required.case, []).append(required.case_kind)
    lines = {r.line for r in support.required}
    return [(case, kinds[0]) for case, kinds in by_case.items() if len(kinds) == len(lines)]


def _share(support: SupportView, unit: UnitView | None, case: str) -> float | None:
    """Return the unit's part of the pipe loads in one case [N]."""
    rows = [r for r in support.required if r.case == case]
    if any(r.load is None for r in rows):
        return None
    loads = [(r.line, r.load or 0.0) for r in rows]
    total = sum(load for _, load in loads)
    if unit is None or support.arrangement is Arrangement.SINGLE:
        return total
    if support.arrangement is Arrangement.RISER_PAIR:
        return total / 2.0
    pair = _pair(support, loads)
    return None if pair is None else pair[0 if unit.position == "A" else 1]


def _pair(support: SupportView, loads: list[tuple[str, float]]) -> tuple[float, float] | None:
    """Split pipe loads between units A and B [N]; the beam always comes on top."""
    if support.arm_a is None or support.arm_b is None or support.beam_mass is None:
        return None
    beam = support.beam_mass * STANDARD_GRAVITY
    if len(loads) == 1:
        return shares(loads[0][1], support.arm_a, support.arm_b, beam)
    arms = {a.line: a.arm for a in support.attachments}
    if any(arms[line] is None for line, _ in loads):
        return None
    pipes = [BeamLoad(load, arms[line] or 0.0) for line, load in loads]
    return shares_of_several(pipes, 0.0, support.arm_a + support.arm_b, beam)


def _missing_for_share(support: SupportView, case: str) -> tuple[str, ...]:
    if any(r.load is None for r in support.required if r.case == case):
        return (f"required load in case {case}",)
    return ("arms and mass of the trapeze beam",)


def _hanging_weight(
    support: SupportView, unit: UnitView | None, tolerance: float
) -> tuple[float, tuple[str, ...], tuple[str, ...]]:
    """Return the weight hung below the unit [N] to be added, with notes and what is unclear."""
    answers = {r.includes_hardware for r in support.required}
    if unit is None or answers == {Known.YES}:
        return 0.0, (), ()
    weight = _weight_below(support, unit)
    if answers == {Known.NO}:
        if weight is None:
            return 0.0, (), ("mass of the hardware below the unit",)
        return weight, (), ()
    largest = max((r.load or 0.0 for r in support.required), default=0.0)
    if weight is not None and weight <= tolerance * largest:
        return (
            weight,
            ("not said whether the load includes hardware; it was added, being small",),
            (),
        )
    return 0.0, (), ("whether the required load includes the hardware below the unit",)


def _weight_below(support: SupportView, unit: UnitView) -> float | None:
    """Return the weight of the pieces below the unit [N]; None if a mass is not known."""
    pieces = [p for p in support.hardware if p.branch in {unit.position, "all"}]
    own = next((p.position for p in pieces if p.kind == "unit"), 0)
    below = [p.mass for p in pieces if p.branch == unit.position and p.position > own]
    if any(mass is None for mass in below):
        return None
    return sum(mass or 0.0 for mass in below) * STANDARD_GRAVITY


def _movements(support: SupportView) -> tuple[float | None, float | None]:
    """Return the largest movement up and sideways over the operating cases [m]."""
    rows = [r for r in support.required if r.case_kind is CaseKind.OPERATING]
    ups = [r.movement_up for r in rows if r.movement_up is not None]
    sides = [
        (r.movement_east**2 + r.movement_north**2) ** 0.5
        for r in rows
        if r.movement_east is not None and r.movement_north is not None
    ]
    return (max(ups, key=abs) if ups else None), (max(sides) if sides else None)
