"""Walkdowns as lines of text for a terminal."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from sqlalchemy.orm import Session

from reports.contents.walkdown_closeout import expected_words, found_words
from supports.operations.walkdowns.closing import sign_off_blockers
from supports.queries.support_views import support_views
from supports.queries.walkdowns.findings import finding_views
from supports.queries.walkdowns.judged import judged_campaign
from supports.queries.walkdowns.lookups import campaign_of, walk_limits_in_force
from supports.queries.walkdowns.rows import forms_out
from supports.queries.walkdowns.scope import last_seen
from supports.rules.walkdown.coverage import Seen
from supports.rules.walkdown.coverage import coverage as counted
from supports.rules.walkdown.findings import FindingView
from supports.rules.walkdown.judgement import JudgedItem, counts
from supports.rules.walkdown.limits import WalkLimits
from supports.rules.walkdown.sampling import next_look, sample_size
from supports.vocabulary import InService
from supports.vocabulary import counted as many


def campaign_lines(session: Session, number: str, today: date) -> Iterator[str]:
    """Return a campaign row by row, and what stands in the way of signing it off."""
    campaign = campaign_of(session, number)
    yield f"{number}: {campaign.title}; {campaign.half}, {campaign.walk_on}; {campaign.state}"
    for item, judged in judged_campaign(session, campaign, today):
        yield f"  {item.order_no:>3} {_row(judged)}"
    for name in forms_out(session, campaign):
        yield f"  form out with {name}"
    if campaign.state not in {"planned", "signed off"}:
        blockers = sign_off_blockers(session, campaign)
        yield f"{len(blockers)} things stand in the way of signing it off."


def _row(judged: JudgedItem) -> str:
    facts = judged.facts
    wanted = expected_words(facts, judged.expected) if facts.found and facts.found.is_seen else ""
    against = f"; expected {wanted}" if wanted else ""
    return f"{facts.tag:<14} {judged.said:<12} {found_words(facts)}{against}"


def standing_lines(session: Session, number: str, today: date) -> Iterator[str]:
    """Return the rows counted by standing, those that broke a rule with their reasons."""
    rows = [one for _, one in judged_campaign(session, campaign_of(session, number), today)]
    for one in rows:
        for answer in one.to_be_answered:
            yield f"  {answer.severity:<4} {one.facts.tag:<14} {answer.rule}: {answer.text}"
    yield ", ".join(f"{count} {words}" for words, count in counts(rows).items())


def finding_lines(
    session: Session, number: str, today: date, *, overdue: bool, open_only: bool
) -> Iterator[str]:
    """Return findings a line each; one alone with its steps."""
    held = [
        one
        for one in finding_views(session)
        if (not number or number in {one.number, one.campaign})
        and (not overdue or one.overdue(today))
        and (not open_only or one.wants_something(today))
    ]
    for one in held:
        yield _finding(one, today)
        if one.number == number:
            yield from (
                f"    {step.done_on} {step.act} by {step.done_by}: {step.words}".rstrip(": ")
                for step in one.steps
            )
    ownerless = sum(one.ownerless and one.wants_something(today) for one in held)
    late = sum(one.overdue(today) for one in held)
    yield f"{many(len(held), 'finding')}, {ownerless} without owner, {late} overdue."


def _finding(one: FindingView, today: date) -> str:
    day = one.accepted_until or one.due_on
    late = " OVERDUE" if one.overdue(today) else ""
    who = f"{one.owner or 'NO OWNER'}{f', {day}' if day else ''}"
    return f"{one.number} {one.severity:<4} {one.tag:<10} {one.state} ({who}){late}: {one.what}"


def coverage_lines(session: Session, today: date, *, every: bool) -> Iterator[str]:
    """Return how many supports were seen, area by area."""
    limits = walk_limits_in_force(session, today)
    views = [one for one in support_views(session) if one.in_service is InService.IN_PLACE]
    seen = last_seen(session, views)
    for area in sorted({one.area for one in seen}):
        own = [one for one in seen if one.area == area]
        yield f"{area or 'no area'}: {_counts(own, today, limits)}"
    yield f"whole plant: {_counts(seen, today, limits)}"
    if every:
        for one in seen:
            if one.overdue(today, limits):
                due = one.due(limits)
                yield f"  {one.tag:<14} {'never seen' if due is None else f'due {due}'}"


def _counts(seen: list[Seen], today: date, limits: WalkLimits) -> str:
    total = counted(seen, today, limits)
    return (
        f"{many(total.supports, 'support')}, {total.seen} seen, {total.never} never seen, "
        f"{total.overdue} overdue, {total.unpaired} seen without a pair"
    )


def sample_lines(
    population: int, unacceptable: int, months: float, good: float, confidence: float
) -> Iterator[str]:
    """Return when to look again and how many to test, with where the figures are from."""
    look = next_look(population, unacceptable, months)
    row = look.row
    yield (
        f"Visual: {unacceptable} of {population} unacceptable after {months:g} months: the "
        f"interval {look.why}: next look in {look.months:.1f} months."
    )
    yield (
        f"  Limits {row.extend} (extend), {row.repeat} (repeat), {row.reduce} (reduce): US NRC "
        f"Generic Letter 90-09, {row.trust}; between rows by interpolation."
    )
    size = sample_size(population, good, confidence)
    yield (
        f"Test: {size} drawn at random, none failing, to be {100 * confidence:g} % sure that at "
        f"least {100 * good:g} % are good."
    )
    yield "An option: the site's own rules and its regulator decide."
