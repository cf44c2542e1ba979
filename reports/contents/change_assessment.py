"""What the assessment of a change says to the engineers who must answer for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from reports.contents.assessed_tables import (
    added_blocks,
    cases_blocks,
    doubt_blocks,
    drawn_line,
    rows_blocks,
    stack_table,
)
from reports.contents.blocks import (
    Abreast,
    Answered,
    Block,
    Caution,
    Column,
    Facts,
    Figure,
    Figures,
    Heading,
    Listing,
    Mark,
    Paragraph,
    Plain,
    Signatures,
    Table,
    Weight,
)
from reports.contents.explained import ExplainedAssessment
from reports.contents.load_change_summary import LoadChangeSummary
from reports.contents.rule_appendix import appendix_blocks
from reports.contents.written import NOT_KNOWN, percent
from reports.languages import IN_ENGLISH, Texts
from supports.rules.assessment import AssessmentContent
from supports.vocabulary import Verdict


@dataclass(frozen=True, slots=True)
class NozzleUses:
    """Worst use of a nozzle's limits [1]: before, weight added, as planned; None is not known."""

    nozzle: str
    what: str
    before: float | None
    added: float | None
    planned: float | None
    source: str = ""


@dataclass(frozen=True, slots=True)
class ScreenedThrough:
    """What the screening of one line adds: nozzles through the states, the mandatory list.

    Parameters
    ----------
    missing
        Why the line could not be screened; '' where it was.
    """

    line: str
    nozzles: tuple[NozzleUses, ...] = ()
    analysis: str = ""
    reasons: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    missing: str = ""


@dataclass(frozen=True, slots=True)
class ChangeAssessment:
    """The whole paper."""

    content: AssessmentContent
    summary: LoadChangeSummary
    explained: ExplainedAssessment
    screened: tuple[ScreenedThrough, ...] = ()
    options: tuple[str, ...] = ()


def change_assessment(paper: ChangeAssessment, say: Texts = IN_ENGLISH) -> tuple[Block, ...]:
    """Return the paper as blocks, in the order in which it is read."""
    summary = paper.summary
    return (
        *_verdict(paper, say),
        Heading(say("What is added and taken off")),
        *added_blocks(summary.weights, say),
        Heading(say("The line, support by support"), 1),
        *drawn_line(summary.rows, say),
        *rows_blocks(summary.rows, say),
        Heading(say("States on the way")),
        *_states(paper.screened, say),
        Heading(say("Hardware and steel")),
        *stack_table(paper.content, say),
        Heading(say("Cases and calculation")),
        *cases_blocks(paper.content, summary, say),
        Heading(say("Options")),
        *_options(paper, say),
        Heading(say("Doubts about data")),
        *doubt_blocks(paper.content, summary, say),
        Heading(say("Rule appendix"), 1),
        *appendix_blocks(paper.explained, say),
    )


def _verdict(paper: ChangeAssessment, say: Texts) -> Iterator[Block]:
    summary = paper.summary
    counts = {verdict: paper.content.count(verdict) for verdict in Verdict}
    bad = counts[Verdict.CANNOT_BE_SET] + counts[Verdict.HARDWARE_FAILS]
    doubt = counts[Verdict.CANNOT_JUDGE] > 0
    weight = Weight.NO if bad else Weight.DOUBT if doubt else Weight.YES
    answer = (
        say("Not by re-setting alone")
        if bad
        else say("Cannot be judged yet")
        if doubt
        else say("By re-setting")
    )
    yield Answered(
        say("Can the change be carried by the supports of the line?"), answer, weight,
        summary.verdict_sentence,
    )  # fmt: skip
    yield Figures(
        tuple(Figure(str(counts[v]), say.word(str(v)), _mark(v, counts[v])) for v in Verdict)
    )
    yield Caution(
        say("SCREENING") if summary.basis.screening else say("BASIS"),
        f"{_basis_words(summary, say)} {say.sentence(summary.analysis_words)}",
    )
    columns = (Column(say("What"), 3.0), Column(say("Whose"), 1.0))
    taken = tuple((say.sentence(one.what), say.word(one.owner)) for one in summary.assumptions)
    yield Abreast(
        (
            (Heading(say("Is a full analysis mandatory?")), *_analysis(paper.screened, say)),
            (Heading(say("Taken for true")), Table(columns, taken, say("Nothing."))),
        ),
        (1.0, 1.25),
    )
    yield Heading(say("Signatures"))
    signed = (
        replace(one, role=say.word(one.role), name=say.sentence(one.name))
        for one in summary.signatures
    )
    yield Signatures(tuple(signed))


def _mark(verdict: Verdict, count: int) -> Mark:
    return Mark(str(verdict)) if count else Mark.NONE


def _basis_words(summary: LoadChangeSummary, say: Texts) -> str:
    basis = summary.basis
    return say(
        "Required loads from calculation {calculation}, revision {revision}, method "
        "{method}; {signs}.",
        calculation=basis.calculation,
        revision=basis.revision,
        method=say.word(str(basis.method)),
        signs=say.word(basis.sign_convention),
    )


def _analysis(screened: Sequence[ScreenedThrough], say: Texts) -> Iterator[Plain]:
    if not screened:
        yield Paragraph(say("Cannot be judged: no line was screened."), strong=True)
    for one in screened:
        if one.missing:
            yield Paragraph(
                say(
                    "Line {line}: cannot be judged (missing: {missing})",
                    line=one.line,
                    missing=say.sentence(one.missing),
                ),
                strong=True,
            )
            continue
        yield Paragraph(
            say("Line {line}: {analysis}", line=one.line, analysis=say.sentence(one.analysis)),
            strong=True,
        )
        unknown = [say("cannot judge: {words}", words=say.sentence(words)) for words in one.unknown]
        if one.reasons or unknown:
            yield Listing((*map(say.sentence, one.reasons), *unknown))


def _states(screened: Sequence[ScreenedThrough], say: Texts) -> Iterator[Block]:
    yield Caution(
        say("SCREENING ONLY"),
        say(
            "Every state of this part is calculated by the built-in screening, also where the "
            "required "
            "loads come from a full analysis: it shows where to look and in which order to work, "
            "and "
            "approves nothing. Rounds between are on the paper of the re-set plan."
        ),
    )
    columns = (
        Column(say("Line"), 1.0),
        Column(say("Nozzle"), 1.0),
        Column(say("Governing"), 1.4),
        Column(say("Before"), 0.0, right=True),
        Column(say("Weight added, nothing re-set"), 1.2, right=True),
        Column(say("As planned"), 0.8, right=True),
        Column(say("Source of the limit"), 1.6),
    )
    rows = tuple(
        (one.line, n.nozzle, say.sentence(n.what),
         *(_use(use, say) for use in (n.before, n.added, n.planned)), n.source or say("not stated"))
        for one in screened
        for n in one.nozzles
    )  # fmt: skip
    yield Table(columns, rows, say("No nozzle with limits was screened: cannot be judged."))
    for one in screened:
        if one.missing:
            yield Paragraph(
                say(
                    "Line {line}: cannot be screened (missing: {missing}).",
                    line=one.line,
                    missing=say.sentence(one.missing),
                )
            )


def _use(use: float | None, say: Texts) -> str:
    if use is None:
        return NOT_KNOWN
    return say("{share} OVER", share=percent(use)) if use > 1.0 else percent(use)


_USUAL = {
    Verdict.CANNOT_BE_SET: (
        "Replace the unit, add a support beside it, or share the load anew under a new "
        "calculation; delivery and cost are the planner's to give."
    ),
    Verdict.HARDWARE_FAILS: (
        "Replace the piece that governs by the next size up, and check what then governs; the "
        "unit may be re-set only when the piece is in."
    ),
    Verdict.CANNOT_JUDGE: "Supply what is missing before anything is turned there.",
    Verdict.ENGINEER_DECIDES: "The stress engineer accepts the difference in writing, or re-sets.",
}
"""What is open where a re-set alone does not do; common practice, no source."""


def _options(paper: ChangeAssessment, say: Texts) -> Iterator[Block]:
    by_verdict = {v: [r.tag for r in paper.summary.rows if r.verdict is v] for v in _USUAL}
    pairs = tuple(
        (f"{say.word(str(verdict))}: {', '.join(tags)}", say(_USUAL[verdict]))
        for verdict, tags in by_verdict.items()
        if tags
    )
    if pairs:
        yield Facts(pairs, columns=1)
    if paper.options:
        yield Listing(paper.options)
    if not pairs and not paper.options:
        yield Paragraph(
            say("Every support can be left or re-set; no other option was put forward.")
        )
