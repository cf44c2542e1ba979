"""Call a change off: untouched, or half-way and then put right unit by unit."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from supports.database import Register
from supports.errors import BadInput, NotReady
from supports.model import Change, WorkOrderLine
from supports.operations.acting import Deed, deed
from supports.operations.changes.temporary import terms_of
from supports.operations.order_states import lines_of_change, recall_copies, refresh_orders
from supports.queries.lookups import change_of, unit_of, work_order_line_of
from supports.queries.orders import line_content, name_of_line
from supports.rules.work_plan import RE_SET
from supports.rules.workflow import ChangeState, LineState, require_roles, require_step
from supports.rules.workflow.unit_acts import unit_act
from supports.sentences import Sentence

_KEEP = unit_act("keep as it is")


@dataclass(frozen=True, slots=True)
class CalledOff:
    """What calling off a change leaves to be done."""

    state: ChangeState
    to_put_right: tuple[str, ...]
    copies_to_recall: tuple[str, ...]


def call_off(
    register: Register, number: str, *, acting: str, reason: str, now: datetime
) -> CalledOff:
    """Call a change off; units already turned are to be put right before any heat-up.

    Raises
    ------
    NotReady
        A unit is in hand or stopped part-way, or the change is a temporary one in force.
    """
    if not reason:
        raise BadInput("a change is called off with a reason", remedy="Say it with --reason")
    with deed(
        register, acting, now, action="call off a change", reason=reason, subject=number
    ) as act:
        change = change_of(act.session, number)
        lines = lines_of_change(act.session, change.id)
        turned = [line for line in lines if _was_turned(line)]
        name = "call off half-way" if turned else "call off"
        step = require_step(name, ChangeState(change.state), act.person.roles)
        _require_quiet(act, change, lines)
        for line in lines:
            if line in turned:
                line.state, line.waits_for = LineState.TO_BE_PUT_RIGHT, None
            elif LineState(line.state).is_untouched and line.state != LineState.READ:
                line.state = LineState.WITHDRAWN
        recalled = recall_copies(act, change)
        refresh_orders(act.session, change)
        change.state = step.to
        names = tuple(name_of_line(act.session, line) for line in turned)
        return CalledOff(step.to, names, recalled)


def _was_turned(line: WorkOrderLine) -> bool:
    state = LineState(line.state)
    over = {LineState.TAKEN_OVER, LineState.UNDONE, LineState.KEPT}
    return line.action == RE_SET and not state.is_untouched and state not in over


def _require_quiet(act: Deed, change: Change, lines: list[WorkOrderLine]) -> None:
    if terms_of(act.session, change):
        raise NotReady(
            Sentence("{change} is temporary and was built", change=change.number),
            (Sentence("till {ends_on}", ends_on=str(change.ends_on)),),
            remedy="Take it away by its removal order",
        )
    busy = [line for line in lines if LineState(line.state) is LineState.IN_HAND]
    if busy:
        raise NotReady(
            Sentence(
                "{change} cannot be called off while somebody has a unit in hand",
                change=change.number,
            ),
            [name_of_line(act.session, line) for line in busy],
            remedy="Stop there and read the scale: supports work-order stop",
        )


def keep_as_is(
    register: Register, order: str, place: tuple[str, str], *, analysis: str, acting: str,
    now: datetime,
) -> None:  # fmt: skip
    """Keep a unit of a called-off change as it was left, on an analysis of the mixed state.

    Raises
    ------
    NotAllowed
        The person is not a responsible engineer.
    """
    if not analysis:
        raise BadInput("keeping a unit as it is wants an analysis", found="a blank")
    tag, position = place
    with deed(
        register,
        acting,
        now,
        action="keep a unit as it is",
        reason=analysis,
        subject=f"{order} {tag}",
    ) as act:
        require_roles("keep a unit as it is", _KEEP.roles, act.person.roles)
        line = work_order_line_of(act.session, order, unit_of(act.session, tag, position), tag)
        if line.state not in _KEEP.frm:
            raise NotReady(
                "only a unit to be put right can be kept as it is",
                (
                    Sentence(
                        "{unit}: {state}", unit=name_of_line(act.session, line), state=line.state
                    ),
                ),
            )
        act.sign(
            ("work order line", line.id), "kept as it is", line_content(act.session, line),
            reason=analysis,
        )  # fmt: skip
        line.state = LineState.KEPT
