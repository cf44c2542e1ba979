"""What when in a turnaround: a table with the hours, and bars by scaffold with its units."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import timedelta

from reports.contents.blocks import (
    Block,
    Cell,
    Column,
    Heading,
    Paragraph,
    Picture,
    Table,
    Written,
)
from reports.drawings.primitives import Fill
from reports.drawings.schedule_chart import Bar, Days, Row, schedule_chart
from reports.languages import IN_ENGLISH, Texts
from supports.rules.turnaround.plan import Plan
from supports.rules.turnaround.schedule import Placed, moment
from supports.rules.turnaround.tasks import Means, Trade, Window
from supports.tags import natural_key

ON_A_SHEET = 41
"""Rows that a sheet holds beneath each other."""


def what_when(plan: Plan, say: Texts = IN_ENGLISH) -> Iterator[Block]:
    """Give the schedule as a table and as bars."""
    means = plan.schedule.means
    critical = set(plan.schedule.critical)
    yield Heading(say("What when"), 1)
    if not plan.windows:
        yield Paragraph(
            say("No plant states were laid down: every day counts as in the state needed."),
            strong=True,
        )
    columns = (
        Column(say("From"), 1.0),
        Column(say("To"), 1.0),
        Column(say("Who"), 1.0),
        Column(say("People"), 0.0, right=True),
        Column(say("What"), 1.6),
        Column(say("At"), 3.0),
        Column(say("Line"), 1.0),
        Column(say("State needed"), 1.3),
    )
    rows = tuple(
        _time_row(one, one.task.name in critical, plan, say) for one in plan.schedule.placed
    )
    yield Table(columns, rows, say("Nothing could be planned."))
    for window in plan.windows:
        where = say("line {line}", line=window.line) if window.line else say("every line")
        yield Paragraph(
            say(
                "{where} is '{state}' from {first} to {last}.",
                where=where,
                state=say.word(str(window.state)),
                first=window.first,
                last=window.last,
            ),
            small=True,
        )
    if means.crews > 1:
        yield Paragraph(say("A crew stays with its line until the line is done."), small=True)
    yield from schedule_pictures(plan, say)


def _time_row(one: Placed, critical: bool, plan: Plan, say: Texts) -> tuple[Written, ...]:
    means, task = plan.schedule.means, one.task
    mark = f", {say('CRITICAL')}" if critical else ""
    return (
        f"{moment(means, one.start):%m-%d %H:%M}",
        f"{moment(means, one.end, is_end=True):%m-%d %H:%M}",
        say("crew {crew}", crew=one.crew) if one.crew else say.word(str(task.trade)),
        str(task.people),
        Cell(f"{task_words(one, say)}{mark}", strong=critical),
        ", ".join(task.units) or task.scaffold,
        task.line or "–",
        say.word(str(task.state)) or say("any"),
    )


def task_words(one: Placed, say: Texts = IN_ENGLISH) -> str:
    """Return what is done in a task, in one word or two."""
    kind = one.task.name.split(" ", 1)[0]
    return {
        "work": say("work"),
        "look": say("inspect"),
        "up": say("build scaffold"),
        "down": say("take scaffold down"),
    }[kind]


def schedule_pictures(plan: Plan, say: Texts = IN_ENGLISH) -> tuple[Picture, ...]:
    """Return the bars on as many sheets as they need; none where nothing is planned."""
    if not plan.schedule.placed:
        return ()
    states, rows = list(_states(plan, say)), list(_places(plan, say))
    room = max(1, ON_A_SHEET - len(states))
    sheets = [rows[first : first + room] for first in range(0, len(rows), room)]
    days = _days(plan.schedule.means)
    return tuple(
        Picture(
            schedule_chart((*states, *held), days, say=say),
            say(
                "Schedule, sheet {number} of {count}. Each day has {hours_a_day} h of work. "
                "Order: what begins first.",
                number=number,
                count=len(sheets),
                hours_a_day=f"{plan.schedule.means.hours_a_day:g}",
            ),
            "a3",
        )
        for number, held in enumerate(sheets, 1)
    )


def _days(means: Means) -> Days:
    count = (means.ends_on - means.begins_on).days + 1
    return Days(tuple(means.begins_on + timedelta(days=n) for n in range(count)))


def _states(plan: Plan, say: Texts) -> Iterator[Row]:
    """Give the plant states laid down, a row for each line, cut to the days of the turnaround."""
    held: dict[str, list[Window]] = defaultdict(list)
    for window in plan.windows:
        held[window.line].append(window)
    for line in sorted(held, key=natural_key):
        bars = (_state_bar(one, plan.schedule.means, say) for one in held[line])
        name = say("state of line {line}", line=line) if line else say("state of every line")
        yield Row(name, tuple(bar for bar in bars if bar), strong=True)


def _state_bar(window: Window, means: Means, say: Texts) -> Bar | None:
    first, last = max(window.first, means.begins_on), min(window.last, means.ends_on)
    if first > last:
        return None
    start, end = (first - means.begins_on).days, (last - means.begins_on).days + 1
    return Bar(float(start), float(end), Fill.WHITE, say.word(str(window.state)))


def _places(plan: Plan, say: Texts) -> Iterator[Row]:
    """Give each scaffold with its units beneath it, and the units that need none."""
    held: dict[str, list[Placed]] = defaultdict(list)
    for one in plan.schedule.placed:
        held[one.task.scaffold or one.task.units[0]].append(one)
    for name in sorted(held, key=lambda name: min(one.start for one in held[name])):
        own = [one for one in held[name] if one.task.trade is Trade.SCAFFOLDERS]
        if own:
            yield _scaffold(name, own, plan, say)
        yield from _units([one for one in held[name] if one not in own], plan, say)


def _scaffold(name: str, own: Sequence[Placed], plan: Plan, say: Texts) -> Row:
    day = plan.schedule.means.day
    bars = tuple(Bar(one.start / day, one.end / day, Fill.WHITE) for one in own)
    stands = (min(one.end for one in own) / day, max(one.start for one in own) / day)
    return Row(
        say("scaffold {name}", name=name), bars, stands if len(own) > 1 else None, strong=True
    )


def _units(placed: Sequence[Placed], plan: Plan, say: Texts) -> Iterator[Row]:
    held: dict[str, list[Placed]] = defaultdict(list)
    for one in placed:
        held[", ".join(one.task.units)].append(one)
    for name in sorted(held, key=lambda name: min(one.start for one in held[name])):
        bars = tuple(_bar(one, plan) for one in held[name])
        crews = dict.fromkeys(say("crew {crew}", crew=one.crew) for one in held[name] if one.crew)
        lines = dict.fromkeys(one.task.line for one in held[name] if one.task.line)
        whose = ", ".join((*lines, *crews))
        yield Row(f"{whose}: {name}" if whose else name, bars)


def _bar(one: Placed, plan: Plan) -> Bar:
    day = plan.schedule.means.day
    if one.task.trade is Trade.INSPECTORS:
        return Bar(one.start / day, one.end / day, Fill.DOTS)
    critical = one.task.name in plan.schedule.critical
    return Bar(one.start / day, one.end / day, Fill.BLACK if critical else Fill.HATCH)
