"""What a rule answers about one support, with its numbers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from supports.findings import Answer, Severity, cannot_judge
from supports.rules.rule import WAITS
from supports.sentences import Sentence


@dataclass(frozen=True, slots=True)
class RuleAnswer:
    """The answer of one rule: its code, the numbers in a sentence, and where the limit is from."""

    rule: str
    answer: Answer
    severity: Severity
    text: str
    limit_source: str = ""
    missing: tuple[str, ...] = ()

    @property
    def fails(self) -> bool:
        """Return whether the rule is broken."""
        return self.answer is Answer.FAILS

    @property
    def cannot_judge(self) -> bool:
        """Return whether something needed is not known."""
        return self.answer is Answer.CANNOT_JUDGE


def judged(
    rule: str, severity: Severity, text: str, *, fails: bool, source: str = ""
) -> RuleAnswer:
    """Return a yes-or-no answer."""
    return RuleAnswer(rule, Answer.FAILS if fails else Answer.PASSES, severity, text, source)


def cannot_judge_words(missing: Iterable[str]) -> Sentence:
    """Return 'cannot judge' with what waits for an answer and what is missing."""
    named = list(missing)
    waits = [name.removeprefix(WAITS) for name in named if name.startswith(WAITS)]
    return cannot_judge([name for name in named if not name.startswith(WAITS)], waits)


def unjudged(rule: str, severity: Severity, *missing: str) -> RuleAnswer:
    """Return 'cannot judge' with what is missing."""
    text = cannot_judge_words(missing)
    return RuleAnswer(rule, Answer.CANNOT_JUDGE, severity, text, missing=missing)


def not_applicable(rule: str, severity: Severity, why: str) -> RuleAnswer:
    """Return 'not applicable' with its reason."""
    return RuleAnswer(rule, Answer.NOT_APPLICABLE, severity, why)
