"""One support at the desk, and the papers about it."""

from __future__ import annotations

import io
import zipfile

import pypdf

from tests.rules.planning_lines import NUMBER
from tests.web.desks import signed_in


def tags(visitor) -> list[str]:
    import re

    return re.findall(r'href="/supports/([^"]+)"', visitor.look("/supports").text)


def test_a_support_tells_plate_history_rules_and_orders(staffed):
    visitor = signed_in(staffed, "IN")
    tag = next(one for one in tags(visitor) if "C1" in one)
    text = visitor.look(f"/supports/{tag}").text
    for words in ("Nameplate", "History of", "What the rules find", "Work orders", "required load"):
        assert words in text
    assert "<svg" in text
    assert f'href="/lines/{NUMBER}"' in text


def test_neighbours_lead_along_the_line(staffed):
    visitor = signed_in(staffed, "IN")
    first, second = tags(visitor)[:2]
    assert f'rel="next" href="/supports/{second}"' in visitor.look(f"/supports/{first}").text
    assert f'rel="prev" href="/supports/{first}"' in visitor.look(f"/supports/{second}").text


def test_in_german_every_word_of_the_page_is_there(staffed):
    visitor = signed_in(staffed, "IN")
    visitor.hand_in("/language", language="de")
    text = visitor.look(f"/supports/{tags(visitor)[0]}").text
    assert '<html lang="de">' in text
    assert "Typschild" in text


def test_an_unknown_tag_is_answered_with_the_nearest(staffed):
    visitor = signed_in(staffed, "IN")
    near = tags(visitor)[0]
    answer = visitor.look(f"/supports/{near}x")
    assert answer.status_code == 404
    assert near in answer.text


def test_papers_are_given_to_be_kept(staffed):
    visitor = signed_in(staffed, "IN")
    tag = tags(visitor)[0]
    sheet = visitor.get(f"/papers/support-data-sheet?about={tag}&form=pdf")
    assert sheet.headers["content-type"] == "application/pdf"
    assert sheet.headers["content-disposition"].startswith("attachment")
    assert tag in pypdf.PdfReader(io.BytesIO(sheet.content)).pages[0].extract_text()
    both = visitor.get(f"/papers/line-screening?about={NUMBER}&form=svg")
    assert len(zipfile.ZipFile(io.BytesIO(both.content)).namelist()) == 2
    assert visitor.get("/papers/letter").status_code == 404
    assert visitor.get(f"/papers/hanging-tags?about={tag}&form=docx").status_code == 400
