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
from supports.findings import Severity
from supports.rules.acceptances import Standing, Stood
from supports.rules.run import RuleCount, Worst

NAMED = 300
"""Names listed for one rule; the rest is counted."""


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


def rules_report(report: RulesReport) -> tuple[Block, ...]:
    """Return the report as blocks."""
    return (
        _figures(report),
        Paragraph(_sentence(report)),
        *_limits(report.proposed),
        Heading("By subject of the rule"),
        _groups(report),
        Heading("The worst, by name"),
        _worst(report.worst),
        Heading("Must not start up, must not work: every finding at STOP", 1),
        _listed([one for one in report.failing if one.stood.found.severity is Severity.STOP]),
        Heading("Needs a decision: findings at ACT, by rule", 1),
        _by_rule(report.failing, Severity.ACT),
        Heading("Check at the next chance, and notes: by rule"),
        _by_rule(report.failing, Severity.LOOK, Severity.NOTE),
        Heading("Cannot be judged, by rule", 1),
        Paragraph(
            "Nobody knows whether these are in order. What is missing is named; none of it counts "
            "as passed."
        ),
        _unjudged(report.unjudged),
        Heading("Every rule, with how often it gave which answer", 1),
        _every(report.counts),
    )


def _figures(report: RulesReport) -> Figures:
    by = Counter(one.stood.found.severity for one in report.failing)
    marks = {Severity.STOP: Mark.STOP, Severity.ACT: Mark.ACT, Severity.LOOK: Mark.LOOK,
             Severity.NOTE: Mark.NOTE}  # fmt: skip
    items = [Figure(str(by[s]), "findings", marks[s]) for s in Severity]
    doubt = len(report.unjudged)
    mark = Mark.CANNOT_JUDGE if doubt else Mark.NONE
    return Figures((*items, Figure(str(doubt), "answers cannot be given", mark)))


def _sentence(report: RulesReport) -> str:
    counts = report.counts
    passes = sum(one.passes for one in counts)
    beside = sum(one.not_applicable for one in counts)
    return (
        f"{len(counts)} rules were asked of the whole register on {report.day.isoformat()}: "
        f"{len(report.failing)} findings, {len(report.unjudged)} answers that cannot be given, "
        f"{passes} passes, {beside} not applicable."
    )


def _limits(proposed: tuple[int, int]) -> Iterator[Block]:
    unconfirmed, every = proposed
    if unconfirmed:
        yield Caution(
            "LIMITS",
            f"{unconfirmed} of {every} limits are proposals from common practice or from memory "
            "that the site has not confirmed. Local codes and licensed practice decide.",
        )


def _groups(report: RulesReport) -> Table:
    group_of = {one.rule: one.group for one in report.counts}
    broken = Counter(
        (group_of[one.stood.found.rule], one.stood.found.severity) for one in report.failing
    )
    columns = (
        Column("Rules about", 2.0),
        *(Column(str(s), 0.0, right=True) for s in Severity),
        Column("Cannot judge", 0.0, right=True),
        Column("Pass", 0.0, right=True),
        Column("Not applicable", 0.0, right=True),
    )
    rows = []
    for group in dict.fromkeys(one.group for one in report.counts):
        own = [one for one in report.counts if one.group is group]
        rows.append(
            (
                str(group),
                *(str(broken[group, severity]) for severity in Severity),
                *(
                    str(sum(getattr(one, name) for one in own))
                    for name in ("cannot_judge", "passes", "not_applicable")
                ),
            )
        )
    return Table(columns, tuple(rows), "No rule was asked.")


def _worst(worst: Sequence[Worst]) -> Table:
    columns = (
        Column("Name", 0.8),
        *(Column(str(s), 0.0, right=True) for s in Severity),
        Column("Rules broken, gravest first", 4.0),
    )
    return Table(columns, tuple(map(_worst_row, worst)), "Nothing is broken.")


def _worst_row(one: Worst) -> tuple[Written, ...]:
    counted = [str(one.counts.get(severity, 0)) for severity in Severity]
    return (Cell(one.name, name=True), *counted, ", ".join(one.rules))


def _listed(told: Sequence[Told]) -> Table:
    columns = (
        Column("", 0.0),
        Column("Name", 0.9),
        Column("Rule", 1.3),
        Column("In the words of the rule", 3.0),
        Column("Stands", 1.4),
    )
    return Table(columns, tuple(map(_told_row, told)), "None.")


def _told_row(one: Told) -> tuple[Written, ...]:
    found = one.stood.found
    accepted = one.stood.accepted.words if one.stood.accepted else ""
    open_ = one.stood.standing is Standing.OPEN
    stands = "open" if open_ else f"{one.stood.standing}: {accepted}"
    mark = Mark(str(found.severity))
    return (
        Cell(str(found.severity), mark=mark), Cell(found.name, name=True), found.rule, one.words,
        stands,
    )  # fmt: skip


def _by_rule(told: Sequence[Told], *severities: Severity) -> Table:
    columns = (
        Column("", 0.0),
        Column("Rule", 1.3),
        Column("Count", 0.0, right=True),
        Column("Accepted", 0.0, right=True),
        Column("Names", 5.0),
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
            names_of(own),
        )
        for (severity, rule), own in ordered
    )
    return Table(columns, rows, "None.", small=True)


def names_of(told: Sequence[Told]) -> str:
    """Return names in their order; what is more than the paper lists is counted."""
    names = list(dict.fromkeys(one.stood.found.name for one in told))
    more = f" and {len(names) - NAMED} more" if len(names) > NAMED else ""
    return f"{', '.join(names[:NAMED])}{more}"


def _unjudged(told: Sequence[Told]) -> Table:
    columns = (
        Column("", 0.0),
        Column("Rule", 1.3),
        Column("Count", 0.0, right=True),
        Column("Missing", 1.8),
        Column("Names", 4.0),
    )
    groups: dict[tuple[str, str], list[Told]] = {}
    for one in told:
        groups.setdefault((one.stood.found.rule, one.words), []).append(one)
    ordered = sorted(groups.items(), key=lambda g: (-len(g[1]), g[0]))
    rows = tuple(
        (Cell("", mark=Mark.CANNOT_JUDGE), rule, str(len(own)), words, names_of(own))
        for (rule, words), own in ordered
    )
    return Table(columns, rows, "Every answer could be given.", small=True)


def _every(counts: Sequence[RuleCount]) -> Table:
    columns = (
        Column("Gravest", 0.0),
        Column("Rule", 2.0),
        Column("About", 2.0),
        Column("Fails", 0.0, right=True),
        Column("Cannot judge", 0.0, right=True),
        Column("Passes", 0.0, right=True),
        Column("Not applicable", 0.0, right=True),
    )
    rows = tuple(
        (
            Cell(str(one.severity), mark=Mark(str(one.severity))), one.rule, str(one.group),
            Cell(str(one.fails), strong=one.fails > 0), str(one.cannot_judge), str(one.passes),
            str(one.not_applicable),
        )
        for one in counts
    )  # fmt: skip
    return Table(columns, rows, "No rule was asked.", small=True)
