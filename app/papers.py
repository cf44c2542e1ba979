"""Papers on disk: the register's views handed to the reports, the reports' bytes to files."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from sqlalchemy.orm import Session

from app.plan_papers import plans_followed, require_sound
from reports.contents.common import PageSize, PaperHead, Signature
from reports.contents.pack_of_order import JobFacts, pack_of_order
from reports.contents.resetting_pack import ResettingPack
from reports.contents.summary_of_assessment import summary_of_assessment
from reports.languages import ENGLISH, texts
from reports.pdf.load_change_summary import load_change_summary_pdf
from reports.pdf.resetting_pack import resetting_pack_pdf
from reports.xlsx.load_change_summary import load_change_summary_xlsx
from reports.xlsx.resetting_pack import resetting_pack_xlsx
from supports.audit import head as chain_head
from supports.freezing import seal, short
from supports.model import Assessment
from supports.queries.change_views import (
    change_view,
    content_of,
    latest_assessment,
    signatures_on,
)
from supports.queries.order_copies import copy_to_work_by
from supports.queries.plant_days import clock_at
from supports.queries.site import form_key, plant_name
from supports.queries.work_order_views import work_order_view
from supports.rules.workflow import OrderKind
from supports.snapshots import SignatureView, WorkOrderLineView, WorkOrderView

TITLES = {
    OrderKind.RE_SET: "Re-setting pack",
    OrderKind.UNDO: "Undo pack",
    OrderKind.REMOVAL: "Removal pack",
}


def write_summary(
    session: Session, number: str, into: Path, made: datetime, language: str = ENGLISH
) -> list[Path]:
    """Write the load-change summary of a change; return the files. The workbook is English."""
    change = change_view(session, number)
    assessment = latest_assessment(session, change.id)
    title = "Load-change summary"
    head = _head(session, assessment, title, f"{number}-summary", change.title, made)
    given = signatures_on(session, "assessment", assessment.id)
    signed = signature_lines(given)
    conditions = tuple(s.reason for s in given if s.meaning == "approved" and s.reason)
    paper = summary_of_assessment(head, content_of(assessment), signed, conditions)
    said = summary_of_assessment(head, content_of(assessment), signed, conditions, texts(language))
    stem = f"{number}-load-change-summary"
    return [
        _write(
            into / f"{stem}{ending(language)}.pdf", load_change_summary_pdf(said, language=language)
        ),
        _write(into / f"{stem}.xlsx", load_change_summary_xlsx(paper)),
    ]


def write_pack(
    session: Session,
    number: str,
    into: Path,
    made: datetime,
    *,
    letter: bool = False,
    copy: int = 0,
    language: str = ENGLISH,
) -> list[Path]:
    """Write the re-setting pack of a work order; return the files.

    Parameters
    ----------
    copy
        Number of the copy that was given out; 0 leaves the line for it empty.
    language
        Of the paper; the workbook, which comes back filled in, is written in English.
    """
    order = work_order_view(session, number)
    paper = order_pack(session, order, made, copy, language)
    form = paper if language == ENGLISH else order_pack(session, order, made, copy)
    page = PageSize.LETTER if letter else PageSize.A4
    named = paper.head.title.lower().replace(" ", "-")
    stem = f"{number}-{named}{f'-copy-{copy}' if copy else ''}"
    return [
        _write(into / f"{stem}{ending(language)}.pdf", resetting_pack_pdf(paper, page, language)),
        _write(
            into / f"{stem}.xlsx",
            resetting_pack_xlsx(
                form, form_id=form_id(order), row_fingerprints=row_seals(session, order), page=page
            ),
        ),
    ]


def ending(language: str) -> str:
    """Return what a file's name ends with before its dot; English papers have nothing there."""
    return "" if language == ENGLISH else f"-{language}"


def order_pack(
    session: Session,
    order: WorkOrderView,
    made: datetime,
    copy: int = 0,
    language: str = ENGLISH,
) -> ResettingPack:
    """Return what the pack of a work order says.

    Parameters
    ----------
    copy
        Number of the copy that was given out; 0 for one that nobody was given.

    Raises
    ------
    NotReady
        The copy was recalled, or nobody may work by a plan that it follows.
    """
    number = order.number
    issued = copy_to_work_by(session, number, copy) if copy else None
    assessment = session.get_one(Assessment, order.assessment_id)
    content = content_of(assessment)
    about = f"{', '.join(content.change.lines)}: {content.change.title}"
    head = _head(session, assessment, TITLES[OrderKind(order.kind)], number, about, made)
    head = replace(head, copy_number=str(copy) if issued else "")
    plans = plans_followed(session, order)
    if issued:
        require_sound(number, plans)
    facts = JobFacts(issued=issued)
    return pack_of_order(head, order, content, facts, plans, texts(language))


def form_id(order: WorkOrderView) -> str:
    """Return what names the form of a work order when it comes back."""
    return f"{order.number}/{order.assessment_id}"


def row_seals(session: Session, order: WorkOrderView) -> dict[str, str]:
    """Return the seal of each row of the form, by tag as printed."""
    key, several = form_key(session), Counter(line.tag for line in order.lines)
    return {
        _printed(line, several): seal(
            key, form_id(order), _printed(line, several), str(line.unit_id)
        )
        for line in order.lines
    }


def _printed(line: WorkOrderLineView, several: Counter[str]) -> str:
    return line.tag if several[line.tag] == 1 else f"{line.tag}/{line.position}"


def _head(
    session: Session, assessment: Assessment, title: str, number: str, about: str, made: datetime
) -> PaperHead:
    given = signatures_on(session, "assessment", assessment.id)
    return PaperHead(
        title=title,
        number=number,
        about=about,
        revision=str(assessment.revision),
        made=clock_at(session, made),
        fingerprint=short(assessment.fingerprint),
        valid_until="a newer revision is issued",
        plant=plant_name(session),
        prepared_by=assessment.prepared_by,
        checked_by=signer(given, "checked"),
        approved_by=signer(given, "approved"),
        chain_head=short(chain_head(session)),
    )


def signature_lines(given: Sequence[SignatureView]) -> tuple[Signature, ...]:
    """Return the lines to sign under an assessment."""
    return tuple(_signature(given, meaning) for meaning in ("prepared", "checked", "approved"))


def _signature(given: Sequence[SignatureView], meaning: str) -> Signature:
    """Return the line to sign; who signed in the register stands there with the day."""
    found = next((s for s in reversed(given) if s.meaning == meaning), None)
    name = f"{found.person}, in the register on {found.signed_on}" if found else ""
    return Signature(meaning, name)


def signer(given: Sequence[SignatureView], meaning: str) -> str:
    """Return who signed last in a meaning; '' if nobody did."""
    return next((s.person for s in reversed(given) if s.meaning == meaning), "")


def _write(path: Path, content: bytes) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    return path
