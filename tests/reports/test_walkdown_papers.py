"""The walkdown package and its form, read back by independent readers.

Plant, names and numbers are invented; figures follow from 200 mm of travel, 40 mm shut down and
180 mm operating, counted from the top, worked by hand.
"""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from xml.etree import ElementTree as ET

import openpyxl
import pikepdf
import pytest

from importers.walkdown_form import read_walk
from reports.contents.common import PageSize, PaperHead
from reports.contents.walkdown_closeout import drawn_trends
from reports.contents.walkdown_package import CAUTIONS, DEFERENCE, Sketch, WalkdownPackage
from reports.pdf.walkdown_package import walkdown_package_pdf
from reports.svg.movement_picture import Moved, movement_svg
from reports.svg.trend_plot import TrendPlot, steps_of, trend_svg
from reports.xlsx.walkdown_form import FORM, walkdown_form_xlsx
from supports.rules.walkdown.expectation import Expected
from supports.rules.walkdown.facts import ItemFacts
from supports.rules.walkdown.form import FormContent, FormLine, FormRow, OpenFinding
from supports.rules.walkdown.limits import proposed_walk_limits
from supports.rules.walkdown.route import Leg
from supports.rules.walkdown.trend import Point, trends
from supports.rules.walkdown.words import Half
from supports.snapshots import NameplateView, ReadingView, SettingView, SupportView, UnitView
from supports.vocabulary import PlantState, SupportKind
from tests.reports.reading import pages, signs_outside, squeezed

HOT = PlantState.OPERATING_STEADY
PLATE = NameplateView(
    scale_unit="kN", pointer_unit="mm", nameplate_load=20e3, total_travel=0.2,
    design_travel=-0.14, cold_mark=0.04, hot_mark=0.18, zero_end="top",
)  # fmt: skip


def reading(year: int, pointer: float) -> ReadingView:
    return ReadingView(date(year, 3, 4), HOT, 20e3, pointer, "A. Example", "walkdown")


def spring(order: int, tag: str, **more: object) -> FormRow:
    row = FormRow(
        item_id=order, order=order, tag=tag, public_id=f"P{order:06d}", unit_id=order,
        kind=SupportKind.CONSTANT_HANGER, line="L-7", order_on_line=order, criticality="A",
        floor="level 1", grid=f"row H, bay {order * 3}", height=4.5, serial=f"SN-{order}",
        plate=PLATE, setting=20e3, set_on=date(2021, 5, 5), movement=-0.14,
        expected=Expected(HOT, 0.18, 0.014, 20e3, 400.0, 1.0),
        last=(reading(2030, 0.171), reading(2029, 0.174), reading(2028, 0.177)),
        stack=("lug", "rod M24", "clamp"),
    )  # fmt: skip
    return replace(row, **more)


def content(**more: object) -> FormContent:
    rows = (
        spring(1, "C-101"),
        spring(2, "C-102", findings=("WD-1-F01",), changed="re-set on 2030-09-01"),
        spring(3, "R-103", kind=SupportKind.REST, expected=None, plate=NameplateView(), last=()),
        spring(
            4, "C-104", plate=NameplateView(), setting=None, serial="",
            expected=Expected(HOT, missing=("nameplate", "setting")), last=(),
        ),
    )  # fmt: skip
    made = FormContent(
        campaign="WD-2031-001", title="Hot oil", reason="yearly", half=Half.OPERATING,
        state_wanted=HOT, revision=1, walk_on=date(2031, 5, 6), rows=rows,
        lines=(FormLine("L-7", "hot oil", "NPS 12", 563.15, ("N1",)),),
        legs=(Leg("level 1", "row H", tuple(row.tag for row in rows), 42.0),),
        open_findings=(OpenFinding("WD-1-F01", "C-102", "rod bent", "watch", "open"),),
    )  # fmt: skip
    return replace(made, **more)


def package(form: FormContent | None = None) -> WalkdownPackage:
    head = PaperHead(
        "Walkdown package", "WD-2031-001", "Hot oil", "1",
        datetime(2031, 5, 5, 8),  # noqa: DTZ001  papers take the time as given
        "AAAA-BBBB-CCCC", "a newer form is issued", "Test works",
    )  # fmt: skip
    return WalkdownPackage(head, form or content())


@pytest.fixture(scope="module", params=[PageSize.A4, PageSize.LETTER], ids=str)
def text(request) -> list[str]:
    return pages(walkdown_package_pdf(package(), request.param))


def test_the_pages_come_in_order(text):
    marks = [
        "HOW TO WRITE", "Plan by the column grid", "Line L-7", "Readings on line L-7",
        "Photos, in this order", "Taken along", "Where copies of this paper went",
    ]  # fmt: skip
    first = [next(n for n, page in enumerate(text) if mark in page) for mark in marks]
    assert first == sorted(first)


@pytest.mark.parametrize("page", list(PageSize), ids=str)
def test_no_sign_falls_off_the_paper(page):
    assert signs_outside(walkdown_package_pdf(package(), page)) == 0


def test_every_page_says_what_it_is(text):
    for number, page in enumerate(text, 1):
        for words in ("WD-2031-001", f"page {number} of {len(text)}", "AAAA-BBBB-CCCC"):
            assert squeezed(words) in squeezed(page)


def test_a_card_holds_what_is_expected_and_how_it_drifts(text):
    card = squeezed(next(page for page in text if "SN-1" in page and "Photos" in page))
    for words in ("180 ± 14 mm", "20.00 ± 0.40 kN", "EXPECTED NOW", "top stop 0", "bottom stop",
                  "↘ −3.0 mm a year operating, steady", "rod M24", "class A"):  # fmt: skip
        assert squeezed(words) in card, words


def test_a_unit_of_which_nothing_is_known_is_not_drawn_and_not_guessed(text):
    card = next(page for page in text if "NO SCALE TO DRAW" in page)
    assert "C-104" in card
    assert squeezed("missing: nameplate, setting") in squeezed(card)
    assert "Never read" in card


def test_changed_supports_and_open_findings_are_marked(text):
    whole = squeezed(" ".join(text))
    assert squeezed("▲ Changed since the last walk: 2 C-102: re-set on 2030-09-01") in whole
    assert squeezed("open finding WD-1-F01") in whole
    for words in (*CAUTIONS, DEFERENCE):
        assert squeezed(words) in whole


@pytest.mark.parametrize("page", list(PageSize), ids=str)
def test_a_line_with_a_route_is_drawn_in_space_on_one_sheet(page):
    svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 264 138"><path d="M0 0H9"/></svg>'
    drawn = replace(package(), sketches={"L-7": Sketch(svg, "Line L-7: six hangers.")})
    plain, more = (pages(walkdown_package_pdf(one, page)) for one in (package(), drawn))
    assert len(more) == len(plain) + 1
    assert sum("Line L-7 in space" in text for text in more) == 1


@pytest.mark.parametrize("page", list(PageSize), ids=str)
def test_findings_taken_along_and_new_ones_share_one_sheet(page):
    taken = tuple(
        OpenFinding(f"WD-2031-001-F0{n}", "C-102", "rod bent, clamp slipped on the pipe " * 2,
                    "next outage", "owner named", "A. Example", date(2031, 12, 1))
        for n in range(1, 7)
    )  # fmt: skip
    text = pages(walkdown_package_pdf(package(content(open_findings=taken)), page))
    (sheet,) = [n for n, one in enumerate(text) if "Taken along" in one]
    assert "Where copies of this paper went" in text[sheet + 1]


def test_same_input_same_bytes_and_tagged():
    one, other = (walkdown_package_pdf(package()) for _ in range(2))
    assert one == other
    with pikepdf.open(io.BytesIO(one)) as pdf:
        assert pdf.Root.MarkInfo.Marked


def test_an_empty_form_is_a_paper_all_the_same():
    empty = content(rows=(), lines=(), legs=(), open_findings=())
    assert "0 rows to look at" in pages(walkdown_package_pdf(package(empty)))[0]


SEALS = {1: "s1", 2: "s2", 3: "s3", 4: "s4"}


def test_the_form_locks_ids_and_opens_boxes():
    book = openpyxl.load_workbook(io.BytesIO(walkdown_form_xlsx(package(), SEALS)))
    sheet = book["Readings"]
    assert sheet.protection.sheet
    heads = [cell.value for cell in sheet[5]]
    for column, cell in zip(FORM, sheet[6], strict=True):
        assert cell.protection.locked is not column.entry, column.heading
    assert heads == [column.heading for column in FORM]
    assert sheet.column_dimensions["AG"].hidden
    lists = {str(one.sqref) for one in sheet.data_validations.dataValidation}
    assert len(lists) >= 14


def test_the_form_reads_back_as_it_was_written(tmp_path: Path):
    base = {"pointer": 0.1415, "load": 20.1e3, "grade": "good", "seen": True}
    form = content(rows=(spring(1, "C-101", base=base), spring(2, "=C-102")))
    path = tmp_path / "form.xlsx"
    path.write_bytes(walkdown_form_xlsx(package(form), SEALS))
    back = read_walk(path)
    assert (back.form_id, back.count) == ("WD-2031-001/1", "2")
    first, second = back.rows
    assert (first.item_id, first.seal, second.tag) == ("1", "s1", "=C-102")
    assert first.written["pointer"] == pytest.approx(141.5)
    assert first.written["load"] == pytest.approx(20.1)
    assert (first.written["grade"], first.written["seen"]) == ("good", "yes")
    assert "pointer" not in second.written
    assert second.written["load_unit"] == "kN"


def svg(text: str) -> ET.Element:
    return ET.fromstring(text)  # noqa: S314  our own text


def test_a_trend_plot_draws_each_reading_and_each_line():
    points = tuple(Point(date(year, 3, 4), HOT, 180.0 - year % 2000) for year in range(2026, 2030))
    lines = trends(points, fewest=3)
    drawn = trend_svg(TrendPlot("C <1> & pointer", "mm", points, lines))
    shapes = [one for one in svg(drawn).iter() if one.get("transform")]
    assert len(shapes) == len(points) + 1
    assert "-1 mm a year" in drawn
    assert "no reading" in trend_svg(TrendPlot("C-1", "mm", ()))


def test_what_is_expected_stands_as_a_band_behind_the_readings():
    # 180 ± 14 mm in operation; shut down was never read and has no band.
    unit = UnitView(
        1, "A", SupportKind.CONSTANT_HANGER, "S-1", PLATE,
        SettingView(20e3, date(2021, 5, 5), "scale", "N. N.", PlantState.SHUT_DOWN_FULL),
    )  # fmt: skip
    view = SupportView(1, "C-1", SupportKind.CONSTANT_HANGER, units=(unit,))
    facts = ItemFacts("C-1", view, unit, None, (reading(2029, 0.171), reading(2030, 0.174)))
    pointer, load = drawn_trends(facts, proposed_walk_limits())
    assert pointer.bands == (((Half.OPERATING,), pytest.approx(166.0), pytest.approx(194.0)),)
    assert load.bands == (((Half.OPERATING,), pytest.approx(19.6), pytest.approx(20.4)),)
    plot = TrendPlot("C-1", "mm", pointer.points, (), pointer.bands)
    assert "expected in operation" in trend_svg(plot)


def test_a_movement_picture_tells_what_was_not_read():
    drawn = movement_svg(
        "L <7>", "mm", [Moved("C-1", -140.0, None), Moved("C-2", 5.0, -5.0, marked=True)]
    )
    words = [one.text for one in svg(drawn).iter() if one.tag.endswith("text")]
    assert "not read" in words
    assert "see table" in words
    assert steps_of(0.0, 1.0) == [0.0, 0.2, 0.4, 0.6, 0.8, 1.0]
