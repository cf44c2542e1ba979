"""Papers of a plant with a clock of its own say its time; files are stamped in UTC."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import UTC, datetime

import openpyxl
import pypdf

from reports.contents.blocks import Document, Paragraph
from reports.contents.common import PageSize
from reports.html.document import foot
from reports.pdf.document import document_pdf
from reports.pdf.head import head_data
from reports.xlsx.book import Book, Column
from supports.plant_time import zone_named
from tests.reports import examples


def test_papers_say_the_plants_time_and_files_are_stamped_in_utc():
    # 21:30 in summer at six hours west, less one, is 02:30 UTC of the day after
    made = datetime(2031, 5, 3, 21, 30, tzinfo=zone_named("America/Chicago"))
    head = replace(examples.pack().head, made=made)
    assert ["Made", "2031-05-03 21:30 CDT"] in head_data(head, PageSize.A4)["below"]
    assert ("Made", "2031-05-03 21:30 CDT") in foot(head)
    pdf = pypdf.PdfReader(io.BytesIO(document_pdf(Document(head, (Paragraph("."),)))))
    assert "21:30 CDT" in " ".join(pdf.pages[0].extract_text().split())
    assert pdf.metadata is not None
    assert pdf.metadata.creation_date == datetime(2031, 5, 4, 2, 30, tzinfo=UTC)
    book = Book(head, PageSize.A4)
    book.table("List", [Column("A", 9)], [["a"]])
    read = openpyxl.load_workbook(io.BytesIO(book.finished()))
    assert f"{read.properties.created:%Y-%m-%d %H:%M}" == "2031-05-04 02:30"
