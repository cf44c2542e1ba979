"""The spring units of a line as a plan sees them: setting, load per step, room, what is unknown."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import inf

from supports.calc.reset_plan.limits import UnitLimits
from supports.calc.turns import LoadPerTurnTable
from supports.calc.variable_spring import cold_load
from supports.findings import Severity
from supports.rules.constant_rules import (
    adjusting_range,
    constant_plate,
    load_per_turn,
    turning_missing,
)
from supports.rules.judgement import UnitJudgement
from supports.rules.line.holding import share_on
from supports.rules.reset_planning.stepping import Stepping, load_step
from supports.rules.reset_planning.wish import PlanAim, PlanWish
from supports.rules.site_settings import SiteSettings
from supports.rules.variable_rules import present_hot
from supports.snapshots import NameplateView, SupportView, UnitView
from supports.vocabulary import TurnCounts, Verdict

TAKE_UP_TRAVEL = {"nut": 1.0, "turnbuckle": 2.0}
"""Movement of the rod by one turn, in pitches of its thread."""

_NEVER = {Verdict.CANNOT_BE_SET, Verdict.HARDWARE_FAILS, Verdict.CANNOT_JUDGE}
_BY_REQUIRED_LOAD = {
    "load-outside-field-range",
    "load-bolt-thread-short",
    "variable-outside-working-range",
}
"""Rules that speak of the calculation's load alone; for another aim the plan keeps to the range."""


@dataclass(frozen=True, slots=True)
class PlanUnit:
    """One spring unit of the line.

    Parameters
    ----------
    share
        Part of its load that comes from this line [1].
    rate
        Spring rate [N/m]; 0 for a constant.
    limits
        Its figures for the plan; one that is not turned has neither range nor step.
    not_turned
        Why nobody may turn it; empty if it may be turned.
    stepping
        How its scale follows the steps; None where it is not turned.
    """

    name: str
    support: SupportView
    unit: UnitView
    share: float
    rate: float
    limits: UnitLimits
    not_turned: str = ""
    stepping: Stepping | None = None

    @property
    def turnable(self) -> bool:
        """Return whether the plan may turn it."""
        return not self.not_turned

    @property
    def missing(self) -> tuple[str, ...]:
        """Return what is not known of it, so that the plan cannot vouch for it."""
        unknown = self.limits.missing if self.turnable else ()
        if not self.turnable and self.limits.friction is None:
            unknown = ("friction band",)
        return tuple(f"{self.name}: {what}" for what in unknown)


def unit_name(support: SupportView, unit: UnitView) -> str:
    """Return the tag, with the unit's position where there are more than one."""
    return support.tag if len(support.units) == 1 else f"{support.tag}/{unit.position}"


def plan_unit(
    support: SupportView,
    unit: UnitView,
    judged: UnitJudgement | None,
    line: str,
    wish: PlanWish,
    settings: SiteSettings,
) -> PlanUnit:
    """Return a unit of a line with all that is known of it."""
    steps_per_turn = wish.steps_per_turn
    plate = unit.nameplate or NameplateView()
    variable = unit.kind.is_variable
    table = None if variable else load_per_turn(plate)
    step = _variable_step(plate, steps_per_turn) if variable else _constant_step(
        unit, plate, table, steps_per_turn
    )  # fmt: skip
    why = _why_not(unit, judged, step, wish.aim)
    low, high = _pointer_room(plate, settings)
    limits = UnitLimits(
        unit_name(support, unit),
        _setting(unit, plate),
        steps_per_turn=steps_per_turn,
        friction=_friction(unit, wish.friction_share),
        pointer_low=low,
        pointer_high=high,
    )
    if not why and step:
        limits = _with_room(limits, support, unit, plate, step, settings)
    return PlanUnit(
        name=limits.name,
        support=support,
        unit=unit,
        share=share_on(support, line),
        rate=(plate.rate or 0.0) if variable else 0.0,
        limits=limits,
        not_turned=why,
        stepping=None if why else Stepping(step, steps_per_turn, table, _bolts_per_turn(plate)),
    )


def _friction(unit: UnitView, share: float) -> float | None:
    """Return half the friction band that limits must bear, as a part of the setting [1]."""
    band = full_band(unit)
    return None if band is None else band * share


def full_band(unit: UnitView) -> float | None:
    """Return half the friction band of a unit's nameplate as a part of the setting [1]."""
    if unit.kind.is_variable:
        return 0.0
    return unit.nameplate.deviation if unit.nameplate else None


def _setting(unit: UnitView, plate: NameplateView) -> float:
    """Return the present setting [N]; of a variable, at the level of the line model."""
    if unit.kind.is_variable:
        hot = present_hot(unit, plate.movement) or 0.0
        return cold_load(hot, plate.rate or 0.0, plate.movement or 0.0)
    return unit.setting.load if unit.setting else 0.0


def _constant_step(
    unit: UnitView, plate: NameplateView, table: LoadPerTurnTable | None, steps_per_turn: int
) -> float:
    if table is None or unit.setting is None:
        return 0.0
    return load_step(unit.setting.load, table, _bolts_per_turn(plate), steps_per_turn)


def _bolts_per_turn(plate: NameplateView) -> float:
    """Return turns as the nameplate counts them for one turn of every bolt [1]."""
    bolts = plate.load_bolts or 1
    return float(bolts) if bolts > 1 and plate.turn_counts == TurnCounts.ONE_BOLT else 1.0


def _variable_step(plate: NameplateView, steps_per_turn: int) -> float:
    """Return the load by one step of the rod's take-up with the pipe held [N]."""
    travel = TAKE_UP_TRAVEL.get(plate.take_up)
    if not plate.rate or not plate.thread_pitch or travel is None:
        return 0.0
    return plate.rate * plate.thread_pitch * travel / steps_per_turn


def _why_not(unit: UnitView, judged: UnitJudgement | None, step: float, aim: PlanAim) -> str:
    """Return why nobody may turn a unit; what is unknown is named."""
    if judged is None:
        return "not judged by the assessment"
    if judged.verdict in _NEVER and not _only_by_required_load(judged, aim):
        unknown = [f"missing: {', '.join(judged.missing)}"] if judged.missing else []
        said = unknown + [answer.text for answer in judged.failures]
        return f"{judged.verdict} ({said[0]})"
    missing = _unknown(unit)
    if missing:
        return f"cannot judge (missing: {', '.join(missing)})"
    return "" if step else "cannot judge (missing: load by one step)"


def _only_by_required_load(judged: UnitJudgement, aim: PlanAim) -> bool:
    """Return whether a unit fails by the calculation's load only, and another one is aimed at."""
    if aim is PlanAim.CALCULATION or judged.verdict is not Verdict.CANNOT_BE_SET:
        return False
    stops = {a.rule for a in judged.failures if a.severity is Severity.STOP}
    return bool(stops) and stops <= _BY_REQUIRED_LOAD


def _unknown(unit: UnitView) -> tuple[str, ...]:
    plate = unit.nameplate or NameplateView()
    if unit.kind.is_constant:
        ways = (turning_missing(unit, decrease=way) for way in (False, True))
        missing = tuple(dict.fromkeys(what for way in ways for what in way))
        limited = () if adjusting_range(plate) else ("adjusting range about the nameplate load",)
        return (*missing, *limited)
    known = {
        "take-up: nut or turnbuckle": plate.take_up in TAKE_UP_TRAVEL,
        "thread pitch of the rod": bool(plate.thread_pitch),
        "working range": plate.working_low is not None and plate.working_high is not None,
    }
    return tuple(what for what, is_known in known.items() if not is_known)


def _with_room(
    limits: UnitLimits,
    support: SupportView,
    unit: UnitView,
    plate: NameplateView,
    step: float,
    settings: SiteSettings,
) -> UnitLimits:
    low, middle, high = _range(unit, plate, limits.setting)
    down, up = _thread(support, unit, plate, settings)
    group, _ = access_group(support, settings)
    a_turn = limits.steps_per_turn
    return replace(
        limits,
        step=step,
        low=low,
        plate=middle,
        high=high,
        steps_down=None if down is None else down * a_turn,
        steps_up=None if up is None else up * a_turn,
        cost=settings.plan_visit,
        group=group,
        replace_cost=settings.plan_replace,
    )


def _range(unit: UnitView, plate: NameplateView, setting: float) -> tuple[float, float, float]:
    """Return low end, nameplate load and high end [N]; of a variable, its working range."""
    limited = adjusting_range(plate)
    if unit.kind.is_constant and limited is not None:
        return limited.low, limited.plate, limited.high
    low, high = plate.working_low or 0.0, plate.working_high or inf
    named = plate.cold_load if plate.cold_load is not None else setting
    return low, min(max(named, low), high), high


def _thread(
    support: SupportView, unit: UnitView, plate: NameplateView, settings: SiteSettings
) -> tuple[float | None, float | None]:
    """Return the turns that the free thread allows down and up [1], its margin taken off."""
    if unit.kind.is_constant:
        pitch = constant_plate(plate).pitch
        free = (plate.free_to_decrease, plate.free_to_increase)
    else:
        pitch, left = plate.thread_pitch, _adjustment_left(support, unit)
        free = (left, left)
    down, up = (
        None if one is None or not pitch else max(0.0, one - settings.thread_margin) / pitch
        for one in free
    )
    return down, up


def _adjustment_left(support: SupportView, unit: UnitView) -> float | None:
    """Return the least take-up left on the unit's rod, either way [m]."""
    left = [
        piece.adjustment_left
        for piece in support.hardware
        if piece.branch in {unit.position, "all"} and piece.adjustment_left is not None
    ]
    return min(left, default=None)


def _pointer_room(plate: NameplateView, settings: SiteSettings) -> tuple[float, float]:
    """Return the movements between which the pointer keeps clear of both ends [m].

    Counted from the shut-down mark, the level of the line model; unknown is no limit here, since
    the marks are asked for by a rule of their own.
    """
    if plate.cold_mark is None or plate.total_travel is None or not plate.zero_end:
        return -inf, inf
    from_top = plate.cold_mark if plate.zero_end == "top" else plate.total_travel - plate.cold_mark
    room = settings.end_room_least
    return from_top + room - plate.total_travel, from_top - room


def access_group(support: SupportView, settings: SiteSettings) -> tuple[str, float]:
    """Return the scaffold group that a support needs, and its man-hours [h]; none within reach.

    Hours = a group's own + hours per metre above reach. Source: the site's own assumptions.
    """
    height = support.height_above_floor or 0.0
    above = max(0.0, height - settings.reach)
    if not support.scaffold_group and not above:
        return "", 0.0
    group = support.scaffold_group or f"at {support.tag}"
    return group, settings.scaffold_group + above * settings.scaffold_metre


def group_hours(units: Mapping[str, PlanUnit], settings: SiteSettings) -> dict[str, float]:
    """Return the man-hours of each scaffold group [h]: those of its highest support."""
    hours: dict[str, float] = {}
    for one in units.values():
        group, needed = access_group(one.support, settings)
        if group:
            hours[group] = max(hours.get(group, 0.0), needed)
    return hours


def unknown_heights(units: Mapping[str, PlanUnit]) -> Iterator[str]:
    """Say where access was counted without the height above floor."""
    tags = [u.support.tag for u in units.values() if u.support.height_above_floor is None]
    if tags:
        named = ", ".join(dict.fromkeys(tags))
        yield f"Height above floor not known at {named}: access there is counted without it."
