"""A chosen plan as the lines of a work order; what its readings say of it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from reports.languages import texts
from supports.rules.reset_planning.content import HoldSaid, Shifted
from supports.rules.reset_planning.make import make_plan
from supports.rules.reset_planning.order_lines import ChosenPlan, lines_of_plan, way_words
from supports.rules.reset_planning.order_readings import found_before, found_elsewhere
from supports.rules.reset_planning.wish import PlanAim, PlanWish
from supports.rules.site_settings import proposed_settings
from supports.snapshots import ReadingView, WorkOrderLineView, WorkOrderView
from supports.vocabulary import PlantState
from tests.rules.planning_lines import judged, worked_line

WISH = PlanWish(aim=PlanAim.LIMITS, work_state=PlantState.SHUT_DOWN_DRAINED)
SETTINGS = proposed_settings()


@pytest.fixture(scope="module")
def assessed():
    return judged(worked_line())


@pytest.fixture(scope="module")
def chosen(assessed):
    content = make_plan(assessed, worked_line(), WISH, SETTINGS, "mark")
    return ChosenPlan("PL-1", content, content.alternatives[0])


@pytest.fixture(scope="module")
def lines(assessed, chosen):
    return list(lines_of_plan(assessed, chosen))


def test_units_come_in_the_order_of_the_steps_then_the_neighbours(chosen, lines):
    by_id = {unit.unit_id: unit.name for unit in chosen.alternative.units}
    order = [by_id[line.unit_id] for line in lines if line.action == "re-set"]
    steps = [step.name for step in chosen.alternative.steps if step.turns or step.flats]
    assert order == list(dict.fromkeys(steps))
    assert [line.action for line in lines] == ["re-set"] * len(order) + ["read only"] * (
        len(lines) - len(order)
    )
    assert len(lines) == 3  # C1, C2 and the variable: every spring of the line


def test_each_line_says_what_comes_before_it_and_what_each_round_gives(chosen, lines):
    first, *rest = [line for line in lines if line.action == "re-set"]
    assert first.waits_for == "in before the weight is let go: prop at 7.00 m"
    assert all(line.waits_for.startswith("after ") for line in rest)
    for line in [first, *rest]:
        unit = next(u for u in chosen.alternative.units if u.unit_id == line.unit_id)
        assert (line.turns, line.flats) == (unit.turns, unit.flats)
        assert (line.from_load, line.to_load) == (unit.scale_before, unit.scale_after)
        assert (line.window_low, line.window_high) == (unit.window_low, unit.window_high)
        assert line.remark.startswith("round 1: ")


def test_a_hold_is_called_by_its_name_or_as_the_stop_of_its_unit(assessed, chosen):
    holds = (HoldSaid("prop at 7.00 m", "prop", 0.0, 1e3, 1, 2),
             HoldSaid("V1", "travel stop", 0.0, 1e3, 1, 2))  # fmt: skip
    held = replace(chosen, alternative=replace(chosen.alternative, holds=holds))
    words = next(iter(lines_of_plan(assessed, held))).waits_for
    assert words == "in before the weight is let go: prop at 7.00 m, travel stop of V1"
    earlier = "in before the weight is let go: prop at 7.00 m (prop), V1 (travel stop)"
    for one in (words, earlier):
        assert texts("de").sentence(one) == (
            "eingesetzt, bevor das Gewicht freigegeben wird: Stütze bei 7.00 m, Blockierung von V1"
        )


def test_the_way_of_turning_is_the_plates_or_that_of_the_rod(assessed, chosen):
    units = {unit.id: unit for s in assessed.supports for unit in s.units}
    for turn in chosen.alternative.units:
        words = way_words(units[turn.unit_id], turn)
        if turn.variable:
            # turnbuckle, pitch 3 mm: 6 mm of rod to a turn
            length = 6.0 * (turn.turns + turn.flats / 6.0)
            assert words == f"shorten the rod by {length:.1f} mm"
        else:
            assert words == "clockwise"
    variable = next(turn for turn in chosen.alternative.units if turn.variable)
    assert way_words(units[variable.unit_id], replace(variable, increases=False)).startswith(
        "lengthen the rod by "
    )


def order_of(lines, found):
    """Return an order whose units were read as given; None is not read."""
    views = tuple(
        WorkOrderLineView(
            id=place, order_no=place, point_id=line.point_id, tag="", unit_id=line.unit_id,
            position="A", serial="", action=line.action, state="in hand", from_load=line.from_load,
            window_low=line.window_low, window_high=line.window_high,
            as_found=None if load is None else read(load),
        )
        for place, (line, load) in enumerate(zip(lines, found, strict=True), start=1)
    )  # fmt: skip
    return WorkOrderView(
        1, "WO-1", "CH-1", 1, "in hand", "shut down, drained", DAY, "PL", lines=views
    )


DAY = date(2031, 5, 4)


def read(load):
    return ReadingView(DAY, PlantState.SHUT_DOWN_DRAINED, load, None, "T1", "as found")


def test_a_reading_beyond_half_the_window_is_found_elsewhere(assessed, chosen, lines):
    first = lines[0]
    half = (first.window_high - first.window_low) / 2.0
    for off, elsewhere in ((0.999, False), (1.0, False), (1.001, True), (-1.001, True)):
        load = first.from_load + off * half
        order = order_of(lines, [load, *(None for _ in lines[1:])])
        found = found_elsewhere(order, assessed, chosen.alternative, SETTINGS)
        assert bool(found) is elsewhere
        assert not elsewhere or list(found.values()) == [load]


def test_what_is_not_read_says_nothing(assessed, chosen, lines):
    order = order_of(lines, [None for _ in lines])
    assert found_elsewhere(order, assessed, chosen.alternative, SETTINGS) == {}


def test_what_an_earlier_reading_had_found_holds_until_the_unit_is_turned(assessed, chosen, lines):
    name = chosen.alternative.units[0].name
    shifted = replace(chosen, content=replace(chosen.content, shifted=(Shifted(name, 100.0),)))
    order = order_of(lines, [None for _ in lines])
    shown = next(r.scale for r in chosen.alternative.start_readings if r.name == name)
    assert found_before(order, assessed, shifted) == {name: shown}
    unit = chosen.alternative.units[0].unit_id
    done = tuple(
        replace(line, as_left=read(1.0)) if line.unit_id == unit else line for line in order.lines
    )
    assert found_before(replace(order, lines=done), assessed, shifted) == {}
