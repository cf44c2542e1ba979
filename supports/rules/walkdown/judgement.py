"""One row judged by every rule of walkdowns."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from supports.findings import Severity
from supports.rules.answers import RuleAnswer
from supports.rules.walkdown import position, state
from supports.rules.walkdown.expectation import Expected
from supports.rules.walkdown.facts import ItemFacts, movement_read
from supports.rules.walkdown.limits import WalkLimits
from supports.rules.walkdown.words import HowSoon

Rule = Callable[[ItemFacts, WalkLimits], RuleAnswer]

RULES: tuple[Rule, ...] = (
    position.reading_impossible,
    position.on_the_stop,
    position.room_at_one_end_short,
    position.pointer_not_as_expected,
    position.moves_the_wrong_way,
    position.moves_too_little,
    position.drift_between_walks,
    position.swing_seen_differs,
    position.body_leaning,
    state.set_without_record,
    state.lock_in_while_running,
    state.lock_seized,
    state.lock_not_in_holder,
    state.rest_lifted,
    state.plate_not_readable,
    state.unit_moved,
    state.condition_graded,
    state.fault_seen,
    state.seen_as_ok_without_value,
    state.critical_without_photo,
    state.never_seen,
    state.no_hot_cold_pair,
    state.state_not_comparable,
    state.value_not_taken,
)
"""Every rule, in the order in which it is printed."""

ABOUT_THE_WALK = frozenset({"critical-without-photo", "no-hot-cold-pair", "state-not-comparable"})
"""Rules that speak of the walk, not of the support: listed, but no finding is raised."""


@dataclass(frozen=True, slots=True)
class JudgedItem:
    """A row with the answers of all rules."""

    facts: ItemFacts
    answers: tuple[RuleAnswer, ...]
    expected: Expected | None
    moved: float | None

    @property
    def failures(self) -> tuple[RuleAnswer, ...]:
        """Return the rules broken, the gravest first."""
        broken = (one for one in self.answers if one.fails)
        return tuple(sorted(broken, key=lambda one: one.severity.rank))

    @property
    def to_be_answered(self) -> tuple[RuleAnswer, ...]:
        """Return the rules broken that become findings."""
        return tuple(one for one in self.failures if one.rule not in ABOUT_THE_WALK)

    @property
    def unjudged(self) -> tuple[RuleAnswer, ...]:
        """Return the rules that could not be judged."""
        return tuple(one for one in self.answers if one.cannot_judge)

    @property
    def said(self) -> str:
        """Return the row's standing in words; what could not be judged is never good."""
        if self.to_be_answered:
            return str(self.to_be_answered[0].severity)
        if self.facts.found is None or not self.facts.found.is_seen:
            return "not seen"
        if self.unjudged:
            return "cannot judge"
        if self.facts.is_spring and not self.facts.found.has_value:
            return "cannot judge"
        return "as expected"


def judge(facts: ItemFacts, limits: WalkLimits) -> JudgedItem:
    """Judge one row."""
    answers = tuple(rule(facts, limits) for rule in RULES)
    return JudgedItem(facts, answers, facts.expected(limits), movement_read(facts))


def counts(items: Iterable[JudgedItem]) -> dict[str, int]:
    """Count rows by their standing, most frequent first."""
    return dict(Counter(item.said for item in items).most_common())


def how_soon(severity: Severity) -> HowSoon:
    """Return how soon a broken rule wants its answer, until a person says otherwise."""
    return {
        Severity.STOP: HowSoon.BEFORE_START,
        Severity.ACT: HowSoon.NEXT_OUTAGE,
    }.get(severity, HowSoon.WATCH)
