"""A turnaround's schedule as a calendar (iCalendar, RFC 5545), an event for each task.

Times are those of the site's clock: they carry no zone, so that every calendar shows them as they
are. The same plan gives the same bytes.
"""

from __future__ import annotations

from icalendar import Calendar, Event

from reports.contents.schedule_bars import task_words
from reports.contents.turnaround import TurnaroundPaper
from reports.contents.written import plain
from supports.plant_time import in_utc
from supports.rules.turnaround.schedule import Placed, moment

MAKER = "-//pipe support register//turnaround//EN"


def turnaround_ics(paper: TurnaroundPaper) -> bytes:
    """Return the calendar."""
    book = Calendar()
    book.add("prodid", MAKER)
    book.add("version", "2.0")
    book.add("x-wr-calname", plain(f"{paper.number} {paper.title}"))
    critical = set(paper.plan.schedule.critical)
    for one in paper.plan.schedule.placed:
        book.add_component(_event(paper, one, critical=one.task.name in critical))
    return bytes(book.to_ical())


def _event(paper: TurnaroundPaper, one: Placed, *, critical: bool) -> Event:
    means, task = paper.plan.schedule.means, one.task
    made = Event()
    who = f"crew {one.crew}" if one.crew else str(task.trade)
    made.add("uid", f"{paper.number}-{task.name.replace(' ', '-')}@pipe-support-register")
    made.add("sequence", int(paper.head.revision))
    made.add("dtstamp", in_utc(paper.head.made))
    made.add("dtstart", moment(means, one.start))
    made.add("dtend", moment(means, one.end, is_end=True))
    at = ", ".join(task.units) or task.scaffold
    made.add("summary", plain(f"{task_words(one)}, {who}: {at}"))
    made.add("location", plain(" ".join(part for part in (task.line, task.scaffold) if part)))
    made.add("description", plain(_words(paper, one, critical=critical)))
    if critical:
        made.add("priority", 1)
    return made


def _words(paper: TurnaroundPaper, one: Placed, *, critical: bool) -> str:
    task = one.task
    parts = [
        f"{paper.number}, revision {paper.head.revision}, fingerprint {paper.head.fingerprint}.",
        f"{task.people} {task.trade}.",
        f"Line state needed: {task.state}." if task.state else "",
        "An engineer must be there." if task.engineer else "",
        "Moves the end if it slips." if critical else "",
    ]
    return " ".join(part for part in parts if part)
