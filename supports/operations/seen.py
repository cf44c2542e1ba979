"""Nobody writes over, or signs, what somebody else changed since they looked."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from types import MappingProxyType

from sqlalchemy.orm import Session

from supports.errors import Conflict
from supports.model import Change
from supports.queries.change_record import present_parts
from supports.rules.workflow.record import changed_parts
from supports.sentences import Sentence, joined

NOTHING_SEEN: Mapping[str, str] = MappingProxyType({})
Seen = Mapping[str, str]
"""Fingerprints of the parts of a change as somebody looked at them; empty asks nothing."""


def require_as_seen(
    session: Session, change: Change, seen: Seen, parts: Collection[str] | None = None
) -> None:
    """Raise Conflict if a change says something else now than when somebody looked at it.

    Parameters
    ----------
    parts
        Only these matter; None for all of them.
    """
    if not seen:
        return
    other = changed_parts(seen, present_parts(session, change))
    other = tuple(name for name in other if parts is None or name in parts)
    if other:
        raise Conflict(
            Sentence(
                "{change} was changed by somebody else since you looked", change=change.number
            ),
            found=Sentence("changed since: {names}", names=joined(other, ", ")),
            remedy="Nothing was written. Look at what it says now, then decide again",
        )
