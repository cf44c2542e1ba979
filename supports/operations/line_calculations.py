"""A screening calculation kept as a calculation, so that a change can be assessed by it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.calc.line.aims import Aim
from supports.calc.line.results import LineResult
from supports.calc.line.solver import solve_states
from supports.database import Register
from supports.errors import BadInput
from supports.model import Calculation, DesignCase, RequiredLoad
from supports.operations.acting import Deed, deed
from supports.queries.change_views import change_view
from supports.queries.lookups import line_of, point_of
from supports.queries.route_views import route_view
from supports.rules.line.screening import PLANNED, ReadyLine, Screening, ready_line, screen
from supports.rules.workflow import require_roles
from supports.snapshots import ChangeView
from supports.vocabulary import (
    CalculationMethod,
    CalculationStatus,
    CaseKind,
    Known,
    Role,
    SupportKind,
    counted,
)

_SIDEWAYS = {str(SupportKind.GUIDE), str(SupportKind.LINE_STOP), ""}


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be screened: lines of a change, by an aim, with the springs that may be re-set.

    Parameters
    ----------
    aim
        What the engineer wants of the re-set; it is recorded with the calculation.
    only
        Tags of the springs that may be re-set; all if none is named.
    """

    lines: tuple[str, ...]
    change: str
    aim: Aim
    only: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """Return the aim with the springs, as it is recorded."""
        return f"aim: {self.aim}" + (f", only {', '.join(self.only)}" if self.only else "")


@dataclass(frozen=True, slots=True)
class Stored:
    """What was stored: number and revision of the calculation, and supports with loads."""

    number: str
    revision: str
    supports: int


def store_screening(register: Register, wanted: Wanted, *, acting: str, now: datetime) -> Stored:
    """Screen lines through a change and keep the loads as planned; return what was stored.

    Raises
    ------
    NotAllowed
        The person is no stress engineer.
    BadInput
        A line is not one of the change.
    NotReady, CannotCalculate
        A line cannot be screened; the message says what is missing.
    """
    action, number = "store a screening calculation", wanted.change
    with deed(register, acting, now, action=action, reason=wanted.words, subject=number) as act:
        session, view = act.session, change_view(act.session, number)
        require_roles("store a calculation", {Role.STRESS_ENGINEER}, act.person.roles)
        _require_lines(view, wanted.lines)
        calculation = _calculation(act, view, wanted)
        stored = 0
        for line in wanted.lines:
            ready = ready_line(route_view(session, line), view.weights)
            springs = [s.name for s in ready.built.line.springs if s.name in wanted.only]
            stored += _loads(session, calculation, ready, screen(ready, wanted.aim, springs))
        return Stored(calculation.number, calculation.revision, stored)


def _require_lines(change: ChangeView, lines: Sequence[str]) -> None:
    strange = [number for number in lines if number not in change.lines]
    if strange or not lines:
        raise BadInput(
            f"change {change.number} does not touch every line named",
            found=", ".join(strange) or "no line",
            expected=", ".join(change.lines),
        )


def _calculation(act: Deed, change: ChangeView, wanted: Wanted) -> Calculation:
    number = f"SCREENING-{change.number}"
    query = select(func.count(Calculation.id)).where(Calculation.number == number)
    net = sum(item.mass for item in change.weights)
    calculation = Calculation(
        number=number,
        revision=str((act.session.scalar(query) or 0) + 1),
        method=CalculationMethod.SCREENING,
        status=CalculationStatus.PLANNED,
        issued_on=act.today,
        author=act.person.name,
        basis=(
            f"screening calculation; {wanted.words}; weights of {change.number}: "
            f"{counted(len(change.weights), 'item')}, net {net:+.1f} kg; settings as on record"
        ),
    )
    act.session.add(calculation)
    act.session.flush()
    return calculation


def _loads(
    session: Session, calculation: Calculation, ready: ReadyLine, screening: Screening
) -> int:
    line = line_of(session, ready.route.line.number)
    case = _operating_case(session, line.id)
    planned = screening.results[PLANNED]
    rises = dict(_rises(ready, planned))
    carrying = [one for one in screening.supports if one.kind not in _SIDEWAYS]
    for one in carrying:
        row = RequiredLoad(
            calculation_id=calculation.id,
            point_id=point_of(session, one.tag),
            line_id=line.id,
            case_id=case.id,
            load=one.planned,
            includes_hardware=Known.NO,
            movement_up=rises[one.tag],
        )
        session.add(row)
    session.flush()
    return len(carrying)


def _operating_case(session: Session, line_id: int) -> DesignCase:
    """Return the line's operating case; made where there is none yet."""
    query = (
        select(DesignCase)
        .where(DesignCase.line_id == line_id, DesignCase.kind == CaseKind.OPERATING)
        .order_by(DesignCase.id)
        .limit(1)
    )
    found = session.scalar(query)
    if found is None:
        found = DesignCase(line_id=line_id, name="operating", kind=CaseKind.OPERATING)
        session.add(found)
        session.flush()
    return found


def _rises(ready: ReadyLine, planned: LineResult) -> Iterator[tuple[str, float]]:
    """Give the movement of each support from shut down to operating, as planned [m]."""
    state = planned.state
    at_rest = replace(state, name="shut down, as planned", temperature=None, movements={})
    cold = solve_states(ready.system, [at_rest])[0]
    for tag, hot in planned.supports.items():
        yield tag, hot.movement - cold.supports[tag].movement
