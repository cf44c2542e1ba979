"""Rules for a constant support: range, difference, load bolt, travel, what forbids turning."""

from __future__ import annotations

from collections.abc import Iterator

from supports.calc.constant_support import LoadRange
from supports.calc.elementwise import at_least, at_most
from supports.calc.travel import room_at_ends, travel_needed
from supports.calc.turns import LoadPerTurn, LoadPerTurnTable
from supports.calc.unit_re_set import ConstantPlate, ReSet, ReSetLimits, Standing, plan_re_set
from supports.errors import CannotCalculate
from supports.findings import Severity
from supports.rules.answers import RuleAnswer, judged, unjudged
from supports.rules.required import UnitDemand
from supports.rules.site_settings import SiteSettings, limits
from supports.snapshots import NameplateView, UnitView
from supports.units import Kind, shown
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


def constant_answers(
    unit: UnitView, demand: UnitDemand, re_set: ReSet | None, settings: SiteSettings
) -> Iterator[RuleAnswer]:
    """Ask every rule of a constant support."""
    plate = unit.nameplate or NameplateView()
    yield _outside_range(plate, demand)
    yield _close_to_end(plate, demand, settings)
    yield _setting_known(unit)
    if re_set is not None:
        yield from _difference(plate, re_set, settings)
    yield _one_setting_many_cases(demand, settings)
    yield _travel(plate, demand, settings)
    yield from _end_room(plate, settings)


def _outside_range(plate: NameplateView, demand: UnitDemand) -> RuleAnswer:
    rule, severity = "load-outside-field-range", Severity.STOP
    limited = adjusting_range(plate)
    missing = [*demand.missing]
    if plate.nameplate_load is None:
        missing.append("nameplate load")
    if plate.range_low is None or plate.range_high is None:
        missing.append("adjusting range on the nameplate")
    elif limited is None and plate.nameplate_load is not None:
        missing.append("an adjusting range that holds the nameplate load")
    if limited is None or demand.governing is None or missing:
        return unjudged(rule, severity, *missing)
    unit, required = plate.scale_unit or "kN", demand.governing
    share = (required - limited.plate) / limited.plate
    text = (
        f"required {_load(required, unit)} is {share:+.1%} from the nameplate load "
        f"{_load(limited.plate, unit)}; range {_load(limited.low, unit)} to "
        f"{_load(limited.high, unit)}"
    )
    return judged(rule, severity, text, fails=not limited.contains(required), source="nameplate")


def _close_to_end(plate: NameplateView, demand: UnitDemand, settings: SiteSettings) -> RuleAnswer:
    rule, severity = "load-close-to-range-end", Severity.ACT
    limited = adjusting_range(plate)
    if limited is None or demand.governing is None or demand.missing:
        return unjudged(rule, severity, "adjusting range or required load")
    share = limited.used_share(demand.governing)
    near = limited.contains(demand.governing) and not at_most(share, settings.range_end_share)
    text = (
        f"{share:.0%} of that side of the range is used; "
        f"the site asks for acceptance beyond {settings.range_end_share:.0%}"
    )
    return judged(rule, severity, text, fails=near, source=limits()["range_end_share"].source)


def _setting_known(unit: UnitView) -> RuleAnswer:
    rule = "setting-known"
    if unit.setting is None:
        return unjudged(rule, Severity.ACT, "present setting")
    text = f"set on {unit.setting.happened_on.isoformat()} ({unit.setting.method})"
    return judged(rule, Severity.ACT, text, fails=False)


def _difference(
    plate: NameplateView, re_set: ReSet, settings: SiteSettings
) -> Iterator[RuleAnswer]:
    unit = plate.scale_unit or "kN"
    text = (
        f"set {_load(re_set.present, unit)}, required {_load(re_set.required, unit)}: "
        f"{re_set.relative_change:+.2%}"
    )
    standing = re_set.standing
    yield judged(
        "constant-needs-re-set",
        Severity.ACT,
        f"{text}; band {settings.band:.1%}",
        fails=standing is Standing.RE_SET,
        source=limits()["band"].source,
    )
    yield judged(
        "difference-inside-band",
        Severity.LOOK,
        f"{text}; tolerance {settings.tolerance:.1%}, band {settings.band:.1%}",
        fails=standing is Standing.ENGINEER_DECIDES,
        source=limits()["tolerance"].source,
    )
    yield _thread(re_set)


def _thread(re_set: ReSet) -> RuleAnswer:
    rule, severity = "load-bolt-thread-short", Severity.STOP
    if re_set.standing is not Standing.RE_SET:
        return judged(rule, severity, "no turning is needed", fails=False)
    if re_set.thread_needed is None or re_set.thread_spare is None:
        return unjudged(rule, severity, "pitch or free thread of the load bolt")
    text = (
        f"{shown(re_set.thread_needed, 'mm', Kind.LENGTH, 1)} of thread needed, "
        f"{shown(re_set.thread_spare, 'mm', Kind.LENGTH, 1)} to spare"
    )
    return judged(rule, severity, text, fails=re_set.thread_is_short)


def _one_setting_many_cases(demand: UnitDemand, settings: SiteSettings) -> RuleAnswer:
    rule, severity = "one-setting-many-cases", Severity.ACT
    if demand.governing is None:
        return unjudged(rule, severity, *(demand.missing or ("required load",)))
    if demand.spread is None:
        return judged(rule, severity, "one operating case only", fails=False)
    text = (
        f"operating cases lie ±{demand.spread:.1%} about {demand.governing / 1000:.2f} kN; "
        f"limit ±{settings.case_spread:.1%}"
    )
    too_wide = not at_most(demand.spread, settings.case_spread)
    return judged(rule, severity, text, fails=too_wide, source=limits()["case_spread"].source)


def _travel(plate: NameplateView, demand: UnitDemand, settings: SiteSettings) -> RuleAnswer:
    severity = Severity.STOP
    design = demand.movement_up if demand.movement_up is not None else plate.design_travel
    if design is None or plate.total_travel is None:
        return unjudged("travel-reserve-short", Severity.ACT, "design travel or total travel")
    unit, total = plate.pointer_unit or "mm", plate.total_travel
    if not at_most(abs(design), total):
        text = f"needs {_travel_text(abs(design), unit)}, the unit has {_travel_text(total, unit)}"
        return judged("travel-more-than-unit", severity, text, fails=True)
    needed = travel_needed(abs(design), settings.travel_extra_least, settings.travel_extra_share)
    text = (
        f"design {_travel_text(abs(design), unit)}, with reserve {_travel_text(needed, unit)}, "
        f"the unit has {_travel_text(total, unit)}"
    )
    return judged(
        "travel-reserve-short",
        Severity.ACT,
        text,
        fails=not at_most(needed, total),
        source=limits()["travel_extra_least"].source,
    )


def _end_room(plate: NameplateView, settings: SiteSettings) -> Iterator[RuleAnswer]:
    rule, severity = "room-at-one-end-short", Severity.ACT
    known = (plate.cold_mark, plate.hot_mark, plate.total_travel)
    if None in known or not plate.zero_end:
        yield unjudged(rule, severity, "pointer marks, or which end is zero")
        return
    top, bottom = room_at_ends(
        plate.cold_mark or 0.0,
        plate.hot_mark or 0.0,
        plate.total_travel or 0.0,
        zero_at_top=plate.zero_end == "top",
    )
    unit = plate.pointer_unit or "mm"
    text = f"room {_travel_text(top, unit)} at the top, {_travel_text(bottom, unit)} at the bottom"
    short = not at_least(min(top, bottom), settings.end_room_least)
    yield judged(rule, severity, text, fails=short, source=limits()["end_room_least"].source)


def _load(value: float, unit: str) -> str:
    return shown(value, unit, Kind.LOAD)


def _travel_text(value: float, unit: str) -> str:
    return shown(value, unit, Kind.LENGTH)
