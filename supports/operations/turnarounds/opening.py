"""Open a turnaround: its days, people and lines; when which line is in which state; norms."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import BadInput
from supports.model import Turnaround, TurnaroundLine, TurnaroundWindow
from supports.operations.acting import deed
from supports.operations.site import lay_down_number
from supports.queries.lookups import line_of
from supports.queries.turnarounds import NORM_SCOPE, turnaround_of
from supports.rules.turnaround.norms import norm_of
from supports.rules.workflow import require_roles
from supports.vocabulary import PlantState, Role

PLANNERS = {Role.PLANNER, Role.COORDINATOR}


@dataclass(frozen=True, slots=True)
class Opening:
    """What a turnaround is opened with; no lines means the whole plant."""

    title: str
    begins_on: date
    ends_on: date
    lines: tuple[str, ...] = ()
    freeze_on: date | None = None
    hours_a_day: float = 10.0
    crews: int = 2
    fitters: int = 4
    scaffolders: int = 3
    inspectors: int = 1
    engineers: int = 1
    number: str = ""


def open_turnaround(register: Register, opening: Opening, *, acting: str, now: datetime) -> str:
    """Open a turnaround; return its number.

    Raises
    ------
    BadInput
        It ends before it begins, or a number of people or hours is none.
    NotFound
        A line is not in the register.
    """
    _check(opening)
    with deed(register, acting, now, action="open a turnaround", subject=opening.title) as act:
        require_roles("open a turnaround", PLANNERS, act.person.roles)
        row = Turnaround(
            number=opening.number or _next_number(act.session, opening.begins_on.year),
            title=opening.title,
            begins_on=opening.begins_on,
            ends_on=opening.ends_on,
            freeze_on=opening.freeze_on,
            hours_a_day=opening.hours_a_day,
            crews=opening.crews,
            fitters=opening.fitters,
            scaffolders=opening.scaffolders,
            inspectors=opening.inspectors,
            engineers=opening.engineers,
            opened_by=act.person.name,
            opened_on=act.today,
        )
        act.session.add(row)
        act.session.flush()
        for number in dict.fromkeys(opening.lines):
            line = line_of(act.session, number)
            act.session.add(TurnaroundLine(turnaround_id=row.id, line_id=line.id))
        return row.number


def _check(opening: Opening) -> None:
    if not opening.title.strip():
        raise BadInput("a turnaround needs a title", found="a blank")
    if opening.ends_on < opening.begins_on:
        raise BadInput(
            "a turnaround ends on the day it begins, or later",
            found=f"{opening.begins_on} to {opening.ends_on}",
        )
    if opening.freeze_on is not None and opening.freeze_on > opening.begins_on:
        raise BadInput(
            "the scope is frozen before the turnaround begins", found=f"{opening.freeze_on}"
        )
    if not 1.0 <= opening.hours_a_day <= 24.0:
        raise BadInput("hours of work a day", found=f"{opening.hours_a_day:g}", expected="1 to 24")
    for name in ("crews", "fitters", "scaffolders", "inspectors", "engineers"):
        if getattr(opening, name) < 1:
            raise BadInput(f"there is at least one of: {name}", found=str(getattr(opening, name)))


def _next_number(session: Session, year: int) -> str:
    count = session.scalar(select(func.count(Turnaround.id))) or 0
    return f"TA-{year}-{count + 1:02d}"


def lay_down_window(
    register: Register, number: str, state: PlantState, days: tuple[date, date], *, line: str,
    acting: str, now: datetime,
) -> None:  # fmt: skip
    """Lay down from which to which day a line, or every line, is in a plant state.

    Raises
    ------
    BadInput
        The days lie outside the turnaround, or end before they begin.
    """
    with deed(register, acting, now, action="lay down a window", subject=number) as act:
        require_roles("lay down a window", {*PLANNERS, Role.OPERATIONS}, act.person.roles)
        row = turnaround_of(act.session, number)
        if not row.begins_on <= days[0] <= days[1] <= row.ends_on:
            raise BadInput(
                "a window lies within the turnaround", found=f"{days[0]} to {days[1]}",
                expected=f"within {row.begins_on} to {row.ends_on}",
            )  # fmt: skip
        act.session.add(
            TurnaroundWindow(
                turnaround_id=row.id,
                line_id=line_of(act.session, line).id if line else None,
                plant_state=state,
                first_day=days[0],
                last_day=days[1],
                laid_down_by=act.person.name,
                laid_down_at=act.now,
            )
        )


def lay_down_norm(
    register: Register, name: str, number: float, *, source: str, acting: str, now: datetime
) -> None:
    """Lay down a norm from today on, with its source; the old one stays known.

    Raises
    ------
    NotFound
        There is no such norm.
    Conflict
        It was laid down today already.
    """
    norm = norm_of(name)
    _check_norm(norm.unit, number, source)
    with deed(register, acting, now, action="lay down a norm", reason=source, subject=name) as act:
        require_roles("lay down a norm", PLANNERS, act.person.roles)
        lay_down_number(act, NORM_SCOPE, name, number, source)


def _check_norm(unit: str, number: float, source: str) -> None:
    if not source.strip():
        raise BadInput("a norm needs its source", remedy="Give it with --source")
    least = 1.0 if unit == "people" else 0.0
    if not number >= least or (unit == "%" and number > 100.0):
        raise BadInput("a norm is not like that", found=f"{number:g} {unit}")
    if unit == "people" and number != round(number):
        raise BadInput("people are counted whole", found=f"{number:g}")
