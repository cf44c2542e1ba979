"""The rule appendix of an assessment: counts, limits used, and each answer with its numbers."""

from __future__ import annotations

from collections.abc import Iterator

from reports.contents.blocks import Block, Cell, Column, Heading, Mark, Paragraph, Table, Written
from reports.contents.explained import ExplainedAssessment, LimitUsed, RuleTally
from reports.languages import IN_ENGLISH, Texts
from supports.findings import Answer
from supports.rules.wording import Explanation, Step


def appendix_blocks(said: ExplainedAssessment, say: Texts = IN_ENGLISH) -> Iterator[Block]:
    """Give the appendix: first the counts, then limits, then answer after answer."""
    yield Paragraph(say.sentence(said.sentence))
    yield Heading(say("Rules, with how often each gave which answer"))
    columns = (
        Column(say("Rule"), 1.6),
        Column(say("Broken when"), 3.0),
        Column(say("Fails"), 0.0, right=True),
        Column(say("Cannot judge"), 0.0, right=True),
        Column(say("Passes"), 0.0, right=True),
        Column(say("Source of the rule"), 1.8),
    )
    tallies = tuple(_tally(one, say) for one in said.tallies)
    yield Table(columns, tallies, say("No rule spoke."), small=True)
    yield Heading(say("Limits used"))
    limits = (
        Column(say("Limit"), 1.4),
        Column(say("Meaning"), 2.6),
        Column(say("Value"), 0.0, right=True),
        Column(say("For"), 0.8),
        Column(say("Proposed"), 0.0, right=True),
        Column(say("Source, how far confirmed"), 2.0),
    )
    yield Table(
        limits,
        tuple(_limit(one, say) for one in said.limits),
        say("No limit was needed."),
        small=True,
    )
    yield Heading(say("Answers that are no pass, with their numbers"))
    answers = (
        Column(say("Support"), 0.0),
        Column("", 0.0),
        Column(say("Rule"), 1.2),
        Column(say("Known, and where it is from; worked out; limits"), 3.4),
        Column(say("So; what to do"), 2.4),
    )
    rows = tuple(_answer(one, say) for support in said.supports for one in support.answers)
    yield Table(answers, rows, say("Every answer passes."), small=True)


def _tally(one: RuleTally, say: Texts) -> tuple[Written, ...]:
    fails = Cell(str(one.fails), strong=one.fails > 0)
    doubt = Cell(str(one.cannot_judge), mark=Mark.CANNOT_JUDGE if one.cannot_judge else Mark.NONE)
    return (
        one.rule, say.sentence(one.condition), fails, doubt, str(one.passes),
        say.sentence(one.source),
    )  # fmt: skip


def _limit(one: LimitUsed, say: Texts) -> tuple[Written, ...]:
    trust = f" ({say.sentence(one.trust)})" if one.trust else ""
    return (
        say.word(one.name), say.sentence(one.meaning), one.value,
        say.sentence(one.scope) or say("the site"), one.proposed or say("as used"),
        f"{say.sentence(one.source)}{trust}",
    )  # fmt: skip


def _answer(one: Explanation, say: Texts) -> tuple[Written, ...]:
    fails = one.answer is Answer.FAILS
    mark = Mark(one.severity) if fails else Mark.CANNOT_JUDGE
    steps = "; ".join(step_words(step, say) for step in (*one.inputs, *one.worked, *one.limits))
    grave = one.severity if fails else say.word(one.severity)
    said = say.sentence(one.says)
    return (
        Cell(say.sentence(one.subject), name=True), Cell(grave, mark=mark), one.rule, steps,
        f"{said}. {say.sentence(one.remedy)}" if fails else said,
    )  # fmt: skip


def step_words(one: Step, say: Texts) -> str:
    """Return a step of a sum in words: what it is, how it comes about, its value, its origin."""
    middle = f" = {say.sentence(one.formula)} = {say.sentence(one.filled)}" if one.filled else ""
    source = f" [{say.sentence(one.source)}]" if one.source else ""
    return f"{say.sentence(one.label)}{middle} = {say.sentence(one.value)}{source}"
