"""Every setting of the site matters: moved a little either way, some answer changes.

Limits that a rule compares with are moved in `test_every_rule`, on a row exactly at each of them;
here stand all the others, each with an answer that hangs on it. Figures are invented.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from supports.operations.plans import making
from supports.rules.catalogue import RULES, rule_of
from supports.rules.facts import facts_of_views
from supports.rules.frame import Frame
from supports.rules.reset_planning.build import planning_of
from supports.rules.reset_planning.make import make_plan
from supports.rules.reset_planning.springs import access_group
from supports.rules.reset_planning.wish import PlanAim, PlanWish
from supports.rules.rule import Limits, Override, ask
from supports.rules.site_settings import SiteSettings, limits, profiles, proposed_settings
from supports.rules.unit_frame import unit_frame
from supports.rules.walkdown.expectation import movement_share
from supports.rules.walkdown.limits import walk_limits
from supports.rules.walkdown.route import minutes_at
from supports.snapshots import SupportView
from supports.vocabulary import PlantState, SupportKind
from tests.rules.cases import CONSTANT, but, one
from tests.rules.planning_lines import judged, plate_of, point_of, unit_of, worked_line

PROPOSED = proposed_settings()
HIGH = SupportView(1, "PS-1", SupportKind.CONSTANT_HANGER, height_above_floor=4.0)
LOW = replace(HIGH, height_above_floor=1.0)


def frame_of(settings: SiteSettings, *views: SupportView, gap: float = np.nan) -> Frame:
    facts = facts_of_views(views)
    points = {**facts.points, "gap_seen": np.full(len(views), gap)}
    return unit_frame(replace(facts, points=points), settings)[0]


def bare_plate() -> SupportView:
    """Return a constant whose nameplate says nothing of its adjusting range."""
    plate = replace(plate_of(20_000.0), range_low=None, range_high=None)
    return point_of(1, "C1", 4, (unit_of(1, plate, 20_000.0),), 20_000.0)


def _ends(settings: SiteSettings) -> Any:
    rows = frame_of(settings, bare_plate())
    return (rows["range_low"][0], rows["range_high"][0])


def _touches(settings: SiteSettings) -> Any:
    rest = SupportView(1, "PS-1", SupportKind.REST)
    return [frame_of(settings, rest, gap=g)["touches"][0] for g in (0.000_99, 0.001, 0.001_01)]


@cache
def _assessed() -> Any:
    route = worked_line(reach=0.95)
    return judged(route), route


def _planning(settings: SiteSettings) -> Any:
    return planning_of(*_assessed(), PlanWish(), settings)


def _share(settings: SiteSettings) -> Any:
    state = PlantState.OPERATING_STEADY  # 90 % of the rise from 21 °C to 421 °C is at 381 °C
    near = [movement_share(state, t, 694.15, walk_limits(settings)) for t in (654.1, 654.2)]
    return (near, movement_share(state, 600.0, 694.15, walk_limits(settings)))


def _wish(settings: SiteSettings) -> Any:
    return making.Asked(PlanAim.LEVEL).wish(settings)


@cache
def _costs(settings: SiteSettings) -> Any:
    plan = make_plan(*_assessed(), PlanWish(), settings, "fp")
    return [one.cost for one in plan.alternatives]


ANSWERS: dict[str, Callable[[SiteSettings], Any]] = {
    "field_range": _ends,
    "contact_gap": _touches,
    "temperature_share": _share,
    "ambient": _share,
    "minutes_each": lambda s: minutes_at(LOW, walk_limits(s)),
    "minutes_high": lambda s: minutes_at(HIGH, walk_limits(s)),
    "reach": lambda s: access_group(HIGH, s),
    "scaffold_group": lambda s: access_group(HIGH, s),
    "scaffold_metre": lambda s: access_group(HIGH, s),
    "plan_visit": lambda s: [u.limits.cost for u in _planning(s).layout.units.values()],
    "plan_replace": lambda s: [u.limits.replace_cost for u in _planning(s).layout.units.values()],
}
"""By setting that no rule compares with, an answer that hangs on it."""

IN_STEPS: dict[str, tuple[float, Callable[[SiteSettings], Any]]] = {
    "plan_step": (3.0, _wish),
    "plan_friction": (0.5, _wish),
    "plan_crew": (3.0, _costs),
    "plan_turn": (0.2, _costs),
    "close_use": (0.01, _costs),
    "plan_add": (1.0, lambda s: _planning(s).problem.additions),
}
"""Settings that a small change cannot move, or that only a whole plan shows: another value."""


def test_no_setting_is_without_its_test():
    compared = {name for rule in RULES for name in rule.limits}
    assert not compared & {*ANSWERS, *IN_STEPS}
    assert compared | {*ANSWERS, *IN_STEPS} == set(limits())


@pytest.mark.parametrize("name", IN_STEPS)
def test_a_setting_of_plans_changes_a_plan(name):
    value, answer_of = IN_STEPS[name]
    moved = replace(PROPOSED, **{name: value})
    assert repr(answer_of(PROPOSED)) != repr(answer_of(moved))


@pytest.mark.parametrize("name", ANSWERS)
@pytest.mark.parametrize("share", [0.05, -0.05])
def test_a_setting_that_no_rule_compares_with_changes_an_answer(name, share):
    was = getattr(PROPOSED, name)
    moved = replace(PROPOSED, **{name: was * (1.0 + share) or abs(share)})
    assert repr(ANSWERS[name](PROPOSED)) != repr(ANSWERS[name](moved))


@pytest.mark.parametrize("assumed", [0.0, 0.10, 0.15])
def test_the_range_on_the_nameplate_outranks_the_one_of_the_site(assumed):
    # 20 kN with 17 to 23 kN stamped: 22.9 kN is inside although the site would say 10 %
    settings = replace(PROPOSED, field_range=assumed)
    stamped = replace(plate_of(20_000.0), range_low=17_000.0, range_high=23_000.0)
    view = point_of(1, "C1", 4, (unit_of(1, stamped, 20_000.0),), 22_900.0)
    rows = frame_of(settings, view)
    assert (rows["range_low"][0], rows["range_high"][0]) == (17_000.0, 23_000.0)
    low, high = _ends(settings)
    if assumed:
        assert (low, high) == pytest.approx((20_000.0 * (1 - assumed), 20_000.0 * (1 + assumed)))
    else:
        assert np.isnan(low)
        assert np.isnan(high)


def test_half_a_range_on_the_nameplate_is_not_completed_by_the_site():
    half = replace(plate_of(20_000.0), range_low=17_000.0, range_high=None)
    view = point_of(1, "C1", 4, (unit_of(1, half, 20_000.0),), 22_900.0)
    rows = frame_of(replace(PROPOSED, field_range=0.10), view)
    assert rows["range_low"][0] == 17_000.0
    assert np.isnan(rows["range_high"][0])


def test_a_line_outranks_its_class_and_a_class_the_site_in_the_answer_itself():
    rule = rule_of("constant-needs-re-set")
    own = (Override("band", "class:A", 0.04), Override("band", "line:L-7", 0.20))
    rows = one(rule, but(CONSTANT, required=21_000.0, line="L-1", criticality="B"))  # 5 %
    answers = {}
    for line, letter in (("L-1", "B"), ("L-1", "A"), ("L-7", "A"), ("L-7", "B")):
        words = {"line": [line], "criticality": [letter]}
        here = rows.with_columns({k: np.array(v, dtype=object) for k, v in words.items()})
        answers[line, letter] = bool(ask(rule, here, Limits(PROPOSED, own)).codes[0] == 3)
    assert answers == {
        ("L-1", "B"): False, ("L-1", "A"): True, ("L-7", "A"): False, ("L-7", "B"): False,
    }  # fmt: skip


def test_every_profile_names_settings_with_their_trust():
    for values in profiles().values():
        assert {value.name for value in values} <= set(limits())
        assert {value.trust for value in values} <= {"from memory", "no source", "read"}
