"""Work that stops part-way, and what the scale says after each round of turns."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import BadInput
from supports.model import StepReading, WorkOrderLine
from supports.operations.acting import deed
from supports.operations.order_states import refresh_orders
from supports.operations.unit_states import PART_WAY, require_states
from supports.operations.unit_work import (
    UnitReading,
    need_second_reader,
    open_line,
    store_reading,
    store_setting,
)
from supports.queries.lookups import unit_of, work_order_line_of
from supports.queries.orders import change_of_line
from supports.queries.plans import foretold
from supports.queries.rounds import Stepped, is_as_expected, load_before
from supports.queries.site import settings_in_force
from supports.rules.workflow import LineState
from supports.rules.workflow.unit_acts import unit_act


def stop_part_way(
    register: Register, number: str, reading: UnitReading, *, acting: str, now: datetime
) -> None:
    """Stop at a unit in hand: what it stands at is its setting; an engineer alone restarts it.

    Anybody with a role may stop at any time; the reason goes into the reading's note.
    """
    if not reading.note:
        raise BadInput("why the work stops is not said", remedy="Say it with --note")
    with deed(
        register,
        acting,
        now,
        action="stop part-way",
        reason=reading.note,
        subject=f"{number} {reading.tag}",
    ) as act:
        line = open_line(act, number, reading)
        require_states(act, line, unit_act("stop part-way").frm, "stopped")
        if reading.load is None:
            raise BadInput("what the unit stands at must be read", found="a blank")
        need_second_reader(reading)
        store_reading(act, line, reading, PART_WAY)
        store_setting(act, line, reading)
        line.state = LineState.STOPPED
        refresh_orders(act.session, change_of_line(act.session, line))


@dataclass(frozen=True, slots=True)
class Round:
    """What was read after one round of turns: loads [N], pointer [m].

    Parameters
    ----------
    before, expected
        Load before the round, and load that the pack expects after it; where None, those of the
        plan that the order follows, else what was read before.
    """

    number: int
    load: float
    read_by: str
    before: float | None = None
    expected: float | None = None
    pointer: float | None = None


def record_round(
    register: Register, order: str, place: tuple[str, str], done: Round, *, acting: str,
    now: datetime,
) -> bool | None:  # fmt: skip
    """Record the scale after a round; return whether it moved as expected.

    False means STOP: the reading lies outside the window that the pack prints for the round, or,
    without a plan, the step differs by more than the site allows; the engineer is to be told. None
    means that it cannot be judged, as nobody said what to expect.
    """
    tag, position = place
    with deed(register, acting, now, action="record a round", subject=f"{order} {tag}") as act:
        line = work_order_line_of(act.session, order, unit_of(act.session, tag, position), tag)
        require_states(act, line, unit_act("read after a round").frm, "read after a round")
        done = _completed(act.session, line, done)
        act.session.add(
            StepReading(
                work_order_line_id=line.id,
                round_no=done.number,
                load=done.load,
                expected=done.expected,
                pointer=done.pointer,
                read_by=done.read_by,
                read_at=now,
            )
        )
        share = settings_in_force(act.session, act.today).step_disagreement
        stepped = Stepped(done.number, done.before, done.load, done.expected)
        return is_as_expected(act.session, line, stepped, share)


def _completed(session: Session, line: WorkOrderLine, done: Round) -> Round:
    """Return a round with the loads [N] that the plan foretells or the scale showed before."""
    planned = foretold(session, line, done.number)
    before = load_before(session, line, done.number) if done.before is None else done.before
    expected = planned[1] if done.expected is None and planned is not None else done.expected
    return replace(done, before=before, expected=expected)
