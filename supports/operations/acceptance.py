"""Release, accept or waive what was found and left at a unit."""

from __future__ import annotations

from datetime import datetime

from supports.database import Register
from supports.errors import BadInput, NotAllowed, NotReady
from supports.model import WorkOrder, WorkOrderLine
from supports.operations.acting import Deed, deed
from supports.operations.finishing import finish
from supports.operations.order_states import refresh_orders
from supports.operations.unit_states import require_states
from supports.queries.change_record import work_blockers
from supports.queries.lookups import unit_of, work_order_line_of
from supports.queries.orders import (
    change_of_line,
    holds_not_released,
    line_content,
    name_of_line,
    standing_on_line,
)
from supports.queries.plans import plans_of_order
from supports.queries.work_order_views import readers_of_line
from supports.rules.work_plan import RE_SET
from supports.rules.workflow import (
    LineState,
    OrderKind,
    require_other_person,
    require_roles,
)
from supports.rules.workflow.unit_acts import unit_act
from supports.sentences import Sentence
from supports.vocabulary import Role

_RELEASE, _ACCEPT = unit_act("release"), unit_act("accept")
_ACCEPT_OUTSIDE = unit_act("accept out of window")


def release_to_technician(
    register: Register, number: str, tag: str, position: str, *, acting: str, reason: str,
    now: datetime,
) -> None:  # fmt: skip
    """Let work go on at a unit found away from the order, or stopped, by an engineer's word."""
    with deed(
        register, acting, now, action="release a unit", reason=reason, subject=f"{number} {tag}"
    ) as act:
        require_roles("release a unit", _RELEASE.roles, act.person.roles)
        if not reason:
            raise BadInput("to release a unit, give the reason", remedy="Say it with --reason")
        line = work_order_line_of(act.session, number, unit_of(act.session, tag, position), tag)
        require_states(act, line, _RELEASE.frm, "released")
        _require_basis(act, line, "released")
        _require_as_planned(act, line)
        act.sign(_subject(line), "released", line_content(act.session, line), reason=reason)
        line.state = LineState.IN_HAND
        refresh_orders(act.session, change_of_line(act.session, line))


def _require_as_planned(act: Deed, line: WorkOrderLine) -> None:
    """Raise NotReady where a plan took another reading for granted: its steps hold no more."""
    plans = plans_of_order(act.session, line.work_order_id)
    if plans and line.state == LineState.BACK_TO_ENGINEER:
        number = act.session.get_one(WorkOrder, line.work_order_id).number
        raise NotReady(
            Sentence(
                "{unit} was found elsewhere than its plan took for granted",
                unit=name_of_line(act.session, line),
            ),
            [plan.number for plan, _ in plans],
            remedy=Sentence(
                "Plan again from the readings: supports plan again {number}", number=number
            ),
        )


def _subject(line: WorkOrderLine) -> tuple[str, int]:
    return "work order line", line.id


def _require_basis(act: Deed, line: WorkOrderLine, what: str) -> None:
    order = act.session.get_one(WorkOrder, line.work_order_id)
    change = change_of_line(act.session, line)
    if order.kind != OrderKind.RE_SET:
        return
    if blockers := work_blockers(act.session, change):
        raise NotReady(
            Sentence("{unit} cannot be {what}", unit=name_of_line(act.session, line), what=what),
            blockers,
            remedy="Assess by the present revision: supports change assess",
        )


def accept_line(
    register: Register, number: str, tag: str, position: str, *, acting: str, reason: str,
    now: datetime, nozzle_check: str = "",
) -> LineState:  # fmt: skip
    """Accept the as-left reading of a unit; return where it stands.

    Inside the window one inspector or stress engineer accepts who did not read it. Outside it two
    people accept in writing: a stress engineer, with a nozzle check, and a responsible engineer.
    """
    with deed(
        register, acting, now, action="accept as-left", reason=reason, subject=f"{number} {tag}"
    ) as act:
        line = work_order_line_of(act.session, number, unit_of(act.session, tag, position), tag)
        allowed = _ACCEPT.frm | _ACCEPT_OUTSIDE.frm
        require_states(act, line, allowed, "accepted")
        _require_basis(act, line, "accepted")
        _require_holds(act, line)
        if line.state == LineState.TO_BE_CHECKED:
            _accept_inside(act, line)
        else:
            _accept_outside(act, line, reason, nozzle_check)
        finish(act.session, line)
        return LineState(line.state)


def _require_holds(act: Deed, line: WorkOrderLine) -> None:
    holds = holds_not_released(act.session, line) if line.action == RE_SET else []
    if holds:
        raise NotReady(
            Sentence(
                "hold points at {unit} are not released", unit=name_of_line(act.session, line)
            ),
            [
                Sentence(
                    "hold {hold_no}: {what} ({released_by})",
                    hold_no=str(hold.hold_no),
                    what=hold.what,
                    released_by=hold.released_by,
                )
                for hold in holds
            ],
            remedy="Release it: supports work-order release-hold",
        )


def _not_the_readers(act: Deed, line: WorkOrderLine) -> None:
    readers = readers_of_line(act.session, line.id)
    require_other_person(
        "accept it", act.person.name, readers, "whoever read it does not accept it"
    )


def _accept_inside(act: Deed, line: WorkOrderLine) -> None:
    require_roles("accept an as-left", _ACCEPT.roles, act.person.roles)
    _not_the_readers(act, line)
    act.sign(_subject(line), "accepted", line_content(act.session, line))
    line.state = LineState.ACCEPTED


_TWO = (Role.STRESS_ENGINEER, Role.RESPONSIBLE_ENGINEER)
OUTSIDE = "accepted out of window"


def _accept_outside(act: Deed, line: WorkOrderLine, reason: str, nozzle_check: str) -> None:
    require_roles("accept an as-left out of its window", _ACCEPT_OUTSIDE.roles, act.person.roles)
    _not_the_readers(act, line)
    if not reason:
        raise BadInput(
            "an as-left out of its window is accepted in writing", found="no reason",
            remedy="Say it with --reason",
        )  # fmt: skip
    earlier = standing_on_line(act.session, line, OUTSIDE)
    if any(signed.person_id == act.person.id for signed in earlier):
        raise NotAllowed("the second acceptance must come from another person")
    taken = {signed.role for signed in earlier}
    role = next((r for r in _TWO if r in act.person.roles and r not in taken), None)
    if role is None:
        raise NotAllowed("the second acceptance must come from the other role")
    if role is Role.STRESS_ENGINEER and not nozzle_check:
        raise BadInput(
            "an as-left out of its window wants the nozzles checked at that load",
            found="no nozzle check",
            remedy="Say what it gave with --nozzle-check",
        )
    words = f"{reason}; nozzles: {nozzle_check}" if nozzle_check else reason
    content = line_content(act.session, line)
    act.sign(_subject(line), OUTSIDE, content, reason=words, role=role)
    if earlier:
        line.state = LineState.ACCEPTED_IN_WRITING
