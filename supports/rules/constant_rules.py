"""A constant support's plate as arithmetic reads it, its re-set, and what forbids turning."""

from __future__ import annotations

from supports.calc.constant_support import LoadRange
from supports.calc.turns import LoadPerTurn, LoadPerTurnTable
from supports.calc.unit_re_set import ConstantPlate, ReSet, ReSetLimits, plan_re_set
from supports.errors import CannotCalculate
from supports.rules.required import UnitDemand
from supports.rules.site_settings import SiteSettings
from supports.snapshots import NameplateView, UnitView
from supports.vocabulary import Known, TurnCounts


def adjusting_range(plate: NameplateView) -> LoadRange | None:
    """Return the range counted from the nameplate load; None unless all three are readable."""
    if plate.nameplate_load is None or plate.range_low is None or plate.range_high is None:
        return None
    try:
        return LoadRange(plate.range_low, plate.nameplate_load, plate.range_high)
    except CannotCalculate:
        return None


def load_per_turn(plate: NameplateView) -> LoadPerTurnTable | None:
    """Return the load per turn as a table; None if it is not on the plate."""
    if plate.load_per_turn_table:
        return LoadPerTurnTable(tuple(LoadPerTurn(*row) for row in plate.load_per_turn_table))
    if plate.load_per_turn:
        return LoadPerTurnTable.uniform(plate.load_per_turn)
    return None


def constant_plate(plate: NameplateView) -> ConstantPlate:
    """Return the plate as the re-set arithmetic reads it."""
    increase = plate.direction_to_increase
    opposite = f"against the direction that increases ({increase})" if increase else ""
    return ConstantPlate(
        adjusting_range=adjusting_range(plate),
        load_per_turn=load_per_turn(plate),
        increase_words=increase or None,
        decrease_words=plate.direction_to_decrease or opposite or None,
        bolts=plate.load_bolts or 1,
        turn_of=TurnCounts(plate.turn_counts) if plate.turn_counts else None,
        pitch=plate.bolt_pitch,
        free_to_increase=plate.free_to_increase,
        free_to_decrease=plate.free_to_decrease,
    )


def re_set_of(unit: UnitView, demand: UnitDemand, settings: SiteSettings) -> ReSet | None:
    """Return the re-set of a constant, or None where load, setting or plate is not known."""
    if demand.governing is None or unit.setting is None or unit.nameplate is None:
        return None
    own = ReSetLimits(settings.tolerance, settings.band, settings.thread_margin)
    return plan_re_set(demand.governing, unit.setting.load, constant_plate(unit.nameplate), own)


def turning_missing(unit: UnitView, *, decrease: bool) -> tuple[str, ...]:
    """Return what must be known before anybody is told to turn the load bolt."""
    plate = unit.nameplate or NameplateView()
    words = constant_plate(plate)
    missing = []
    if not (words.decrease_words if decrease else words.increase_words):
        missing.append("direction of turning on the nameplate")
    if words.load_per_turn is None:
        missing.append("load per turn")
    if words.bolts > 1 and words.turn_of is None:
        missing.append("whether the load per turn counts one bolt or all")
    if plate.may_turn_locked is Known.UNKNOWN:
        missing.append("whether the load bolt may be turned with the travel stop in")
    return tuple(missing)
