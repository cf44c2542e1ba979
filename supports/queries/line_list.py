"""The lines of the plant as a list: how many supports hold each, and whether it has a route."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.model import Area, Attachment, Line, LineNode
from supports.tags import matching_key, natural_key


@dataclass(frozen=True, slots=True)
class ListedLine:
    """A line as it stands in the list."""

    number: str
    service: str
    area: str
    nominal_size: str
    criticality: str
    supports: int
    routed: bool


def listed_lines(session: Session, text: str = "", area: str = "") -> list[ListedLine]:
    """Return the lines whose number or service holds the text, in natural order."""
    held = select(Attachment.line_id, func.count().label("held")).group_by(Attachment.line_id)
    counts, routed = held.subquery(), select(LineNode.line_id).distinct().subquery()
    query = (
        select(
            Line.number,
            Line.service,
            Line.nominal_size,
            Line.criticality,
            Area.code,
            counts.c.held,
            routed.c.line_id,
        )
        .outerjoin(Area, Line.area_id == Area.id)
        .outerjoin(counts, counts.c.line_id == Line.id)
        .outerjoin(routed, routed.c.line_id == Line.id)
    )
    if area:
        query = query.where(Area.code == area)
    found = [
        ListedLine(
            number, service or "", code or "", size or "", criticality or "", count or 0,
            way is not None,
        )
        for number, service, size, criticality, code, count, way in session.execute(query)
    ]  # fmt: skip
    return sorted(
        (one for one in found if _holds(one, text)), key=lambda one: natural_key(one.number)
    )


def _holds(one: ListedLine, text: str) -> bool:
    return (
        matching_key(text) in matching_key(one.number) or text.casefold() in one.service.casefold()
    )
