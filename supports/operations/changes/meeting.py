"""Two changes on one stretch of line are put together: one leads, the other follows."""

from __future__ import annotations

from datetime import datetime

from supports.database import Register
from supports.errors import BadInput
from supports.model import ChangeMeeting
from supports.operations.acting import deed
from supports.queries.lookups import change_of
from supports.rules.workflow import require_roles
from supports.sentences import either
from supports.vocabulary import Role

MEETERS = frozenset({Role.COORDINATOR, Role.RESPONSIBLE_ENGINEER})


def meet_changes(
    register: Register, pair: tuple[str, str], *, lead: str, note: str, acting: str, now: datetime
) -> None:
    """Record how two changes on one stretch go together.

    Parameters
    ----------
    lead
        Number of the change whose calculation counts both and whose owner sets the sequence.

    Raises
    ------
    BadInput
        The lead is neither of the two, or nothing is said about how they go together.
    """
    if lead not in pair or pair[0] == pair[1]:
        raise BadInput("one of two changes leads", found=lead, expected=either(pair))
    if not note:
        raise BadInput("how the two go together is not said", remedy="Say it with --reason")
    with deed(
        register, acting, now, action="put two changes together", reason=note,
        subject=" and ".join(pair),
    ) as act:  # fmt: skip
        require_roles("put changes together", MEETERS, act.person.roles)
        one, other = (change_of(act.session, number) for number in pair)
        act.session.add(
            ChangeMeeting(
                change_id=one.id,
                other_id=other.id,
                lead_id=one.id if lead == one.number else other.id,
                agreed_by=act.person.name,
                agreed_at=now,
                note=note,
            )
        )
