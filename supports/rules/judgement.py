"""Every rule asked of one support, and the verdict that follows."""

from __future__ import annotations

from dataclasses import dataclass, replace

from supports.calc.hardware import StackUse
from supports.calc.unit_re_set import ReSet, Standing
from supports.calc.variable_spring import TakeUp
from supports.findings import Severity
from supports.rules.answers import RuleAnswer, judged, not_applicable, unjudged
from supports.rules.constant_rules import constant_answers, re_set_of, turning_missing
from supports.rules.hardware_rules import hardware_answers, stack_of
from supports.rules.required import UnitDemand, demand
from supports.rules.site_settings import SiteSettings
from supports.rules.variable_rules import take_up_of, variable_answers
from supports.snapshots import SupportView, UnitView
from supports.vocabulary import Arrangement, CaseKind, SupportKind, Verdict

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
}
_LOAD_RULES = {
    "load-outside-field-range",
    "setting-known",
    "variable-outside-working-range",
    "variable-needs-re-set",
    "required-load-known",
}


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
        """Return the rules broken, gravest first."""
        broken = [a for a in self.answers if a.fails]
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
    """Ask every rule of a support; units on one trapeze are judged each alone and set together."""
    units: tuple[UnitView | None, ...] = support.units or (None,)
    judged_units = tuple(_judge_unit(support, unit, settings) for unit in units)
    if support.arrangement is Arrangement.TRAPEZE:
        judged_units = _together(judged_units)
    verdict = min((unit.verdict for unit in judged_units), key=lambda v: v.rank)
    return SupportJudgement(support.id, support.tag, verdict, judged_units)


def _judge_unit(
    support: SupportView, unit: UnitView | None, settings: SiteSettings
) -> UnitJudgement:
    wanted = demand(support, unit, settings.tolerance)
    kind = unit.kind if unit else support.kind
    if kind.carries_no_weight and wanted.governing is None:
        return _carries_no_weight(unit, kind)
    re_set, take_up = _set_up(unit, wanted, settings)
    stack = stack_of(support, unit, wanted)
    answers = [_required_known(wanted), *_one_way(support, wanted, settings)]
    if unit is not None and unit.kind.is_constant:
        answers += constant_answers(unit, wanted, re_set, settings)
    elif unit is not None and unit.kind.is_variable:
        answers += variable_answers(unit, wanted, take_up, settings)
    elif support.kind.is_spring:
        answers.append(unjudged("setting-known", Severity.ACT, "unit with its nameplate"))
    answers += hardware_answers(support, unit, wanted, stack, settings)
    verdict, missing = _verdict(unit, answers, re_set, take_up)
    return UnitJudgement(
        unit_id=unit.id if unit else None,
        position=unit.position if unit else "",
        serial=unit.serial if unit else "",
        verdict=verdict,
        demand=wanted,
        present=unit.setting.load if unit and unit.setting else None,
        answers=tuple(answers),
        missing=missing,
        re_set=re_set,
        take_up=take_up,
        stack=stack,
    )


def _carries_no_weight(unit: UnitView | None, kind: SupportKind) -> UnitJudgement:
    answer = not_applicable("required-load-known", Severity.ACT, f"a {kind} carries no weight")
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
    return judged(rule, severity, f"required {wanted.governing / 1000:.2f} kN", fails=False)


def _one_way(
    support: SupportView, wanted: UnitDemand, settings: SiteSettings
) -> tuple[RuleAnswer, ...]:
    """Ask whether a support that can only carry is asked to pull down or is nearly off."""
    if wanted.governing is None or support.kind is SupportKind.ANCHOR:
        return ()
    text = f"required {wanted.governing / 1000:.2f} kN"
    pulled = judged("pull-needed-downwards", Severity.ACT, text, fails=wanted.governing <= 0.0)
    sustained = [c.load for c in wanted.cases if c.kind is CaseKind.SUSTAINED]
    if support.kind.is_spring or not sustained:
        return (pulled,)
    least = settings.rigid_unloading_share * max(sustained)
    unloaded = judged(
        "rigid-unloaded",
        Severity.ACT,
        f"operating {wanted.governing / 1000:.2f} kN, sustained {max(sustained) / 1000:.2f} kN",
        fails=wanted.governing < least,
    )
    return (pulled, unloaded)


def _verdict(
    unit: UnitView | None,
    answers: list[RuleAnswer],
    re_set: ReSet | None,
    take_up: TakeUp | None,
) -> tuple[Verdict, tuple[str, ...]]:
    """Return the weightiest verdict; what is known to be bad outweighs what is not known."""
    broken = {a.rule for a in answers if a.fails}
    if broken & _CANNOT_BE_SET:
        return Verdict.CANNOT_BE_SET, _missing_for(answers, _LOAD_RULES)
    if broken & _HARDWARE:
        return Verdict.HARDWARE_FAILS, _missing_for(answers, _LOAD_RULES)
    if missing := _missing_for(answers, _LOAD_RULES):
        return Verdict.CANNOT_JUDGE, missing
    if not _moves(re_set, take_up, broken):
        return _standing_still(re_set, broken), ()
    missing = _missing_for(answers, {"weakest-piece-unknown"})
    if re_set is not None and unit is not None:
        missing = (*turning_missing(unit, decrease=re_set.change < 0.0), *missing)
    return (Verdict.CANNOT_JUDGE, missing) if missing else (Verdict.RE_SET, ())


def _moves(re_set: ReSet | None, take_up: TakeUp | None, broken: set[str]) -> bool:
    turned = re_set is not None and re_set.standing is Standing.RE_SET
    return turned or (take_up is not None and "variable-needs-re-set" in broken)


def _standing_still(re_set: ReSet | None, broken: set[str]) -> Verdict:
    doubtful = {"rigid-unloaded", "load-close-to-range-end", "one-setting-many-cases"}
    inside_band = re_set is not None and re_set.standing is Standing.ENGINEER_DECIDES
    return Verdict.ENGINEER_DECIDES if inside_band or broken & doubtful else Verdict.LEAVE


def _missing_for(answers: list[RuleAnswer], rules: set[str]) -> tuple[str, ...]:
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
    text = f"unit {by.position} on the same trapeze: {by.verdict}; both are set together or not"
    answer = judged("trapeze-set-together", Severity.STOP, text, fails=True, source="statics")
    return replace(unit, verdict=by.verdict, answers=(*unit.answers, answer))
