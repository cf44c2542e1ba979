"""The one-page status: its numbers are the lists', and nothing unknown looks settled."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reports.contents.blocks import (
    Abreast,
    Answered,
    Figures,
    Listing,
    Mark,
    Paragraph,
    Table,
    Weight,
)
from reports.contents.plant_status import plant_status
from reports.html.document import document_html
from reports.languages import IN_ENGLISH
from reports.pdf.document import document_pdf
from supports.rules.workflow.start_up import Blocker
from tests.reports import documents
from tests.reports.reading import pages, signs_outside, squeezed


def answered(**values: object) -> Answered:
    return next(
        one
        for one in plant_status(documents.status(**values), IN_ENGLISH)
        if isinstance(one, Answered)
    )


@pytest.mark.parametrize(
    ("blockers", "missing", "supports", "answer", "weight"),
    [
        (1, 0, 40, "NO", Weight.NO),
        (2, 3, 40, "NO", Weight.NO),
        (0, 1, 40, "NOT KNOWN", Weight.DOUBT),
        (0, 0, 0, "NOT KNOWN", Weight.DOUBT),
        (0, 0, 40, "YES", Weight.YES),
    ],
)
def test_there_is_no_yes_where_something_blocks_or_is_missing(
    blockers, missing, supports, answer, weight
):
    said = answered(start=documents.start(blockers, missing, supports))
    assert (said.answer, said.weight) == (answer, weight)
    assert said.words == f"{blockers} things stand in the way, {missing} are not known."


def test_what_cannot_be_judged_carries_the_sign_of_doubt():
    blocks = plant_status(documents.status(), IN_ENGLISH)
    figures = next(one for one in blocks if isinstance(one, Figures))
    assert [one.number for one in figures.items] == ["40", "12", "2", "7"]
    assert [one.mark for one in figures.items][2:] == [Mark.STOP, Mark.CANNOT_JUDGE]


def test_more_blockers_than_the_page_names_are_counted():
    blocks = plant_status(documents.status(start=documents.start(5, 4)), IN_ENGLISH)
    table = next(one for one in blocks if isinstance(one, Table))
    assert len(table.rows) == 6
    assert "And 3 more." in str(blocks)


def test_hours_that_nobody_gave_are_not_nought():
    text = str(plant_status(documents.status(work=documents.WorkDone(0, 4, 0.0, 2)), IN_ENGLISH))
    assert "not known" in text
    assert "24 and more" in str(plant_status(documents.status(), IN_ENGLISH))


def test_an_empty_plant_prints_and_says_that_nothing_is_known():
    empty = documents.status_document(
        start=documents.start(0, 0, 0), supports=0, read_in_interval=0, with_stop=0, unjudged=0,
        stops=(), missing=(), changes=(), temporary=(), work=documents.WorkDone(), pins=(),
        walks=(), decisions=(),
    )  # fmt: skip
    (page,) = pages(document_pdf(empty))
    assert "NOT KNOWN" in page
    assert "At not known of the supports" in page


@pytest.mark.parametrize("language", ["en", "de"])
def test_it_is_one_page_and_the_same_bytes_twice(language):
    made = document_pdf(documents.status_document(language))
    assert made == document_pdf(documents.status_document(language))
    assert len(pages(made)) == 1
    assert signs_outside(made) == 0


def test_german_keeps_names_numbers_and_days():
    english, german = (
        squeezed(pages(document_pdf(documents.status_document(language)))[0])
        for language in ("en", "de")
    )
    for kept in ("CH-0087", "C-101", "rod-over-rating", "2026-01-05", "WD-2025-1"):
        assert kept in english
        assert kept in german
    assert "NEIN" in german
    assert "NO" in english


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_web_page_is_one_file_that_fetches_nothing(language):
    page = document_html(documents.status_document(language)).decode()
    assert page.startswith("<!DOCTYPE html>")
    assert f'<html lang="{language}">' in page
    assert "default-src 'none'" in page
    for fetched in ("<script", "<link", "http:", "https:", "url(http", "@import"):
        assert fetched not in page.replace("http://www.w3.org/2000/svg", "")
    assert page.count("<h1>") == 1
    assert "CH-0087" in page


def test_a_prop_that_stands_in_the_way_by_name_is_told_once():
    props = ("prop P-01 is in at 3 m of L-1", "prop P-02 is in at 9 m of L-1")
    blocked = replace(
        documents.start(0), blockers=(Blocker("prop P-01", "in at 3 m of L-1", ("L-1",)),)
    )
    blocks = plant_status(documents.status(start=blocked, props=props), IN_ENGLISH)
    parts = [
        one for row in blocks if isinstance(row, Abreast) for part in row.parts for one in part
    ]
    items = [item for one in parts if isinstance(one, Listing) for item in one.items]
    assert props[0] not in items
    assert props[1] in items


def test_the_page_says_that_nozzles_are_judged_by_screening():
    words = " ".join(
        one.text
        for one in plant_status(documents.status(), IN_ENGLISH)
        if isinstance(one, Paragraph)
    )
    assert "screening of lines, which is no full analysis" in words
