"""What the report of the rules says: counts, the worst, and all that cannot be judged."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from reports.contents.blocks import (
    Block,
    Caution,
    Cell,
    Column,
    Figure,
    Figures,
    Heading,
    Mark,
    Paragraph,
    Table,
    Written,
)
from reports.languages import IN_ENGLISH, Texts
from supports.findings import Severity
from supports.rules.acceptances import Standing, Stood
from supports.rules.catalogue import RULES
from supports.rules.run import RuleCount, Worst

NAMED = 300
"""Names listed for one rule; the rest is counted."""
SCREENED = frozenset(rule.id for rule in RULES if "{line_screened}" in rule.says)
"""The rules that go by the screening of lines."""


@dataclass(frozen=True, slots=True)
class Told:
    """A finding with where it stands and the rule's sentence, numbers in it."""

    stood: Stood
    words: str


@dataclass(frozen=True, slots=True)
class RulesReport:
    """The whole report.

    Parameters
    ----------
    told
        Every answer that is no pass, with its sentence.
    proposed
        How many limits are proposals that the site has not confirmed, and how many there are.
    """

    day: date
    counts: tuple[RuleCount, ...]
    told: tuple[Told, ...]
    worst: tuple[Worst, ...]
    proposed: tuple[int, int]

    @property
    def failing(self) -> tuple[Told, ...]:
        """Return the findings that are broken rules."""
        return tuple(one for one in self.told if one.stood.found.fails)

    @property
    def unjudged(self) -> tuple[Told, ...]:
        """Return the answers that could not be given."""
        return tuple(one for one in self.told if not one.stood.found.fails)


def rules_report(report: RulesReport, say: Texts = IN_ENGLISH) -> tuple[Block, ...]:
    """Return the report as blocks."""
    return (
        _figures(report, say),
        Paragraph(_sentence(report, say)),
        *_limits(report.proposed, say),
        *_screening(report.counts, say),
        Heading(say("By subject of the rule")),
        _groups(report, say),
        Heading(say("The worst, by name")),
        _worst(report.worst, say),
        Heading(say("Must not start up, must not work: every finding at STOP"), 1, flows=True),
        _listed([one for one in report.failing if one.stood.found.severity is Severity.STOP], say),
        Heading(say("Needs a decision: findings at ACT, by rule"), 1, flows=True),
        _by_rule(report.failing, Severity.ACT, say=say),
        Heading(say("Check at the next chance, and notes: by rule")),
        _by_rule(report.failing, Severity.LOOK, Severity.NOTE, say=say),
        Heading(say("Cannot be judged, by rule"), 1, flows=True),
        Paragraph(
            say(
                "Nobody knows whether these are in order. What is missing is named; none of it "
                "counts "
                "as passed."
            )
        ),
        _unjudged(report.unjudged, say),
        Heading(say("Every rule, with how often it gave which answer"), 1, flows=True),
        _every(report.counts, say),
    )


def _figures(report: RulesReport, say: Texts) -> Figures:
    by = Counter(one.stood.found.severity for one in report.failing)
    marks = {Severity.STOP: Mark.STOP, Severity.ACT: Mark.ACT, Severity.LOOK: Mark.LOOK,
             Severity.NOTE: Mark.NOTE}  # fmt: skip
    items = [Figure(str(by[s]), say("findings"), marks[s]) for s in Severity]
    doubt = len(report.unjudged)
    mark = Mark.CANNOT_JUDGE if doubt else Mark.NONE
    return Figures((*items, Figure(str(doubt), say("answers cannot be given"), mark)))


def _sentence(report: RulesReport, say: Texts) -> str:
    counts = report.counts
    passes = sum(one.passes for one in counts)
    beside = sum(one.not_applicable for one in counts)
    return say(
        "{count} rules were asked of the whole register on {day}: {findings} findings, "
        "{unjudged} answers that cannot be given, {passes} passes, {beside} not applicable.",
        count=len(counts),
        day=report.day.isoformat(),
        findings=len(report.failing),
        unjudged=len(report.unjudged),
        passes=passes,
        beside=beside,
    )


def _limits(proposed: tuple[int, int], say: Texts) -> Iterator[Block]:
    unconfirmed, every = proposed
    if unconfirmed:
        yield Caution(
            say("LIMITS"),
            say(
                "{unconfirmed} of {every} limits are proposals from common practice or from "
                "memory that the site has not confirmed. Local codes and licensed practice "
                "decide.",
                unconfirmed=unconfirmed,
                every=every,
            ),
        )


def _screening(counts: Sequence[RuleCount], say: Texts) -> Iterator[Block]:
    """Say which rules go by the screening of lines, and how far it reaches."""
    asked = [one for one in counts if one.rule in SCREENED]
    if asked:
        yield Caution(
            say("SCREENING"),
            say(
                "The rules {rules} go by the screening of lines by their present data: {given} "
                "answers by it, {unjudged} that cannot be given. Screening shows where to look; it "
                "is no full analysis and approves nothing.",
                rules=", ".join(one.rule for one in asked),
                given=sum(one.fails + one.passes for one in asked),
                unjudged=sum(one.cannot_judge for one in asked),
            ),
        )


def _groups(report: RulesReport, say: Texts) -> Table:
    group_of = {one.rule: one.group for one in report.counts}
    broken = Counter(
        (group_of[one.stood.found.rule], one.stood.found.severity) for one in report.failing
    )
    columns = (
        Column(say("Rules about"), 2.0),
        *(Column(say.word(str(s)), 0.0, right=True) for s in Severity),
        Column(say("Cannot judge"), 0.0, right=True),
        Column(say("Pass"), 0.0, right=True),
        Column(say("Not applicable"), 0.0, right=True),
    )
    rows = []
    for group in dict.fromkeys(one.group for one in report.counts):
        own = [one for one in report.counts if one.group is group]
        rows.append(
            (
                say.word(str(group)),
                *(str(broken[group, severity]) for severity in Severity),
                *(
                    str(sum(getattr(one, name) for one in own))
                    for name in ("cannot_judge", "passes", "not_applicable")
                ),
            )
        )
    return Table(columns, tuple(rows), say("No rule was asked."))


def _worst(worst: Sequence[Worst], say: Texts) -> Table:
    columns = (
        Column(say("Name"), 0.8),
        *(Column(say.word(str(s)), 0.0, right=True) for s in Severity),
        Column(say("Rules broken, gravest first"), 4.0),
    )
    return Table(columns, tuple(map(_worst_row, worst)), say("Nothing is broken."))


def _worst_row(one: Worst) -> tuple[Written, ...]:
    counted = [str(one.counts.get(severity, 0)) for severity in Severity]
    return (Cell(one.name, name=True), *counted, ", ".join(one.rules))


def _listed(told: Sequence[Told], say: Texts) -> Table:
    columns = (
        Column("", 0.0),
        Column(say("Name"), 0.9),
        Column(say("Rule"), 1.3),
        Column(say("In the words of the rule"), 3.0),
        Column(say("Stands"), 1.4),
    )
    return Table(columns, tuple(_told_row(one, say) for one in told), say("None."))


def _told_row(one: Told, say: Texts) -> tuple[Written, ...]:
    found = one.stood.found
    accepted = one.stood.accepted.words if one.stood.accepted else ""
    open_ = one.stood.standing is Standing.OPEN
    stands = (
        say("open") if open_ else f"{say.word(str(one.stood.standing))}: {say.sentence(accepted)}"
    )
    mark = Mark(str(found.severity))
    return (
        Cell(str(found.severity), mark=mark), Cell(say.sentence(found.name), name=True), found.rule,
        say.sentence(one.words), stands,
    )  # fmt: skip


def _by_rule(told: Sequence[Told], *severities: Severity, say: Texts) -> Table:
    columns = (
        Column("", 0.0),
        Column(say("Rule"), 1.3),
        Column(say("Count"), 0.0, right=True),
        Column(say("Accepted"), 0.0, right=True),
        Column(say("Names"), 5.0),
    )
    groups: dict[tuple[Severity, str], list[Told]] = {}
    for one in told:
        found = one.stood.found
        if found.severity in severities:
            groups.setdefault((found.severity, found.rule), []).append(one)
    ordered = sorted(groups.items(), key=lambda g: (g[0][0].rank, -len(g[1]), g[0][1]))
    rows = tuple(
        (
            Cell(str(severity), mark=Mark(str(severity))),
            rule,
            str(len(own)),
            str(sum(one.stood.standing is Standing.ACCEPTED for one in own)),
            names_of(own, say),
        )
        for (severity, rule), own in ordered
    )
    return Table(columns, rows, say("None."), small=True)


def names_of(told: Sequence[Told], say: Texts = IN_ENGLISH) -> str:
    """Return names in their order; what is more than the paper lists is counted."""
    names = list(dict.fromkeys(say.sentence(one.stood.found.name) for one in told))
    more = " " + say("and {count} more", count=len(names) - NAMED) if len(names) > NAMED else ""
    return f"{', '.join(names[:NAMED])}{more}"


def _unjudged(told: Sequence[Told], say: Texts) -> Table:
    columns = (
        Column("", 0.0),
        Column(say("Rule"), 1.3),
        Column(say("Count"), 0.0, right=True),
        Column(say("Missing"), 1.8),
        Column(say("Names"), 4.0),
    )
    groups: dict[tuple[str, str], list[Told]] = {}
    for one in told:
        groups.setdefault((one.stood.found.rule, one.words), []).append(one)
    ordered = sorted(groups.items(), key=lambda g: (-len(g[1]), g[0]))
    rows = tuple(
        (
            Cell("", mark=Mark.CANNOT_JUDGE),
            rule,
            str(len(own)),
            say.sentence(words),
            names_of(own, say),
        )
        for (rule, words), own in ordered
    )
    return Table(columns, rows, say("Every answer could be given."), small=True)


def _every(counts: Sequence[RuleCount], say: Texts) -> Table:
    columns = (
        Column(say("Gravest"), 0.0),
        Column(say("Rule"), 2.0),
        Column(say("About"), 2.0),
        Column(say("Fails"), 0.0, right=True),
        Column(say("Cannot judge"), 0.0, right=True),
        Column(say("Passes"), 0.0, right=True),
        Column(say("Not applicable"), 0.0, right=True),
    )
    rows = tuple(
        (
            Cell(str(one.severity), mark=Mark(str(one.severity))), one.rule,
            say.word(str(one.group)),
            Cell(str(one.fails), strong=one.fails > 0), str(one.cannot_judge), str(one.passes),
            str(one.not_applicable),
        )
        for one in counts
    )  # fmt: skip
    return Table(columns, rows, say("No rule was asked."), small=True)
