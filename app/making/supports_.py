"""Papers about supports."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from sqlalchemy.orm import Session

from app.making.wanted import Title, Wanted, document, head_of, write, write_document
from reports.catalogue import Form
from reports.contents.hanging_tags import HangingTags, hanging_tag
from reports.contents.judged_units import unit_tag
from reports.contents.support_sheet import (
    ReadFrom,
    RuleSaid,
    SupportSheet,
    Touched,
    UnitRecord,
    support_sheet,
    title_of,
)
from reports.contents.walkdown_closeout import drawn_trends
from reports.pdf.hanging_tags import hanging_tags_pdf
from supports.errors import BadInput
from supports.findings import Answer
from supports.freezing import fingerprint, to_plain
from supports.queries.explanations import explanations
from supports.queries.lookups import line_of, point_of
from supports.queries.plant_days import day_at
from supports.queries.provenance import Origin, origins_at
from supports.queries.setting_record import settings_under
from supports.queries.support_record import JudgedSupport, judged_supports, ordered_at
from supports.queries.support_views import points_on_lines, support_views
from supports.queries.unit_history import readings_of
from supports.queries.walkdowns.lookups import walk_limits_in_force
from supports.rules.walkdown.facts import ItemFacts
from supports.snapshots import SupportView


def supports_wanted(session: Session, wanted: Wanted) -> list[SupportView]:
    """Return the supports named by tag or line, in order along the line.

    Raises
    ------
    BadInput
        Neither a tag nor a line was named.
    """
    if wanted.line:
        number = line_of(session, wanted.line).number
        views = support_views(session, points_on_lines(session, [number]))
        return sorted(views, key=lambda view: view.order_on(number))
    points = [point_of(session, tag) for tag in wanted.one_or_more("tags, or a line with --line")]
    return support_views(session, points)


def make_hanging_tags(session: Session, wanted: Wanted) -> list[Path]:
    """Write tags to hang for the springs among the supports."""
    views, say = supports_wanted(session, wanted), wanted.say
    springs = [(view, unit) for view in views for unit in view.units if unit.kind.is_spring]
    if not springs:
        raise BadInput("no spring unit hangs there", where=_about(views, wanted))
    held = settings_under(session, [unit.id for _, unit in springs])
    tags = tuple(
        hanging_tag(view, unit, tuple(held.get(unit.id, ())), say) for view, unit in springs
    )
    title = Title(
        title=say("Tags to hang"),
        number=say("TAGS-{name}", name=_about(views, wanted)),
        about=say("{count} units, settings as the register holds them", count=len(tags)),
        valid_until=say("a unit is set anew"),
    )
    mark = fingerprint([to_plain(one) for one in tags])
    paper = HangingTags(head_of(session, wanted, title, mark), tags, wanted.language)
    return write(
        wanted,
        f"{_about(views, wanted)}-hanging-tags",
        {Form.PDF: lambda: hanging_tags_pdf(paper, wanted.page)},
    )


def make_support_sheets(session: Session, wanted: Wanted) -> list[Path]:
    """Write the data sheet of each support."""
    views, say = supports_wanted(session, wanted), wanted.say
    judged = judged_supports(session, [one.id for one in views], day_at(session, wanted.made))
    places = {one.support.id: one for one in judged}
    files = []
    for view in views:
        one = places[view.id]
        blocks = support_sheet(sheet_of(session, one, wanted), say)
        title = Title(say("Data sheet {tag}", tag=view.tag), view.tag, title_of(view, say))
        made = document(session, wanted, title, blocks, code=view.public_id)
        files += write_document(made, wanted, f"{view.tag}-data-sheet")
    return files


def sheet_of(
    session: Session, one: JudgedSupport, wanted: Wanted, *, sources: bool = True
) -> SupportSheet:
    """Return all that the data sheet of a support says, with or without where it was read."""
    today, point = day_at(session, wanted.made), one.support.id
    return SupportSheet(
        support=one.support,
        units=tuple(_records(session, one, today)),
        basis=one.basis,
        said=tuple(_said(session, one.support.tag, today)),
        touched=tuple(
            Touched(row.order, row.change, row.written_on, row.action, row.state)
            for row in ordered_at(session, point)
        ),
        sources=tuple(
            _read_from(words, origin)
            for words, origin in (origins_at(session, point) if sources else ())
        ),
    )


def _records(session: Session, one: JudgedSupport, today: date) -> Iterator[UnitRecord]:
    view = one.support
    units = {unit.id: unit for unit in view.units}
    settings, readings = settings_under(session, units), readings_of(session, [*units])
    limits = walk_limits_in_force(session, today)
    for judged in one.judgement.units:
        unit = units.get(judged.unit_id or -1)
        if unit is None:
            yield UnitRecord(view.tag, None, judged)
            continue
        held = tuple(readings.get(unit.id, ()))
        name = unit_tag(view, unit)
        drawn = drawn_trends(ItemFacts(name, view, unit, None, held), limits)
        yield UnitRecord(name, unit, judged, tuple(settings.get(unit.id, ())), held, drawn)


def _said(session: Session, tag: str, today: date) -> Iterator[RuleSaid]:
    for one in explanations(session, tag, today):
        if one.answer is not Answer.NOT_APPLICABLE:
            fails = one.answer is Answer.FAILS
            yield RuleSaid(one.rule, one.subject, one.severity, one.says, fails=fails)


def _read_from(words: str, origin: Origin) -> ReadFrom:
    found = f"{origin.text} [{origin.unit}]" if origin.unit else origin.text
    return ReadFrom(
        what=words,
        field=origin.field.replace("_", " "),
        found=found,
        place=f"{origin.place.file} {origin.place.sheet}".strip() or origin.action,
        cell=origin.place.cell if origin.text else "",
        by=origin.actor,
        on=f"{origin.written_at:%Y-%m-%d}",
    )


def _about(views: Sequence[SupportView], wanted: Wanted) -> str:
    if wanted.line:
        return wanted.line
    return views[0].tag if len(views) == 1 else f"{views[0].tag}-{len(views)}"
