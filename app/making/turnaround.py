"""The scope list of a turnaround, its workbook and its calendar."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy.orm import Session

from app.making.wanted import Title, Wanted, head_of, write
from reports.calendar.turnaround import turnaround_ics
from reports.catalogue import Form
from reports.contents.blocks import Document
from reports.contents.turnaround import TurnaroundPaper, turnaround_blocks
from reports.html.document import document_html
from reports.pdf.document import document_pdf
from reports.xlsx.turnaround import turnaround_xlsx
from supports.queries.turnarounds import lines_of, newest_plan, turnaround_of


def make_turnarounds(session: Session, wanted: Wanted) -> list[Path]:
    """Write the newest plan of turnarounds; return the files."""
    return [
        path
        for number in wanted.one_or_more("a turnaround")
        for path in _make(session, number, wanted)
    ]


def _make(session: Session, number: str, wanted: Wanted) -> list[Path]:
    say = wanted.say
    row = turnaround_of(session, number)
    stored, plan = newest_plan(session, row)
    title = Title(
        title=say("Turnaround scope list"),
        number=row.number,
        about=row.title,
        revision=str(stored.revision),
        valid_until=say("a newer plan is made"),
        prepared_by=stored.made_by,
    )
    paper = TurnaroundPaper(
        head=head_of(session, wanted, title, stored.fingerprint),
        number=row.number,
        title=row.title,
        plan=plan,
        freeze_on=row.freeze_on,
        frozen_on=row.frozen_on,
        lines=lines_of(session, row),
    )
    document = Document(paper.head, turnaround_blocks(paper, say), wanted.language, landscape=True)
    return write(
        wanted,
        f"{row.number}-scope",
        {
            Form.PDF: lambda: document_pdf(document, wanted.page),
            Form.HTML: lambda: document_html(document),
            Form.XLSX: lambda: turnaround_xlsx(paper, wanted.page),
            Form.ICS: lambda: turnaround_ics(paper),
        },
    )
