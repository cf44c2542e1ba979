"""How a temporary change stands to its date: the date decides, nobody has to mark it."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Change, ChangeTerm
from supports.queries.asked_once import of_many, of_one
from supports.queries.narrowing import only
from supports.queries.periods import periods_in_force
from supports.rules.workflow import ChangeState
from supports.rules.workflow.periods import Periods
from supports.vocabulary import counted


def temporary_standing(session: Session, change: Change, today: date) -> str:
    """Return where an approved temporary change stands to its date; '' for any other."""
    return temporary_standings(session, [change], today).get(change.id, "")


def temporary_standings(
    session: Session, changes: Collection[Change], today: date
) -> dict[int, str]:
    """Return where approved temporary changes stand to their dates; others are left out."""
    ending = [
        one for one in changes if one.ends_on is not None and not ChangeState(one.state).is_over
    ]
    built = of_many(session, Change, _with_term, (one.id for one in ending))
    approved = [one for one in ending if built[one.id]]
    if not approved:
        return {}
    periods = periods_in_force(session, today)
    return {one.id: _standing(one.ends_on, today, periods) for one in approved if one.ends_on}


def was_built(session: Session, change: Change) -> bool:
    """Return whether a temporary change ever had a term, so that it was built."""
    return bool(of_one(session, Change, _with_term, change.id))


def _with_term(session: Session, changes: Collection[int]) -> dict[int, bool]:
    query = select(ChangeTerm.change_id).distinct()
    return dict.fromkeys(session.scalars(only(query, ChangeTerm.change_id, changes)), True)


def _standing(ends_on: date, today: date, periods: Periods) -> str:
    left = (ends_on - today).days
    if left < 0:
        return (
            f"past its date since {ends_on}: only its removal order or a new approval "
            "leaves this state"
        )
    if left <= periods.temporary_last_warning:
        return f"ends on {ends_on}, last warning: {counted(left, 'day')} left"
    if left <= periods.temporary_first_warning:
        return f"ends on {ends_on}, warning: {counted(left, 'day')} left"
    return f"temporary till {ends_on}"
