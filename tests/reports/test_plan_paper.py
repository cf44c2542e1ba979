"""The paper of a re-set plan, read back with pypdf, pdfium and openpyxl.

Figures are worked by hand in `plan_examples`; N per lbf is 4.448 222 (NIST SP 811 (2008),
appendix B.8).
"""

from __future__ import annotations

import io
from dataclasses import replace
from typing import Any

import openpyxl
import pytest

from reports.contents import field_words
from reports.contents.common import PageSize
from reports.contents.plan_paper import side_by_side
from reports.contents.planned_rounds import (
    SCREENING,
    flats_of,
    may_be_worked_by,
    planned_rounds,
    turns_of,
)
from reports.drawings.primitives import Shape, Words
from reports.drawings.use_chart import HeldSpan, NozzleLine, StepBar, use_chart
from reports.pdf.plan_paper import plan_paper_data, plan_paper_pdf
from reports.xlsx.plan_paper import plan_paper_xlsx
from reports.xlsx.planned_rounds import nozzle_rows, reading_rows
from tests.reports import plan_examples as plans
from tests.reports.reading import pages, signs_outside, squeezed


@pytest.fixture(scope="module")
def made() -> bytes:
    return plan_paper_pdf(plans.paper())


@pytest.fixture(scope="module")
def text(made: bytes) -> list[str]:
    return pages(made)


@pytest.fixture(scope="module")
def book() -> Any:
    return openpyxl.load_workbook(io.BytesIO(plan_paper_xlsx(plans.paper())))


def rounds():
    return planned_rounds(plans.plan(), plans.content(), plans.FACES, plans.SLACK)


def page_with(text: list[str], words: str) -> str:
    return squeezed(next(page for page in text if squeezed(words) in squeezed(page)))


def test_windows_by_hand():
    c101, c102, v104 = rounds().units
    # 20 % of 0.75 kN is 0.15 kN, of 0.583 kN 0.117 kN; half a per cent of 21.5 kN is 0.108 kN
    first, second, _ = c101.cells
    assert (first.low, first.high) == pytest.approx((20600, 20900), abs=0.01)
    assert (second.low, second.high) == pytest.approx((21350, 21650), abs=0.01)
    assert c101.cells[2].low == pytest.approx(21966.67, abs=0.01)
    # 20 % of 110 lbf is 22 lbf, less than half a per cent of 4 610 lbf: 23.05 lbf
    assert c102.cells[0].high / plans.LBF == pytest.approx(4610 + 23.05)
    # read only: 5 % of 13.4 kN is 0.67 kN, more than 0.4 kN of friction
    assert v104.cells[0].low == pytest.approx(13400 - 670)
    assert v104.turned is None


def test_a_unit_that_gets_no_turn_is_read_only():
    still = replace(plans.units()[0], turns=0, flats=0)
    plan = replace(plans.plan(), units=(still, plans.units()[1]))
    (c101, *_) = planned_rounds(plan, plans.content(), plans.FACES, plans.SLACK).units
    assert c101.turned is None


def test_friction_beyond_the_share_widens_the_window():
    loose = replace(plans.SLACK, variable=0.01)
    (*_, v104) = planned_rounds(plans.plan(), plans.content(), plans.FACES, loose).units
    # 1 % of 13.4 kN is 0.134 kN, less than 0.4 kN of friction
    assert (v104.cells[0].low, v104.cells[0].high) == (13000, 13800)


def test_the_crew_is_told_where_to_go_next():
    steps = rounds().steps
    then = [step.cell.then for step in steps if step.cell]
    assert then == [
        "Then step 3, C-102", f"Then HOLD, step 4: take out {plans.PROP}", "Then step 6, C-101",
        "Round 2 ends: read every scale, then step 7, C-101", "Then step 8, C-102",
        "Last step. Read every scale",
    ]  # fmt: skip
    assert [step.number for step in steps] == list(range(1, 9))


def test_turns_of_the_rounds_are_those_of_the_plan():
    for row in rounds().turned:
        told = [cell.turns for cell in row.cells if cell and cell.turns]
        assert sum(map(flats_of, told)) == flats_of(turns_of(row.turned))


def test_every_page_carries_the_head(text):
    head = plans.paper().head
    for number, page in enumerate(text, 1):
        bare = squeezed(page)
        for part in (head.number, head.fingerprint, head.plant, f"page {number} of {len(text)}"):
            assert squeezed(part) in bare


def test_the_first_page_says_what_it_is_and_who_signs(text):
    for words in (SCREENING, "one scaffold less", "A. Example", "stress engineer, prepared",
                  "7c1e94ab20d3", "LC-0417", field_words.DEFERENCE):  # fmt: skip
        assert squeezed(words) in squeezed(text[0]), words


def test_plans_stand_side_by_side(text):
    page = page_with(text, "Plans side by side")
    # 7.433 h of the crew, 14.867 man-hours and 12 on the scaffold: 26.9
    for words in ("3; 6", "14.3", "7.4", "14.9", "12.0", "26.9", "215 %", "N1 42 %",
                  "turns in all: gap 2.3 %", "YES, once accepted", "NO: cannot be done",
                  "1 step ends close to a limit", "CHOSEN"):  # fmt: skip
        assert squeezed(words) in page, words


def test_rounds_with_readings_in_the_scales_own_unit(text):
    page = page_with(text, "Rounds on line")
    for words in (
        "step 2 +3 t → 20.75", "20.60 – 20.90", "step 6 +3 t → 21.50", "step 7 +2 t 2 f → 22.08",
        "21.97 – 22.20", "step 3 +2 t → 4 610", "4 587 – 4 633", "→ 4 830", "READ ONLY",
        "→ 13.40", "12.73 – 14.07", "pointer 42 mm", "pointer 6.00 in", "21.66 – 22.54 kN",
        f"step 1: put in {plans.PROP}", f"step 4: take out {plans.PROP}", "215 % nothing propped",
        "80 % My", "64 % My", "42 % My",
    ):  # fmt: skip
        assert squeezed(words) in page, words


def test_steps_are_listed_with_props_as_hold_points(text):
    page = page_with(text, "Order of work, step by step")
    assert page.count("HOLD") == 2
    assert squeezed("2 turns 2 flats to increase") in page
    assert page.index(squeezed("3 turns to increase")) < page.index(squeezed("2 turns to increase"))


def test_a_prop_that_is_in_stands_with_its_number_and_who_put_it_in():
    hung = replace(plans.paper(), props={plans.PROP: ("P-07", "A. Rigger, 2031-05-04")})
    (held,) = plan_paper_data(hung, PageSize.A4)["plan"]["rounds"]["holds"]
    assert held[-2:] == ["P-07", "A. Rigger, 2031-05-04"]


def test_why_walking_down_the_line_would_fail(text):
    page = page_with(text, "Why not simply walk down the line?")
    assert "FAILS" in page
    assert squeezed("(C-102 → C-101), each unit at once, a limit would be passed at C-102") in page
    assert squeezed("120 %") in page


def test_what_cannot_be_done_names_limits_and_the_way_round(text):
    page = page_with(text, "What cannot be done, and why")
    assert squeezed("would be passed by 12.21 kN·m") in page
    assert squeezed("Replace C-101 by a unit that takes 26.00 kN") in page


@pytest.mark.parametrize(
    "worse",
    [
        {"alternatives": (replace(plans.plan(), safe=False),)},
        {"alternatives": (replace(plans.plan(), can_be_done=False),)},
        {"missing": ("friction of C-101",)},
    ],
)
def test_a_plan_in_doubt_is_stamped(worse):
    doubtful = replace(plans.content(), **worse)
    assert not may_be_worked_by(doubtful.alternatives[0], doubtful)
    text = pages(plan_paper_pdf(replace(plans.paper(), content=doubtful)))
    assert sum("NOT TO BE WORKED BY" in page for page in text) >= 4
    assert "YES" not in " ".join(text)


def test_a_void_plan_says_why_on_its_first_page_and_wherever_it_is_worked_by():
    text = pages(plan_paper_pdf(replace(plans.paper(), void=("C-101 was set since",))))
    assert "VOID C-101 was set since" in text[0]
    assert sum("NOT TO BE WORKED BY: C-101 was set since" in page for page in text) >= 4


def test_without_a_choice_the_paper_asks_for_one():
    text = pages(plan_paper_pdf(replace(plans.paper(), choice=None)))
    assert "Nobody has chosen yet" in text[0]
    assert "CHOSEN" not in " ".join(text)


def test_same_plan_same_bytes(made):
    assert plan_paper_pdf(plans.paper()) == made
    assert plan_paper_xlsx(plans.paper()) == plan_paper_xlsx(plans.paper())


@pytest.mark.parametrize("size", list(PageSize))
def test_nothing_reaches_over_the_edge(size):
    assert signs_outside(plan_paper_pdf(plans.paper(), size)) == 0


@pytest.mark.parametrize("words", ["#panic()", "$x$ *b* @ref", "X" * 300])
def test_strangers_text_prints_as_text_and_stays_on_the_paper(words):
    face = replace(plans.FACES[1], tag=words, place=words, kind=words)
    content = replace(
        plans.content(), notes=(words,),
        alternatives=(replace(plans.plan(), verdict=words, safety=words), plans.impossible()),
    )  # fmt: skip
    paper = replace(plans.paper(), content=content, faces=plans.FACES | {1: face})
    made = plan_paper_pdf(paper)
    assert squeezed(" ".join(pages(made))).count(squeezed(words)) >= 4
    assert signs_outside(made) == 0


def test_many_rounds_go_on_on_further_sheets():
    one = plans.rounds()[2]
    many = tuple(
        replace(
            one,
            number=n,
            steps=tuple(replace(s, number=2 * n + i) for i, s in enumerate(one.steps)),
        )
        for n in range(1, 13)
    )
    plan = replace(plans.plan(), rounds=many, holds=())
    paper = replace(plans.paper(), content=replace(plans.content(), alternatives=(plan,)))
    text = " ".join(pages(plan_paper_pdf(paper)))
    assert all(f"ROUND {n}" in text.upper() for n in range(1, 13))


def test_an_empty_plan_is_a_paper_all_the_same():
    nothing = replace(plans.content(), alternatives=(), not_turned=(), notes=())
    made = plan_paper_pdf(replace(plans.paper(), content=nothing, choice=None))
    assert "nothing is planned" in pages(made)[0]
    assert plan_paper_xlsx(replace(plans.paper(), content=nothing))


# the workbook


def rows_of(book: Any, name: str) -> list[tuple]:
    return [row for row in book[name].iter_rows(min_row=6, values_only=True) if row[0] is not None]


def test_workbook_and_paper_say_the_same(book):
    assert book.sheetnames == ["Plans", "Units", "Steps", "Readings", "Nozzles", "Words"]
    assert rows_of(book, "Readings") == [tuple(row) for row in reading_rows(rounds())]
    assert rows_of(book, "Nozzles") == [tuple(row) for row in nozzle_rows(rounds())]
    sides = side_by_side(plans.content())
    assert [row[:3] for row in rows_of(book, "Plans")] == [(s.what, *s.values) for s in sides]


def test_turns_of_the_steps_add_up_to_those_of_the_units(book):
    for unit in rows_of(book, "Units"):
        steps = [row for row in rows_of(book, "Steps") if row[2] == unit[0]]
        given = sum(6 * row[6] + row[7] for row in steps)
        assert given == 6 * unit[5] + unit[6]


def test_no_cell_is_a_formula():
    face = replace(plans.FACES[1], tag="=1+1", place="@SUM(A1)")
    sheets = openpyxl.load_workbook(
        io.BytesIO(plan_paper_xlsx(replace(plans.paper(), faces=plans.FACES | {1: face})))
    )
    cells = [cell for sheet in sheets for row in sheet.iter_rows() for cell in row]
    assert not [cell for cell in cells if cell.data_type == "f" or cell.hyperlink]
    assert "=1+1" in [cell.value for cell in cells]


# the chart


def test_the_chart_cuts_what_is_too_high_and_still_says_it():
    drawing = use_chart(
        [StepBar("start", 2.15), StepBar("1", 0.5), StepBar("2", None)],
        [NozzleLine("N1", ((0, 2.15), (1, 0.5))), NozzleLine("N2", ((0, 0.2),))],
        [HeldSpan("prop", 1, 1)],
    )
    words = [item.text for item in drawing.items if isinstance(item, Words)]
    assert {"215", "50", "?", "100 %", "prop in"} <= set(words)
    assert "Nozzle N1: 215 %, 50 %" in drawing.told
    assert "prop in from 1 to 1" in drawing.told
    fills = [str(item.fill) for item in drawing.items if isinstance(item, Shape)]
    assert "black" in fills
    assert "dots" in fills


def test_nothing_of_a_long_chart_reaches_over_its_edge():
    bars = [StepBar(str(n), 0.01 * n) for n in range(150)]
    drawing = use_chart(bars, [])
    names = [i for i in drawing.items if isinstance(i, Words) and i.text.isdigit()]
    assert 20 < len(names) < 60
    assert all(0 <= item.at[0] <= drawing.width for item in names)
