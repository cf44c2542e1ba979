"""A nameplate as names and values; what must be there to judge and is not, is told."""

from __future__ import annotations

from collections.abc import Iterator

from reports.contents.blocks import Cell, Mark, Written
from reports.contents.turning import other_unit
from reports.contents.written import NOT_KNOWN, amount, load_pair, percent, span
from reports.languages import Texts
from supports.snapshots import NameplateView, UnitView
from supports.units import Kind
from supports.vocabulary import Known

Pair = tuple[str, Written]
_RATES = {"lbf": "lbf/in", "kgf": "kgf/mm", "daN": "daN/mm"}


def plate_facts(unit: UnitView, say: Texts) -> tuple[Pair, ...]:
    """Return what stands on a unit's nameplate."""
    plate = unit.nameplate
    if plate is None:
        return ((say("Nameplate"), Cell(say("not known"), strong=True, mark=Mark.CANNOT_JUDGE)),)
    own = _variable(plate, say) if unit.kind.is_variable else _constant(plate, say)
    return tuple((name, _told(value, say)) for name, value in (*own, *_both(plate, say)))


def _told(value: str, say: Texts) -> Written:
    """Return a value; where it is not known the cell carries the sign of doubt."""
    if NOT_KNOWN in value:
        return Cell(say(NOT_KNOWN), mark=Mark.CANNOT_JUDGE)
    return value or "–"


def _constant(plate: NameplateView, say: Texts) -> Iterator[tuple[str, str]]:
    symbol, length = plate.scale_unit or "kN", plate.pointer_unit or "mm"
    yield say("Nameplate load"), load_pair(plate.nameplate_load, symbol, other_unit(symbol))
    yield say("Adjusting range"), span(plate.range_low, plate.range_high, symbol)
    per_turn = amount(plate.load_per_turn, f"{symbol}/turn", Kind.LOAD_PER_TURN)
    yield say("Load per turn"), per_turn.removesuffix("/turn")
    yield say("To increase"), plate.direction_to_increase or NOT_KNOWN
    yield say("Load bolts"), NOT_KNOWN if plate.load_bolts is None else str(plate.load_bolts)
    yield say("Total travel"), amount(plate.total_travel, length, Kind.LENGTH)
    yield say("Design travel, up positive"), amount(plate.design_travel, length, Kind.LENGTH)
    yield say("Cold mark"), amount(plate.cold_mark, length, Kind.LENGTH)
    yield say("Hot mark"), amount(plate.hot_mark, length, Kind.LENGTH)
    yield say("Zero of the scale"), say.word(plate.zero_end) if plate.zero_end else NOT_KNOWN
    yield say("Deviation by certificate"), percent(plate.deviation, decimals=1)
    locked = plate.may_turn_locked
    yield say("May be turned with the stop in"), _answer(locked, say)


def _answer(known: Known, say: Texts) -> str:
    return NOT_KNOWN if known is Known.UNKNOWN else say.word(str(known))


def _variable(plate: NameplateView, say: Texts) -> Iterator[tuple[str, str]]:
    symbol, length = plate.scale_unit or "kN", plate.pointer_unit or "mm"
    yield say("Spring rate"), amount(plate.rate, _RATES.get(symbol, "N/mm"), Kind.RATE)
    yield say("Working range"), span(plate.working_low, plate.working_high, symbol)
    yield say("Load in operation"), load_pair(plate.hot_load, symbol, other_unit(symbol))
    yield say("Load shut down"), load_pair(plate.cold_load, symbol, other_unit(symbol))
    yield say("Movement, up positive"), amount(plate.movement, length, Kind.LENGTH)
    yield say("Total travel"), amount(plate.total_travel, length, Kind.LENGTH)
    yield say("Thread pitch of the take-up"), amount(plate.thread_pitch, "mm", Kind.LENGTH)


def _both(plate: NameplateView, say: Texts) -> Iterator[tuple[str, str]]:
    symbol = plate.scale_unit or "kN"
    yield say("Rating of the travel stop"), load_pair(plate.stop_rating, symbol, other_unit(symbol))
    yield say("Own mass"), amount(plate.own_mass, "kg", Kind.MASS)
    source = say.word(plate.source) if plate.source else NOT_KNOWN
    yield say("Read from"), f"{source}, {say('provisional')}" if plate.provisional else source
