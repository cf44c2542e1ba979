"""One reading handed in by a program: recorded where new, refused where it contradicts."""

from __future__ import annotations

from datetime import datetime

from app.returns import by_printed_tag, differing_words
from app.shapes_of_machine import ReadingTaken, SentReading
from supports.database import Register
from supports.errors import Conflict, NotFound
from supports.operations.unit_work import UnitReading, record_as_found, record_as_left
from supports.proposals import SourceLine
from supports.queries.work_order_views import work_order_view
from supports.sentences import Sentence, joined
from supports.snapshots import ReadingView, WorkOrderLineView
from supports.vocabulary import ReadAs

_RECORD = {ReadAs.FOUND: record_as_found, ReadAs.LEFT: record_as_left}


def take_reading(
    register: Register, number: str, sent: SentReading, *, acting: str, now: datetime
) -> ReadingTaken:
    """Record a reading; the same one again changes nothing.

    Raises
    ------
    NotFound
        The order has no such unit.
    Conflict
        Another reading of this occasion is recorded.
    """
    line = _line(register, number, sent)
    known = line.as_found if sent.occasion is ReadAs.FOUND else line.as_left
    if known is not None:
        _same(sent, known)
        return _taken(number, line, sent, line.state, recorded=False)
    reading = _reading(sent, line, acting)
    state = _RECORD[sent.occasion](register, number, reading, acting=acting, now=now)
    return _taken(number, line, sent, str(state), recorded=True)


def _line(register: Register, number: str, sent: SentReading) -> WorkOrderLineView:
    with register.reading() as session:
        lines = by_printed_tag(work_order_view(session, number))
    name = f"{sent.tag}/{sent.position}" if sent.position else sent.tag
    if name not in lines:
        known = ", ".join(one for one in lines if "/" in one)
        raise NotFound(
            Sentence("{number} has no unit {name}", number=number, name=name),
            found=name,
            expected=known,
        )
    return lines[name]


def _same(sent: SentReading, known: ReadingView) -> None:
    """Raise unless what is sent says what is recorded; a value left out says nothing."""
    load = known.scale_load if sent.load_N is None else sent.load_N
    place = SourceLine("sent by a program", sent.occasion, 1)
    words = differing_words((sent.tag, sent.occasion), (load, sent.pointer_m), known, place)
    if words:
        raise Conflict(
            "another reading is recorded",
            where=f"{sent.tag} {sent.occasion}",
            found=joined(words),
            remedy="Look at what is recorded; a person chooses which of the two stands",
        )


def _reading(sent: SentReading, line: WorkOrderLineView, acting: str) -> UnitReading:
    return UnitReading(
        tag=line.tag,
        position=line.position,
        read_on=sent.read_on,
        plant_state=sent.plant_state,
        load=sent.load_N,
        pointer=sent.pointer_m,
        read_by=sent.read_by or acting,
        second_reader=sent.second_reader,
        turns_given=sent.turns_given,
        note=sent.note,
    )


def _taken(
    number: str, line: WorkOrderLineView, sent: SentReading, state: str, *, recorded: bool
) -> ReadingTaken:
    return ReadingTaken(number, line.tag, line.position, str(sent.occasion), recorded, state)
