"""Papers of plans on record: the plan's own, and the packs of orders that follow it."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import openpyxl
import pytest
from pypdf import PdfReader

from app.papers import write_pack
from app.plan_papers import write_plan
from supports.audit import head
from supports.errors import NotReady
from supports.freezing import short
from supports.operations.changes import call_off
from supports.operations.plans import (
    Asked,
    choose_plan,
    make_reset_plan,
    plan_the_way_back,
)
from supports.operations.work_orders import write_undo_order, write_work_order
from supports.queries.lookups import plan_of
from supports.queries.plans import plan_on_record
from supports.rules.reset_planning.wish import PlanAim
from supports.vocabulary import PlantState
from tests.operations.planned_line import approved
from tests.operations.plans_made import put_props
from tests.operations.road import Road
from tests.reports.reading import squeezed

WHEN = datetime(2031, 6, 1, 8, 0)  # noqa: DTZ001 - papers take the time as given
DRAINED = PlantState.SHUT_DOWN_DRAINED


def text_of(path: Path) -> str:
    return squeezed(" ".join(page.extract_text() for page in PdfReader(path).pages))


def pack(road: Road, into: Path, **how) -> tuple[str, list[str]]:
    """Return the text of an order's pack, and the sheets of its workbook."""
    with road.register.reading() as session:
        pdf, xlsx = write_pack(session, road.order, into, WHEN, **how)
    return text_of(pdf), openpyxl.load_workbook(xlsx).sheetnames


def made(road: Road) -> str:
    asked = Asked(aim=PlanAim.CALCULATION, work_state=DRAINED, alone=True)
    return make_reset_plan(road.register, road.number, "L-1", asked, acting="S1", now=road.now)


def choose(road: Road, number: str) -> None:
    choose_plan(road.register, number, 1, reason="one prop", acting="RE", now=road.now)


@pytest.fixture
def ordered(register) -> tuple[Road, str]:
    """Give a road with the order of a chosen plan given out."""
    road = approved(register)
    number = made(road)
    choose(road, number)
    road.order = write_work_order(register, road.number, line_state="", acting="PL", now=road.now)
    return road.hand_over(), number


def test_the_paper_of_a_plan_names_who_chose_it_and_what_it_stands_on(ordered, tmp_path):
    road, number = ordered
    with road.register.reading() as session:
        pdf, xlsx = write_plan(session, number, tmp_path, WHEN)
        proof = short(head(session))
    text = text_of(pdf)
    for words in (proof, number, "Reason: one prop", "C-1 rev. B", road.order, "prop at 7.00 m",
                  "215 %", "Why not simply walk down the line?"):  # fmt: skip
        assert squeezed(words) in text, words
    assert "NOTTOBEWORKEDBY" not in text
    assert "Readings" in openpyxl.load_workbook(xlsx).sheetnames


def test_the_pack_of_the_order_prints_the_rounds_of_the_plan(ordered, tmp_path):
    road, number = ordered
    text, sheets = pack(road, tmp_path, copy=1)
    for words in (number, "Rounds on line L-1", "put in prop at 7.00 m", "Round 1, step 2",
                  "given to crew"):  # fmt: skip
        assert squeezed(words) in text, words
    assert {"Steps", "Rounds", "Nozzles"} <= set(sheets)


def test_no_copy_to_work_by_is_printed_from_a_plan_that_holds_no_more(ordered, tmp_path):
    road, number = ordered
    later = made(road)
    choose(road, later)
    with pytest.raises(NotReady, match=f"{later} was chosen in its place"):
        pack(road, tmp_path, copy=1)
    text, _ = pack(road, tmp_path)
    assert squeezed(f"VOID, NOT TO BE WORKED BY: {later} was chosen") in text
    with road.register.reading() as session:
        pdf, _ = write_plan(session, number, tmp_path, WHEN)
    assert squeezed(f"{later} was chosen in its place") in text_of(pdf)


def test_an_order_without_a_plan_prints_no_rounds(register, tmp_path):
    road = approved(register)
    road.order = write_work_order(register, road.number, line_state="", acting="PL", now=road.now)
    text, sheets = pack(road, tmp_path)
    assert squeezed("Sequence of turns") in text
    assert squeezed("Rounds on line") not in text
    assert "Rounds" not in sheets


def test_the_way_back_by_a_plan_prints_its_own_rounds_in_an_undo_pack(ordered, tmp_path):
    road, number = ordered
    with road.register.reading() as session:
        chosen = plan_on_record(session, plan_of(session, number)).content.alternatives[0]
    unit = next(one for one in chosen.units if one.name == "C1")
    put_props(road, number)
    road.found("C1", unit.scale_before)
    road.left("C1", unit.scale_after)
    call_off(road.register, road.number, acting="RE", reason="no valve", now=road.now)
    back = plan_the_way_back(
        road.register, road.number, "L-1", weight_on=False, work_state=None, acting="S1",
        now=road.now,
    )  # fmt: skip
    choose(road, back)
    road.order = write_undo_order(
        road.register, road.number, line_state="", acting="PL", now=road.now
    )
    text, sheets = pack(road, tmp_path)
    for words in ("Undo pack", "WAY BACK", back, "DECREASE", "Rounds on line L-1",
                  f"{unit.turns} turns {unit.flats} flats to decrease"):  # fmt: skip
        assert squeezed(words) in text, words
    assert squeezed("to increase") not in text
    assert "Rounds" in sheets
