"""Tags to hang: the setting of the register, or that nobody knows it; a code with the id alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from reports.contents.hanging_tags import HangingTags, hanging_tag
from reports.drawings.square_code import square_code
from reports.languages import IN_ENGLISH, texts
from reports.pdf.hanging_tags import hanging_tags_data, hanging_tags_pdf
from supports.snapshots import AttachmentView, NameplateView, SettingUnder, SupportView, UnitView
from supports.vocabulary import SupportKind
from tests.reports import examples
from tests.reports.reading import pages, signs_outside, squeezed

PLATE = NameplateView(scale_unit="kN", pointer_unit="mm", cold_mark=0.040, hot_mark=0.180)
UNIT = UnitView(7, "A", SupportKind.CONSTANT_HANGER, "K 20114/3", PLATE)
SUPPORT = SupportView(
    317, "C-101", SupportKind.CONSTANT_HANGER, attachments=(AttachmentView("2-HS-0412"),),
    units=(UNIT,),
)  # fmt: skip
FIRST = SettingUnder(20_000.0, date(1999, 9, 17), "nameplate", "A. Example", "shut down, full")
SECOND = SettingUnder(
    22_083.3, date(2026, 3, 1), "turns counted", "T. Turner", "shut down, full", "CH-1, WO-1"
)


def sheet(count: int = 1, language: str = "en", **values: object) -> HangingTags:
    made = replace(hanging_tag(SUPPORT, UNIT, (FIRST, SECOND), texts(language)), **values)
    return HangingTags(examples.head("Tags to hang", "TAGS-1"), (made,) * count, language)


def test_a_tag_says_the_last_setting_and_the_one_before():
    tag = hanging_tag(SUPPORT, UNIT, (FIRST, SECOND), IN_ENGLISH)
    # 22 083.3 N / 4.448222 N (NIST SP 811, Appendix B) = 4 964.5 lbf
    assert tag.setting.replace("\u00a0", " ").replace("\u202f", " ") == "22.08 kN (4 965 lbf)"
    assert tag.old.startswith("20.00")
    assert (tag.set_on, tag.set_by, tag.under) == ("2026-03-01", "T. Turner", "CH-1, WO-1")


def test_an_unknown_setting_is_told_and_no_number_printed():
    tag = hanging_tag(SUPPORT, replace(UNIT, nameplate=None), (), IN_ENGLISH)
    assert (tag.setting, tag.old, tag.cold_mark) == ("", "", "not known")
    paper = replace(sheet(), tags=(tag,))
    (page,) = pages(hanging_tags_pdf(paper))
    assert "SETTING NOT KNOWN" in page
    assert "kN" not in page


def test_the_code_holds_the_lasting_id_alone():
    data = hanging_tags_data(sheet(), examples.PAGE)
    assert data["tags"][0]["code"] == square_code("P000317")


@pytest.mark.parametrize("language", ["en", "de"])
def test_eight_tags_fill_a_sheet_and_none_is_lost(language):
    made = hanging_tags_pdf(sheet(17, language))
    assert made == hanging_tags_pdf(sheet(17, language))
    read = pages(made)
    assert [page.count("C-101") for page in read] == [8, 8, 1]
    warning = {"en": "Do not turn", "de": "Nicht verstellen"}[language]
    assert sum(page.count(warning) for page in read) == 17


def test_long_and_hostile_text_stays_on_its_tag():
    bad = "#panic() <b>=1+1</b> \u05e7\u05d5\u05de\u05d4 " + "W" * 300
    made = hanging_tags_pdf(
        sheet(8, tag=bad, serial=bad, line=bad, kind=bad, set_by=bad, under=bad)
    )
    assert signs_outside(made) == 0
    assert squeezed("#panic()") in squeezed(pages(made)[0])
    assert sum(page.count("Do not turn") for page in pages(made)) == 8
