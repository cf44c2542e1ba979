"""All rules asked of all frames: what was found, counted, compared with an earlier time."""

from __future__ import annotations

import hashlib
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from supports.findings import Answer, Severity
from supports.rules.catalogue import RULES
from supports.rules.frame import Frame, Subject
from supports.rules.rule import Asked, Code, Group, Limits, Rule, ask
from supports.rules.wording import answer, columns_of
from supports.tags import natural_key

KEPT = (Code.FAILS, Code.CANNOT_JUDGE)
"""Answers that are kept one by one; the others are counted."""

WORSE = 1e-6
"""Relative growth of a measure that counts as worse: below it is rounding."""


@dataclass(frozen=True, slots=True)
class Found:
    """One answer that is no pass.

    Parameters
    ----------
    tag
        The support concerned; '' for a line, a change and the like.
    measure
        The figure that grows as things get worse; None where there is none.
    inputs
        Mark of everything it was judged on; another mark means other facts or limits.
    """

    rule: str
    subject: Subject
    key: int
    name: str
    tag: str
    severity: Severity
    answer: Answer
    measure: float | None = None
    inputs: str = ""

    @property
    def place(self) -> tuple[str, str, int]:
        """Return what makes it the same finding at another time."""
        return (self.rule, self.subject, self.key)

    @property
    def fails(self) -> bool:
        """Return whether the rule is broken."""
        return self.answer is Answer.FAILS


@dataclass(frozen=True, slots=True)
class RuleCount:
    """How often a rule gave each answer."""

    rule: str
    group: Group
    severity: Severity
    fails: int
    passes: int
    not_applicable: int
    cannot_judge: int


def ask_all(
    frames: Mapping[Subject, Frame], limits: Limits, rules: Sequence[Rule] = RULES
) -> tuple[Asked, ...]:
    """Ask every rule of its frame; a rule without a frame is left out."""
    return tuple(
        ask(rule, frames[rule.subject], limits) for rule in rules if rule.subject in frames
    )


def counts(asked: Iterable[Asked]) -> tuple[RuleCount, ...]:
    """Return how often each rule gave each answer."""
    return tuple(
        RuleCount(
            rule=one.rule.id,
            group=one.rule.group,
            severity=one.rule.gravest,
            fails=one.count(Code.FAILS),
            passes=one.count(Code.PASSES),
            not_applicable=one.count(Code.NOT_APPLICABLE),
            cannot_judge=one.count(Code.CANNOT_JUDGE),
        )
        for one in asked
    )


def found_in(asked: Iterable[Asked], limits: Limits) -> tuple[Found, ...]:
    """Return every answer that is no pass, rule by rule."""
    return tuple(item for one in asked for item in _found(one, limits))


def _found(asked: Asked, limits: Limits) -> list[Found]:
    rows = np.flatnonzero(np.isin(asked.codes, KEPT))
    if len(rows) == 0:
        return []
    here = asked.rows.take(rows)
    measures = asked.measure()[rows]
    tags, marks = here.text("tag"), _marks(asked, here, limits)
    return [
        Found(
            rule=asked.rule.id,
            subject=asked.rule.subject,
            key=int(here.keys[place]),
            name=str(here.names[place]),
            tag=str(tags[place]),
            severity=asked.severity(int(row)),
            answer=Code(asked.codes[row]).answer,
            measure=None if np.isnan(measures[place]) else float(measures[place]),
            inputs=marks[place],
        )
        for place, row in enumerate(rows)
    ]


def _marks(asked: Asked, here: Frame, limits: Limits) -> list[str]:
    """Return a mark of the inputs of each row: columns read, limits compared with, answer."""
    read = [here.columns[name] for name in columns_of(asked) if name in here.columns]
    compared = [limits.of(name, here) for name in asked.rule.limits]
    written = [[_written(value) for value in column] for column in (*read, *compared)]
    rows = zip(*written, strict=True) if written else (() for _ in range(here.size))
    return [hashlib.sha256("|".join(row).encode()).hexdigest()[:16] for row in rows]


def _written(value: object) -> str:
    return f"{value:.12g}" if isinstance(value, float) else str(value)


def sentences(asked: Iterable[Asked], limits: Limits) -> Callable[[Found], str]:
    """Return what gives the sentence of a finding of these answers, with its numbers."""
    by_rule = {one.rule.id: one for one in asked}

    def said(found: Found) -> str:
        one = by_rule[found.rule]
        (row,) = np.flatnonzero(one.rows.keys == found.key)
        return answer(one, int(row), limits).text

    return said


@dataclass(frozen=True, slots=True)
class Since:
    """What became of the findings between two times; losing the facts is no repair."""

    new: tuple[Found, ...]
    gone: tuple[Found, ...]
    worse: tuple[tuple[Found, Found], ...]
    better: tuple[tuple[Found, Found], ...]
    newly_unjudged: tuple[Found, ...]

    @property
    def is_empty(self) -> bool:
        """Return whether nothing changed."""
        return not (self.new or self.gone or self.worse or self.better or self.newly_unjudged)


def compare_runs(before: Iterable[Found], now: Iterable[Found]) -> Since:
    """Return what is new, gone, worse and better; pairs are (before, now)."""
    was, is_now = {f.place: f for f in before}, {f.place: f for f in now}
    both = [(was[place], one) for place, one in is_now.items() if place in was]
    failing = [(old, new) for old, new in both if old.fails and new.fails]
    return Since(
        new=tuple(f for p, f in is_now.items() if f.fails and not (p in was and was[p].fails)),
        gone=tuple(f for p, f in was.items() if f.fails and p not in is_now),
        worse=tuple((old, new) for old, new in failing if _worse(old, new)),
        better=tuple((old, new) for old, new in failing if _worse(new, old)),
        newly_unjudged=tuple(
            f for p, f in is_now.items() if not f.fails and (p not in was or was[p].fails)
        ),
    )


def _worse(old: Found, new: Found) -> bool:
    if old.severity is not new.severity:
        return new.severity.rank < old.severity.rank
    if old.measure is None or new.measure is None:
        return False
    return new.measure - old.measure > WORSE * max(abs(old.measure), abs(new.measure))


@dataclass(frozen=True, slots=True)
class Worst:
    """One support or other subject with what is wrong there."""

    name: str
    counts: Mapping[Severity, int]
    rules: tuple[str, ...]


def worst(found: Iterable[Found], how_many: int = 10) -> tuple[Worst, ...]:
    """Return the names with the gravest findings first: by STOP, then ACT, then LOOK, then NOTE."""
    by_name: dict[str, list[Found]] = defaultdict(list)
    for one in found:
        if one.fails:
            by_name[one.tag or one.name].append(one)
    ranked = []
    for name, items in by_name.items():
        count = Counter(one.severity for one in items)
        rules = dict.fromkeys(f.rule for f in sorted(items, key=lambda f: f.severity.rank))
        ranked.append(Worst(name, count, tuple(rules)))
    ranked.sort(key=lambda w: (*(-w.counts.get(s, 0) for s in Severity), natural_key(w.name)))
    return tuple(ranked[:how_many])
