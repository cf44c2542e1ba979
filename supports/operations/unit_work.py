"""What is read at a unit before and after it is turned; the as-left load is its new setting."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy.orm import Session

from supports.database import Register, Writing
from supports.errors import BadInput, NotAllowed, NotReady
from supports.model import Change, Reading, SettingEvent, WorkOrder, WorkOrderLine
from supports.operations.acting import actor
from supports.queries.lookups import unit_of, work_order_line_of
from supports.queries.site import settings_in_force
from supports.rules.work_plan import RE_SET, READ_ONLY
from supports.rules.workflow import ChangeState, LineState, require_other_person, within
from supports.vocabulary import PlantState, SettingMethod

AS_FOUND, AS_LEFT = "as found", "as left"


@dataclass(frozen=True, slots=True)
class UnitReading:
    """What was read at a unit for a work order: load [N], pointer [m]."""

    tag: str
    position: str
    read_on: date
    plant_state: PlantState
    load: float | None
    pointer: float | None
    read_by: str
    second_reader: str = ""
    turns_given: float | None = None
    note: str = ""


def record_as_found(
    register: Register, number: str, reading: UnitReading, *, acting: str, now: datetime
) -> LineState:
    """Record what was read before anything was touched; return where the unit stands.

    A re-set unit found away from the load that the order starts from, by more than the tolerance,
    goes back to the engineer.

    Raises
    ------
    BadInput
        A unit that is to be re-set has no load reading: a blank is not a reading.
    """
    with register.writing(acting, reading.note, now, action="record as-found") as writing:
        line = _open_line(writing, number, reading, now)
        require_states(line, {LineState.WRITTEN, LineState.BACK_TO_ENGINEER}, "read as found")
        _need_load(line, reading)
        _store_reading(writing, line, reading, AS_FOUND)
        line.state = _found_state(writing.session, line, reading, now.date())
        _begin(writing.session, line)
        return LineState(line.state)


def _found_state(
    session: Session, line: WorkOrderLine, reading: UnitReading, today: date
) -> LineState:
    if line.action == READ_ONLY:
        return LineState.READ
    if line.from_load is None or reading.load is None:
        return LineState.BACK_TO_ENGINEER
    tolerance = settings_in_force(session, today).tolerance * line.from_load
    away = abs(reading.load - line.from_load)
    same = within(away, 0.0, tolerance)
    return LineState.IN_HAND if same else LineState.BACK_TO_ENGINEER


def record_as_left(
    register: Register, number: str, reading: UnitReading, *, acting: str, now: datetime
) -> LineState:
    """Record what a unit was left at; its new setting is the present one from now on.

    Raises
    ------
    NotReady
        There is no as-found reading, or the unit is with the engineer.
    NotAllowed
        The second reader is the first.
    """
    with register.writing(acting, reading.note, now, action="record as-left") as writing:
        line = _open_line(writing, number, reading, now)
        allowed = {LineState.IN_HAND, LineState.OUT_OF_WINDOW}
        if line.action == READ_ONLY:
            allowed = {LineState.READ}
        require_states(line, allowed, "read as left")
        _need_load(line, reading)
        _store_reading(writing, line, reading, AS_LEFT)
        if line.action == RE_SET:
            _need_second_reader(reading)
            _store_setting(writing, line, reading)
            line.state = _left_state(line, reading)
        return LineState(line.state)


def _left_state(line: WorkOrderLine, reading: UnitReading) -> LineState:
    low, high, load = line.window_low, line.window_high, reading.load
    if low is None or high is None or load is None:
        return LineState.OUT_OF_WINDOW
    return LineState.TO_BE_CHECKED if within(load, low, high) else LineState.OUT_OF_WINDOW


def _need_second_reader(reading: UnitReading) -> None:
    if not reading.second_reader:
        raise BadInput("an as-left reading of a re-set unit needs a second reader")
    require_other_person(
        "read the scale a second time",
        reading.second_reader,
        {reading.read_by},
        "the second reader is not the first",
    )


def require_states(line: WorkOrderLine, states: set[LineState], act: str) -> None:
    """Raise NotReady unless the unit stands at one of the states."""
    if LineState(line.state) not in states:
        raise NotReady(
            f"to {act}, the unit must stand at: {', '.join(sorted(states))}",
            (f"it stands at: {line.state}",),
        )


def _open_line(writing: Writing, number: str, reading: UnitReading, now: datetime) -> WorkOrderLine:
    session = writing.session
    person = actor(session, writing.actor, now.date())
    if not person.roles:
        raise NotAllowed(f"{person.name} holds no role")
    if reading.read_on > now.date():
        raise BadInput("a reading cannot be of a day to come", found=reading.read_on.isoformat())
    unit = unit_of(session, reading.tag, reading.position)
    return work_order_line_of(session, number, unit, reading.tag)


def _need_load(line: WorkOrderLine, reading: UnitReading) -> None:
    if line.action == RE_SET and reading.load is None:
        raise BadInput(
            f"{reading.tag} is to be re-set: its scale load must be read",
            found="a blank",
            remedy="A blank is not a zero: read the scale",
        )


def _store_reading(
    writing: Writing, line: WorkOrderLine, reading: UnitReading, occasion: str
) -> None:
    writing.session.add(
        Reading(
            unit_id=line.unit_id,
            read_on=reading.read_on,
            plant_state=reading.plant_state,
            scale_load=reading.load,
            pointer=reading.pointer,
            read_by=reading.read_by,
            second_reader=reading.second_reader or None,
            method=SettingMethod.SCALE,
            work_order_line_id=line.id,
            occasion=occasion,
            note=reading.note or None,
        )
    )


def _store_setting(writing: Writing, line: WorkOrderLine, reading: UnitReading) -> None:
    if reading.load is None:
        return
    writing.session.add(
        SettingEvent(
            unit_id=line.unit_id,
            happened_on=reading.read_on,
            load=reading.load,
            turns_given=reading.turns_given,
            method=SettingMethod.SCALE,
            plant_state=reading.plant_state,
            set_by=reading.read_by,
            second_reader=reading.second_reader,
            work_order_line_id=line.id,
            note=reading.note or None,
        )
    )


def _begin(session: Session, line: WorkOrderLine) -> None:
    order = session.get_one(WorkOrder, line.work_order_id)
    change = session.get_one(Change, order.change_id)
    if change.state == ChangeState.CLEARED:
        change.state = ChangeState.BEING_DONE
        order.state = "in hand"
