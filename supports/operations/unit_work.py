"""What is read at a unit before and after it is turned; the as-left load is its new setting."""

from __future__ import annotations

from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import date, datetime

from supports.database import Register
from supports.errors import BadInput, NotAllowed
from supports.model import Reading, SettingEvent, WorkOrderLine
from supports.operations.acting import Deed, deed
from supports.operations.gates import begin, require_may_begin
from supports.operations.order_states import refresh_orders
from supports.operations.unit_states import AS_FOUND, AS_LEFT, require_states
from supports.queries.lookups import unit_of, work_order_line_of
from supports.queries.orders import change_of_line
from supports.rules.work_plan import RE_SET, READ_ONLY, as_found_window
from supports.rules.workflow import LineState, require_other_person, within
from supports.rules.workflow.unit_acts import unit_act
from supports.sentences import Sentence
from supports.vocabulary import PlantState, SettingMethod


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

    A re-set unit found away from the load that the order starts from, by more than half the
    as-left window, goes back to the engineer.

    Raises
    ------
    BadInput
        A unit that is to be re-set has no load reading: a blank is not a reading.
    """
    with _reading_deed(register, number, reading, acting, now, "record as-found") as act:
        line = open_line(act, number, reading)
        require_states(act, line, unit_act("read as found").frm, "read as found")
        require_may_begin(act, line, reading.plant_state)
        need_load(line, reading)
        store_reading(act, line, reading, AS_FOUND)
        line.state = state_as_found(line, reading)
        begin(act.session, line)
        return LineState(line.state)


def _reading_deed(
    register: Register,
    number: str,
    reading: UnitReading,
    acting: str,
    now: datetime,
    action: str,
) -> AbstractContextManager[Deed]:
    about = f"{number} {reading.tag}"
    return deed(register, acting, now, action=action, reason=reading.note, subject=about)


def state_as_found(line: WorkOrderLine, reading: UnitReading) -> LineState:
    """Return where a unit stands by what was found: in hand, or back to the engineer."""
    if line.action == READ_ONLY:
        return LineState.READ
    load, start, low, high = reading.load, line.from_load, line.window_low, line.window_high
    if load is None or start is None or low is None or high is None:
        return LineState.BACK_TO_ENGINEER
    same = within(load, *as_found_window(start, low, high))
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
    with _reading_deed(register, number, reading, acting, now, "record as-left") as act:
        line = open_line(act, number, reading)
        allowed = unit_act("read as left").states(read_only=line.action == READ_ONLY)
        require_states(act, line, allowed, "read as left")
        need_load(line, reading)
        store_reading(act, line, reading, AS_LEFT)
        if line.action == RE_SET:
            need_second_reader(reading)
            store_setting(act, line, reading)
            line.state = left_state(line, reading)
        refresh_orders(act.session, change_of_line(act.session, line))
        return LineState(line.state)


def left_state(line: WorkOrderLine, reading: UnitReading) -> LineState:
    """Return where a re-set unit stands by what it was left at."""
    low, high, load = line.window_low, line.window_high, reading.load
    if low is None or high is None or load is None:
        return LineState.OUT_OF_WINDOW
    return LineState.TO_BE_CHECKED if within(load, low, high) else LineState.OUT_OF_WINDOW


def need_second_reader(reading: UnitReading) -> None:
    """Raise unless somebody else read the scale a second time."""
    if not reading.second_reader:
        raise BadInput("an as-left reading of a re-set unit needs a second reader")
    require_other_person(
        "read the scale a second time",
        reading.second_reader,
        {reading.read_by},
        "the second reader is not the first",
    )


def open_line(act: Deed, number: str, reading: UnitReading) -> WorkOrderLine:
    """Return the line that a reading is for.

    Raises
    ------
    NotAllowed
        The person holds no role today.
    BadInput
        The day of the reading is yet to come, or nobody is named as reader.
    """
    if not act.person.roles:
        raise NotAllowed(Sentence("{person} holds no role today", person=act.person.name))
    if reading.read_on > act.today:
        raise BadInput("a reading cannot be of a day to come", found=reading.read_on.isoformat())
    if not reading.read_by.strip():
        raise BadInput("nobody is named as reader", where=reading.tag)
    unit = unit_of(act.session, reading.tag, reading.position)
    return work_order_line_of(act.session, number, unit, reading.tag)


def need_load(line: WorkOrderLine, reading: UnitReading) -> None:
    """Raise if a unit that is to be re-set has no load reading."""
    if line.action == RE_SET and reading.load is None:
        raise BadInput(
            Sentence("{tag} is to be re-set: its scale load must be read", tag=reading.tag),
            found="a blank",
            remedy="A blank is not a zero: read the scale",
        )


def store_reading(act: Deed, line: WorkOrderLine, reading: UnitReading, occasion: str) -> None:
    """Add a reading to the unit's history."""
    act.session.add(
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


def store_setting(act: Deed, line: WorkOrderLine, reading: UnitReading) -> None:
    """Add what the unit now stands at to its settings."""
    if reading.load is None:
        return
    act.session.add(
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
