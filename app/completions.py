"""Words that the tab key completes out of the register: tags, lines, changes, people, orders."""

from __future__ import annotations

from collections.abc import Callable

MOST = 200
"""Words offered at once; with more a shell asks whether to show them."""


def completed_from(what: str) -> Callable[[str], list[str]]:
    """Return what completes a word of one kind; what is wrong with the register stays unsaid."""

    def complete(incomplete: str) -> list[str]:
        return _complete(what, incomplete)

    return complete


def _complete(what: str, incomplete: str) -> list[str]:
    from sqlalchemy import select

    from app.settings import open_register
    from supports import model
    from supports.errors import SupportsError

    column = {
        "tag": model.SupportTag.tag,
        "line": model.Line.number,
        "change": model.Change.number,
        "order": model.WorkOrder.number,
        "person": model.Person.initials,
    }[what]
    query = select(column).where(column.startswith(incomplete, autoescape=True)).distinct()
    if what == "tag":
        query = query.where(model.SupportTag.valid_to.is_(None))
    try:
        with open_register(None).reading() as session:
            return [one for one in session.scalars(query.order_by(column).limit(MOST)) if one]
    except SupportsError:
        return []
