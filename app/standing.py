"""Where somebody stands with a register, and the commands that come next."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from supports.database import Register, shown_url
from supports.plant_time import to_the_minute
from supports.queries.glance import Glance, glance
from supports.vocabulary import counted

MOST_CHANGES, MOST_NEXT = 5, 3
"""So many changes and next steps are shown; more would be read by nobody."""


@dataclass(frozen=True, slots=True)
class Next:
    """One thing to do next: why, and the command ready to paste."""

    why: str
    command: str


@dataclass(frozen=True, slots=True)
class WhereYouStand:
    """A register at a glance, with what comes next; `holds` is null where there is none."""

    register: str
    holds: Glance | None
    next: tuple[Next, ...]
    time_zone: str = ""
    """Of the plant's clock; blank where days are those of UTC."""


def standing_without(place: str) -> WhereYouStand:
    """Return where somebody stands who has no register yet."""
    ways = (Next("begin, step by step, with your own workbook", "supports begin"),)
    return WhereYouStand(place, None, ways)


def standing(
    register: Register, today: date, *, who: str = "", named: str | None = None
) -> WhereYouStand:
    """Return where somebody stands with a register.

    Parameters
    ----------
    who
        Who acts, if that is known; the commands shown act for them.
    named
        The register as named on the command; the commands shown name it as well.
    """
    with register.reading() as session:
        seen = glance(session, today)
    place = f" --register {shlex.quote(named)}" if named else ""
    steps = [Next(one.why, one.command + place) for one in _next(seen, shlex.quote(who or "YOU"))]
    return WhereYouStand(
        shown_url(register.url), seen, tuple(steps[:MOST_NEXT]), str(register.zone or "")
    )


def _next(seen: Glance, who: str) -> Iterator[Next]:
    if not seen.people:
        role = "--role 'register keeper'"
        yield Next("enter yourself", f"supports people add 'Your Name' --initials YN {role}")
    if not seen.supports:
        yield Next("bring in your own workbook", "supports begin YOUR-WORKBOOK.xlsx")
        return
    if seen.findings_overdue:
        yield Next("findings are past their day", "supports walkdown findings --overdue")
    if seen.changes:
        oldest = shlex.quote(seen.changes[0].number)
        yield Next("the oldest open change", f"supports change show {oldest}")
    if seen.doubts:
        yield Next("values wait for an answer", "supports sheets doubts")
    if seen.stops_in:
        yield Next("travel stops are in", "supports stops count")
    if seen.rules_run_at is None:
        yield Next("the rules were never asked and kept", f"supports rules run --as {who}")
    yield Next("look a support up", "supports support list")


def standing_lines(where: WhereYouStand) -> Iterator[str]:
    """Return where somebody stands as lines."""
    if where.holds is None:
        yield f"There is no register at {where.register} yet."
    else:
        yield f"{where.holds.plant}: {where.register}"
        yield from _held(where.holds)
        zone = where.time_zone or "UTC; the plant's own: supports settings time-zone ZONE --as YOU"
        yield f"  clock      {zone}"
    yield "Next:"
    for step in where.next:
        yield f"  {step.why}:"
        yield f"    {step.command}"
    yield "All commands: supports --help"


def _held(seen: Glance) -> Iterator[str]:
    yield (
        f"  holds      {counted(seen.lines, 'line')}, {counted(seen.supports, 'support')}, "
        f"{counted(seen.units, 'unit')}; {counted(seen.people, 'person', 'people')}"
    )
    yield f"  changes    {len(seen.changes)} open"
    for one in seen.changes[:MOST_CHANGES]:
        waits = f"; waits for {' or '.join(one.waits_for)}" if one.waits_for else ""
        yield f"    {one.number}  {one.title}: {one.state}{waits}"
    if len(seen.changes) > MOST_CHANGES:
        yield f"    and {len(seen.changes) - MOST_CHANGES} more: supports change list"
    yield (
        f"  waits      {counted(seen.units_to_do, 'unit')} of work orders, "
        f"{counted(seen.doubts, 'value')} of files in doubt, "
        f"{counted(seen.findings_overdue, 'walkdown finding')} past the day"
    )
    yield f"  stops      {counted(seen.stops_in, 'travel stop')} in"
    asked = to_the_minute(seen.rules_run_at) if seen.rules_run_at else "never kept"
    yield f"  rules      last run: {asked}"
