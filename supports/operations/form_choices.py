"""A pack's form that says otherwise than what is recorded: a person chooses, both stay."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from supports.database import Register
from supports.errors import BadInput, NotReady
from supports.model import FormChoice, WorkOrderLine
from supports.operations.acting import Deed, deed
from supports.operations.order_states import refresh_orders
from supports.operations.unit_states import AS_FOUND, require_states
from supports.operations.unit_work import (
    UnitReading,
    left_state,
    need_second_reader,
    open_line,
    state_as_found,
    store_reading,
    store_setting,
)
from supports.queries.orders import change_of_line
from supports.queries.work_order_views import readings_on_line
from supports.rules.work_plan import RE_SET, READ_ONLY
from supports.rules.workflow import LineState
from supports.sentences import Sentence
from supports.vocabulary import Kept


@dataclass(frozen=True, slots=True)
class Disputed:
    """What a form says of one occasion at a unit, and which of the two a person lets stand."""

    occasion: str
    reading: UnitReading
    kept: Kept


def choose_reading(
    register: Register, number: str, disputed: Disputed, *, acting: str, now: datetime,
    reason: str,
) -> None:  # fmt: skip
    """Let the form or what is recorded stand; neither is overwritten, the choice is kept.

    What the form says becomes the newest reading of the unit, so signatures given on the other one
    no longer hold.

    Raises
    ------
    BadInput
        No reason is given.
    NotReady
        Nothing is recorded, or the unit is past the point at which its form may still speak.
    """
    if not reason.strip():
        raise BadInput("to choose between readings, give the reason")
    form = disputed.reading
    about = f"{number} {form.tag}"
    with deed(
        register, acting, now, action="choose a reading", reason=reason, subject=about
    ) as act:
        line = open_line(act, number, form)
        recorded = readings_on_line(act.session, line.id).get(disputed.occasion)
        if recorded is None:
            raise NotReady(
                Sentence(
                    "nothing is recorded {occasion} at {tag}; hand the form in",
                    occasion=disputed.occasion,
                    tag=form.tag,
                )
            )
        if form.load is None:
            raise BadInput("the form gives no load to choose", where=form.tag)
        act.session.add(
            FormChoice(
                work_order_line_id=line.id,
                occasion=disputed.occasion,
                kept=disputed.kept,
                form_load=form.load,
                form_pointer=form.pointer,
                recorded_load=recorded.scale_load,
                recorded_pointer=recorded.pointer,
                person_id=act.person.id,
                chosen_at=now,
                reason=reason,
            )
        )
        if disputed.kept is Kept.FORM:
            _take_form(act, line, disputed)


def _take_form(act: Deed, line: WorkOrderLine, disputed: Disputed) -> None:
    """Add what the form says as the newest reading, where the work has not gone past it."""
    form = disputed.reading
    if disputed.occasion == AS_FOUND:
        before_turning = {LineState.IN_HAND, LineState.BACK_TO_ENGINEER, LineState.READ}
        require_states(act, line, before_turning, "read as found anew")
        store_reading(act, line, form, AS_FOUND)
        line.state = state_as_found(line, form)
        return
    before_accepting = {LineState.TO_BE_CHECKED, LineState.OUT_OF_WINDOW}
    if line.action == READ_ONLY:
        before_accepting = {LineState.READ}
    require_states(act, line, before_accepting, "read as left anew")
    store_reading(act, line, form, disputed.occasion)
    if line.action == RE_SET:
        need_second_reader(form)
        store_setting(act, line, form)
        line.state = left_state(line, form)
    refresh_orders(act.session, change_of_line(act.session, line))
