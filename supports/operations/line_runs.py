"""Record that a line was started up or shut down: rules count days from it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from supports.database import Register
from supports.errors import BadInput
from supports.model import LineRunEvent
from supports.operations.acting import deed
from supports.queries.line_runs import events_of
from supports.queries.lookups import line_of
from supports.rules.workflow import require_roles
from supports.vocabulary import LineRun, Role

MAY_RECORD = frozenset({Role.OPERATIONS, Role.COORDINATOR, Role.RESPONSIBLE_ENGINEER})


@dataclass(frozen=True, slots=True)
class LineRan:
    """A line was started up or shut down on a day; `told_by` is whoever says so."""

    line: str
    what: LineRun
    on: date
    told_by: str = ""


def record_line_run(
    register: Register, ran: LineRan, *, acting: str, now: datetime, reason: str = ""
) -> None:
    """Record a start-up or a shut-down.

    Raises
    ------
    NotAllowed
        The person holds none of the roles that may.
    BadInput
        The day lies ahead, or the same is on record for that day.
    """
    action = f"record a {ran.what}"
    with deed(register, acting, now, action=action, reason=reason, subject=ran.line) as act:
        require_roles(f"record a {ran.what}", MAY_RECORD, act.person.roles)
        if ran.on > act.today:
            raise BadInput(f"a {ran.what} cannot be of a day to come", found=ran.on.isoformat())
        line = line_of(act.session, ran.line)
        if any((e.what, e.on) == (ran.what, ran.on) for e in events_of(act.session, line.id)):
            raise BadInput(f"that {ran.what} of {ran.line} is on record", found=ran.on.isoformat())
        act.session.add(
            LineRunEvent(
                line_id=line.id,
                happened_on=ran.on,
                what=ran.what,
                told_by=ran.told_by or act.person.name,
                recorded_by=act.person.name,
                recorded_at=act.now,
                reason=reason or None,
            )
        )
