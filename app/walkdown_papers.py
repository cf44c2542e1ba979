"""Walkdown papers on disk: the frozen form to carry, the close-out report, trends as drawings."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

from sqlalchemy import select
from sqlalchemy.orm import Session

from reports.contents.common import PageSize, PaperHead
from reports.contents.walkdown_closeout import (
    Contradiction,
    StepTaken,
    WalkdownCloseout,
    drawn_trends,
)
from reports.contents.walkdown_package import WalkdownPackage, half_words
from reports.pdf.walkdown_closeout import walkdown_closeout_pdf
from reports.pdf.walkdown_package import walkdown_package_pdf
from reports.svg.trend_plot import TrendPlot, trend_svg
from reports.xlsx.walkdown_form import walkdown_form_xlsx
from supports.errors import NotFound
from supports.freezing import fingerprint, seal, short
from supports.model import Campaign, WalkForm, WalkFormHolder
from supports.queries.lookups import point_of
from supports.queries.site import form_key, plant_name
from supports.queries.unit_history import readings_of
from supports.queries.walkdowns.findings import finding_views
from supports.queries.walkdowns.form_content import printed_tag, supports_of
from supports.queries.walkdowns.judged import judged_campaign
from supports.queries.walkdowns.lookups import (
    campaign_of,
    content_of_form,
    form_of,
    walk_limits_in_force,
)
from supports.queries.walkdowns.record import differing, steps_of, walks_before
from supports.rules.walkdown.facts import ItemFacts
from supports.rules.walkdown.form import FormContent
from supports.rules.walkdown.words import Half


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


def write_closeout(
    session: Session, number: str, into: Path, made: datetime, *, letter: bool = False
) -> Path:
    """Write the close-out report of a campaign as it stands; return the file."""
    report = closeout(session, campaign_of(session, number), made)
    page = PageSize.LETTER if letter else PageSize.A4
    into.mkdir(parents=True, exist_ok=True)
    path = into / f"{number}-close-out.pdf"
    path.write_bytes(walkdown_closeout_pdf(report, page))
    return path


def closeout(session: Session, campaign: Campaign, made: datetime) -> WalkdownCloseout:
    """Return what the close-out report of a campaign says on a day."""
    today = made.date()
    rows = tuple(judged for _, judged in judged_campaign(session, campaign, today))
    findings = tuple(finding_views(session, campaign))
    steps = steps_of(session, campaign)
    marks = [[one.number, one.what, str(one.state)] for one in findings]
    return WalkdownCloseout(
        head=PaperHead(
            title="Walkdown close-out",
            number=campaign.number,
            about=campaign.title,
            revision=str(form_of(session, campaign).revision),
            made=made,
            fingerprint=short(fingerprint([marks, [one.said for one in rows]])),
            valid_until="a newer report is made",
            plant=plant_name(session),
            prepared_by=next((one.done_by for one in steps if one.act == "judge"), ""),
            checked_by=next((one.done_by for one in steps if one.act == "review"), ""),
            approved_by=next((one.done_by for one in steps if one.act == "sign off"), ""),
        ),
        campaign=campaign.number,
        title=campaign.title,
        half=half_words(Half(campaign.half)),
        state_wanted=campaign.state_wanted,
        walk_on=campaign.walk_on,
        state=campaign.state,
        today=today,
        rows=rows,
        findings=findings,
        limits=walk_limits_in_force(session, today),
        steps=tuple(StepTaken(one.act, one.done_by, one.done_on, one.words) for one in steps),
        contradictions=tuple(
            Contradiction(one.tag, one.entries, one.chosen, one.chosen_by, one.reason)
            for one in differing(session, campaign)
        ),
        previous=tuple(walks_before(session, campaign)),
    )


def write_trends(session: Session, tag: str, into: Path, today: date) -> list[Path]:
    """Draw the pointer and the load of each unit of a support against time; return the files.

    Raises
    ------
    NotFound
        Nothing was ever read there.
    """
    view = supports_of(session, [point_of(session, tag)]).popitem()[1]
    limits = walk_limits_in_force(session, today)
    held = readings_of(session, [unit.id for unit in view.units])
    made = []
    into.mkdir(parents=True, exist_ok=True)
    for unit in view.units:
        name = printed_tag(view, unit)
        facts = ItemFacts(name, view, unit, None, tuple(held.get(unit.id, ())))
        for drawn in drawn_trends(facts, limits):
            plot = TrendPlot(
                f"{name}: {drawn.what} [{drawn.unit}]", drawn.unit, drawn.points, drawn.lines
            )
            path = into / f"{name.replace('/', '-')}-{drawn.what}.svg"
            path.write_text(trend_svg(plot), encoding="utf-8")
            made.append(path)
    if not made:
        raise NotFound(f"nothing was ever read at {view.tag}")
    return made
