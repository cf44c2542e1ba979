"""Plan a turnaround: level its scope in time and keep the plan with all it was made from."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import func, select

from supports.database import Register
from supports.errors import NotReady
from supports.freezing import fingerprint, to_plain
from supports.model import TurnaroundPlan
from supports.operations.acting import deed
from supports.operations.turnarounds.levelling import STEPS, levelled
from supports.operations.turnarounds.opening import PLANNERS
from supports.queries.plant_days import day_at
from supports.queries.turnarounds import (
    means_of,
    norms_in_force,
    scope_of,
    turnaround_of,
    windows_of,
)
from supports.rules.turnaround.plan import Plan
from supports.rules.turnaround.tasks import tasks_of
from supports.rules.workflow import require_roles


def plan_turnaround(
    register: Register, number: str, *, acting: str, now: datetime, steps: float = STEPS
) -> tuple[int, Plan]:
    """Plan what is left of the scope; return the plan with its revision.

    The schedule is worked out before anything is locked, and stored in one short write.

    Parameters
    ----------
    steps
        How hard to look for a better schedule, in the solver's own measure.

    Raises
    ------
    NotReady
        Nothing is in the scope, or no schedule fits.
    """
    plan = _made(register, number, now, steps)
    with deed(register, acting, now, action="plan a turnaround", subject=number) as act:
        require_roles("plan a turnaround", PLANNERS, act.person.roles)
        row = turnaround_of(act.session, number)
        newest = select(func.max(TurnaroundPlan.revision)).where(
            TurnaroundPlan.turnaround_id == row.id
        )
        revision = (act.session.scalar(newest) or 0) + 1
        content = to_plain(plan)
        act.session.add(
            TurnaroundPlan(
                turnaround_id=row.id,
                revision=revision,
                made_at=act.now,
                made_by=act.person.name,
                content=content,
                fingerprint=fingerprint(content),
            )
        )
    return revision, plan


def _made(register: Register, number: str, now: datetime, steps: float) -> Plan:
    with register.reading() as session:
        row = turnaround_of(session, number)
        scope = scope_of(session, row, day_at(session, now))
        norms, means = norms_in_force(session, day_at(session, now)), means_of(row)
        windows = windows_of(session, row)
    if not scope.items:
        raise NotReady(
            f"the scope of {number} is empty",
            remedy=f"Collect it first: supports turnaround collect {number}",
        )
    tasks = tasks_of(scope, norms, means, windows)
    schedule = levelled(tasks.tasks, means, steps)
    return Plan(scope, norms, tuple(windows), schedule, tasks.not_planned)
