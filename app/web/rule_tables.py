"""A run of the rules as its screen shows it; the limits that the rules go by, one a row."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy.orm import Session

from app.rule_pages import GroupCount, group_counts
from supports.findings import Severity
from supports.queries.limits import SITE, LaidDown, in_force
from supports.queries.rule_runs import RunView, found_of, run_by_number, runs
from supports.rules.catalogue import RULES
from supports.rules.run import RuleCount, Since, Worst, compare_runs, worst
from supports.rules.site_settings import Limit, limits


@dataclass(frozen=True, slots=True)
class RunTable:
    """A kept run: counts by group and rule, the worst, and what changed since the run before.

    Parameters
    ----------
    retired
        Rules that it asked and that are asked no more; the counts leave them out.
    """

    run: RunView
    groups: tuple[GroupCount, ...]
    rules: tuple[RuleCount, ...]
    worst: tuple[Worst, ...]
    before: RunView | None
    since: Since | None
    retired: tuple[str, ...]

    @property
    def broken(self) -> dict[Severity, int]:
        """Return failures by severity."""
        return {s: sum(one.broken[s] for one in self.groups) for s in Severity}


def run_table(session: Session, number: int) -> RunTable:
    """Return a run, held against the one before it if there is one."""
    run = run_by_number(session, number)
    before = max((one for one in runs(session) if one.id < number), key=_number, default=None)
    counted = _counted(run)
    asked = {one.rule for one in counted}
    every = found_of(session, number)
    found = tuple(one for one in every if one.rule in asked)
    since = None if before is None else compare_runs(found_of(session, before.id), every)
    retired = tuple(sorted(set(run.counts) - asked))
    return RunTable(
        run, group_counts(counted, found), counted, worst(found), before, since, retired
    )


def _number(run: RunView) -> int:
    return run.id


def _counted(run: RunView) -> tuple[RuleCount, ...]:
    return tuple(
        RuleCount(rule.id, rule.group, rule.severity, *run.counts[rule.id])
        for rule in RULES
        if rule.id in run.counts
    )


@dataclass(frozen=True, slots=True)
class LimitRow:
    """A limit with the value in force for the site, and what holds elsewhere.

    Parameters
    ----------
    own
        What the site laid down; None while the proposal holds.
    elsewhere
        Values of one line or one class.
    """

    limit: Limit
    own: LaidDown | None
    elsewhere: tuple[LaidDown, ...]

    @property
    def value(self) -> str:
        """Return the value in force, with its unit."""
        return self.limit.shown(self.limit.si if self.own is None else self.own.value)


def limit_rows(session: Session, today: date) -> list[LimitRow]:
    """Return every limit as it holds on a day."""
    held = in_force(session, today)
    return [
        LimitRow(
            limit,
            held.get((name, SITE)),
            tuple(one for (other, where), one in held.items() if other == name and where != SITE),
        )
        for name, limit in limits().items()
    ]
