"""The rule appendix of an assessment: every answer with its inputs filled in, and the limits used.

Made from the frozen assessment alone: an appendix printed years later says what was signed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from supports.findings import Answer, Severity
from supports.rules.assessment import AssessmentContent
from supports.rules.assessment_explained import explained
from supports.rules.catalogue import rule_of
from supports.rules.site_settings import Limit, limit_of
from supports.rules.wording import Explanation, scope_words
from supports.sentences import Sentence

COUNTED = (
    "{rules} rules spoke of {supports} supports: {fails} answers fail, {unjudged} cannot be "
    "judged, {passes} pass (rules version {version})"
)
_GRAVEST_FIRST = (Answer.FAILS, Answer.CANNOT_JUDGE, Answer.PASSES)


@dataclass(frozen=True, slots=True)
class SupportExplained:
    """One support with its answers: broken rules first, then what cannot be judged."""

    tag: str
    verdict: str
    answers: tuple[Explanation, ...]


@dataclass(frozen=True, slots=True)
class RuleTally:
    """How often a rule gave each answer in this assessment; an answer that does not apply is none.

    Parameters
    ----------
    condition
        When the rule is broken.
    """

    rule: str
    group: str
    condition: str
    source: str
    fails: int
    cannot_judge: int
    passes: int


@dataclass(frozen=True, slots=True)
class LimitUsed:
    """A limit as frozen with the assessment, in its own unit.

    Parameters
    ----------
    scope
        '' for the whole site, else the line or the class that it holds for alone.
    proposed
        What the program proposes; '' where that is what was used.
    """

    name: str
    meaning: str
    value: str
    scope: str
    proposed: str
    source: str
    trust: str


@dataclass(frozen=True, slots=True)
class ExplainedAssessment:
    """Everything that the rule appendix prints, in the order in which it is printed."""

    change: str
    calculation: str
    rules_version: str
    supports: tuple[SupportExplained, ...]
    tallies: tuple[RuleTally, ...]
    limits: tuple[LimitUsed, ...]

    @property
    def sentence(self) -> str:
        """Return the counts of the whole appendix in one sentence."""
        fails, unjudged, passes = (
            sum(getattr(tally, name) for tally in self.tallies)
            for name in ("fails", "cannot_judge", "passes")
        )
        return Sentence(
            COUNTED, rules=str(len(self.tallies)), supports=str(len(self.supports)),
            fails=str(fails), unjudged=str(unjudged), passes=str(passes),
            version=self.rules_version,
        )  # fmt: skip


def explained_assessment(content: AssessmentContent, *, every: bool = False) -> ExplainedAssessment:
    """Return the rule appendix of an assessment.

    Parameters
    ----------
    every
        Print answers that pass too; they are counted in any case.
    """
    said = explained(content, every=True)
    verdicts = {judged.tag: str(judged.verdict) for judged in content.judgements}
    asked = [one for answers in said.values() for one in answers]
    return ExplainedAssessment(
        change=content.change.number,
        calculation=content.calculation.name,
        rules_version=content.rules_version,
        supports=tuple(
            SupportExplained(tag, verdicts.get(tag, ""), _ordered(answers, every=every))
            for tag, answers in said.items()
        ),
        tallies=tuple(_tallies(asked)),
        limits=tuple(_limits(content, asked)),
    )


def _ordered(answers: Sequence[Explanation], *, every: bool) -> tuple[Explanation, ...]:
    shown = [one for one in answers if every or one.answer is not Answer.PASSES]
    return tuple(sorted(shown, key=_gravest))


def _gravest(said: Explanation) -> tuple[int, int, str, str]:
    rank = Severity(said.severity).rank
    return (_GRAVEST_FIRST.index(said.answer), rank, said.rule, said.subject)


def _tallies(asked: Sequence[Explanation]) -> Iterator[RuleTally]:
    count = Counter((one.rule, one.answer) for one in asked)
    for name in dict.fromkeys(one.rule for one in asked):
        rule = rule_of(name)
        yield RuleTally(
            rule=name,
            group=str(rule.group),
            condition=rule.condition,
            source=rule.source,
            fails=count[name, Answer.FAILS],
            cannot_judge=count[name, Answer.CANNOT_JUDGE],
            passes=count[name, Answer.PASSES],
        )


def _limits(content: AssessmentContent, asked: Sequence[Explanation]) -> Iterator[LimitUsed]:
    """Give the limits that the rules compared with; the site's first, then those of one place."""
    compared = dict.fromkeys(name for one in asked for name in rule_of(one.rule).limits)
    for name in compared:
        limit = limit_of(name)
        yield _used(limit, content.settings[name], "")
        for own in content.overrides:
            if own.name == name:
                yield _used(limit, own.value, scope_words(own.scope))


def _used(limit: Limit, value: float, scope: str) -> LimitUsed:
    as_proposed = value == limit.si
    return LimitUsed(
        name=limit.name.replace("_", " "),
        meaning=limit.meaning,
        value=limit.shown(value),
        scope=scope,
        proposed="" if as_proposed else limit.shown(limit.si),
        source=limit.source if as_proposed else Sentence("laid down by the site"),
        trust=limit.trust if as_proposed else "",
    )
