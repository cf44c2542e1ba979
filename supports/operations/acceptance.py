"""Release, accept or waive what was found and left at a unit."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from supports.database import Register, Writing
from supports.errors import BadInput, NotAllowed
from supports.model import Change, Signature, WorkOrder, WorkOrderLine
from supports.operations.acting import Actor, actor
from supports.operations.unit_work import AS_LEFT, require_states
from supports.queries.lookups import unit_of, work_order_line_of
from supports.queries.work_order_views import readings_on_line
from supports.rules.workflow import ChangeState, LineState, require_other_person, require_roles
from supports.vocabulary import Role


def release_to_technician(
    register: Register, number: str, tag: str, position: str, *, acting: str, reason: str,
    now: datetime,
) -> None:  # fmt: skip
    """Let work go on at a unit found away from the order, by an engineer's written word."""
    with register.writing(acting, reason, now, action="release a unit") as writing:
        session, person = writing.session, actor(writing.session, acting, now.date())
        require_roles("release a unit", {Role.STRESS_ENGINEER}, person.roles)
        if not reason:
            raise BadInput("to release a unit, give the reason")
        line = work_order_line_of(session, number, unit_of(session, tag, position), tag)
        require_states(line, {LineState.BACK_TO_ENGINEER}, "be released")
        _sign_line(writing, line, person, "released", reason)
        line.state = LineState.IN_HAND


def accept_line(
    register: Register, number: str, tag: str, position: str, *, acting: str, reason: str,
    now: datetime,
) -> LineState:  # fmt: skip
    """Accept the as-left reading of a unit; return where it stands.

    Inside the window one inspector or stress engineer accepts who did not read it. Outside it two
    people accept in writing: a stress engineer and a responsible engineer.
    """
    with register.writing(acting, reason, now, action="accept as-left") as writing:
        session, person = writing.session, actor(writing.session, acting, now.date())
        line = work_order_line_of(session, number, unit_of(session, tag, position), tag)
        if line.state == LineState.TO_BE_CHECKED:
            _accept_inside(writing, line, person)
        elif line.state == LineState.OUT_OF_WINDOW:
            _accept_outside(writing, line, person, reason)
        else:
            require_states(line, {LineState.TO_BE_CHECKED, LineState.OUT_OF_WINDOW}, "be accepted")
        _finish(session, line)
        return LineState(line.state)


def _accept_inside(writing: Writing, line: WorkOrderLine, person: Actor) -> None:
    require_roles("accept an as-left", {Role.INSPECTOR, Role.STRESS_ENGINEER}, person.roles)
    left = readings_on_line(writing.session, line.id)[AS_LEFT]
    require_other_person(
        "accept it", person.name, {left.read_by}, "whoever read it does not accept it"
    )
    _sign_line(writing, line, person, "accepted", "")
    line.state = LineState.ACCEPTED


_TWO = (Role.STRESS_ENGINEER, Role.RESPONSIBLE_ENGINEER)


def _accept_outside(writing: Writing, line: WorkOrderLine, person: Actor, reason: str) -> None:
    require_roles("accept an as-left out of its window", _TWO, person.roles)
    if not reason:
        raise BadInput(
            "an as-left out of its window is accepted in writing: give the reason and the "
            "nozzle check"
        )
    earlier = writing.session.scalars(_waivers(line.id)).all()
    if any(signed.person_id == person.id for signed in earlier):
        raise NotAllowed("the second acceptance must come from another person")
    taken = {signed.role for signed in earlier}
    role = next((r for r in _TWO if r in person.roles and r not in taken), None)
    if role is None:
        raise NotAllowed("the second acceptance must come from the other role")
    _sign_line(writing, line, person, "accepted out of window", reason, role)
    if earlier:
        line.state = LineState.ACCEPTED_IN_WRITING


def _waivers(line_id: int) -> Select[Signature]:
    return select(Signature).where(
        Signature.subject == "work order line",
        Signature.subject_id == line_id,
        Signature.meaning == "accepted out of window",
    )


def _sign_line(
    writing: Writing, line: WorkOrderLine, person: Actor, meaning: str, reason: str,
    role: str = "",
) -> None:  # fmt: skip
    writing.session.add(
        Signature(
            subject="work order line",
            subject_id=line.id,
            meaning=meaning,
            person_id=person.id,
            role=role or ", ".join(sorted(person.roles)),
            signed_at=writing.now,
            fingerprint=f"row version {line.row_version}",
            reason=reason or None,
        )
    )


def _finish(session: Session, line: WorkOrderLine) -> None:
    """Move the change on when every unit of its order is settled."""
    session.flush()
    states = session.scalars(
        select(WorkOrderLine.state).where(WorkOrderLine.work_order_id == line.work_order_id)
    )
    if all(LineState(state).is_settled for state in states):
        order = session.get_one(WorkOrder, line.work_order_id)
        change = session.get_one(Change, order.change_id)
        order.state, change.state = "accepted", ChangeState.TO_BE_PROVED
