"""What the assessment of a change says to the engineers who must answer for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

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


def change_assessment(paper: ChangeAssessment) -> tuple[Block, ...]:
    """Return the paper as blocks, in the order in which it is read."""
    summary = paper.summary
    return (
        *_verdict(paper),
        Heading("What is added and taken off"),
        *added_blocks(summary.weights),
        Heading("The line, support by support", 1),
        *drawn_line(summary.rows),
        *rows_blocks(summary.rows),
        Heading("States on the way"),
        *_states(paper.screened),
        Heading("Hardware and steel"),
        *stack_table(paper.content),
        Heading("Cases and calculation"),
        *cases_blocks(paper.content, summary),
        Heading("Options"),
        *_options(paper),
        Heading("Doubts about data"),
        *doubt_blocks(paper.content, summary),
        Heading("Rule appendix", 1),
        *appendix_blocks(paper.explained),
    )


def _verdict(paper: ChangeAssessment) -> Iterator[Block]:
    summary = paper.summary
    counts = {verdict: paper.content.count(verdict) for verdict in Verdict}
    bad = counts[Verdict.CANNOT_BE_SET] + counts[Verdict.HARDWARE_FAILS]
    doubt = counts[Verdict.CANNOT_JUDGE] > 0
    weight = Weight.NO if bad else Weight.DOUBT if doubt else Weight.YES
    answer = (
        "Not by re-setting alone" if bad else "Cannot be judged yet" if doubt else "By re-setting"
    )
    yield Answered(
        "Can the change be carried by the supports of the line?", answer, weight,
        summary.verdict_sentence,
    )  # fmt: skip
    yield Figures(tuple(Figure(str(counts[v]), str(v), _mark(v, counts[v])) for v in Verdict))
    yield Caution(
        "SCREENING" if summary.basis.screening else "BASIS",
        f"{_basis_words(summary)} {summary.analysis_words}",
    )
    columns = (Column("What", 3.0), Column("Whose", 1.0))
    taken = tuple((one.what, one.owner) for one in summary.assumptions)
    yield Abreast(
        (
            (Heading("Is a full analysis mandatory?"), *_analysis(paper.screened)),
            (Heading("Taken for true"), Table(columns, taken, "Nothing.")),
        ),
        (1.0, 1.25),
    )
    yield Heading("Signatures")
    yield Signatures(summary.signatures)


def _mark(verdict: Verdict, count: int) -> Mark:
    return Mark(str(verdict)) if count else Mark.NONE


def _basis_words(summary: LoadChangeSummary) -> str:
    basis = summary.basis
    return (
        f"Required loads from calculation {basis.calculation}, revision {basis.revision}, method "
        f"{basis.method}; {basis.sign_convention}."
    )


def _analysis(screened: Sequence[ScreenedThrough]) -> Iterator[Plain]:
    if not screened:
        yield Paragraph("Cannot be judged: no line was screened.", strong=True)
    for one in screened:
        if one.missing:
            yield Paragraph(
                f"Line {one.line}: cannot be judged (missing: {one.missing})", strong=True
            )
            continue
        yield Paragraph(f"Line {one.line}: {one.analysis}", strong=True)
        unknown = [f"cannot judge: {words}" for words in one.unknown]
        if one.reasons or unknown:
            yield Listing((*one.reasons, *unknown))


def _states(screened: Sequence[ScreenedThrough]) -> Iterator[Block]:
    yield Caution(
        "SCREENING ONLY",
        "Every state of this part is calculated by the built-in screening, also where the required "
        "loads come from a full analysis: it shows where to look and in which order to work, and "
        "approves nothing. Rounds between are on the paper of the re-set plan.",
    )
    columns = (
        Column("Line", 1.0),
        Column("Nozzle", 1.0),
        Column("Governing", 1.4),
        Column("Before", 0.0, right=True),
        Column("Weight added, nothing re-set", 1.2, right=True),
        Column("As planned", 0.8, right=True),
        Column("Source of the limit", 1.6),
    )
    rows = tuple(
        (one.line, n.nozzle, n.what, _use(n.before), _use(n.added), _use(n.planned),
         n.source or "not stated")
        for one in screened
        for n in one.nozzles
    )  # fmt: skip
    yield Table(columns, rows, "No nozzle with limits was screened: cannot be judged.")
    for one in screened:
        if one.missing:
            yield Paragraph(f"Line {one.line}: cannot be screened (missing: {one.missing}).")


def _use(use: float | None) -> str:
    if use is None:
        return NOT_KNOWN
    return f"{percent(use)} OVER" if use > 1.0 else percent(use)


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


def _options(paper: ChangeAssessment) -> Iterator[Block]:
    by_verdict = {v: [r.tag for r in paper.summary.rows if r.verdict is v] for v in _USUAL}
    pairs = tuple(
        (f"{verdict}: {', '.join(tags)}", _USUAL[verdict])
        for verdict, tags in by_verdict.items()
        if tags
    )
    if pairs:
        yield Facts(pairs, columns=1)
    if paper.options:
        yield Listing(paper.options)
    if not pairs and not paper.options:
        yield Paragraph("Every support can be left or re-set; no other option was put forward.")
