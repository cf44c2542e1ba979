"""The load-change summary as it is printed and summed.

The weight table is a sum done by hand: 410 + 120 + 124 + 26 + 55 - 0.95 * 79.7 - 0.95 * 24.0 =
636.485 kg; times 9.80665 = 6 241.8 N; the actuator 0.6 m off the axis twists with
120 * 9.80665 * 0.6 = 706.1 N·m.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from reports.contents.common import PageSize
from reports.contents.load_change_summary import WeightItem, WeightTable
from reports.pdf.line_figure import ABREAST, line_figures
from reports.pdf.load_change_summary import load_change_summary_pdf, summary_data
from supports.vocabulary import Verdict
from tests.reports import examples
from tests.reports.reading import pages, signs_outside, squeezed


@pytest.fixture(scope="module")
def paper() -> bytes:
    return load_change_summary_pdf(examples.summary())


def test_sums_of_the_weight_table() -> None:
    table = examples.weights()
    assert table.mass == pytest.approx(636.485, rel=1e-12)
    assert table.weight == pytest.approx(6241.785, rel=1e-6)
    assert table.twist == pytest.approx(706.079, rel=1e-6)
    assert table.centre == pytest.approx(14.2, rel=1e-12)


def test_centre_lies_between_two_masses() -> None:
    # 100 kg at 2 m and 300 kg at 6 m: (200 + 1800) / 400 = 5 m
    table = WeightTable((WeightItem("a", 100.0, "", 2.0), WeightItem("b", 300.0, "", 6.0)))
    assert table.centre == pytest.approx(5.0, rel=1e-12)


def test_an_unknown_mass_makes_every_sum_unknown() -> None:
    table = WeightTable((*examples.weights().items, WeightItem("box", None, "", 1.0, 0.2)))
    assert table.missing == ("box",)
    assert (table.mass, table.weight, table.centre, table.twist) == (None, None, None, None)


def test_no_net_mass_has_no_centre() -> None:
    table = WeightTable((WeightItem("a", 100.0, "", 2.0), WeightItem("b", -100.0, "", 6.0)))
    assert table.centre is None


@pytest.mark.parametrize("size", list(PageSize))
def test_two_to_four_pages(size: PageSize) -> None:
    made = load_change_summary_pdf(examples.summary(), size)
    assert 2 <= len(pages(made)) <= 4
    assert signs_outside(made) == 0


def test_every_page_carries_the_head(paper: bytes) -> None:
    head = examples.summary().head
    text = pages(paper)
    for number, page in enumerate(text, 1):
        for part in (
            head.title, head.number, head.about, head.plant, "2026-03-14 09:20", head.fingerprint,
            head.valid_until, f"page {number} of {len(text)}", "Printed copy no.",
        ):  # fmt: skip
            assert squeezed(part) in squeezed(page), (number, part)


def test_text_by_an_independent_reader(paper: bytes) -> None:
    whole = squeezed(" ".join(pages(paper)))
    for words in (
        "one unit cannot be set", "636.5 kg", "6.24 kN", "706 N·m", "14.200 m", "+2.10 kN",
        "+10.5 %", "rod M24 103 %", "rod-overloaded", "+8 t 2 f", "SCREENING",
        "cannot judge (missing: present setting, direction to increase, load per turn)",
        "Data doubts: 2",
    ):  # fmt: skip
        assert squeezed(words) in whole, words


def test_same_content_same_bytes(paper: bytes) -> None:
    assert load_change_summary_pdf(examples.summary()) == paper


def test_what_cannot_be_judged_is_listed_though_nobody_listed_it() -> None:
    bare = replace(examples.summary(), doubts=())
    doubts = summary_data(bare, PageSize.A4)["doubts"]
    assert doubts == [
        ["C-105", "present setting, direction to increase, load per turn", "cannot judge"]
    ]


def test_counts_by_verdict() -> None:
    counts = examples.summary().counts
    assert counts[Verdict.CANNOT_JUDGE] == counts[Verdict.CANNOT_BE_SET] == 1
    assert sum(counts.values()) == 8


def test_bars_share_one_scale_of_load() -> None:
    (figure,) = line_figures(examples.rows())
    bars = figure["supports"]
    # 22.1 kN against 20.0 kN on one support, 4 830 lbf = 21.485 kN on the next.
    assert bars[2]["required_height"] / bars[2]["present_height"] == pytest.approx(1.105, rel=1e-3)
    ratio = bars[3]["required_height"] / bars[2]["present_height"]
    assert ratio == pytest.approx(21.485 / 20.0, rel=1e-3)
    assert bars[7]["present_height"] is None


def test_long_line_goes_on_in_further_figures() -> None:
    rows = tuple(replace(row, order=number) for number, row in enumerate(examples.rows() * 3, 1))
    figures = line_figures(rows)
    assert [len(one["supports"]) for one in figures] == [ABREAST, ABREAST, 24 - 2 * ABREAST]
    assert len(pages(load_change_summary_pdf(replace(examples.summary(), rows=rows)))) > 4


def test_uplift_hangs_below_the_line() -> None:
    (figure,) = line_figures((replace(examples.rows()[0], required=-500.0),))
    assert figure["supports"][0]["required_height"] < 0.0


def test_line_without_any_load_is_still_drawn() -> None:
    rows = (replace(examples.rows()[0], present=None, required=None),)
    made = load_change_summary_pdf(replace(examples.summary(), rows=rows))
    assert "not known" in pages(made)[0]
