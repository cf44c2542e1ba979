"""What the rules find now, as data and as lines."""

from __future__ import annotations

from datetime import date

from sqlalchemy.orm import Session

from app.answers import Answer
from app.rule_pages import rule_lines, stood_lines
from app.shapes import FindingsNow
from supports.queries.rule_runs import acceptances, ask_register
from supports.rules.acceptances import stood
from supports.rules.catalogue import RULES, rule_of
from supports.rules.run import counts, found_in, sentences


def found_now(
    session: Session, today: date, *, rule: str = "", severity: str = "", unjudged: bool = False,
    by_rule: bool = False, every: bool = False,
) -> Answer:  # fmt: skip
    """Return what the rules find now, accepted findings among them.

    Parameters
    ----------
    unjudged
        What cannot be judged instead of what fails.
    by_rule, every
        How much of it is said in lines.
    """
    asked = ask_register(session, today, rules=(rule_of(rule),) if rule else RULES)
    accepted = acceptances(session)
    count = tuple(counts(asked.asked))
    found = [f for f in found_in(asked.asked, asked.limits) if f.fails is not unjudged]
    if severity:
        found = [f for f in found if f.severity == severity.upper()]
    held = tuple(stood(found, accepted, today))
    said = sentences(asked.asked, asked.limits)
    lines = rule_lines(count) if by_rule else stood_lines(held, said, every=every)
    return Answer(FindingsNow(held, count), tuple(lines))
