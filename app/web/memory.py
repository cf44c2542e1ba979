"""What a process keeps of the register's answers: each holds until the register is written to."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

from sqlalchemy.orm import Session

from app.web.visits import Visit
from supports.queries.audit_head import audit_head

KEPT = 64
"""Answers kept at a time; the one made longest ago goes first."""

_HEAD = "newest batch"
"""Asked once by a session that only reads, before whatever is made for it."""

T = TypeVar("T")


def remembered(visit: Visit, session: Session, name: Hashable, make: Callable[[], T]) -> T:
    """Return what was made for this state of the register on this day; make it once.

    Every write of a record makes a batch of the trail, so the newest batch stands for all there is.
    """
    head = session.info.get(_HEAD)
    if head is None:
        head = session.info[_HEAD] = audit_head(session).batch
    mark = (name, head, visit.today)
    kept: dict[Any, T] = visit.desk.kept
    try:
        return kept[mark]
    except KeyError:
        made = make()
    for old in list(kept)[: max(len(kept) + 1 - KEPT, 0)]:
        kept.pop(old, None)
    kept[mark] = made
    return made
