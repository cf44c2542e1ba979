"""What hangs before and behind a support on each of its lines."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Attachment, Line, SupportTag
from supports.tags import natural_key


@dataclass(frozen=True, slots=True)
class Beside:
    """The neighbours on one line; '' at its ends."""

    line: str
    before: str
    behind: str


def beside_on_lines(session: Session, point: int) -> tuple[Beside, ...]:
    """Return the neighbours of a support on every line that it holds."""
    own = (
        select(Line.id, Line.number)
        .join(Attachment, Attachment.line_id == Line.id)
        .where(Attachment.point_id == point)
        .order_by(Line.number)
    )
    return tuple(
        _beside(session, line, number, point) for line, number in session.execute(own).all()
    )


def _beside(session: Session, line: int, number: str, point: int) -> Beside:
    query = (
        select(Attachment.point_id, Attachment.order_along, SupportTag.tag)
        .join(SupportTag, SupportTag.point_id == Attachment.point_id)
        .where(Attachment.line_id == line, SupportTag.valid_to.is_(None))
    )
    rows = sorted(
        session.execute(query).all(),
        key=lambda row: (row.order_along is None, row.order_along or 0, natural_key(row.tag)),
    )
    place = next(n for n, row in enumerate(rows) if row.point_id == point)
    before = rows[place - 1].tag if place else ""
    return Beside(number, before, rows[place + 1].tag if place + 1 < len(rows) else "")
