"""A pack whose order follows a plan, and one that takes work back, read back with pypdf.

The first half plans the worked line (a valve of 6.0 kN at 7 m between two constants) and holds the
pack against the plan's own figures; the second turns by hand: 22.1 kN back to 20.0 kN at 0.06 kN a
turn is 35 turns down.
"""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date
from functools import cache

import openpyxl
import pytest

from reports.contents.common import PageSize
from reports.contents.pack_of_order import JobFacts, pack_of_order
from reports.contents.plans_of_order import FollowedPlan
from reports.contents.resetting_pack import ResettingPack, TurnedPart
from reports.contents.steps import found_window
from reports.pdf.resetting_pack import pack_data, resetting_pack_pdf
from reports.xlsx.resetting_pack import resetting_pack_xlsx
from supports.rules.reset_planning.content import PlanContent
from supports.rules.reset_planning.make import make_plan
from supports.rules.reset_planning.order_lines import ChosenPlan, lines_of_plan
from supports.rules.reset_planning.wish import PlanWish
from supports.rules.site_settings import proposed_settings
from supports.rules.work_plan import as_found_window
from supports.snapshots import WorkOrderLineView, WorkOrderView
from supports.vocabulary import Known, Verdict
from tests.reports import examples
from tests.reports.examples import head
from tests.reports.reading import pages, signs_outside, squeezed
from tests.rules.planning_lines import (
    KN,
    judged,
    plate_of,
    point_of,
    route_of,
    unit_of,
    valve,
    worked_line,
)


@cache
def planned():
    """Return assessment and plan of the worked line; a prop is called for before any turn."""
    route = worked_line(reach=0.95, direction_to_decrease="anticlockwise")
    assessed = judged(route)
    return assessed, make_plan(assessed, route, PlanWish(), proposed_settings(), "fp")


def order(kind: str = "re-set", *lines: WorkOrderLineView) -> WorkOrderView:
    return WorkOrderView(
        1, "WO-1", "CH-1", 1, "written", "shut down, drained", date(2031, 5, 4), "N. N.",
        lines=lines, kind=kind,
    )  # fmt: skip


def following(content: PlanContent | None = None, kind: str = "re-set") -> ResettingPack:
    assessed, plan = planned()
    plan = content or plan
    follows = FollowedPlan("RP-1", plan, plan.alternatives[0], "A. Example on 2031-05-04")
    return pack_of_order(head("Pack", "WO-1"), order(kind), assessed, JobFacts(), (follows,))


@pytest.fixture(scope="module")
def text() -> list[str]:
    return pages(resetting_pack_pdf(following()))


def test_each_unit_gets_the_turns_and_readings_of_the_plan():
    _, plan = planned()
    chosen = plan.alternatives[0]
    sheets = {sheet.tag: sheet for sheet in following().units}
    assert {tag for tag, sheet in sheets.items() if sheet.job} == {u.name for u in chosen.units}
    for unit in chosen.units:
        sheet, steps = sheets[unit.name], [s for s in chosen.steps if s.name == unit.name]
        assert [r.step for r in sheet.job.rounds] == [s.number for s in steps]
        assert [(r.turns.whole, r.turns.flats) for r in sheet.job.rounds] == [
            (s.turns, s.flats) for s in steps
        ]
        told = sum(r.turns.whole * 6 + r.turns.flats for r in sheet.job.rounds)
        assert told == unit.turns * 6 + unit.flats
        assert sheet.job.rounds[-1].expected == pytest.approx(unit.scale_after)
        assert (sheet.scale.window_low, sheet.scale.window_high) == (
            unit.window_low, unit.window_high,
        )  # fmt: skip


def test_rounds_and_the_page_of_a_unit_call_the_engineer_at_the_same_reading():
    assessed, plan = planned()
    chosen = ChosenPlan("RP-1", plan, plan.alternatives[0])
    ordered = {one.unit_id: one for one in lines_of_plan(assessed, chosen)}
    pack = following()
    (rounds,) = pack.planned
    turned = [sheet for sheet in pack.units if sheet.job]
    assert len(turned) == 2
    for sheet in turned:
        row = next(one for one in rounds.units if one.face.tag == sheet.tag)
        line = ordered[row.face.unit_id]
        gate = as_found_window(line.from_load, line.window_low, line.window_high)
        assert found_window(sheet) == pytest.approx(gate)
        assert (row.start.low, row.start.high) == pytest.approx(gate)


def test_the_load_by_a_turn_is_that_of_the_plate():
    # 10 N a flat, six flats
    sizes = [sheet.job.load_per_turn for sheet in following().units if sheet.job]
    assert sizes == pytest.approx([60.0, 60.0])


def test_a_unit_that_the_plan_leaves_is_read_only_and_has_no_page():
    (left,) = [sheet for sheet in following().units if sheet.job is None]
    assert (left.tag, left.verdict, left.refused) == ("V1", Verdict.LEAVE, False)


def test_the_rounds_stand_near_the_front_with_neighbours_and_nozzles(text):
    _, plan = planned()
    chosen = plan.alternatives[0]
    page = squeezed(text[2])
    assert "Rounds on line L-1" in text[2]
    assert squeezed("READ ONLY") in page
    for one in chosen.rounds:
        for reading in one.readings:
            assert squeezed(f"→ {reading.scale / KN:.2f}") in page
        for nozzle in one.nozzles:
            assert squeezed(f"{100 * nozzle.use:.0f} % {nozzle.what}") in page


def test_props_are_hold_points_on_cover_and_in_the_order_of_work(text):
    hold = planned()[1].alternatives[0].holds[0]
    assert squeezed(f"put in {hold.name}, good for 6.00 kN") in squeezed(text[0])
    assert squeezed(f"take out {hold.name}, scales read") in squeezed(text[0])
    steps = next(page for page in text if "Order of work on line" in page)
    assert steps.count("HOLD") >= 2
    assert not any("Sequence of turns" in page for page in text)


def test_a_units_page_says_where_the_crew_goes_next(text):
    page = squeezed(next(page for page in text if "serial SN-2" in page and "TURN THIS" in page))
    step = next(s for s in planned()[1].alternatives[0].steps if s.name == "C2")
    assert squeezed(f"Round 1, step {step.number}: {step.turns} turns {step.flats} flats") in page
    assert squeezed(f"Then step {step.number + 1}, C1.") in page


def test_the_cover_names_the_plan_and_what_it_rests_on(text):
    for words in ("RP-1, “fewest units”, line L-1, chosen by A. Example", "SCREENING"):
        assert squeezed(words) in squeezed(text[0])


def test_nozzle_page_shows_the_use_after_each_round():
    chosen = planned()[1].alternatives[0]
    (nozzle,) = following().nozzles
    uses = [chosen.start_nozzles[0].use, *(one.nozzles[0].use for one in chosen.rounds)]
    assert nozzle.use_by_round == tuple(enumerate(uses))


def at_a_vessel(*plans: FollowedPlan) -> ResettingPack:
    """Return the pack of an order whose one nozzle is no machine's."""
    assessed, _ = planned()
    vessels = tuple(replace(one, machine=Known.NO) for one in assessed.nozzles)
    changed = replace(assessed, nozzles=vessels)
    return pack_of_order(head("Pack", "WO-1"), order(), changed, JobFacts(), plans)


def test_a_vessels_nozzle_that_the_plan_watches_gets_its_page_too():
    assert not at_a_vessel().nozzles
    plan = planned()[1]
    pack = at_a_vessel(FollowedPlan("RP-1", plan, plan.alternatives[0]))
    (page,) = [one for one in pages(resetting_pack_pdf(pack)) if "flange offset" in one]
    assert "Movement while bolting, remarks" in page
    assert "Coupling" not in page
    assert "215" in page  # 21.55 of 10 kN·m before any turn, by an independent beam script


def test_props_are_listed_beneath_the_steps_on_one_page(text):
    (page,) = [one for one in text if "Props and travel stops while the line" in one]
    assert "Order of work on line" in page


def test_same_plan_same_bytes():
    assert resetting_pack_pdf(following()) == resetting_pack_pdf(following())


@pytest.mark.parametrize("size", list(PageSize))
def test_nothing_reaches_over_the_edge(size):
    assert signs_outside(resetting_pack_pdf(following(), size)) == 0


@pytest.mark.parametrize("words", ["#panic() $x$ *b*", "X" * 300])
def test_strangers_text_in_a_plan_prints_as_text_and_stays_on_the_paper(words):
    pack = following()
    (rounds,) = pack.planned
    rows = tuple(replace(row, face=replace(row.face, tag=words)) for row in rounds.units)
    steps = tuple(replace(step, place=words, words=words) for step in rounds.steps)
    strange = replace(rounds, line=words, units=rows, steps=steps, safety=words)
    made = resetting_pack_pdf(replace(pack, planned=(strange,), plan_words=(words,)))
    assert squeezed(" ".join(pages(made))).count(squeezed(words)) > 10
    assert signs_outside(made) == 0


def test_two_lines_under_one_order_have_their_rounds_each_and_hold_points_numbered_on():
    _, plan = planned()
    other = replace(plan, line="L-2")
    follows = tuple(FollowedPlan("RP", one, one.alternatives[0]) for one in (plan, other))
    pack = pack_of_order(head("P", "WO-1"), order(), planned()[0], JobFacts(), follows)
    text = pages(resetting_pack_pdf(pack))
    assert any("Rounds on line L-1" in page for page in text)
    assert any("Rounds on line L-2" in page for page in text)
    assert [hold.number for hold in pack.hold_points] == list(range(1, 9))


def test_a_unit_whose_plate_does_not_say_the_way_is_a_stop_page():
    route = worked_line(reach=0.95)
    blind = replace(plate_of(10 * KN), direction_to_increase="")
    first, *rest = route.supports
    unit = replace(first.units[0], nameplate=blind)
    assessed = judged(replace(route, supports=(replace(first, units=(unit,)), *rest)))
    plan = planned()[1]
    follows = FollowedPlan("RP-1", plan, plan.alternatives[0])
    pack = pack_of_order(head("P", "WO-1"), order(), assessed, JobFacts(), (follows,))
    blinded = next(sheet for sheet in pack.units if sheet.tag == "C1")
    assert blinded.refused
    assert "Direction to increase" in blinded.missing[0].what


def test_units_of_which_no_plan_speaks_keep_their_sequence_of_turns():
    _, plan = planned()
    chosen = plan.alternatives[0]
    without = [
        replace(one, readings=tuple(r for r in one.readings if r.name != "C1"),
                steps=tuple(s for s in one.steps if s.name != "C1"))
        for one in chosen.rounds
    ]  # fmt: skip
    partly = replace(
        chosen, rounds=tuple(without), units=tuple(u for u in chosen.units if u.name != "C1"),
        start_readings=tuple(r for r in chosen.start_readings if r.name != "C1"),
    )  # fmt: skip
    pack = following(replace(plan, alternatives=(partly,)))
    blocks = pack_data(pack, PageSize.A4)["sequence"]
    assert [row["tag"] for block in blocks for row in block["rows"]] == ["C1"]


def test_a_plan_that_breaks_a_limit_is_stamped():
    plan = planned()[1]
    bad = replace(plan, alternatives=(replace(plan.alternatives[0], safe=False),))
    text = pages(resetting_pack_pdf(following(bad)))
    # cover, rounds, order of work
    assert sum("NOT TO BE WORKED BY" in page for page in text) == 3


def test_a_plan_that_holds_no_more_is_stamped_with_the_reason():
    _, plan = planned()
    void = FollowedPlan("RP-1", plan, plan.alternatives[0], void=("C1 was set since",))
    pack = pack_of_order(head("P", "WO-1"), order(), planned()[0], JobFacts(), (void,))
    text = pages(resetting_pack_pdf(pack))
    assert sum("VOID, NOT TO BE WORKED BY: C1 was set since" in page for page in text) == 3


def test_the_workbook_holds_the_rounds():
    pack = following()
    prints = {sheet.tag: "fp" for sheet in pack.units}
    made = resetting_pack_xlsx(pack, form_id="F", row_fingerprints=prints)
    book = openpyxl.load_workbook(io.BytesIO(made))
    rows = [r for r in book["Rounds"].iter_rows(min_row=6, values_only=True) if r[0] is not None]
    chosen = planned()[1].alternatives[0]
    expected = [
        (one.number, reading.name, round(reading.scale / KN, 4))
        for one in chosen.rounds
        for reading in one.readings
    ]
    assert [(r[0], r[1], r[4]) for r in rows if r[0] > 0] == expected
    steps = [r for r in book["Steps"].iter_rows(min_row=6, values_only=True) if r[0] is not None]
    assert [r[0] for r in steps] == [step.number for step in chosen.steps]


def test_an_order_without_a_plan_keeps_its_sequence_of_turns():
    data = pack_data(examples.pack(), PageSize.A4)
    assert data["planned"] == []
    assert data["sequence"]


# the way back


@cache
def turned_line():
    """Return the assessment of a line whose constant stands at 22.1 kN, nameplate 20.0 kN."""
    plate = plate_of(20 * KN, direction_to_decrease="anticlockwise")
    unit = unit_of(1, plate, 22.1 * KN)
    return judged(
        route_of((point_of(1, "C1", 4, (unit,), 24.0 * KN), point_of(2, "R1", 9))), valve()
    )


WAY_BACK = WorkOrderLineView(
    1, 1, 1, "C1", 1, "A", "SN-1", "re-set", "written", from_load=22.1 * KN, to_load=20 * KN,
    window_low=19.6 * KN, window_high=20.4 * KN, turns=35, flats=0, direction="anticlockwise",
)  # fmt: skip


def back(**other) -> ResettingPack:
    line = replace(WAY_BACK, **other)
    return pack_of_order(head("Undo", "WO-2"), order("undo", line), turned_line(), JobFacts())


def test_the_way_back_turns_as_its_order_says_not_as_the_assessment_did():
    (sheet,) = back().units
    # 35 turns in thirds: 12, 12 and 11; 22.1 - 0.06 · 12 = 21.38, - 0.72 = 20.66, - 0.66 = 20.00
    assert [r.expected / KN for r in sheet.job.rounds] == pytest.approx([21.38, 20.66, 20.0])
    assert sum(r.turns.total for r in sheet.job.rounds) == 35
    assert sheet.job.part is TurnedPart.LOAD_BOLT
    page = next(page for page in pages(resetting_pack_pdf(back())) if "TURN THIS" in page)
    for words in ("DECREASE", "anticlockwise", "22.10 → 20.00 kN", "19.60 – 20.40 kN"):
        assert squeezed(words) in squeezed(page)


def test_the_way_back_says_so_on_its_cover():
    text = pages(resetting_pack_pdf(back()))
    assert "WAY BACK" in text[0]
    assert "Takes back what was turned under CH-1" in text[1]


def test_what_the_way_back_does_not_touch_is_read_only():
    (sheet,) = back(action="read only").units
    assert (sheet.job, sheet.verdict, sheet.refused) == (None, Verdict.LEAVE, False)
    assert sheet.scale.required is None


@pytest.mark.parametrize("lost", [{"turns": None}, {"direction": ""}, {"from_load": None}])
def test_a_way_back_that_is_not_known_is_a_stop_page(lost):
    (sheet,) = back(**lost).units
    assert sheet.refused
    assert sheet.missing[0].what == "Turns of the way back"


def test_a_plan_back_gives_its_own_rounds():
    pack = following(kind="undo")
    assert pack.way_back
    assert [one.line for one in pack.planned] == ["L-1"]
