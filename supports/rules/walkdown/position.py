"""Rules on where the pointer stands and how it moved."""

from __future__ import annotations

from supports.findings import Severity
from supports.rules.answers import RuleAnswer, judged, not_applicable, unjudged
from supports.rules.walkdown.facts import (
    ItemFacts,
    load_trends,
    movement_read,
    pointer_trends,
    rod_angle_expected,
)
from supports.rules.walkdown.limits import WalkLimits, source_of
from supports.rules.walkdown.trend import Trend
from supports.rules.walkdown.words import StopSeen, ZeroEnd
from supports.units import Kind, shown


def reading_impossible(facts: ItemFacts, limits: WalkLimits) -> RuleAnswer:
    """Answer whether pointer and load lie on their scales."""
    rule, found = "reading-impossible", facts.found
    if found is None or not found.has_value:
        return not_applicable(rule, Severity.LOOK, "nothing was read")
    total, slack = facts.plate.total_travel, limits.at_the_stop
    off = (
        found.pointer is not None
        and total is not None
        and not -slack <= found.pointer <= total + slack
    )
    nought = found.load is not None and found.load <= 0.0
    words = (
        f"pointer {facts.length_words(found.pointer)} on a scale of {facts.length_words(total)}, "
        f"load {facts.load_words(found.load)}"
    )
    return judged(rule, Severity.LOOK, words, fails=off or nought)


def on_the_stop(facts: ItemFacts, limits: WalkLimits) -> RuleAnswer:
    """Answer whether a unit is bottomed or topped out: then it is a rigid of unknown load."""
    rule, found = "on-the-stop", facts.found
    if not facts.is_spring or found is None or found.pointer is None:
        return not_applicable(rule, Severity.ACT, "no pointer was read")
    total = facts.plate.total_travel
    if total is None:
        return unjudged(rule, Severity.ACT, "total travel")
    if found.stop in {StopSeen.IN, StopSeen.SEIZED}:
        return not_applicable(rule, Severity.ACT, "the travel stop is in")
    low, high = found.pointer <= limits.at_the_stop, found.pointer >= total - limits.at_the_stop
    words = f"pointer {facts.length_words(found.pointer)} of {facts.length_words(total)}"
    if low or high:
        words += f": {_end_words(facts.plate.zero_end, at_zero=low)}"
    return judged(rule, Severity.ACT, words, fails=low or high, source=source_of("at_the_stop"))


def _end_words(zero_end: str, *, at_zero: bool) -> str:
    if not zero_end:
        return "at an end, which one is not known"
    top = at_zero is (zero_end == ZeroEnd.TOP)
    return "topped out" if top else "bottomed out"


def room_at_one_end_short(facts: ItemFacts, limits: WalkLimits) -> RuleAnswer:
    """Answer whether the pointer still has room at both ends."""
    rule, found, total = "room-at-one-end-short", facts.found, facts.plate.total_travel
    if not facts.is_spring or found is None or found.pointer is None:
        return not_applicable(rule, Severity.ACT, "no pointer was read")
    if total is None:
        return unjudged(rule, Severity.ACT, "total travel")
    room = min(found.pointer, total - found.pointer)
    least = max(limits.end_room_least, limits.end_room_share * total)
    words = f"room to the nearer end {facts.length_words(room)}, least {facts.length_words(least)}"
    fails = limits.at_the_stop < room < least
    return judged(rule, Severity.ACT, words, fails=fails, source=source_of("end_room_least"))


def pointer_not_as_expected(facts: ItemFacts, limits: WalkLimits) -> RuleAnswer:
    """Answer whether the pointer stands where it should in the state found."""
    rule, found, wanted = "pointer-not-as-expected", facts.found, facts.expected(limits)
    if not facts.is_spring or found is None or found.pointer is None:
        return not_applicable(rule, Severity.LOOK, "no pointer was read")
    if wanted is None or wanted.pointer is None or wanted.pointer_slack is None:
        return unjudged(rule, Severity.LOOK, *(wanted.missing if wanted else ("state",)))
    off = found.pointer - wanted.pointer
    words = (
        f"pointer {facts.length_words(found.pointer)}, expected "
        f"{facts.length_words(wanted.pointer)} ± {facts.length_words(wanted.pointer_slack)}"
    )
    fails = abs(off) > wanted.pointer_slack + 1e-9
    return judged(rule, Severity.LOOK, words, fails=fails, source=source_of("pointer_off_least"))


def moves_the_wrong_way(facts: ItemFacts, limits: WalkLimits) -> RuleAnswer:
    """Answer whether the pipe moved to the side that was predicted."""
    rule = "moves-the-wrong-way"
    pair = _movements(rule, Severity.ACT, facts)
    if isinstance(pair, RuleAnswer):
        return pair
    read, wanted = pair
    wrong = read * wanted < 0.0 and abs(read) > limits.at_the_stop
    words = _movement_words(facts, read, wanted)
    slack = max(limits.pointer_off_least, limits.pointer_off_share * abs(wanted))
    if wrong and abs(read + wanted) <= slack:
        words += "; as if the two walks' readings were exchanged"
    return judged(rule, Severity.ACT, words, fails=wrong)


def moves_too_little(facts: ItemFacts, limits: WalkLimits) -> RuleAnswer:
    """Answer whether the pipe moved as far as predicted, by and large."""
    rule = "moves-too-little"
    pair = _movements(rule, Severity.LOOK, facts)
    if isinstance(pair, RuleAnswer):
        return pair
    read, wanted = pair
    same_way = read * wanted >= 0.0 or abs(read) <= limits.at_the_stop
    little = same_way and abs(read) < limits.little_movement * abs(wanted)
    words = _movement_words(facts, read, wanted)
    return judged(rule, Severity.LOOK, words, fails=little, source=source_of("little_movement"))


def _movements(rule: str, severity: Severity, facts: ItemFacts) -> tuple[float, float] | RuleAnswer:
    """Return movement read and movement predicted [m], or why there are none."""
    if not facts.is_spring or facts.found is None or not facts.found.has_value:
        return not_applicable(rule, severity, "nothing was read on a spring")
    if facts.pair is None:
        return not_applicable(rule, severity, "no reading of the other half")
    read, wanted = movement_read(facts), facts.movement
    if wanted is None:
        return unjudged(rule, severity, "predicted movement")
    if read is None:
        return unjudged(rule, severity, "movement read on a pair")
    return read, wanted


def _movement_words(facts: ItemFacts, read: float, wanted: float) -> str:
    return (
        f"moved {facts.length_words(read)} from shut down to operating, predicted "
        f"{facts.length_words(wanted)} (up is positive)"
    )


def drift_between_walks(facts: ItemFacts, limits: WalkLimits) -> RuleAnswer:
    """Answer whether pointer or load drifts over the years, each plant state by itself."""
    rule = "drift-between-walks"
    if not facts.is_spring:
        return not_applicable(rule, Severity.LOOK, "no spring")
    pointers, loads = pointer_trends(facts, limits), load_trends(facts, limits)
    if not pointers and not loads:
        fewest = round(limits.trend_readings)
        return not_applicable(rule, Severity.LOOK, f"fewer than {fewest} readings in one state")
    drifts = [
        f"pointer {shown(one.slope, 'mm', Kind.LENGTH, 1)} a year{_over(one)}"
        for one in pointers
        if abs(one.slope) > limits.drift_pointer
    ]
    drifts += [
        f"load {100.0 * one.slope * one.years / one.mean:+.1f} %{_over(one)}"
        for one in loads
        if one.mean and abs(one.slope * one.years / one.mean) > limits.drift_load
    ]
    words = "; ".join(drifts) or "no drift beyond the limits"
    return judged(rule, Severity.LOOK, words, fails=bool(drifts), source=source_of("drift_pointer"))


def _over(trend: Trend) -> str:
    return f" over {trend.count} readings in {trend.years:.1f} years, {trend.state}"


def swing_seen_differs(facts: ItemFacts, limits: WalkLimits) -> RuleAnswer:
    """Answer whether a rod leans as the movement of the pipe makes it lean in that state."""
    rule, found = "swing-seen-differs", facts.found
    if found is None or found.rod_angle is None or not facts.kind.is_hanger:
        return not_applicable(rule, Severity.LOOK, "no angle was read at a hanger")
    wanted, missing = rod_angle_expected(facts, limits)
    if wanted is None:
        return unjudged(rule, Severity.LOOK, *missing)
    words = (
        f"rod {shown(abs(found.rod_angle), '°', Kind.ANGLE)} out of plumb, expected in that state "
        f"{shown(wanted, '°', Kind.ANGLE)}, may differ by "
        f"{shown(limits.swing_difference, '°', Kind.ANGLE)}"
    )
    fails = abs(abs(found.rod_angle) - wanted) > limits.swing_difference + 1e-9
    source = source_of("swing_difference")
    return judged(rule, Severity.LOOK, words, fails=fails, source=source)


def body_leaning(facts: ItemFacts, limits: WalkLimits) -> RuleAnswer:
    """Answer whether rod or body lean, where no movement tells how much they should."""
    rule, found = "body-leaning", facts.found
    if found is None or found.rod_angle is None:
        return not_applicable(rule, Severity.LOOK, "no angle was read")
    if facts.kind.is_hanger and rod_angle_expected(facts, limits)[0] is not None:
        return not_applicable(rule, Severity.LOOK, "held against the swing expected")
    angle = shown(found.rod_angle, "°", Kind.ANGLE)
    fails = abs(found.rod_angle) > limits.lean + 1e-9
    words = f"rod {angle} out of plumb, limit {shown(limits.lean, '°', Kind.ANGLE)}"
    return judged(rule, Severity.LOOK, words, fails=fails, source=source_of("lean"))
