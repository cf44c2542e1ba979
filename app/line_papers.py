"""The paper and the drawings of a screened line on disk."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from sqlalchemy.orm import Session

from reports.contents.common import PaperHead
from reports.contents.line_screening import LineScreening
from reports.contents.screening_of_line import screening_of_line
from reports.languages import ENGLISH, texts
from reports.pdf.line_screening import line_screening_pdf
from reports.svg.line_drawings import line_svgs
from supports.audit import head as chain_head
from supports.freezing import fingerprint, short, to_plain
from supports.queries.plant_days import clock_at
from supports.queries.site import plant_name
from supports.rules.line.screening import ReadyLine, Screening


def write_screening(
    session: Session,
    screened: tuple[ReadyLine, Screening],
    change: str,
    into: Path,
    made: datetime,
    language: str = ENGLISH,
) -> list[Path]:
    """Write the paper of a screened line and its two drawings; return the files."""
    paper = screening_paper(session, screened, change, made, language)
    number = paper.line
    stem = f"{number}-{change}-screening" if change else f"{number}-screening"
    stem = stem if language == ENGLISH else f"{stem}-{language}"
    files = {f"{stem}.pdf": line_screening_pdf(paper, language=language)}
    files |= {
        f"{stem}-{name}.svg": content for name, content in line_svgs(paper, texts(language)).items()
    }
    into.mkdir(parents=True, exist_ok=True)
    for name, content in files.items():
        (into / name).write_bytes(content)
    return [into / name for name in files]


def screening_paper(
    session: Session,
    screened: tuple[ReadyLine, Screening],
    change: str,
    made: datetime,
    language: str = ENGLISH,
) -> LineScreening:
    """Return what the paper of a screened line says."""
    ready, screening = screened
    number = ready.route.line.number
    head = PaperHead(
        title="Line screening",
        number=number,
        about=f"line {number}, change {change}" if change else f"line {number} as it stands",
        revision="screening",
        made=clock_at(session, made),
        fingerprint=short(fingerprint(to_plain(ready.route))),
        valid_until="the register changes",
        plant=plant_name(session),
        chain_head=short(chain_head(session)),
    )
    return screening_of_line(head, ready, screening, change, texts(language))
