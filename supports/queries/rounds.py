"""What the scale said after each round of turns at a unit, and whether it moved as expected."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.calc.elementwise import at_most
from supports.model import StepReading, WorkOrderLine
from supports.queries.plans import foretold, windows_foretold
from supports.queries.work_order_views import readings_on_line
from supports.rules.work_plan import moved_as_expected
from supports.vocabulary import Occasion

COPIED = 1e-3
"""Share by which a load may differ from the plan's and still be the plan's, copied by hand [1]."""


@dataclass(frozen=True, slots=True)
class Stepped:
    """What the scale said about one round: before, after, and what was expected after it [N]."""

    number: int
    before: float | None
    load: float
    expected: float | None


@dataclass(frozen=True, slots=True)
class RoundRead:
    """One reading after a round: loads [N], pointer [m].

    Parameters
    ----------
    good
        Whether the scale moved as expected; None where that cannot be judged.
    """

    number: int
    before: float | None
    load: float
    expected: float | None
    pointer: float | None
    read_by: str
    read_at: datetime
    good: bool | None


def rounds_read(session: Session, line: WorkOrderLine, share: float) -> tuple[RoundRead, ...]:
    """Return the readings after rounds, in the order in which they were taken.

    Parameters
    ----------
    share
        How much of the step expected the step seen may differ from it [1].
    """
    steps = _steps(session, line)
    return tuple(_read(session, line, steps[:at], step, share) for at, step in enumerate(steps))


def is_as_expected(
    session: Session, line: WorkOrderLine, step: Stepped, share: float
) -> bool | None:
    """Return whether the scale moved as expected; None where that cannot be judged.

    By a plan the reading is held against the window that the pack prints, friction included; a
    unit found off within its window keeps that difference. Without a plan the step counts.

    Parameters
    ----------
    share
        How much of the step expected the step seen may differ from it [1].
    """
    planned = windows_foretold(session, line, step.number)
    if planned is None or not _is_said(step.expected, planned.after.scale):
        return moved_as_expected(step.before, step.expected, step.load, share)
    window = planned.window_of(step.load)
    off = 0.0 if step.before is None else step.before - planned.before
    return at_most(abs(step.load - window.scale - off), window.scale - window.low)


def _is_said(expected: float | None, scale: float) -> bool:
    """Return whether a load [N] is what the plan foretells, rounded as people copy it."""
    return expected is not None and abs(expected - scale) <= COPIED * abs(scale)


def load_before(session: Session, line: WorkOrderLine, round_no: int) -> float | None:
    """Return what a unit's scale showed before a round: by its plan, else as it was read [N]."""
    return _before(session, line, _steps(session, line), round_no)


def _read(
    session: Session, line: WorkOrderLine, earlier: Sequence[StepReading], step: StepReading,
    share: float,
) -> RoundRead:  # fmt: skip
    before = _before(session, line, earlier, step.round_no)
    stepped = Stepped(step.round_no, before, step.load, step.expected)
    good = is_as_expected(session, line, stepped, share)
    return RoundRead(
        step.round_no, before, step.load, step.expected, step.pointer, step.read_by, step.read_at,
        good,
    )  # fmt: skip


def _before(
    session: Session, line: WorkOrderLine, earlier: Sequence[StepReading], round_no: int
) -> float | None:
    planned = foretold(session, line, round_no)
    if planned is not None:
        return planned[0]
    known = [step.load for step in earlier if step.round_no < round_no]
    if known:
        return known[-1]
    found = readings_on_line(session, line.id).get(Occasion.AS_FOUND)
    return None if found is None or round_no > 1 else found.scale_load


def _steps(session: Session, line: WorkOrderLine) -> list[StepReading]:
    query = select(StepReading).where(StepReading.work_order_line_id == line.id)
    return list(session.scalars(query.order_by(StepReading.id)))
