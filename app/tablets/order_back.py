"""Readings of a work order noted on a tablet: recorded where new, in the order they were noted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from math import isclose

from app.papers import form_id, order_pack, row_seals
from app.returns import by_printed_tag, differing_words
from app.tablets.sent import KNOWN, TAKEN, RowAnswer, SentRow, SentRows, noted_at, refused
from app.words import word
from supports.database import Register
from supports.errors import BadInput, NotAllowed, SupportsError
from supports.operations.part_way import Round, record_round, stop_part_way
from supports.operations.unit_states import AS_FOUND, AS_LEFT, PART_WAY
from supports.operations.unit_work import UnitReading, record_as_found, record_as_left
from supports.plant_time import day_of
from supports.proposals import SourceLine
from supports.queries.lookups import person_of
from supports.queries.work_order_views import (
    readings_on_line,
    rounds_on_line,
    work_order_view,
)
from supports.sentences import Sentence, joined
from supports.snapshots import ReadingView, WorkOrderLineView
from supports.units import Kind, number, to_si
from supports.vocabulary import PlantState

ROUND = "round"
_RECORD = {AS_FOUND: record_as_found, AS_LEFT: record_as_left}


def take_order(
    register: Register, sent: SentRows, *, acting: str, now: datetime
) -> list[RowAnswer]:
    """Record readings; one that is recorded already changes nothing, another one is a conflict.

    Raises
    ------
    BadInput
        The form is not the present one of this work order.
    NotAllowed
        Somebody else noted the readings.
    """
    with register.reading() as session:
        if (sender := person_of(session, acting).name) != sent.person:
            raise NotAllowed(
                "what one person noted is not sent by another",
                found=Sentence(
                    "noted by {person}, sent by {sender}", person=sent.person, sender=sender
                ),
                remedy="Let whoever noted it sign in on this tablet, then send",
            )
        order = work_order_view(session, sent.number)
        seals, lines = row_seals(session, order), by_printed_tag(order)
    if sent.form != form_id(order):
        raise BadInput(
            "the form is not the present one of this work order",
            found=sent.form,
            expected=form_id(order),
            remedy="Take the readings to the engineer; they stay on the tablet",
        )
    taking = _Taking(register, sent, lines, acting, now)
    return [
        taking.row(one) if seals.get(one.tag) == one.seal else refused(one, _ALTERED)
        for one in sorted(sent.rows, key=lambda one: one.noted_at)
    ]


_ALTERED = Sentence(
    "the row was altered where it may not be, or is not on this form; it is not recorded"
)
_STOPPED = Sentence("stopped part-way; an engineer alone lets it go on")
_STOP = Sentence("STOP: the step was not as expected; call the engineer")


@dataclass(frozen=True, slots=True)
class _Taking:
    """One sending on its way into the register, row by row."""

    register: Register
    sent: SentRows
    lines: Mapping[str, WorkOrderLineView]
    acting: str
    now: datetime

    def row(self, one: SentRow) -> RowAnswer:
        """Record one row, or say why not."""
        occasion, _, count = one.row.rpartition("|")[2].partition(" no. ")
        try:
            became, words = self._taken(one, occasion, int(count) if count.isdecimal() else 0)
        except SupportsError as error:
            return refused(one, error.said)
        return RowAnswer(row=one.row, revision=one.revision, became=became, words=words)

    def _taken(self, one: SentRow, occasion: str, count: int) -> tuple[str, tuple[str, ...]]:
        line = self.lines[one.tag]
        reading = self._reading(one, line)
        if occasion == ROUND:
            return self._round(one, line, reading, count)
        with self.register.reading() as session:
            known = readings_on_line(session, line.id).get(occasion)
        if known is not None:
            return self._again(one, occasion, reading, known)
        if occasion == PART_WAY:
            stop_part_way(
                self.register, self.sent.number, reading, acting=self.acting, now=self.now
            )
            return TAKEN, (_STOPPED,)
        if occasion not in _RECORD:
            raise BadInput("this is no occasion of a reading", found=occasion)
        record = _RECORD[occasion]
        state = record(self.register, self.sent.number, reading, acting=self.acting, now=self.now)
        return TAKEN, (str(state),)

    def _again(
        self, one: SentRow, occasion: str, reading: UnitReading, known: ReadingView
    ) -> tuple[str, tuple[str, ...]]:
        load = _needed(reading)
        place = SourceLine("tablet", occasion, one.revision)
        words = differing_words((one.tag, occasion), (load, reading.pointer), known, place)
        if words:
            raise BadInput(Sentence("CONFLICT: {names}; a person must choose", names=joined(words)))
        return KNOWN, ()

    def _round(
        self, one: SentRow, line: WorkOrderLineView, reading: UnitReading, count: int
    ) -> tuple[str, tuple[str, ...]]:
        load = _needed(reading)
        with self.register.reading() as session:
            before = rounds_on_line(session, line.id).get(count)
        if before is not None:
            if not isclose(before, load, rel_tol=1e-6):
                raise BadInput("another reading of this round is recorded; a person must choose")
            return KNOWN, ()
        start, expected = self._told(one.tag, count)
        done = Round(count, load, reading.read_by, start, expected, reading.pointer)
        place = (line.tag, line.position)
        as_expected = record_round(
            self.register, self.sent.number, place, done, acting=self.acting, now=self.now
        )
        return TAKEN, () if as_expected else (_STOP,)

    def _told(self, tag: str, count: int) -> tuple[float | None, float | None]:
        """Return what the pack says of a scale before and after a round [N]; a plan says it itself.

        Raises
        ------
        BadInput
            The pack has no such round.
        """
        with self.register.reading() as session:
            order = work_order_view(session, self.sent.number)
            pack = order_pack(session, order, self.now)
        unit = next((unit for unit in pack.units if unit.tag == tag), None)
        rounds = unit.job.rounds if unit and unit.job else ()
        place = next((at for at, turn in enumerate(rounds) if turn.number == count), None)
        if unit is None or place is None:
            raise BadInput("the pack has no such round", where=tag, found=str(count))
        if pack.planned:
            return None, None
        before = rounds[place - 1].expected if place else unit.scale.present
        return before, rounds[place].expected

    def _reading(self, one: SentRow, line: WorkOrderLineView) -> UnitReading:
        said = one.written
        return UnitReading(
            tag=line.tag,
            position=line.position,
            read_on=day_of(noted_at(self.sent, one, self.now), self.register.zone),
            plant_state=word(PlantState, said.get("plant_state") or PlantState.UNKNOWN),
            load=_amount(said, "load", Kind.LOAD),
            pointer=_amount(said, "pointer", Kind.LENGTH),
            read_by=self.sent.person,
            second_reader=said.get("second_reader", "").strip(),
            turns_given=_turns(said),
            note=said.get("remarks", "").strip(),
        )


def _needed(reading: UnitReading) -> float:
    if reading.load is None:
        raise BadInput("a load is read", found="a blank", remedy="A blank is not a nought")
    return reading.load


def _amount(said: Mapping[str, str], name: str, kind: Kind) -> float | None:
    text = said.get(name, "").strip()
    return to_si(number(text), said.get(f"{name}_unit", ""), kind) if text else None


def _turns(said: Mapping[str, str]) -> float | None:
    whole, flats = said.get("turns", "").strip(), said.get("flats", "").strip()
    if not whole and not flats:
        return None
    return (number(whole) if whole else 0.0) + (number(flats) if flats else 0.0) / 6.0
