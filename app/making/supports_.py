"""Papers about supports."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from sqlalchemy.orm import Session

from app.making.wanted import Title, Wanted, head_of, write
from reports.catalogue import Form
from reports.contents.hanging_tags import HangingTags, hanging_tag
from reports.pdf.hanging_tags import hanging_tags_pdf
from supports.errors import BadInput
from supports.freezing import fingerprint, to_plain
from supports.queries.lookups import line_of, point_of
from supports.queries.setting_record import settings_under
from supports.queries.support_views import points_on_lines, support_views
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


def _about(views: Sequence[SupportView], wanted: Wanted) -> str:
    if wanted.line:
        return wanted.line
    return views[0].tag if len(views) == 1 else f"{views[0].tag}-{len(views)}"
