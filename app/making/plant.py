"""Papers about the whole plant."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path

import numpy as np
from sqlalchemy.orm import Session

from app.making.wanted import Title, Wanted, document, write_document
from reports.contents.plant_status import Decision, PlantStatus, plant_status
from reports.contents.rules_report import RulesReport, Told, rules_report
from reports.contents.verification_manual import verification_manual
from supports.findings import Severity
from supports.queries.limits import SITE, in_force
from supports.queries.plant_days import day_at
from supports.queries.plant_standing import (
    last_walks,
    open_changes,
    temporary_changes,
    work_done,
)
from supports.queries.props import props_in
from supports.queries.rule_runs import PlantAsked, acceptances, ask_register
from supports.queries.start_up import start_up_of
from supports.queries.stops import pins_in
from supports.queries.support_views import support_views
from supports.queries.walkdowns.lookups import walk_limits_in_force
from supports.queries.walkdowns.scope import last_seen
from supports.rules.acceptances import stood
from supports.rules.catalogue import RULES_VERSION
from supports.rules.run import KEPT, Found, counts, found_in, worst
from supports.rules.site_settings import limits
from supports.rules.wording import answer
from supports.tags import natural_key
from supports.verification import check_all
from supports.vocabulary import InService


def make_plant_status(session: Session, wanted: Wanted) -> list[Path]:
    """Write the one-page status of the plant."""
    status = status_of(session, wanted)
    say = wanted.say
    title = Title(
        title=say("Plant status"),
        number=f"STATUS-{status.day}",
        about=say("pipe supports of the whole plant"),
    )
    made = document(session, wanted, title, plant_status(status, say))
    return write_document(made, wanted, f"plant-status-{status.day}")


def status_of(session: Session, wanted: Wanted) -> PlantStatus:
    """Return what the status says."""
    today = day_at(session, wanted.made)
    views = [one for one in support_views(session) if one.in_service is InService.IN_PLACE]
    intervals = walk_limits_in_force(session, today)
    asked = ask_register(session, today)
    found = found_in(asked.asked, asked.limits)
    known = {one.tag for one in views}
    unjudged = [one for one in found if not one.fails and one.tag in known]
    stops = stops_by_tag(one for one in found if one.tag in known)
    return PlantStatus(
        start=start_up_of(session, wanted.made),
        day=today,
        supports=len(views),
        read_in_interval=sum(
            not one.overdue(today, intervals) for one in last_seen(session, views)
        ),
        with_stop=len(stops),
        unjudged=len({one.tag for one in unjudged}),
        stops=stops,
        missing=tuple(Counter(one.rule for one in unjudged).most_common()),
        changes=open_changes(session),
        temporary=temporary_changes(session, today),
        work=work_done(session),
        pins=tuple(str(pin) for pin in pins_in(session)),
        props=tuple(str(prop) for prop in props_in(session)),
        walks=last_walks(session),
        decisions=tuple(map(decision, wanted.decisions)),
    )


def stops_by_tag(found: Iterable[Found]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return the supports with a finding at STOP, each with the rules broken there."""
    held: dict[str, dict[str, None]] = {}
    for one in found:
        if one.fails and one.severity is Severity.STOP:
            held.setdefault(one.tag, {})[one.rule] = None
    return tuple((tag, tuple(held[tag])) for tag in sorted(held, key=natural_key))


def decision(text: str) -> Decision:
    """Read 'what; by when'."""
    what, _, day = text.partition(";")
    return Decision(what.strip(), day.strip())


def make_rules_report(session: Session, wanted: Wanted) -> list[Path]:
    """Write the report of the rules over the whole register."""
    report, say = report_of(session, wanted), wanted.say
    day = day_at(session, wanted.made)
    title = Title(
        title=say("Rules report"),
        number=f"RULES-{day}",
        about=say(
            "every rule asked of the whole register, rules version {version}",
            version=RULES_VERSION,
        ),
    )
    made = document(session, wanted, title, rules_report(report, say), landscape=True)
    return write_document(made, wanted, f"rules-report-{day}")


def report_of(session: Session, wanted: Wanted) -> RulesReport:
    """Return what the rules find on the day of the paper."""
    today = day_at(session, wanted.made)
    plant = ask_register(session, today)
    found = found_in(plant.asked, plant.limits)
    accepted = acceptances(session)
    told = tuple(
        Told(one, words)
        for one, words in zip(stood(found, accepted, today), _words(plant), strict=True)
    )
    laid_down = in_force(session, today)
    return RulesReport(
        day=today,
        counts=counts(plant.asked),
        told=tuple(sorted(told, key=_gravest)),
        worst=worst(found),
        proposed=(sum((name, SITE) not in laid_down for name in limits()), len(limits())),
    )


def _words(plant: PlantAsked) -> Iterator[str]:
    """Give the sentence of every answer that is kept, in the order of the findings."""
    for asked in plant.asked:
        for row in np.flatnonzero(np.isin(asked.codes, KEPT)):
            yield answer(asked, int(row), plant.limits).text


def _gravest(one: Told) -> tuple[int, str, object]:
    found = one.stood.found
    return (found.severity.rank, found.rule, natural_key(found.name))


def make_verification_manual(session: Session, wanted: Wanted) -> list[Path]:
    """Write the published values with ours beside them, worked out now."""
    title = Title(
        title="Verification manual",
        number="VERIFICATION",
        about="published values, and what this program gives for them",
        valid_until="the program changes",
    )
    made = document(session, wanted, title, verification_manual(check_all()), landscape=True)
    return write_document(made, wanted, "verification-manual")
