"""The schedule as bars: all work is on a sheet, at its time, marked where it is critical.

Times are worked by hand: ten hours a day are 40 quarters of an hour, so quarter 20 is half a day.
"""

from __future__ import annotations

from datetime import date

import pytest

from reports.contents.schedule_bars import ON_A_SHEET, schedule_pictures
from reports.drawings.boxes import text_width
from reports.drawings.primitives import Fill, Shape, Words
from reports.drawings.schedule_chart import Bar, Days, Row, schedule_chart
from supports.rules.turnaround.norms import proposed_norms
from supports.rules.turnaround.plan import Plan
from supports.rules.turnaround.schedule import Placed, Schedule
from supports.rules.turnaround.scope import Scope
from supports.rules.turnaround.tasks import Means, Task, Trade, Window

MEANS = Means(date(2031, 5, 1), date(2031, 5, 10), 10.0, 2, 4, 3, 1, 1)
NAMES, DAY = 95.0, 28.5
"""380 mm across, 95 mm of names: ten days share the other 285 mm."""
DATES = tuple(date(2031, 5, day) for day in range(1, 11))


def task(name: str, trade: Trade, *units: str, scaffold: str = "") -> Task:
    return Task(name, trade, 20, 2, line="L-1", scaffold=scaffold, units=units)


PLACED = (
    Placed(task("up S-1", Trade.SCAFFOLDERS, scaffold="S-1"), 0),
    Placed(task("work 001", Trade.FITTERS, "PS-1", "PS-2", scaffold="S-1"), 20, crew=1),
    Placed(task("look 001", Trade.INSPECTORS, "PS-1", "PS-2", scaffold="S-1"), 40),
    Placed(task("down S-1", Trade.SCAFFOLDERS, scaffold="S-1"), 60),
    Placed(task("work 002", Trade.FITTERS, "PS-9"), 80, crew=2),
)


def plan(placed: tuple[Placed, ...] = PLACED, critical: tuple[str, ...] = ("work 001",)) -> Plan:
    windows = (Window("L-1", "shut down, drained", date(2031, 4, 28), date(2031, 5, 4)),)
    schedule = Schedule(MEANS, placed, (), critical)
    return Plan(Scope((), (), (), ()), proposed_norms(), windows, schedule, ())


def bars(fill: Fill, of: Plan | None = None) -> list[tuple[float, float]]:
    """Return the left and right ends of the bars in days; the rows end 47 mm down."""
    (picture,) = schedule_pictures(of or plan())
    shapes = [one for one in picture.drawing.items if isinstance(one, Shape) and one.width > 0.0]
    return [
        tuple(round((x - NAMES) / DAY, 6) for x in (one.points[0][0], one.points[1][0]))
        for one in shapes
        if one.fill is fill and one.points[0][0] >= NAMES and one.points[0][1] < 47.0
    ]


def words(of: Plan | None = None) -> list[str]:
    (picture,) = schedule_pictures(of or plan())
    return [one.text for one in picture.drawing.items if isinstance(one, Words)]


def test_bars_stand_at_their_times_and_critical_work_is_black():
    assert bars(Fill.BLACK) == [(0.5, 1.0)]
    assert bars(Fill.HATCH) == [(2.0, 2.5)]
    assert bars(Fill.DOTS) == [(1.0, 1.5)]
    # a state laid down before the first day is cut there; the scaffold goes up, and comes down
    assert bars(Fill.WHITE) == [(0.0, 4.0), (0.0, 0.5), (1.5, 2.0)]


def test_rows_are_named_and_a_scaffold_heads_the_units_that_it_serves():
    said = words()
    order = ["state of line L-1", "scaffold S-1", "L-1, crew 1: PS-1, PS-2", "L-1, crew 2: PS-9"]
    assert [one for one in said if one in order] == order


def test_every_row_is_on_some_sheet():
    many = tuple(
        Placed(task(f"work {n:03d}", Trade.FITTERS, f"PS-{n}"), n % 300, crew=1) for n in range(100)
    )
    pictures = schedule_pictures(plan(many))
    assert len(pictures) == -(-100 // (ON_A_SHEET - 1))
    shown = {one.text for p in pictures for one in p.drawing.items if isinstance(one, Words)}
    assert {f"L-1, crew 1: PS-{n}" for n in range(100)} <= shown
    assert all(one.drawing.height < 250.0 and one.sheet == "a3" for one in pictures)


def test_without_a_schedule_there_is_no_sheet():
    assert schedule_pictures(plan(())) == ()


@pytest.mark.parametrize("name", ["PS-1", "X" * 300, "#panic() $x$"])
def test_a_name_keeps_to_its_room(name):
    drawn = schedule_chart((Row(name, (Bar(0.0, 1.0, Fill.HATCH, name),)),), Days(DATES))
    named = next(one for one in drawn.items if isinstance(one, Words) and one.text[0] == name[0])
    assert text_width(named.text, named.size) < NAMES
