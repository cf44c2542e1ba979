"""Papers about the whole plant."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from sqlalchemy.orm import Session

from app.making.wanted import Title, Wanted, document, write_document
from reports.contents.plant_status import Decision, PlantStatus, plant_status
from supports.findings import Severity
from supports.queries.plant_standing import (
    last_walks,
    open_changes,
    temporary_changes,
    work_done,
)
from supports.queries.rule_runs import ask_register
from supports.queries.start_up import start_up_of
from supports.queries.stops import pins_in
from supports.queries.support_views import support_views
from supports.queries.walkdowns.lookups import walk_limits_in_force
from supports.queries.walkdowns.scope import last_seen
from supports.rules.run import Found, found_in
from supports.tags import natural_key
from supports.vocabulary import InService


def make_plant_status(session: Session, wanted: Wanted) -> list[Path]:
    """Write the one-page status of the plant."""
    status = status_of(session, wanted)
    say = wanted.say
    title = Title(
        title=say("Plant status"),
        number=f"STATUS-{wanted.made:%Y-%m-%d}",
        about=say("pipe supports of the whole plant"),
    )
    made = document(session, wanted, title, plant_status(status, say))
    return write_document(made, wanted, f"plant-status-{wanted.made:%Y-%m-%d}")


def status_of(session: Session, wanted: Wanted) -> PlantStatus:
    """Return what the status says."""
    today = wanted.made.date()
    views = [one for one in support_views(session) if one.in_service is InService.IN_PLACE]
    limits = walk_limits_in_force(session, today)
    asked = ask_register(session, today)
    found = found_in(asked.asked, asked.limits)
    known = {one.tag for one in views}
    unjudged = [one for one in found if not one.fails and one.tag in known]
    stops = stops_by_tag(one for one in found if one.tag in known)
    return PlantStatus(
        start=start_up_of(session, wanted.made),
        day=today,
        supports=len(views),
        read_in_interval=sum(not one.overdue(today, limits) for one in last_seen(session, views)),
        with_stop=len(stops),
        unjudged=len({one.tag for one in unjudged}),
        stops=stops,
        missing=tuple(Counter(one.rule for one in unjudged).most_common()),
        changes=open_changes(session),
        temporary=temporary_changes(session, today),
        work=work_done(session),
        pins=tuple(str(pin) for pin in pins_in(session)),
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
