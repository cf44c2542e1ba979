"""A copy of a work order as a tablet takes it along: gates first, turns behind them."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy.orm import Session

from app.papers import form_id, order_pack, row_seals
from app.returns import by_printed_tag
from app.tablets.gauges import in_scale, order_gauge
from reports.contents.common import Missing
from reports.contents.resetting_pack import ResettingPack, TurnJob, TurnRound, UnitSheet
from reports.contents.steps import turns_words
from reports.contents.written import load
from reports.languages import IN_ENGLISH, Texts
from supports.queries.work_order_views import rounds_on_line, work_order_view
from supports.rules.work_plan import RE_SET, as_found_window
from supports.rules.workflow import LineState
from supports.snapshots import ReadingView, WorkOrderLineView
from supports.units import Kind

Plain = dict[str, Any]


def order_copy(
    session: Session, number: str, copy: int, person: str, now: datetime, say: Texts = IN_ENGLISH
) -> Plain:
    """Return a copy of a work order for one person's tablet, as JSON can hold it.

    What is told of the work is said in a language; names by which the tablet goes stay as they are.

    Raises
    ------
    NotFound
        No copy of that number was given out.
    NotReady
        The copy was recalled, or nobody may work by a plan that it follows.
    """
    order = work_order_view(session, number)
    pack = order_pack(session, order, now, copy, say.language)
    seals, lines = row_seals(session, order), by_printed_tag(order)
    return {
        "kind": "work order",
        "number": number,
        "form": form_id(order),
        "copy": copy,
        "person": person,
        "plant": pack.head.plant,
        "title": pack.head.about,
        "paper": say.sentence(pack.head.title),
        "state_wanted": pack.line_state_needed,
        "taken_at": now.isoformat(),
        "holds": [
            f"{one.number}. {say.sentence(one.what)}: {say.sentence(one.who)}"
            for one in pack.hold_points
        ],
        "plans": [say.sentence(one) for one in pack.plan_words],
        "rows": [
            _row(unit, lines[unit.tag], seals[unit.tag], say)
            | {"rounds_read": _rounds_read(session, unit, lines[unit.tag])}
            for unit in _in_order(pack)
            if unit.on_form
        ],
    }


def _in_order(pack: ResettingPack) -> list[UnitSheet]:
    """Return the units to turn in the order of work, then the others along the line."""
    place = {tag: number for number, tag in enumerate(pack.turning_order)}
    return sorted(pack.units, key=lambda unit: (place.get(unit.tag, len(place)), unit.order))


def _row(unit: UnitSheet, line: WorkOrderLineView, seal: str, say: Texts) -> Plain:
    symbol = unit.scale.load_unit
    return {
        "row": unit.tag,
        "seal": seal,
        "order": unit.order,
        "tag": unit.tag,
        "serial": unit.serial,
        "kind": unit.kind,
        "place": unit.place,
        "action": line.action,
        "stands_at": say.word(line.state),
        "may": _may(LineState(line.state)),
        "load_unit": symbol,
        "pointer_unit": unit.gauge.length_unit if unit.gauge else "mm",
        "present": load(line.from_load, symbol),
        "found_window": _found_window(line, symbol),
        "left_window": _window((line.window_low, line.window_high), symbol),
        "waits_for": say.sentence(line.waits_for),
        "verdict": str(unit.verdict),
        "refused": unit.refused or (line.action == RE_SET and unit.job is None),
        "reasons": [
            *(say.sentence(one) for one in unit.reasons),
            *(_missing(one, say) for one in unit.missing),
        ],
        "notes": list(unit.notes),
        "partners": list(unit.partners),
        "stop_numbers": unit.travel_stop_number,
        "near_nozzle": unit.near_nozzle,
        "gauge": order_gauge(unit.scale),
        "job": _job(unit.job, symbol, say) if unit.job and line.action == RE_SET else None,
        "as_found": _read(line.as_found, symbol),
    }


def _missing(one: Missing, say: Texts) -> str:
    return f"{say.sentence(one.what)}: {say.sentence(one.who_supplies)}"


def _may(state: LineState) -> str:
    """Return what may be done at a unit: read it as found, turn it, nothing more, or stop."""
    if state is LineState.WRITTEN:
        return "found"
    if state is LineState.IN_HAND:
        return "turn"
    return "done" if state.is_settled or state is LineState.TO_BE_CHECKED else "stop"


def _rounds_read(session: Session, unit: UnitSheet, line: WorkOrderLineView) -> Plain:
    """Return what was read after rounds already, by number, in the unit of the scale."""
    read = rounds_on_line(session, line.id)
    return {str(n): in_scale(load, unit.scale.load_unit, Kind.LOAD) for n, load in read.items()}


def _found_window(line: WorkOrderLineView, symbol: str) -> list[float | None] | None:
    start, low, high = line.from_load, line.window_low, line.window_high
    if line.action != RE_SET or start is None or low is None or high is None:
        return None
    return _window(as_found_window(start, low, high), symbol)


def _window(ends: tuple[float | None, float | None], symbol: str) -> list[float | None] | None:
    return None if None in ends else [in_scale(end, symbol, Kind.LOAD) for end in ends]


def _read(reading: ReadingView | None, symbol: str) -> Plain | None:
    if reading is None:
        return None
    return {
        "load": in_scale(reading.scale_load, symbol, Kind.LOAD),
        "read_by": reading.read_by,
        "read_on": reading.read_on.isoformat(),
    }


def _job(job: TurnJob, symbol: str, say: Texts) -> Plain:
    return {
        "part": str(job.part),
        "where": say.sentence(job.where),
        "way": str(job.direction),
        "plate_words": job.nameplate_words,
        "turns": turns_words(job.turns, say),
        "bolts": job.bolts,
        "wrench": job.wrench,
        "take_up": say.sentence(job.take_up_words),
        "locked": say.sentence(job.locked_words),
        "rounds": [_round(one, symbol, say) for one in job.rounds],
    }


def _round(one: TurnRound, symbol: str, say: Texts) -> Plain:
    return {
        "number": one.number,
        "turns": turns_words(one.turns, say),
        "expected": load(one.expected, symbol),
        "window": _window((one.low, one.high), symbol),
        "step": one.step,
        "then": say.sentence(one.then),
    }
