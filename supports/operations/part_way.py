"""Work that stops part-way, and what the scale says after each round of turns."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from supports.calc.elementwise import at_most
from supports.database import Register
from supports.errors import BadInput
from supports.model import StepReading
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
from supports.queries.site import settings_in_force
from supports.rules.workflow import LineState


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
        require_states(act, line, {LineState.IN_HAND, LineState.OUT_OF_WINDOW}, "stopped")
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
        plan that the order follows, if it follows one.
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
) -> bool:  # fmt: skip
    """Record the scale after a round; return whether it moved as expected.

    False means STOP: the step on the scale differs from the step expected by more than the site
    allows, and the engineer is to be told.
    """
    tag, position = place
    with deed(register, acting, now, action="record a round", subject=f"{order} {tag}") as act:
        line = work_order_line_of(act.session, order, unit_of(act.session, tag, position), tag)
        require_states(act, line, {LineState.IN_HAND}, "read after a round")
        done = _with_plan(done, foretold(act.session, line, done.number))
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
        return _as_expected(done, settings_in_force(act.session, act.today).step_disagreement)


def _with_plan(done: Round, planned: tuple[float, float] | None) -> Round:
    """Return a round with the loads [N] that the plan foretells, where none was given."""
    if planned is None or done.expected is not None:
        return done
    before, expected = planned
    return replace(done, before=before if done.before is None else done.before, expected=expected)


def _as_expected(done: Round, share: float) -> bool:
    if done.before is None or done.expected is None:
        return True
    wanted, seen = done.expected - done.before, done.load - done.before
    return at_most(abs(seen - wanted), share * abs(wanted))
