"""The re-setting pack as it is printed, read back with pypdf and pdfium.

Loads are worked by hand in each test; N per lbf is 4.448 222 (NIST SP 811 (2008), appendix B.8).
"""

from __future__ import annotations

import io
from dataclasses import replace

import pikepdf
import pytest

from reports.contents import field_words
from reports.contents.common import PageSize
from reports.contents.resetting_pack import ResettingPack
from reports.drawings.square_code import square_code
from reports.languages import texts
from reports.pdf.resetting_pack import pack_data, resetting_pack_pdf
from supports.vocabulary import Verdict
from tests.reports import examples
from tests.reports.reading import pages, signs_outside, squeezed


@pytest.fixture(scope="module")
def paper() -> bytes:
    return resetting_pack_pdf(examples.pack())


@pytest.fixture(scope="module")
def text(paper: bytes) -> list[str]:
    return pages(paper)


def page_of(text: list[str], first: str) -> str:
    """Return the one page on which a unit stands in large letters."""
    return next(page for page in text if f"serial {first}" in page and "Cut along" not in page)


def trapeze_of(rounds: int) -> ResettingPack:
    """Return a pack of a trapeze with so many rounds and notes: full pages."""
    ends = ("T-109A", "T-109B"), ("T-109B", "T-109A")
    note = "Reading expected in the cold, full state; the reading in operation is 13.50 kN."
    units = tuple(
        replace(examples.trapeze(*tags, 1 + n, 23100.0, 100.0, *((2, 3),) * rounds), notes=(note,))
        for n, tags in enumerate(ends)
    )
    return replace(examples.pack(), units=units)


LAST_STEP = "Tag hung beside the scale, not over it. Tools counted. Place clean."


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("size", list(PageSize))
def test_each_unit_has_one_page_with_its_stop_strip(size: PageSize, language: str) -> None:
    made, say = resetting_pack_pdf(trapeze_of(6), size, language), texts(language)
    text = [squeezed(page) for page in pages(made)]
    for words in ("TURN THIS:", field_words.STOP_STRIP, LAST_STEP):
        there = [place for place, page in enumerate(text) if squeezed(say(words)) in page]
        assert there == [4, 5], words  # after cover, why, cautions, sequence
    assert signs_outside(made) == 0


def test_rounds_without_room_go_on_overleaf_under_tag_and_stop_strip() -> None:
    made = resetting_pack_pdf(trapeze_of(16), PageSize.LETTER)
    text = [squeezed(page) for page in pages(made)]
    sheets = [page for page in text if squeezed(field_words.STOP_STRIP) in page]
    assert [squeezed("TURN THIS:") in page for page in sheets] == [True, False] * 2
    assert [squeezed("on the next sheet") in page for page in sheets] == [True, False] * 2
    assert [squeezed(LAST_STEP) in page for page in sheets] == [False, True] * 2
    assert all(f"serialS-99{1 + n // 2}" in page for n, page in enumerate(sheets))
    assert signs_outside(made) == 0


@pytest.mark.parametrize("size", list(PageSize))
def test_pack_has_its_sheets_and_no_more(size: PageSize) -> None:
    # cover, why, cautions, sequence, 6 unit pages, readings, stops, nozzle, out of window,
    # sign-off, tags
    assert len(pages(resetting_pack_pdf(examples.pack(), size))) == 16


def test_words_that_flow_on_leave_the_stop_strip_beside_the_tag() -> None:
    unit = replace(examples.constant_in_range(), notes=("quernstone " * 1200,))
    text = pages(resetting_pack_pdf(replace(examples.pack(), units=(unit,))))
    (first,) = (page for page in text if "TURN THIS" in page)
    assert squeezed(field_words.STOP_STRIP) in squeezed(first)


def test_the_code_on_a_units_page_and_tag_holds_the_lasting_id_alone() -> None:
    data, units = pack_data(examples.pack(), PageSize.A4), examples.pack().units
    for row in (*data["units"], *data["tags"]):
        (unit,) = (one for one in units if one.tag == row["tag"])
        assert row["code"] == square_code(unit.point_id)


def test_sheet_size_is_the_one_asked_for() -> None:
    sizes = {PageSize.A4: (595.28, 841.89), PageSize.LETTER: (612.0, 792.0)}  # ISO 216; ANSI Y14.1
    for size, (wide, high) in sizes.items():
        with pikepdf.open(io.BytesIO(resetting_pack_pdf(examples.pack(), size))) as pdf:
            box = pdf.pages[0].mediabox
            assert (float(box[2]), float(box[3])) == pytest.approx((wide, high), abs=0.1)


def test_every_page_carries_the_head(text: list[str]) -> None:
    head = examples.pack().head
    for number, page in enumerate(text, 1):
        bare = squeezed(page)
        for part in (
            head.title, head.number, head.about, head.plant, head.revision, "2026-03-14 09:20",
            head.valid_until, head.fingerprint, head.prepared_by, head.checked_by,
            "Approved by", "Printed copy no.", f"page {number} of {len(text)}",
        ):  # fmt: skip
            assert squeezed(part) in bare, (number, part)


def test_same_content_same_bytes(paper: bytes) -> None:
    assert resetting_pack_pdf(examples.pack()) == paper


def test_date_of_the_file_is_the_one_given(paper: bytes) -> None:
    with pikepdf.open(io.BytesIO(paper)) as pdf:
        assert str(pdf.docinfo["/CreationDate"]).startswith("D:20260314092000")


def test_file_declares_tags_language_and_accessibility(paper: bytes) -> None:
    # ISO 14289-1 (PDF/UA-1), clause 5 and 7.1: identifier in the metadata, marked, title shown.
    with pikepdf.open(io.BytesIO(paper)) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert str(pdf.Root.Lang).startswith("en")
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        with pdf.open_metadata() as known:
            assert known["pdfuaid:part"] == "1"


def test_unit_page_by_hand(text: list[str]) -> None:
    # 22.1 - 20.0 = 2.1 kN; / 0.25 = 8.4 turns = 8 turns 2 flats; 20 + 0.25 * 8.3333 = 22.083 kN;
    # rounds of 3, 3 and 2 1/3 turns: 20.75, 21.50, 22.08; 22 100 / 4.448 222 = 4 968 lbf;
    # 22.1 kN * 140 mm = 3.094 kJ, / 9.80665 = 315.5 kg; half a turn 0.125 kN.
    page = page_of(text, "K 20114/3")
    for words in (
        "8 turns 2 flats", "INCREASE", "CLOCKWISE INCREASES, SEEN FROM ABOVE", "20.00 → 22.10 kN",
        "22.08 kN (4 965 lbf)", "22.10 kN (4 968 lbf)", "21.66 – 22.54 kN", "3.1 kJ – like 315 kg",
        "Round 1: 3 turns → 20.75 kN", "Round 2: 3 turns → 21.50 kN",
        "Round 3: 2 turns 2 flats → 22.08 kN", "0.125 kN", "17.00 kN", "23.00 kN",
        "room up 0.90 kN (3.6 turns)", "used 70 %", "room beyond cold mark 40 mm",
        "room beyond hot mark 20 mm", "HOLD 2",
    ):  # fmt: skip
        assert squeezed(words) in squeezed(page), words
    # Steps of 0.75 kN, 20 % of a step is 0.15 kN; the third of 0.5833 kN, 0.1167 kN.
    for stop in ("20.60 – 20.90 kN", "21.35 – 21.65 kN", "21.97 – 22.20 kN"):
        assert squeezed(f"STOP outside {stop}") in squeezed(page)


def test_scale_in_pounds_is_printed_in_pounds_first(text: list[str]) -> None:
    # 4 500 + 6 * 55 = 4 830 lbf = 21.485 kN
    page = squeezed(page_of(text, "77-4410"))
    for words in ("4 500 → 4 830 lbf", "4 830 lbf (21.48 kN)", "each bolt", "2 BOLTS", "HAND MARK"):
        assert squeezed(words) in page, words


def test_trapeze_partners_are_never_apart(text: list[str]) -> None:
    # By moments: 2.5 kN more on one hanger, 1.5 kN more on the other.
    one, other = (squeezed(page_of(text, serial)) for serial in ("S-995", "S-996"))
    assert squeezed("always together with T-103B") in one
    assert squeezed("always together with T-103A") in other
    assert squeezed("12 turns 3 flats") in one
    assert squeezed("23.10 → 25.60 kN") in one
    assert squeezed("10 turns") in other
    assert squeezed("14.10 → 15.60 kN") in other


def test_refused_unit_prints_stop_and_no_turns(text: list[str]) -> None:
    page = page_of(text, "no serial read")
    assert "STOP" in page
    assert "do not turn this unit" in page
    assert "Direction to increase" in page
    assert "inspector, on the unit" in page
    assert "TURN THIS" not in page
    assert "Round" not in page


def test_re_set_without_turns_is_a_stop_page_too() -> None:
    lost = replace(examples.constant_in_range(), job=None)
    data = pack_data(replace(examples.pack(), units=(lost,)), PageSize.A4)
    assert data["units"][0]["job"] is None
    assert data["units"][0]["stop"]["rows"][0][1] == "engineer in charge"


def test_units_that_cannot_be_set_or_are_too_weak_have_a_stop_page_each() -> None:
    short = replace(
        examples.constant_in_range(), job=None, verdict=Verdict.CANNOT_BE_SET, serial="S-1",
        reasons=("required 23.40 kN is above the high limit 23.00 kN",),
    )  # fmt: skip
    weak = replace(
        short, tag="C-109", verdict=Verdict.HARDWARE_FAILS, serial="S-2",
        reasons=("rod M24 at 103 %",),
    )  # fmt: skip
    pack = replace(examples.pack(), units=(short, weak, examples.refused(), examples.left_alone()))
    text = pages(resetting_pack_pdf(pack))
    stops = [page for page in text if "do not turn this unit" in page]
    assert len(stops) == 3
    assert "3 may not be turned: a STOP page each" in text[0]
    assert "C-101, C-109, C-105" in text[0]
    assert squeezed("above the high limit 23.00 kN") in squeezed(stops[0])
    assert "cannot be set at this unit" in stops[0]
    assert "rod M24 at 103 %" in stops[1]
    assert "stronger hardware" in stops[1]


def test_a_copy_says_its_number_on_each_page_and_its_holder_on_the_cover() -> None:
    pack = examples.pack()
    copy = replace(
        pack, head=replace(pack.head, copy_number="2"), copy_words="no. 2, given to the crew"
    )
    text = pages(resetting_pack_pdf(copy))
    assert all("Printed copy no. 2" in page for page in text)
    assert "no. 2, given to the crew" in text[0]


def test_what_is_left_alone_has_a_line_but_no_page(text: list[str]) -> None:
    assert any("C-100" in page and "Why and what" in page for page in text)
    assert not any("serial K 20114/2" in page for page in text)


def test_neighbours_are_read_only_and_stand_once() -> None:
    pack = examples.pack()
    double = replace(pack, neighbours=(*pack.neighbours, replace(pack.neighbours[0], tag="C-100")))
    rows = pack_data(double, PageSize.A4)["readings"]
    assert [row["tag"] for row in rows] == [
        "R-099", "C-100", "C-101", "C-102", "T-103A", "T-103B", "V-104", "C-105", "C-106",
    ]  # fmt: skip
    labels = ["READ ONLY"] * 2 + [""] * 5 + ["STOP, READ ONLY", "READ ONLY"]
    assert [row["label"] for row in rows] == labels


def test_cautions_and_deference_are_printed(text: list[str]) -> None:
    whole = squeezed(" ".join(text))
    for words in (*field_words.CAUTIONS, *field_words.STOP_RULES, field_words.DEFERENCE):
        assert squeezed(words) in whole, words
    assert "SCREENING" in whole


def test_a_full_analysis_is_not_called_screening() -> None:
    pack = examples.pack()
    full = replace(pack, basis=replace(pack.basis, screening=False))
    assert "SCREENING" not in " ".join(pages(resetting_pack_pdf(full)))


def test_sequence_shows_each_round_of_each_unit() -> None:
    (block,) = pack_data(examples.pack(), PageSize.A4)["sequence"]
    first = block["rows"][0]
    assert first["cells"][:3] == [["+3 t", "20.75"], ["+3 t", "21.50"], ["+2 t 2 f", "22.08"]]
    assert first["cells"][3:] == [None, None]
    assert block["rounds"] == [1, 2, 3, 4, 5]


def test_many_rounds_go_on_in_a_second_block() -> None:
    unit = examples.trapeze("T-9A", "T-9B", 1, 20000.0, 100.0, *((1, 0),) * 8)
    blocks = pack_data(replace(examples.pack(), units=(unit,)), PageSize.A4)["sequence"]
    assert [block["rounds"] for block in blocks] == [[1, 2, 3, 4, 5, 6], [7, 8]]


def test_square_code_holds_the_point_id_alone() -> None:
    # A code of version 1 (21 × 21 modules) takes 14 bytes at level M: ISO/IEC 18004, table 7.
    tag = pack_data(examples.pack(), PageSize.A4)["tags"][0]
    assert tag["code"] == square_code("PT-000317")
    assert tag["code"] != square_code("PT-000318")
    assert len(tag["code"]) == 21


def test_empty_pack_is_a_paper_all_the_same() -> None:
    empty = replace(
        examples.pack(), units=(), neighbours=(), travel_stops=(), nozzles=(), signatures=(),
        hold_points=(), telephones=(), turning_order=(),
    )  # fmt: skip
    assert "0 of 0 units" in pages(resetting_pack_pdf(empty))[0]


def test_counts_add_up_to_the_units() -> None:
    pack = examples.pack()
    assert pack.counts[Verdict.RE_SET] == 5
    assert sum(pack.counts.values()) == len(pack.units) == 7


def test_a_german_pack_keeps_numbers_and_names_and_prints_cautions_and_steps_in_german() -> None:
    english, german = (
        pages(resetting_pack_pdf(examples.pack())),
        pages(resetting_pack_pdf(examples.pack(), language="de")),
    )
    assert len(german) == len(english)
    read = " ".join(german)
    for kept in ("C-101", "K 20114/3", "20.00 → 22.10 kN", "21.66 – 22.54 kN", "WO-26-1180"):
        assert kept in read.replace("\u00a0", " ")
    for said in ("HIER DREHEN", "STOPP", "HALT 1", "Zwei Personen an jedem Federkörper", "8 Umdr"):
        assert said in read
    for left in ("TURN THIS", "HOLD 1", "Nobody beneath", "Lock nut tight", "page 1 of"):
        assert left not in read
    assert signs_outside(resetting_pack_pdf(examples.pack(), language="de")) == 0


def test_a_tag_that_is_a_word_of_the_catalogue_stays_a_tag() -> None:
    unit = replace(examples.constant_in_range(), tag="rod", serial="line")
    made = resetting_pack_pdf(replace(examples.pack(), units=(unit,)), language="de")
    assert "rod, line." in " ".join(pages(made))
