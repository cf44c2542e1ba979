"""How a temporary change stands to its date: the date decides, nobody has to mark it."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Change, ChangeTerm
from supports.queries.periods import periods_in_force
from supports.rules.workflow import ChangeState
from supports.vocabulary import counted


def temporary_standing(session: Session, change: Change, today: date) -> str:
    """Return where an approved temporary change stands to its date; '' for any other."""
    built = select(ChangeTerm.id).where(ChangeTerm.change_id == change.id).limit(1)
    over = ChangeState(change.state).is_over
    if change.ends_on is None or over or session.scalar(built) is None:
        return ""
    left = (change.ends_on - today).days
    if left < 0:
        return (
            f"past its date since {change.ends_on}: only its removal order or a new approval "
            "leaves this state"
        )
    periods = periods_in_force(session, today)
    if left <= periods.temporary_last_warning:
        return f"ends on {change.ends_on}, last warning: {counted(left, 'day')} left"
    if left <= periods.temporary_first_warning:
        return f"ends on {change.ends_on}, warning: {counted(left, 'day')} left"
    return f"temporary till {change.ends_on}"
