"""Text from strangers prints as text: no markup, no formula, no burst cell, nothing lost."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reports.pdf.fonts_shipped import safe
from reports.pdf.load_change_summary import load_change_summary_pdf
from reports.pdf.resetting_pack import resetting_pack_pdf
from tests.reports import examples
from tests.reports.reading import pages, signs_outside, squeezed

MARKUP = (
    "#panic()", '#read("/etc/hostname")', "$x^2$", "= Heading", "*bold* _it_", "@ref <label>",
    "//comment", "\\u{41}", "[[", "]]", '"quoted"', "`raw`", "~", "---", "{json: 1}", "<svg/>",
)  # fmt: skip


@pytest.mark.parametrize("words", MARKUP)
def test_markup_prints_as_it_stands(words: str) -> None:
    unit = replace(
        examples.constant_in_range(), serial=words, place=words, notes=(words,), tag=f"A {words}"
    )
    made = resetting_pack_pdf(replace(examples.pack(), units=(unit,), reason=words))
    assert squeezed(" ".join(pages(made))).count(squeezed(words)) >= 4


def test_long_unbroken_text_stays_on_the_paper() -> None:
    long = "X" * 400
    unit = replace(
        examples.constant_in_range(), tag=long, serial=long, place=long, kind=long,
        notes=(long * 4,), reasons=(long,), partners=(long,),
    )  # fmt: skip
    pack = examples.pack()
    crowded = replace(
        pack, units=(unit, replace(examples.refused(), tag=long)), reason=long, job=long,
        head=replace(pack.head, title=long, about=long, number=long, plant=long, revision=long,
                     fingerprint=long, valid_until=long, prepared_by=long),
    )  # fmt: skip
    made = resetting_pack_pdf(crowded)
    assert signs_outside(made) == 0
    assert len(pages(made)) < 40


def test_long_text_of_words_flows_on() -> None:
    words = "quernstone " * 1200
    unit = replace(examples.constant_in_range(), notes=(words,))
    made = resetting_pack_pdf(replace(examples.pack(), units=(unit,)))
    assert signs_outside(made) == 0
    assert " ".join(pages(made)).count("quernstone") == 1200


def test_long_words_in_the_summary_stay_on_the_paper() -> None:
    long = "W" * 300
    row = replace(
        examples.rows()[2], tag=long, kind=long, reasons=(long,), rule_codes=(long,),
        weakest_piece=long, missing=(long,),
    )  # fmt: skip
    made = load_change_summary_pdf(
        replace(examples.summary(), rows=(row,) * 4, verdict_sentence=long)
    )
    assert signs_outside(made) == 0


def test_right_to_left_text_leaves_its_neighbours_in_order() -> None:
    # Hebrew and Arabic letters; the tag beside them keeps its order of signs.
    unit = replace(
        examples.constant_in_range(), place="\u05e7\u05d5\u05de\u05d4 4 \u0637\u0627\u0628\u0642"
    )
    made = resetting_pack_pdf(replace(examples.pack(), units=(unit,)))
    assert any("C-101" in page and "\u05e7" in page for page in pages(made))


@pytest.mark.parametrize(
    ("sign", "written"),
    [
        ("\u202e", "‹U+202E›"),  # right-to-left override: would turn the text that follows
        ("\u0000", "‹U+0000›"),
        ("\u4e2d", "‹U+4E2D›"),  # no font shipped covers it
        ("\U0001f600", "‹U+1F600›"),
        ("\u200b", "‹U+200B›"),
    ],
)
def test_signs_that_cannot_print_are_written_out(sign: str, written: str) -> None:
    assert safe(f"PS{sign}1") == f"PS{written}1"
    unit = replace(examples.constant_in_range(), serial=f"PS{sign}1")
    made = resetting_pack_pdf(replace(examples.pack(), units=(unit,)))
    assert squeezed(f"PS{written}1") in squeezed(" ".join(pages(made)))


def test_line_ends_become_spaces() -> None:
    assert safe("a\r\nb\tc\u2028d") == "a b c d"


def test_field_signs_print() -> None:
    signs = "° ² ³ · − → Δ ± × ≤ ≥ – ″ µ ½ ▢"
    assert safe(signs) == signs
    unit = replace(examples.constant_in_range(), place=signs)
    made = squeezed(" ".join(pages(resetting_pack_pdf(replace(examples.pack(), units=(unit,))))))
    assert squeezed(signs.replace("µ", "")) in made.replace("µ", "").replace("μ", "")
