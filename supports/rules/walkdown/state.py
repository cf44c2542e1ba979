"""Rules on load, stops, condition, and on what was not done."""

from __future__ import annotations

from supports.findings import Severity
from supports.rules.answers import RuleAnswer, judged, not_applicable, unjudged
from supports.rules.walkdown.facts import ItemFacts
from supports.rules.walkdown.limits import WalkLimits, source_of
from supports.rules.walkdown.words import Fault, Grade, Half, StopSeen
from supports.tags import matching_key
from supports.units import Kind, shown
from supports.vocabulary import SupportKind

RESTS = frozenset({SupportKind.REST, SupportKind.ROLLER, SupportKind.DUMMY_LEG})


def set_without_record(facts: ItemFacts, limits: WalkLimits) -> RuleAnswer:
    """Answer whether the load scale shows what the last recorded setting makes it show."""
    rule, found, wanted = "set-without-record", facts.found, facts.expected(limits)
    if not facts.is_spring or found is None or found.load is None:
        return not_applicable(rule, Severity.ACT, "no load was read")
    if wanted is None or wanted.load is None or wanted.load_slack is None:
        return unjudged(rule, Severity.ACT, *(wanted.missing if wanted else ("state",)))
    words = (
        f"load {facts.load_words(found.load)}, last setting makes "
        f"{facts.load_words(wanted.load)} ± {facts.load_words(wanted.load_slack)}"
    )
    fails = abs(found.load - wanted.load) > wanted.load_slack * (1.0 + 1e-9)
    return judged(rule, Severity.ACT, words, fails=fails, source=source_of("reading_error"))


def lock_in_while_running(facts: ItemFacts, _: WalkLimits) -> RuleAnswer:
    """Answer whether a travel stop is in while the line operates."""
    rule, found = "lock-in-while-running", facts.found
    if not facts.is_spring or found is None or found.half is not Half.OPERATING:
        return not_applicable(rule, Severity.STOP, "not seen in operation")
    if found.stop is None:
        known = facts.unit.stops_in if facts.unit else ()
        if known and found.is_seen:
            return unjudged(rule, Severity.STOP, f"travel stop {', '.join(known)}: in or out")
        return not_applicable(rule, Severity.STOP, "nothing was noted of a travel stop")
    fails = found.stop in {StopSeen.IN, StopSeen.SEIZED}
    return judged(rule, Severity.STOP, f"travel stop {found.stop}, line operating", fails=fails)


def lock_seized(facts: ItemFacts, _: WalkLimits) -> RuleAnswer:
    """Answer whether a travel stop is stuck: the load does not match, never drive it out."""
    rule, found = "lock-seized", facts.found
    if found is None or found.stop is None:
        return not_applicable(rule, Severity.STOP, "nothing was noted of a travel stop")
    words = f"travel stop {found.stop}"
    return judged(rule, Severity.STOP, words, fails=found.stop is StopSeen.SEIZED)


def lock_not_in_holder(facts: ItemFacts, _: WalkLimits) -> RuleAnswer:
    """Answer whether a travel stop that is out lies in its holder, ready for the next test."""
    rule, found = "lock-not-in-holder", facts.found
    if not facts.is_spring or found is None or found.stop is None:
        return not_applicable(rule, Severity.LOOK, "nothing was noted of a travel stop")
    words = f"travel stop {found.stop}"
    return judged(rule, Severity.LOOK, words, fails=found.stop is StopSeen.MISSING)


def rest_lifted(facts: ItemFacts, limits: WalkLimits) -> RuleAnswer:
    """Answer whether the pipe stands on its rest."""
    rule, found = "rest-lifted", facts.found
    if facts.support.kind not in RESTS or found is None or found.gap is None:
        return not_applicable(rule, Severity.ACT, "no gap was read at a rest")
    words = f"gap under the pipe {shown(found.gap, 'mm', Kind.LENGTH)}"
    fails = found.gap > limits.contact_gap
    return judged(rule, Severity.ACT, words, fails=fails, source=source_of("contact_gap"))


def plate_not_readable(facts: ItemFacts, _: WalkLimits) -> RuleAnswer:
    """Answer whether the nameplate could be read."""
    rule, found = "plate-not-readable", facts.found
    if found is None or not found.is_seen:
        return not_applicable(rule, Severity.ACT, "not seen")
    fails = found.fault is Fault.PLATE_UNREADABLE
    return judged(rule, Severity.ACT, "nameplate not readable" if fails else "", fails=fails)


def unit_moved(facts: ItemFacts, _: WalkLimits) -> RuleAnswer:
    """Answer whether the serial on the plate is the one on record."""
    rule, found = "unit-moved", facts.found
    if found is None or not found.serial or facts.unit is None:
        return not_applicable(rule, Severity.ACT, "no serial was read")
    if not facts.unit.serial:
        return unjudged(rule, Severity.ACT, "serial on record")
    fails = matching_key(found.serial) != matching_key(facts.unit.serial)
    words = f"serial read {found.serial}, on record {facts.unit.serial}"
    return judged(rule, Severity.ACT, words, fails=fails)


def condition_graded(facts: ItemFacts, _: WalkLimits) -> RuleAnswer:
    """Answer whether the inspector's grade calls for something."""
    rule, found = "condition-graded", facts.found
    if found is None or not found.is_seen:
        return not_applicable(rule, Severity.ACT, "not seen")
    if found.grade is None:
        return unjudged(rule, Severity.ACT, "condition grade")
    severity = Severity.STOP if found.grade is Grade.UNSAFE_NOW else Severity.ACT
    bad = found.grade in {Grade.UNSAFE_NOW, Grade.ACT_BY_DATE}
    date = f" by {found.act_by}" if found.act_by and found.grade is Grade.ACT_BY_DATE else ""
    words = f"{found.grade}{date}: {found.fault or 'no fault named'}"
    words += f" ({found.remarks})" if found.remarks else ""
    return judged(rule, severity, words, fails=bad)


def fault_seen(facts: ItemFacts, _: WalkLimits) -> RuleAnswer:
    """Answer whether a fault was named under a grade that by itself calls for nothing."""
    rule, found = "fault-seen", facts.found
    if found is None or not found.is_seen:
        return not_applicable(rule, Severity.LOOK, "not seen")
    told_elsewhere = found.grade in {Grade.UNSAFE_NOW, Grade.ACT_BY_DATE}
    fails = (
        found.fault is not None and found.fault is not Fault.PLATE_UNREADABLE and not told_elsewhere
    )
    words = f"{found.fault}: {found.remarks}" if found.fault else "no fault named"
    return judged(rule, Severity.LOOK, words.rstrip(": "), fails=fails)


def seen_as_ok_without_value(facts: ItemFacts, _: WalkLimits) -> RuleAnswer:
    """Answer whether a spring of class A was called good with no number beside it."""
    rule, found = "seen-as-ok-without-value", facts.found
    if not facts.is_spring or found is None or not found.is_seen:
        return not_applicable(rule, Severity.LOOK, "no spring, or not seen")
    bare = not found.has_value and not found.doubts
    fails = bare and facts.support.criticality == "A"
    words = "seen, no pointer and no load read" if bare else "a value was read"
    return judged(rule, Severity.LOOK, words, fails=fails)


def critical_without_photo(facts: ItemFacts, _: WalkLimits) -> RuleAnswer:
    """Answer whether a spring of class A was photographed."""
    rule, found = "critical-without-photo", facts.found
    critical = facts.is_spring and facts.support.criticality == "A"
    if not critical or found is None or not found.is_seen:
        return not_applicable(rule, Severity.LOOK, "not class A, or not seen")
    words = f"photos {found.photos}" if found.photos else "no photo number on the form"
    return judged(rule, Severity.LOOK, words, fails=not found.photos)


def never_seen(facts: ItemFacts, _: WalkLimits) -> RuleAnswer:
    """Answer whether anybody ever saw it."""
    rule, found = "never-seen", facts.found
    if found is None or not found.is_explained:
        return not_applicable(rule, Severity.ACT, "the row is blank")
    seen = bool(facts.earlier) or found.is_seen
    words = f"nobody ever read it; not seen this time because: {found.why_not}"
    return judged(rule, Severity.ACT, "seen" if seen else words, fails=not seen)


def state_not_comparable(facts: ItemFacts, limits: WalkLimits) -> RuleAnswer:
    """Answer whether the state found is one that a trend may use."""
    rule, wanted = "state-not-comparable", facts.expected(limits)
    if wanted is None or facts.found is None or not facts.found.has_value:
        return not_applicable(rule, Severity.NOTE, "nothing was read")
    words = f"state found: {wanted.state}"
    if not wanted.comparable and wanted.share is not None:
        words += f", {100.0 * wanted.share:.0f} % of the temperature rise; left out of trends"
    return judged(
        rule, Severity.NOTE, words, fails=not wanted.comparable,
        source=source_of("temperature_share"),
    )  # fmt: skip


def no_hot_cold_pair(facts: ItemFacts, _: WalkLimits) -> RuleAnswer:
    """Answer whether there is a reading of the other half to make a pair."""
    rule = "no-hot-cold-pair"
    if not facts.is_spring or facts.found is None or not facts.found.has_value:
        return not_applicable(rule, Severity.LOOK, "nothing was read")
    words = "no reading of the other half since the last setting"
    return judged(rule, Severity.LOOK, "" if facts.pair else words, fails=facts.pair is None)


def value_not_taken(facts: ItemFacts, _: WalkLimits) -> RuleAnswer:
    """Answer whether something written down could not be taken."""
    rule, found = "value-not-taken", facts.found
    if found is None or not found.doubts:
        return not_applicable(rule, Severity.LOOK, "all that was written was taken")
    words = "; ".join(f"{name}: {why}" for name, why in found.doubts.items())
    return judged(rule, Severity.LOOK, words, fails=True)
