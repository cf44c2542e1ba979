"""Walkdowns as lines of text for a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from sqlalchemy.orm import Session

from app.answers import Answer
from app.fitting import table
from app.shapes import AreaSeen, CampaignShown, ItemSeen, Sampling
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
from supports.rules.walkdown.sampling import NextLook, next_look, sample_size
from supports.tags import natural_key
from supports.vocabulary import InService
from supports.vocabulary import counted as many


def campaign_shown(session: Session, number: str, today: date) -> Answer:
    """Return a campaign row by row, and what stands in the way of signing it off."""
    campaign = campaign_of(session, number)
    is_under_way = campaign.state not in {"planned", "signed off"}
    shown = CampaignShown(
        campaign.number, campaign.title, campaign.half, campaign.walk_on, campaign.state,
        items=tuple(
            _item(item.order_no, judged)
            for item, judged in judged_campaign(session, campaign, today)
        ),
        forms_out_with=tuple(forms_out(session, campaign)),
        blockers=tuple(map(str, sign_off_blockers(session, campaign))) if is_under_way else (),
    )  # fmt: skip
    return Answer(shown, tuple(_campaign_lines(shown, is_under_way=is_under_way)))


def _campaign_lines(shown: CampaignShown, *, is_under_way: bool) -> Iterator[str]:
    yield f"{shown.number}: {shown.title}; {shown.half}, {shown.walk_on}; {shown.state}"
    cells = [(f"  {one.order:>3} {one.tag}", one.standing, one.found) for one in shown.items]
    yield from table(cells)
    yield from (f"  form out with {name}" for name in shown.forms_out_with)
    if is_under_way:
        yield f"{len(shown.blockers)} things stand in the way of signing it off."


def _item(order: int, judged: JudgedItem) -> ItemSeen:
    facts = judged.facts
    wanted = expected_words(facts, judged.expected) if facts.found and facts.found.is_seen else ""
    against = f"; expected {wanted}" if wanted else ""
    position = facts.unit.position if facts.unit else ""
    return ItemSeen(order, facts.tag, position, judged.said, f"{found_words(facts)}{against}")


def standing_lines(session: Session, number: str, today: date) -> Iterator[str]:
    """Return the rows counted by standing, those that broke a rule with their reasons."""
    rows = [one for _, one in judged_campaign(session, campaign_of(session, number), today)]
    for one in rows:
        for answer in one.to_be_answered:
            yield f"  {answer.severity:<4} {one.facts.tag:<14} {answer.rule}: {answer.text}"
    yield ", ".join(f"{count} {words}" for words, count in counts(rows).items())


def findings_shown(
    session: Session, number: str, today: date, *, overdue: bool, open_only: bool
) -> Answer:
    """Return findings; one alone with its steps."""
    held = tuple(
        one
        for one in finding_views(session)
        if (not number or number in {one.number, one.campaign})
        and (not overdue or one.overdue(today))
        and (not open_only or one.wants_something(today))
    )
    return Answer(held, tuple(_finding_lines(held, number, today)))


def _finding_lines(held: Sequence[FindingView], number: str, today: date) -> Iterator[str]:
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


def coverage_shown(session: Session, today: date, *, every: bool) -> Answer:
    """Return how many supports were seen, area by area."""
    limits = walk_limits_in_force(session, today)
    views = [one for one in support_views(session) if one.in_service is InService.IN_PLACE]
    seen = last_seen(session, views)
    areas: list[str | None] = [*sorted({one.area for one in seen}, key=natural_key), None]
    rows = tuple(_area(name, seen, today, limits) for name in areas)
    late = [one for one in seen if every and one.overdue(today, limits)]
    return Answer(rows, (*map(_area_words, rows), *(_overdue_words(one, limits) for one in late)))


def _area(name: str | None, seen: Sequence[Seen], today: date, limits: WalkLimits) -> AreaSeen:
    own = [one for one in seen if name is None or one.area == name]
    total = counted(own, today, limits)
    return AreaSeen(name, total.supports, total.seen, total.never, total.overdue, total.unpaired)


def _area_words(one: AreaSeen) -> str:
    name = "whole plant" if one.area is None else one.area or "no area"
    return (
        f"{name}: {many(one.supports, 'support')}, {one.seen} seen, {one.never} never seen, "
        f"{one.overdue} overdue, {one.unpaired} seen without a pair"
    )


def _overdue_words(one: Seen, limits: WalkLimits) -> str:
    due = one.due(limits)
    return f"  {one.tag:<14} {'never seen' if due is None else f'due {due}'}"


def sampling(
    population: int, unacceptable: int, months: float, good: float, confidence: float
) -> Answer:
    """Return when to look again and how many to test, with where the figures are from."""
    look = next_look(population, unacceptable, months)
    size = sample_size(population, good, confidence)
    test = (
        f"Test: {size} drawn at random, none failing, to be {100 * confidence:g} % sure that at "
        f"least {100 * good:g} % are good."
    )
    lines = (
        *_look_words(look, f"{unacceptable} of {population}", months),
        test,
        "An option: the site's own rules and its regulator decide.",
    )
    return Answer(Sampling(look.months, look.why, size), lines)


def _look_words(look: NextLook, unacceptable: str, months: float) -> Iterator[str]:
    row = look.row
    yield (
        f"Visual: {unacceptable} unacceptable after {months:g} months: the "
        f"interval {look.why}: next look in {look.months:.1f} months."
    )
    yield (
        f"  Limits {row.extend} (extend), {row.repeat} (repeat), {row.reduce} (reduce): US NRC "
        f"Generic Letter 90-09, {row.trust}; between rows by interpolation."
    )
