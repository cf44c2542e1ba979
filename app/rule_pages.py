"""Runs of the rules, findings, explanations and limits as lines of text for a terminal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from app.shapes import LimitNow, NumberNow
from supports.findings import Severity
from supports.queries.laid_down import NumberLaidDown, number_in_force
from supports.queries.limits import SITE, LaidDown
from supports.rules.acceptances import Standing, Stood
from supports.rules.run import Found, RuleCount, Since, worst
from supports.rules.site_settings import limits
from supports.rules.workflow.periods import periods
from supports.tags import natural_key

LISTED = 10
"""How many of a list are shown before the rest is counted."""


@dataclass(frozen=True, slots=True)
class GroupCount:
    """What a group of rules answers: failures by severity, then the other three answers."""

    group: str
    broken: Mapping[Severity, int]
    cannot_judge: int
    passes: int
    not_applicable: int


def group_counts(counts: Sequence[RuleCount], found: Iterable[Found]) -> tuple[GroupCount, ...]:
    """Return counts by group; nothing that was asked is left out."""
    group_of = {one.rule: one.group for one in counts}
    broken = Counter((group_of[f.rule], f.severity) for f in found if f.fails)
    return tuple(
        GroupCount(
            group,
            {s: broken[group, s] for s in Severity},
            *(
                sum(getattr(c, name) for c in counts if c.group is group)
                for name in ("cannot_judge", "passes", "not_applicable")
            ),
        )
        for group in dict.fromkeys(c.group for c in counts)
    )


def count_lines(counts: Sequence[RuleCount], found: Iterable[Found]) -> Iterator[str]:
    """Return counts by severity and by group."""
    groups = group_counts(counts, found)
    total = "   ".join(f"{s} {sum(one.broken[s] for one in groups)}" for s in Severity)
    yield (
        f"{len(counts)} rules asked: {total}   "
        f"cannot judge {sum(c.cannot_judge for c in counts)}   "
        f"pass {sum(c.passes for c in counts)}   "
        f"not applicable {sum(c.not_applicable for c in counts)}"
    )
    heads = "".join(f"{s:>7}" for s in Severity)
    yield f"{'':<42}{heads}{'cannot judge':>15}{'pass':>9}{'not applicable':>16}"
    for one in groups:
        columns = "".join(f"{one.broken[s]:>7}" for s in Severity)
        yield (
            f"{one.group:<42}{columns}{one.cannot_judge:>15}{one.passes:>9}{one.not_applicable:>16}"
        )


def worst_lines(found: Iterable[Found]) -> Iterator[str]:
    """Return the ten worst by name."""
    yield "Worst ten:"
    for place, one in enumerate(worst(found), start=1):
        count = ", ".join(f"{one.counts[s]} {s}" for s in Severity if one.counts.get(s))
        named = list(one.rules[:3]) + (["..."] if len(one.rules) > 3 else [])
        yield f"  {place:>2} {one.name:<14} {count:<28} {', '.join(named)}"


def rule_lines(counts: Iterable[RuleCount]) -> Iterator[str]:
    """Return the four answers of each rule that fails or cannot judge somewhere."""
    for one in counts:
        if one.fails or one.cannot_judge:
            yield (
                f"  {one.severity:<5}{one.rule:<36}{one.fails:>6} fail {one.passes:>7} pass "
                f"{one.cannot_judge:>7} cannot judge {one.not_applicable:>7} not applicable"
            )


def stood_lines(
    stood: Sequence[Stood], said: Callable[[Found], str], *, every: bool
) -> Iterator[str]:
    """Return findings with their numbers and where each stands, gravest first.

    Parameters
    ----------
    said
        What gives the sentence of a finding; it is asked for those that are shown.
    """
    ranked = sorted(
        stood, key=lambda s: (s.found.severity.rank, s.found.rule, natural_key(s.found.name))
    )
    for one in ranked if every else ranked[: 5 * LISTED]:
        words = "" if one.standing is Standing.OPEN else f"  [{one.standing}]"
        yield f"  {one.found.severity:<5}{one.found.name:<30}{one.found.rule}{words}"
        yield f"       {said(one.found)}"
        if one.accepted is not None:
            yield f"       {one.accepted.words}"
    if not every and len(ranked) > 5 * LISTED:
        yield f"  ... and {len(ranked) - 5 * LISTED} more; --every shows all"
    count = Counter(one.standing for one in stood)
    yield "; ".join(f"{count[s]} {s}" for s in Standing if count[s]) or "nothing found"


def since_lines(since: Since) -> Iterator[str]:
    """Return what is new, gone, worse and better."""
    if since.is_empty:
        yield "Nothing changed."
        return
    for heading, found in (
        ("new", since.new), ("gone", since.gone), ("no longer judged", since.newly_unjudged),
    ):  # fmt: skip
        yield from _listed(heading, [f"{f.severity:<5}{f.name:<30}{f.rule}" for f in found])
    for heading, pairs in (("worse", since.worse), ("better", since.better)):
        rows = [f"{n.severity:<5}{n.name:<30}{n.rule}{_step(o, n)}" for o, n in pairs]
        yield from _listed(heading, rows)


def _step(old: Found, new: Found) -> str:
    if old.measure is None or new.measure is None:
        return ""
    return f"  {old.measure:.4g} -> {new.measure:.4g}"


def _listed(heading: str, rows: Sequence[str]) -> Iterator[str]:
    if rows:
        yield f"{len(rows)} {heading}:"
        yield from (f"  {row}" for row in rows[:LISTED])
        if len(rows) > LISTED:
            yield f"  ... and {len(rows) - LISTED} more"


def period_lines(laid_down: Sequence[NumberLaidDown], today: date) -> Iterator[str]:
    """Return every period with what is proposed and all that was laid down for it."""
    for name, period in periods().items():
        held = [one for one in laid_down if one.name == name]
        now = number_in_force(laid_down, name, today)
        value = now.number if now else float(period.default)
        words = "" if now else f"  proposed; {period.source}; {period.trust}"
        yield f"  {name:<26}{value:>7g} {period.unit_words:<6}{words}  {period.meaning}"
        for one in held:
            number = f"{one.number:g} {period.unit_words}"
            yield f"    {one.valid_from}: {number}, by {one.owner}: {one.source}"


def periods_now(laid_down: Sequence[NumberLaidDown], today: date) -> Iterator[NumberNow]:
    """Return every period as it holds."""
    for name, period in periods().items():
        now = number_in_force(laid_down, name, today)
        value = now.number if now else float(period.default)
        source = now.source if now else period.source
        yield NumberNow(name, value, period.unit_words, period.meaning, now is not None, source)


def limits_now(in_force: Mapping[tuple[str, str], LaidDown]) -> Iterator[LimitNow]:
    """Return every limit as it holds for the site, then those of one line or class."""
    for name, limit in limits().items():
        own = in_force.get((name, SITE))
        value = own.value if own else limit.si
        said = own.words if own else f"proposed; {limit.source}; {limit.trust}"
        yield LimitNow(name, SITE, value, limit.shown(value), limit.unit, said)
    for (name, scope), one in in_force.items():
        if scope != SITE:
            limit = limits()[name]
            yield LimitNow(name, scope, one.value, limit.shown(one.value), limit.unit, one.words)


def limit_lines(in_force: Mapping[tuple[str, str], LaidDown]) -> Iterator[str]:
    """Return every limit with its value, where it is from and how far that is confirmed."""
    for name, limit in limits().items():
        own = in_force.get((name, SITE))
        value = limit.shown(own.value if own else limit.si)
        words = own.words if own else f"proposed; {limit.source}; {limit.trust}"
        yield f"  {name:<26}{value:>11}  {words}"
        for (other, scope), one in in_force.items():
            if other == name and scope != SITE:
                yield f"    {scope.replace(':', ' '):<24}{limit.shown(one.value):>11}  {one.words}"
    proposed = sum((name, SITE) not in in_force for name in limits())
    yield f"{len(limits())} limits, {proposed} of them proposals that the site has not confirmed."
