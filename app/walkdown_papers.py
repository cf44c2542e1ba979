"""Walkdown papers on disk: the frozen form to carry, the close-out report, trends as drawings."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import NamedTuple

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.walkdown_photos import small_copies
from app.walkdown_sketches import sketches
from reports.contents.common import PageSize, PaperHead
from reports.contents.walkdown_closeout import (
    WalkdownCloseout,
    drawn_trends,
)
from reports.contents.walkdown_package import WalkdownPackage
from reports.languages import ENGLISH, texts
from reports.pdf.walkdown_closeout import walkdown_closeout_pdf
from reports.pdf.walkdown_package import walkdown_package_pdf
from reports.svg.trend_plot import TrendPlot, trend_svg
from reports.xlsx.walkdown_form import walkdown_form_xlsx
from supports.audit import head as chain_head
from supports.errors import NotFound
from supports.freezing import fingerprint, seal, short, to_plain
from supports.model import WalkCloseout, WalkForm, WalkFormHolder
from supports.queries.audit_head import head_when_written
from supports.queries.lookups import point_of
from supports.queries.plant_days import clock_at, day_at
from supports.queries.site import form_key, plant_name
from supports.queries.unit_history import readings_of
from supports.queries.walkdowns.form_content import printed_tag, supports_of
from supports.queries.walkdowns.lookups import (
    campaign_of,
    content_of_form,
    form_of,
    walk_limits_in_force,
)
from supports.queries.walkdowns.record import campaign_record, closeout_of, frozen_record
from supports.rules.walkdown.facts import ItemFacts
from supports.rules.walkdown.form import FormContent
from supports.rules.walkdown.record import CampaignRecord
from supports.sentences import Sentence


def write_package(
    session: Session, number: str, into: Path, made: datetime, *, store: Path | None = None,
    letter: bool = False, language: str = ENGLISH,
) -> list[Path]:  # fmt: skip
    """Write the newest form of a campaign; return the files.

    Parameters
    ----------
    store
        Folder of photos; the newest of each row are printed on its card.
    """
    form = form_of(session, campaign_of(session, number))
    content = content_of_form(form)
    package = WalkdownPackage(
        head=_head(session, form, content, made),
        form=content,
        walkers=_holders(session, form),
        pictures=small_copies(store, content.photo_hashes),
        sketches=sketches(session, content, texts(language)),
    )
    page = PageSize.LETTER if letter else PageSize.A4
    into.mkdir(parents=True, exist_ok=True)
    stem = into / f"{number}-walkdown-rev{content.revision}"
    sheet = stem.with_suffix(".xlsx")
    paper = stem.with_name(f"{stem.name}{_ending(language)}.pdf")
    paper.write_bytes(walkdown_package_pdf(package, page, language))
    sheet.write_bytes(walkdown_form_xlsx(package, walk_seals(session, content), page))
    return [paper, sheet]


def _ending(language: str) -> str:
    return "" if language == ENGLISH else f"-{language}"


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
        made=clock_at(session, made),
        fingerprint=short(form.fingerprint),
        valid_until="a newer form is issued",
        plant=plant_name(session),
        chain_head=short(chain_head(session)),
        prepared_by=form.issued_by,
    )


def _holders(session: Session, form: WalkForm) -> tuple[str, ...]:
    query = select(WalkFormHolder.holder).where(WalkFormHolder.form_id == form.id)
    return tuple(session.scalars(query.order_by(WalkFormHolder.copy_number)))


def write_closeout(
    session: Session, number: str, into: Path, now: datetime, *, letter: bool = False,
    as_now: bool = False, language: str = ENGLISH,
) -> Path:  # fmt: skip
    """Write the report of a campaign; return the file.

    Once it is signed off, that is the record frozen then, the same bytes whenever it is written.

    Parameters
    ----------
    as_now
        As it stands now, although it is signed off: with what became of its findings since.
    """
    campaign = campaign_of(session, number)
    frozen = None if as_now else closeout_of(session, campaign)
    if frozen is not None:
        chain = head_when_written(session, WalkCloseout.__tablename__, frozen.id)
        head = _PaperOf(
            "Walkdown close-out", clock_at(session, frozen.frozen_at), "for good, frozen", chain
        )
        report = _closeout(frozen_record(frozen), head)
    else:
        chain = chain_head(session)
        head = _PaperOf(
            "Walkdown as it stands", clock_at(session, now), "a newer report is made", chain
        )
        report = _closeout(campaign_record(session, campaign, day_at(session, now)), head)
    into.mkdir(parents=True, exist_ok=True)
    named = f"{number}-{'as-it-stands' if frozen is None else 'close-out'}"
    path = into / f"{named}{_ending(language)}.pdf"
    page = PageSize.LETTER if letter else PageSize.A4
    path.write_bytes(walkdown_closeout_pdf(report, page, language))
    return path


class _PaperOf(NamedTuple):
    """What a report's head says of the paper itself; the chain as it stood when it was made."""

    title: str
    made: datetime
    valid_until: str
    chain: str


def _closeout(record: CampaignRecord, paper: _PaperOf) -> WalkdownCloseout:
    head = PaperHead(
        title=paper.title,
        number=record.campaign,
        about=record.title,
        revision=str(record.form_revision),
        made=paper.made,
        fingerprint=short(fingerprint(to_plain(record))),
        valid_until=paper.valid_until,
        plant=record.plant,
        chain_head=short(paper.chain),
        prepared_by=record.done_by("judge"),
        checked_by=record.done_by("review"),
        approved_by=record.done_by("sign off"),
    )
    return WalkdownCloseout(head, record)


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
            title = f"{name}: {drawn.what} [{drawn.unit}]"
            plot = TrendPlot(title, drawn.unit, drawn.points, drawn.lines, drawn.bands)
            path = into / f"{name.replace('/', '-')}-{drawn.what}.svg"
            path.write_text(trend_svg(plot), encoding="utf-8")
            made.append(path)
    if not made:
        raise NotFound(Sentence("nothing was ever read at {tag}", tag=view.tag))
    return made
