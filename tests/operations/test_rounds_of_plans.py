"""A reading after a round is held against what the plan foretells and the pack prints."""

from __future__ import annotations

import pytest

from reports.contents.plans_of_order import FollowedPlan, rounds_of_plan
from supports.operations.part_way import Round, record_round
from supports.queries.change_views import content_of, latest_assessment
from supports.queries.lookups import change_of
from tests.operations.planned_line import approved
from tests.operations.plans_made import choose, first_units, make, put_props, record, write
from tests.operations.road import Road


@pytest.fixture
def ordered(register) -> tuple[Road, str]:
    """Give a road with the order of a chosen plan given out."""
    road = approved(register)
    number = make(road)
    choose(road, number)
    road.order = write(road)
    road.hand_over()
    put_props(road, number)
    return road, number


def test_a_round_is_held_against_what_the_plan_foretells(ordered):
    road, number = ordered
    alternative = record(road, number).content.alternatives[0]
    one = next(r for r in alternative.rounds if any(s.name == "C1" for s in r.steps))
    earlier = alternative.rounds[one.number - 2].readings if one.number > 1 else None
    before = next(r.scale for r in earlier or alternative.start_readings if r.name == "C1")
    after = next(r.scale for r in one.readings if r.name == "C1")
    road.found("C1", first_units(road, number)["C1"].scale_before)

    def read(share: float, **more: float) -> bool | None:
        done = Round(one.number, before + share * (after - before), "T1", **more)
        return record_round(road.register, road.order, ("C1", ""), done, acting="T1", now=road.now)

    assert read(1.0)
    assert read(0.81)  # the site's limit is 20 % of the step; common practice
    assert not read(0.79)
    # found 100 N higher within its window: the step counts, and the window moves with it
    low, high = window_printed(road, number, one.number)
    for at, good in (
        (low - 1.0, False),
        (low + 1.0, True),
        (high - 1.0, True),
        (high + 1.0, False),
    ):
        share = (at - before) / (after - before)
        assert read(share) is good
        assert read(share + 100.0 / (after - before), before=before + 100.0) is good


def window_printed(road: Road, number: str, round_no: int) -> tuple[float, float]:
    """Return the window that C1's page of the pack prints for a round [N]."""
    content = record(road, number).content
    plan = FollowedPlan(number, content, content.alternatives[0])
    with road.register.reading() as session:
        change = change_of(session, road.number)
        rounds = rounds_of_plan(plan, content_of(latest_assessment(session, change.id)))
    cell = next(row for row in rounds.units if row.face.tag == "C1").cells[round_no - 1]
    return cell.at_step.low, cell.at_step.high
