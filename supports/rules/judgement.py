"""What is to become of each unit: the rules asked of it, and the verdict that follows."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from supports.calc.hardware import StackUse
from supports.calc.unit_re_set import ReSet
from supports.calc.variable_spring import TakeUp
from supports.findings import Severity
from supports.rules.answers import RuleAnswer, judged, not_applicable, unjudged
from supports.rules.constant_rules import re_set_of, turning_missing
from supports.rules.hardware_rules import stack_of
from supports.rules.loads_judged import AskedOfSome, ask_of_some
from supports.rules.required import UnitDemand, demand_of
from supports.rules.rule import Limits, Override
from supports.rules.site_settings import SiteSettings
from supports.rules.variable_rules import take_up_of
from supports.sentences import Sentence
from supports.snapshots import SupportView, UnitView
from supports.vocabulary import Arrangement, SupportKind, Verdict

_CANNOT_BE_SET = {
    "load-outside-field-range",
    "load-bolt-thread-short",
    "variable-outside-working-range",
    "travel-more-than-unit",
    "pull-needed-downwards",
}
_HARDWARE = {
    "rod-over-rating",
    "clamp-over-rating-hot",
    "weld-or-lug-over",
    "trapeze-beam-over",
    "derated-by-condition",
    "riser-arm-for-half",
}
_LOAD_RULES = {
    "load-outside-field-range",
    "setting-known",
    "variable-outside-working-range",
    "variable-needs-re-set",
    "required-load-known",
}
_TURNED = {"constant-needs-re-set", "variable-needs-re-set"}
_DOUBTFUL = {
    "difference-inside-band",
    "rigid-unloaded",
    "load-close-to-range-end",
    "one-setting-many-cases",
}
_PIECES = "weakest-piece-unknown"
_HUNG_RIGID = {SupportKind.RIGID_ROD, SupportKind.RIGID_STRUT}
"""What hangs by its pieces; a rest stands on steel, judged by the rise of its load."""
TOGETHER = "unit {position} on the same trapeze: {verdict}; both are set together or not"


@dataclass(frozen=True, slots=True)
class UnitJudgement:
    """What is to become of one unit, or of a support without units (`unit_id` None)."""

    unit_id: int | None
    position: str
    serial: str
    verdict: Verdict
    demand: UnitDemand
    present: float | None
    answers: tuple[RuleAnswer, ...]
    missing: tuple[str, ...]
    re_set: ReSet | None = None
    take_up: TakeUp | None = None
    stack: StackUse | None = None

    @property
    def failures(self) -> tuple[RuleAnswer, ...]:
        """Return the rules broken, gravest first; what is only a note is left out."""
        broken = [a for a in self.answers if a.fails and a.severity is not Severity.NOTE]
        return tuple(sorted(broken, key=lambda a: a.severity.rank))


@dataclass(frozen=True, slots=True)
class SupportJudgement:
    """What is to become of one support; its verdict is the weightiest of its units'."""

    point_id: int
    tag: str
    verdict: Verdict
    units: tuple[UnitJudgement, ...]

    @property
    def missing(self) -> tuple[str, ...]:
        """Return everything that is missing, once each."""
        return tuple(dict.fromkeys(m for unit in self.units for m in unit.missing))


def judge_support(support: SupportView, settings: SiteSettings) -> SupportJudgement:
    """Judge one support; units on one trapeze are judged each alone and set together."""
    return judge_supports([support], settings)[0]


def judge_supports(
    supports: Sequence[SupportView],
    settings: SiteSettings,
    *,
    overrides: Collection[Override] = (),
    near_nozzle: Collection[str] = (),
    near_machine: Collection[str] = (),
) -> tuple[SupportJudgement, ...]:
    """Judge some supports, in their order.

    Parameters
    ----------
    overrides
        Settings that hold for one line or one class only.
    near_nozzle, near_machine
        Numbers of lines with load-limited nozzles, and with nozzles of machines.
    """
    limits = Limits(settings, tuple(overrides))
    asked = ask_of_some(supports, limits, near_nozzle=near_nozzle, near_machine=near_machine)
    return tuple(_judge(asked, place, support, settings) for place, support in enumerate(supports))


def _judge(
    asked: AskedOfSome, place: int, support: SupportView, settings: SiteSettings
) -> SupportJudgement:
    units: tuple[UnitView | None, ...] = support.units or (None,)
    rows = asked.rows_of(place)
    found = tuple(
        _judge_unit(asked, row, (support, unit), settings)
        for row, unit in zip(rows, units, strict=True)
    )
    if support.arrangement is Arrangement.TRAPEZE:
        found = _together(found)
    verdict = min((unit.verdict for unit in found), key=lambda v: v.rank)
    return SupportJudgement(support.id, support.tag, verdict, found)


def _noted(wanted: UnitDemand, unit: UnitView | None) -> UnitDemand:
    """Return what a unit must carry, with a word where its plate is not the maker's."""
    plate = unit.nameplate if unit else None
    if plate is None or not plate.provisional:
        return wanted
    return replace(wanted, notes=(*wanted.notes, f"PLATE PROVISIONAL ({plate.source})"))


def _judge_unit(
    asked: AskedOfSome,
    row: int,
    judged_here: tuple[SupportView, UnitView | None],
    settings: SiteSettings,
) -> UnitJudgement:
    support, unit = judged_here
    wanted = _noted(demand_of(asked.loads, row, asked.case_names), unit)
    kind = unit.kind if unit else support.kind
    if kind.carries_no_weight and wanted.governing is None:
        return _carries_no_weight(unit, kind)
    re_set, take_up = _set_up(unit, wanted, settings)
    answers = (_required_known(wanted), *_setting_known(support, unit), *asked.answers(row))
    verdict, missing = _verdict(kind, unit, answers, re_set, asked.unrated(row))
    if support.waiting:
        verdict, missing = _until_answered(verdict), (*missing, *support.waiting)
    return UnitJudgement(
        unit_id=unit.id if unit else None,
        position=unit.position if unit else "",
        serial=unit.serial if unit else "",
        verdict=verdict,
        demand=wanted,
        present=unit.setting.load if unit and unit.setting else None,
        answers=answers,
        missing=missing,
        re_set=re_set,
        take_up=take_up,
        stack=stack_of(support, unit, wanted),
    )


def _carries_no_weight(unit: UnitView | None, kind: SupportKind) -> UnitJudgement:
    answer = not_applicable(
        "required-load-known", Severity.ACT, Sentence("a {kind} carries no weight", kind=kind)
    )
    return UnitJudgement(
        unit_id=unit.id if unit else None,
        position=unit.position if unit else "",
        serial=unit.serial if unit else "",
        verdict=Verdict.LEAVE,
        demand=UnitDemand(),
        present=None,
        answers=(answer,),
        missing=(),
    )


def _set_up(
    unit: UnitView | None, wanted: UnitDemand, settings: SiteSettings
) -> tuple[ReSet | None, TakeUp | None]:
    if unit is None or wanted.missing:
        return None, None
    if unit.kind.is_constant:
        return re_set_of(unit, wanted, settings), None
    return None, take_up_of(unit, wanted) if unit.kind.is_variable else None


def _required_known(wanted: UnitDemand) -> RuleAnswer:
    rule, severity = "required-load-known", Severity.ACT
    if wanted.governing is None or wanted.missing:
        return unjudged(rule, severity, *(wanted.missing or ("required load",)))
    said = Sentence("required {load}", load=f"{wanted.governing / 1000:.2f} kN")
    return judged(rule, severity, said, fails=False)


def _setting_known(support: SupportView, unit: UnitView | None) -> tuple[RuleAnswer, ...]:
    rule, severity = "setting-known", Severity.ACT
    if unit is None:
        absent = unjudged(rule, severity, "unit with its nameplate")
        return (absent,) if support.kind.is_spring else ()
    if not unit.kind.is_constant:
        return ()
    if unit.setting is None:
        return (unjudged(rule, severity, "present setting"),)
    day = unit.setting.happened_on.isoformat()
    text = Sentence("set on {day} ({method})", day=day, method=unit.setting.method)
    return (judged(rule, severity, text, fails=False),)


def _verdict(
    kind: SupportKind,
    unit: UnitView | None,
    answers: tuple[RuleAnswer, ...],
    re_set: ReSet | None,
    unrated: tuple[str, ...],
) -> tuple[Verdict, tuple[str, ...]]:
    """Return the weightiest verdict; what is known to be bad outweighs what is not known.

    A spring left alone pulls as it did. What is rigid takes the new load without anybody's doing:
    it is only left where its pieces are known to bear that.
    """
    broken = {a.rule for a in answers if a.fails}
    if broken & _CANNOT_BE_SET:
        return Verdict.CANNOT_BE_SET, _missing_for(answers, _LOAD_RULES)
    if broken & _HARDWARE:
        return Verdict.HARDWARE_FAILS, _missing_for(answers, _LOAD_RULES)
    borne = _missing_for(answers, {_PIECES}) + unrated if kind in _HUNG_RIGID else ()
    if missing := (*_missing_for(answers, _LOAD_RULES), *borne):
        return Verdict.CANNOT_JUDGE, missing
    if not broken & _TURNED:
        return (Verdict.ENGINEER_DECIDES if broken & _DOUBTFUL else Verdict.LEAVE), ()
    missing = (*_missing_for(answers, {_PIECES}), *unrated)
    if re_set is not None and unit is not None:
        missing = (*turning_missing(unit, decrease=re_set.change < 0.0), *missing)
    return (Verdict.CANNOT_JUDGE, missing) if missing else (Verdict.RE_SET, ())


def _until_answered(verdict: Verdict) -> Verdict:
    """Return the verdict while values wait for an answer: what is known to be bad stays bad."""
    bad = verdict in {Verdict.CANNOT_BE_SET, Verdict.HARDWARE_FAILS}
    return verdict if bad else Verdict.CANNOT_JUDGE


def _missing_for(answers: tuple[RuleAnswer, ...], rules: set[str]) -> tuple[str, ...]:
    named = [m for a in answers if a.cannot_judge and a.rule in rules for m in a.missing]
    return tuple(dict.fromkeys(named))


def _together(units: tuple[UnitJudgement, ...]) -> tuple[UnitJudgement, ...]:
    """Refuse to turn one unit of a trapeze where the other cannot be set."""
    held = [u for u in units if u.verdict.rank < Verdict.RE_SET.rank]
    if not held:
        return units
    return tuple(_held_back(unit, held[0]) for unit in units)


def _held_back(unit: UnitJudgement, by: UnitJudgement) -> UnitJudgement:
    if unit is by or unit.verdict is not Verdict.RE_SET:
        return unit
    text = Sentence(TOGETHER, position=by.position, verdict=by.verdict)
    answer = judged("trapeze-set-together", Severity.STOP, text, fails=True, source="statics")
    return replace(unit, verdict=by.verdict, answers=(*unit.answers, answer))
