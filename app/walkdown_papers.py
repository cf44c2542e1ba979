"""Walkdown papers on disk: the frozen form as PDF and as a workbook to fill in."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from sqlalchemy import select
from sqlalchemy.orm import Session

from reports.contents.common import PageSize, PaperHead
from reports.contents.walkdown_package import WalkdownPackage
from reports.pdf.walkdown_package import walkdown_package_pdf
from reports.xlsx.walkdown_form import walkdown_form_xlsx
from supports.freezing import seal, short
from supports.model import WalkForm, WalkFormHolder
from supports.queries.site import form_key, plant_name
from supports.queries.walkdown_lookups import campaign_of, content_of_form, form_of
from supports.rules.walkdown_form import FormContent


def write_package(
    session: Session, number: str, into: Path, made: datetime, *, letter: bool = False
) -> list[Path]:
    """Write the newest form of a campaign; return the files."""
    form = form_of(session, campaign_of(session, number))
    content = content_of_form(form)
    package = WalkdownPackage(
        head=_head(session, form, content, made), form=content, walkers=_holders(session, form)
    )
    page = PageSize.LETTER if letter else PageSize.A4
    into.mkdir(parents=True, exist_ok=True)
    stem = into / f"{number}-walkdown-rev{content.revision}"
    paper, sheet = stem.with_suffix(".pdf"), stem.with_suffix(".xlsx")
    paper.write_bytes(walkdown_package_pdf(package, page))
    sheet.write_bytes(walkdown_form_xlsx(package, walk_seals(session, content), page))
    return [paper, sheet]


def walk_seals(session: Session, content: FormContent) -> dict[int, str]:
    """Return the seal of each row of a form by item id."""
    key = form_key(session)
    return {
        row.item_id: seal(key, content.form_id, str(row.item_id), row.tag, row.line)
        for row in content.rows
    }


def _head(session: Session, form: WalkForm, content: FormContent, made: datetime) -> PaperHead:
    return PaperHead(
        title="Walkdown package",
        number=content.campaign,
        about=content.title,
        revision=str(content.revision),
        made=made,
        fingerprint=short(form.fingerprint),
        valid_until="a newer form is issued",
        plant=plant_name(session),
        prepared_by=form.issued_by,
    )


def _holders(session: Session, form: WalkForm) -> tuple[str, ...]:
    query = select(WalkFormHolder.holder).where(WalkFormHolder.form_id == form.id)
    return tuple(session.scalars(query.order_by(WalkFormHolder.copy_number)))
