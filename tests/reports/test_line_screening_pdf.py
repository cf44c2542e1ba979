"""The paper of a screened line, read back by readers that had no part in making it."""

from __future__ import annotations

from datetime import datetime

import pytest

from reports.contents.common import PageSize, PaperHead
from reports.contents.screening_of_line import screening_of_line
from reports.pdf.line_screening import line_screening_pdf
from reports.svg.line_drawings import line_svgs
from supports.calc.line.aims import Aim
from supports.rules.line.screening import ready_line, screen
from tests.reports.reading import pages, signs_outside, squeezed
from tests.rules.line.routes import constant, limits, straight_route, weight

MADE = datetime(2031, 5, 5, 8)  # noqa: DTZ001  papers take the time as it is given
HEAD = PaperHead(
    "Line screening", "L-1", "line L-1", "screening", MADE, "ab12", "a change", "Works"
)


def contents(tag="PS-C1", **changed):
    """Return the paper of a line on a constant, 200 kg put on."""
    route = straight_route(0, 4, 10, supports=(constant(tag, 4, 6000.0),), **changed)
    ready = ready_line(route, [weight(200.0, 7.0)])
    return screening_of_line(HEAD, ready, screen(ready, Aim.LEVEL), "CH-1")


@pytest.fixture(scope="module")
def paper():
    """Return the paper as pages of text."""
    return pages(line_screening_pdf(contents(nozzles=(limits(),))))


def test_every_page_says_screening(paper):
    assert all("SCREENING" in page.upper() for page in paper)


def test_the_first_page_holds_verdict_aim_and_drawing(paper):
    assert "By screening:" in paper[0]
    assert "pipe back to its level" in paper[0]
    assert "A full analysis is mandatory." in paper[0]
    assert "as planned" in paper[0]


def test_the_second_page_is_the_isometric_with_its_legend(paper):
    assert "in three axes" in paper[1]
    for words in ("constant hanger", "nozzle", "weight put on", "EL +5.000 m", "N1"):
        assert squeezed(words) in squeezed(paper[1])


def test_states_limits_reasons_notes_and_caution_are_there(paper):
    whole = squeezed(" ".join(paper))
    for words in (
        "Supports by state", "Nozzles and anchors by state", "Limits in use", "data sheet",
        "Could not be judged", "Taken for true", "it approves nothing",
        "There is no calculation on record for this line",
    ):  # fmt: skip
        assert squeezed(words) in whole


def test_a_nozzle_without_limits_is_not_passed():
    text = squeezed(" ".join(pages(line_screening_pdf(contents()))))
    assert squeezed("cannot judge (missing: limits)") in text


@pytest.mark.parametrize("size", PageSize)
def test_nothing_runs_over_the_edge_of_the_paper(size):
    assert signs_outside(line_screening_pdf(contents(nozzles=(limits(),)), size)) == 0


def test_hostile_tags_stay_text_and_on_the_page():
    made = line_screening_pdf(contents(tag="#set page(width: 1cm) " + "W" * 60))
    assert signs_outside(made) == 0
    assert "#setpage" in squeezed(" ".join(pages(made)))


def test_the_same_line_gives_the_same_bytes():
    one, other = (line_screening_pdf(contents()) for _ in range(2))
    assert one == other


def test_both_drawings_come_as_files_of_their_own():
    made = line_svgs(contents())
    assert sorted(made) == ["isometric", "straight"]
    assert all(content.startswith(b"<svg") for content in made.values())
