"""What can be done at one unit of a work order: read, turned, stopped, released, accepted."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING
from urllib.parse import quote

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.web.acts.asking import Act, Ask, Said, Where, same_words
from app.words import word
from supports.errors import BadInput
from supports.model import Nameplate, WorkOrderHold, WorkOrderLine
from supports.operations.acceptance import accept_line, release_to_technician
from supports.operations.changes import keep_as_is
from supports.operations.part_way import Round, record_round, stop_part_way
from supports.operations.unit_work import UnitReading, record_as_found, record_as_left
from supports.operations.work_orders import compare_line, release_hold
from supports.queries.lookups import unit_of, work_order_line_of, work_order_of
from supports.queries.plans import foretold
from supports.queries.rounds import rounds_read
from supports.units import Kind, shown
from supports.vocabulary import PlantState

if TYPE_CHECKING:
    from app.web.visits import Visit

RELEASE_HOLD = "release hold"


def to_unit(where: Where) -> str:
    """Return the address of a unit of a work order."""
    return f"/work-orders/{quote(where[0])}/units/{quote(where[1])}/{where[2]}"


def line_at(session: Session, where: Where) -> WorkOrderLine:
    """Return the line of a work order that is about a unit."""
    number, tag, position = where
    return work_order_line_of(session, number, unit_of(session, tag, position), tag)


def scale_units(session: Session, line: WorkOrderLine) -> tuple[str, str]:
    """Return in what a unit's scale and its pointer are marked; kN and mm where not known."""
    query = select(Nameplate.scale_unit, Nameplate.pointer_unit)
    row = session.execute(query.where(Nameplate.unit_id == line.unit_id)).one_or_none()
    return (row[0] or "kN", row[1] or "mm") if row else ("kN", "mm")


# Readings


def _ask_reading(session: Session, where: Where, visit: Visit) -> list[Ask]:
    line = line_at(session, where)
    load, pointer = scale_units(session, line)
    needed = str(work_order_of(session, where[0]).line_state_needed)
    state = needed if needed in set(PlantState) else str(PlantState.UNKNOWN)
    return [
        Ask("load", "Load on the scale", unit=load, needed=line.action == "re-set"),
        Ask("pointer", "Pointer on its scale", unit=pointer),
        Ask("state", "State of the line", "choice", options=same_words([*PlantState]), start=state),
        Ask("on", "Day", "date", start=visit.today.isoformat()),
        Ask("read_by", "Read by", start=visit.acting),
    ]


def _note(words: str = "What was odd", *, needed: bool = False) -> Ask:
    return Ask("note", words, "long", needed=needed)


def _ask_found(session: Session, where: Where, visit: Visit) -> Sequence[Ask]:
    return (*_ask_reading(session, where, visit), _note())


def _ask_left(session: Session, where: Where, visit: Visit) -> Sequence[Ask]:
    if line_at(session, where).action != "re-set":
        return _ask_found(session, where, visit)
    return (*_ask_reading(session, where, visit), *_turned(), _note())


def _turned() -> tuple[Ask, ...]:
    return (
        Ask("second_reader", "Read a second time by", hint="Another person.", needed=True),
        Ask("turns", "Turns given", "number"),
    )


def _ask_stop(session: Session, where: Where, visit: Visit) -> Sequence[Ask]:
    why = _note("Why the work stops", needed=True)
    return (why, *_ask_reading(session, where, visit), *_turned())


def _reading(visit: Visit, where: Where, said: Said) -> UnitReading:
    with visit.reading() as session:
        load, pointer = scale_units(session, line_at(session, where))
    return UnitReading(
        tag=where[1],
        position=where[2],
        read_on=said.day("on") or visit.today,
        plant_state=word(PlantState, said.text("state") or PlantState.UNKNOWN),
        load=said.quantity("load", load, Kind.LOAD),
        pointer=said.quantity("pointer", pointer, Kind.LENGTH),
        read_by=said.text("read_by") or visit.acting,
        second_reader=said.text("second_reader"),
        turns_given=said.number("turns"),
        note=said.text("note"),
    )


def _found(visit: Visit, where: Where, said: Said) -> str:
    read = _reading(visit, where, said)
    record_as_found(visit.register, where[0], read, acting=visit.acting, now=visit.now)
    return to_unit(where)


def _left(visit: Visit, where: Where, said: Said) -> str:
    read = _reading(visit, where, said)
    record_as_left(visit.register, where[0], read, acting=visit.acting, now=visit.now)
    return to_unit(where)


def _stop(visit: Visit, where: Where, said: Said) -> str:
    read = _reading(visit, where, said)
    stop_part_way(visit.register, where[0], read, acting=visit.acting, now=visit.now)
    return to_unit(where)


def _ask_round(session: Session, where: Where, visit: Visit) -> Sequence[Ask]:
    line = line_at(session, where)
    load, pointer = scale_units(session, line)
    done = rounds_read(session, line, 0.0)
    number = max((one.number for one in done), default=0) + 1
    planned = foretold(session, line, number)
    start = shown(planned[1], load, Kind.LOAD) if planned else ""
    return (
        Ask("number", "Round", "number", start=str(number), needed=True),
        Ask("load", "Load on the scale", unit=load, needed=True),
        Ask("expected", "Load that the pack expects", unit=load, start=start,
            hint="Without it nobody can say whether the scale moved as expected."),
        Ask("pointer", "Pointer on its scale", unit=pointer),
        Ask("read_by", "Read by", start=visit.acting),
    )  # fmt: skip


def _round(visit: Visit, where: Where, said: Said) -> str:
    with visit.reading() as session:
        load, pointer = scale_units(session, line_at(session, where))
    seen, number = said.quantity("load", load, Kind.LOAD), said.whole("number")
    if seen is None or not number:
        raise BadInput("a round has its number and a reading", found="a blank")
    done = Round(
        number, seen, said.text("read_by") or visit.acting,
        expected=said.quantity("expected", load, Kind.LOAD),
        pointer=said.quantity("pointer", pointer, Kind.LENGTH),
    )  # fmt: skip
    record_round(
        visit.register, where[0], (where[1], where[2]), done, acting=visit.acting, now=visit.now
    )
    return f"{to_unit(where)}#rounds"


# Words of engineers and inspectors


def _ask_reason(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    return (Ask("reason", "Reason, in your own words", "long", needed=True),)


def _nothing(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    return ()


def _ask_outside(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    hint = "What the nozzles carry at that load. The stress engineer says it."
    return (
        Ask("reason", "Reason, in your own words", "long", needed=True),
        Ask("nozzle_check", "Nozzle check", "long", hint),
    )


def _release(visit: Visit, where: Where, said: Said) -> str:
    release_to_technician(
        visit.register, *where, acting=visit.acting, reason=said.text("reason"), now=visit.now
    )
    return to_unit(where)


def _accept(visit: Visit, where: Where, said: Said) -> str:
    accept_line(
        visit.register, *where, acting=visit.acting, reason=said.text("reason"), now=visit.now,
        nozzle_check=said.text("nozzle_check"),
    )  # fmt: skip
    return to_unit(where)


def _compare(visit: Visit, where: Where, said: Said) -> str:
    compare_line(
        visit.register, where[0], (where[1], where[2]), acting=visit.acting,
        reason=said.text("reason"), now=visit.now,
    )  # fmt: skip
    return to_unit(where)


def _keep(visit: Visit, where: Where, said: Said) -> str:
    keep_as_is(
        visit.register, where[0], (where[1], where[2]), analysis=said.text("reason"),
        acting=visit.acting, now=visit.now,
    )  # fmt: skip
    return to_unit(where)


def _ask_hold(session: Session, where: Where, _: Visit) -> Sequence[Ask]:
    order = work_order_of(session, where[0])
    query = select(WorkOrderHold).where(WorkOrderHold.work_order_id == order.id)
    holds = session.scalars(query.order_by(WorkOrderHold.hold_no))
    options = tuple((str(one.hold_no), f"{one.hold_no}: {one.what}") for one in holds)
    return (
        Ask("hold", "Hold point", "choice", options=options),
        Ask("reason", "Reason, in your own words", "long"),
    )


def _release_hold(visit: Visit, where: Where, said: Said) -> str:
    release_hold(
        visit.register, where[0], (where[1], where[2]), said.whole("hold") or 0,
        acting=visit.acting, reason=said.text("reason"), now=visit.now,
    )  # fmt: skip
    return to_unit(where)


UNIT_ACTS = (
    Act("read as found", "Read as found", _found, _ask_found,
        "Before anything is touched. A blank is no reading."),
    Act("read after a round", "Read after a round", _round, _ask_round,
        "Stop where the scale does not show what the pack expects."),
    Act("read as left", "Read as left", _left, _ask_left,
        "What is read now is the unit's setting from now on."),
    Act("stop part-way", "Stop part-way", _stop, _ask_stop,
        "Anybody may stop at any time. Only an engineer lets it go on.", grave=True),
    Act("release", "Let work go on", _release, _ask_reason),
    Act("accept", "Accept as left", _accept, _nothing,
        "Whoever read it does not accept it."),
    Act("accept out of window", "Accept out of window", _accept, _ask_outside,
        "Two people accept in writing: a stress engineer with a nozzle check, and a responsible "
        "engineer."),
    Act("compare", "Compare with the newer assessment", _compare, _ask_reason),
    Act("keep as it is", "Keep as it is", _keep, _ask_reason,
        "On an analysis of the mixed state; name it."),
    Act(RELEASE_HOLD, "Release a hold point", _release_hold, _ask_hold),
)  # fmt: skip
