"""The re-setting pack as PDF: its contents made ready for the template."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Any

from reports.contents import field_words
from reports.contents.common import FLATS_IN_A_TURN, Direction, PageSize
from reports.contents.field_words import WAY_BACK
from reports.contents.planned_rounds import SCREENING
from reports.contents.resetting_pack import (
    LoadScale,
    Neighbour,
    NozzlePage,
    ResettingPack,
    TurnedPart,
    TurnJob,
    TurnRound,
    UnitSheet,
    by_plan,
)
from reports.contents.steps import Step, steps
from reports.contents.stop_pages import further_reasons, stop_page
from reports.contents.written import (
    NOT_KNOWN,
    amount,
    bare,
    energy,
    load,
    load_pair,
    percent,
    quantity,
    signed_load,
    small_load,
    span,
)
from reports.drawings.square_code import square_code
from reports.pdf.engine import render
from reports.pdf.head import head_data, signature_data
from reports.pdf.planned_rounds import rounds_data
from reports.pdf.scales import load_scale, pointer_gauge
from supports.units import Kind

TAGS_ON_COVER = 16
"""Tags of units with a STOP page that the cover names; each has its page in any case."""
ROUNDS_ABREAST = 6
"""Rounds that fit side by side on the sequence sheet."""


def resetting_pack_pdf(pack: ResettingPack, page: PageSize = PageSize.A4) -> bytes:
    """Return the pack as PDF bytes; the date is the head's."""
    return render("resetting_pack", pack_data(pack, page), date=pack.head.made)


def pack_data(pack: ResettingPack, page: PageSize) -> dict[str, Any]:
    """Return what the template prints, as words and positions."""
    return {
        "head": head_data(pack.head, page),
        "cover": _cover(pack),
        "what": [_what_row(unit) for unit in pack.units],
        "counts": [[str(one), n] for one, n in pack.counts.items() if n],
        "reason": pack.reason,
        "aim": pack.aim,
        "assumptions": list(pack.assumptions),
        "cautions": list(field_words.CAUTIONS),
        "how_to_count": field_words.HOW_TO_COUNT,
        "energies": [_energy_row(unit) for unit in pack.units],
        "readiness": [*field_words.READINESS, *pack.site_readiness],
        "planned": [rounds_data(one) for one in pack.planned],
        "plan_words": list(pack.plan_words),
        "screening": SCREENING if pack.planned else "",
        "sequence": _sequence(pack),
        "units": [_unit(unit) for unit in pack.units if unit.job is not None or unit.refused],
        "readings": _readings(pack),
        "stops": [
            [one.number, one.tag, str(one.state), _fitted(one.fitted_on, one.fitted_by), one.reason]
            for one in pack.travel_stops
        ],
        "nozzles": [_nozzle(page) for page in pack.nozzles],
        "signatures": signature_data(pack.signatures),
        "tags": [_hanging_tag(unit, pack) for unit in pack.units if unit.job is not None],
    }


def _fitted(when: str, who: str) -> str:
    return ", ".join(part for part in (when, who) if part)


def _cover(pack: ResettingPack) -> dict[str, Any]:
    facts = [
        ["Line", pack.line],
        ["Change and revision", f"{pack.change_number}, revision {pack.change_revision}"],
        *([["Plan", "; ".join(pack.plan_words)]] if pack.plan_words else []),
        ["Line state needed", pack.line_state_needed],
        ["Who may start the work", pack.start_authority],
        ["Permits", ", ".join(pack.permits)],
        ["Crew", pack.crew],
        ["Hours", pack.hours],
        ["Scaffold group", pack.scaffold_group],
        *([["STOP, not turned", _tags(pack)]] if pack.stopped else []),
        ["Calculation", f"{pack.basis.calculation}, revision {pack.basis.revision}"],
        ["Method; signs", f"{pack.basis.method}; {pack.basis.sign_convention}"],
        ["Cases", "; ".join(pack.basis.cases)],
        *([["Copy", pack.copy_words]] if pack.copy_words else []),
    ]
    return {
        "job": pack.job,
        "turned": len(pack.turned),
        "all": len(pack.units),
        "refused": _stop_pages(len(pack.stopped)),
        "facts": [[name, value or NOT_KNOWN] for name, value in facts],
        "holds": [[str(one.number), one.what, one.who] for one in pack.hold_points],
        "stop_rules": [*field_words.STOP_RULES, *pack.site_stop_rules],
        "basis": WAY_BACK if pack.way_back else field_words.basis_words(pack.basis),
        "deference": field_words.DEFERENCE,
        "telephones": [list(pair) for pair in pack.telephones],
    }


def _stop_pages(number: int) -> str:
    pages = "a STOP page" if number == 1 else "a STOP page each"
    return f"{number} may not be turned: {pages}" if number else ""


def _tags(pack: ResettingPack) -> str:
    tags = [unit.tag for unit in pack.stopped]
    more = len(tags) - TAGS_ON_COVER
    return ", ".join(tags[:TAGS_ON_COVER]) + (f" and {more} more" if more > 0 else "")


def _what_row(unit: UnitSheet) -> dict[str, Any]:
    scale = unit.scale
    return {
        "order": str(unit.order),
        "tag": unit.tag,
        "kind": unit.kind,
        "place": unit.place,
        "nameplate": load(scale.nameplate, scale.load_unit),
        "present": load(scale.present, scale.load_unit),
        "required": load(scale.required, scale.load_unit),
        "bracket": _bracket(scale),
        "verdict": str(unit.verdict),
        "turns": f"{unit.job.turns}, {unit.job.direction}" if unit.job else "",
        "reasons": [*unit.reasons, *(f"Missing: {one.what}" for one in unit.missing)],
    }


def _bracket(scale: LoadScale) -> str:
    if scale.required is None or scale.other_unit == scale.load_unit:
        return ""
    return load(scale.required, scale.other_unit)


def _energy_row(unit: UnitSheet) -> list[str]:
    return [unit.tag, unit.kind, energy(unit.stored_energy)]


def _sequence(pack: ResettingPack) -> list[dict[str, Any]]:
    """Return the rounds of the units of which no plan speaks; nothing where plans speak of all."""
    own = [(unit, unit.job) for unit in pack.turned if unit.job and not by_plan(unit.job)]
    last = max((turn.number for _, job in own for turn in job.rounds), default=0)
    if pack.planned and not own:
        return []
    blocks = range(1, last + 1, ROUNDS_ABREAST)
    return [_sequence_block(own, first, last) for first in blocks]


def _sequence_block(
    own: Sequence[tuple[UnitSheet, TurnJob]], first: int, last: int
) -> dict[str, Any]:
    numbers = list(range(first, min(first + ROUNDS_ABREAST, last + 1)))
    return {
        "rounds": numbers,
        "rows": [_sequence_row(unit, job, numbers) for unit, job in own],
    }


def _sequence_row(unit: UnitSheet, job: TurnJob, numbers: Sequence[int]) -> dict[str, Any]:
    symbol = unit.scale.load_unit
    by_number = {turn.number: turn for turn in job.rounds}
    return {
        "tag": unit.tag,
        "sum": f"{_sign(job)}{job.turns.short}",
        "partners": ", ".join(unit.partners),
        "unit": symbol,
        "start": bare(unit.scale.present, symbol, Kind.LOAD),
        "target": load(unit.scale.required, symbol),
        "cells": [_cell(by_number.get(number), job, symbol) for number in numbers],
        "window": span(unit.scale.window_low, unit.scale.window_high, symbol),
    }


def _sign(job: TurnJob) -> str:
    return "+" if job.direction is Direction.INCREASE else "−"


def _cell(turn: TurnRound | None, job: TurnJob, symbol: str) -> list[str] | None:
    if turn is None:
        return None
    return [f"{_sign(job)}{turn.turns.short}", bare(turn.expected, symbol, Kind.LOAD)]


def _unit(unit: UnitSheet) -> dict[str, Any]:
    gauge = pointer_gauge(unit.gauge) if unit.gauge else None
    return {
        "order": str(unit.order),
        "tag": unit.tag,
        "serial": unit.serial,
        "kind": unit.kind,
        "place": unit.place,
        "verdict": str(unit.verdict),
        "partners": ", ".join(unit.partners),
        "energy": energy(unit.stored_energy),
        "reasons": list(unit.reasons if unit.job else further_reasons(unit)),
        "notes": list(unit.notes),
        "stop": None if unit.job else _stop(unit),
        "scale": load_scale(unit.scale),
        "gauge": gauge,
        "job": _job(unit, unit.job) if unit.job else None,
    }


def _stop(unit: UnitSheet) -> dict[str, Any]:
    page = stop_page(unit)
    rows = [[one.what, one.who_supplies] for one in page.rows]
    return {"lead": page.lead, "title": page.title, "by": page.by, "rows": rows}


def _job(unit: UnitSheet, job: TurnJob) -> dict[str, Any]:
    scale = unit.scale
    return {
        "part": f"{job.part}{'s' if job.bolts > 1 else ''}",
        "where": job.where,
        "direction": str(job.direction),
        "up": job.direction is Direction.INCREASE,
        "nameplate_words": job.nameplate_words,
        "says": "nameplate says" if job.part is TurnedPart.LOAD_BOLT else "that is,",
        "turns": str(job.turns),
        "per_bolt": job.bolts > 1,
        "from": bare(scale.present, scale.load_unit, Kind.LOAD),
        "to": load(scale.required, scale.load_unit),
        "after": load_pair(_reached(scale.present, job), scale.load_unit, scale.other_unit),
        "window": span(scale.window_low, scale.window_high, scale.load_unit),
        "change": signed_load(_change(unit), scale.load_unit),
        "facts": _job_facts(job, scale.load_unit),
        "alternate": _alternate_words(unit, job),
        "stop": field_words.STOP_STRIP,
        "steps": _step_rows(steps(unit, job)),
    }


def _step_rows(listed: Sequence[Step]) -> list[dict[str, Any]]:
    rows = groupby(listed, key=lambda one: one.number)
    return [{"number": number, "parts": [_step(one) for one in group]} for number, group in rows]


def _step(one: Step) -> dict[str, Any]:
    return {"words": one.words, "entries": list(one.entries), "hold": one.hold}


def _change(unit: UnitSheet) -> float | None:
    if unit.scale.present is None or unit.scale.required is None:
        return None
    return unit.scale.required - unit.scale.present


def _reached(present: float | None, job: TurnJob) -> float | None:
    if job.reached is not None:
        return job.reached
    if job.rounds:
        return job.rounds[-1].expected
    if present is None:
        return None
    way = 1.0 if job.direction is Direction.INCREASE else -1.0
    return present + way * job.turns.total * job.load_per_turn


def _job_facts(job: TurnJob, symbol: str) -> list[str]:
    one_flat = small_load(job.load_per_turn / FLATS_IN_A_TURN, symbol)
    facts = [
        f"one turn {small_load(job.load_per_turn, symbol)}, one flat {one_flat}",
        job.locked_words,
    ]
    if job.wrench:
        facts.append(f"wrench {job.wrench}")
    if job.thread_needed is not None:
        needed = amount(job.thread_needed, "mm", Kind.LENGTH)
        free = amount(job.thread_free, "mm", Kind.LENGTH)
        facts.append(f"thread needed {needed}, free {free}")
    return facts


def _alternate_words(unit: UnitSheet, job: TurnJob) -> list[str]:
    words = []
    if job.bolts > 1:
        words.append(
            f"{job.bolts} BOLTS: turn them alternately, never more than half a turn apart. "
            "Both scales within one graduation, bar level. Turns are per bolt."
        )
    if unit.partners:
        words.append(
            f"TRAPEZE: always together with {', '.join(unit.partners)}. Same round on both "
            "before the next round on either. Watch that the beam stays level."
        )
    if job.part is TurnedPart.TAKE_UP:
        words.append(
            "VARIABLE SPRING: turn the rod take-up only. Take the reading after each turn."
        )
    return words


def _readings(pack: ResettingPack) -> list[dict[str, Any]]:
    rows = [_unit_reading(unit) for unit in pack.units]
    listed = {unit.tag for unit in pack.units}
    rows += [_neighbour_reading(one) for one in pack.neighbours if one.tag not in listed]
    return sorted(rows, key=lambda row: row["place_in_line"])


def _unit_reading(unit: UnitSheet) -> dict[str, Any]:
    scale = unit.scale
    return {
        "place_in_line": unit.order,
        "tag": unit.tag,
        "serial": unit.serial,
        "unit": scale.load_unit,
        "before": bare(scale.present, scale.load_unit, Kind.LOAD),
        "target": bare(scale.required, scale.load_unit, Kind.LOAD) if unit.job else "",
        "window": span(scale.window_low, scale.window_high, scale.load_unit) if unit.job else "",
        "turns": unit.job.turns.short if unit.job else "",
        "label": _label(unit),
    }


def _label(unit: UnitSheet) -> str:
    if unit.job is not None:
        return ""
    return "STOP, READ ONLY" if unit.refused else "READ ONLY"


def _neighbour_reading(one: Neighbour) -> dict[str, Any]:
    return {
        "place_in_line": one.order,
        "tag": one.tag,
        "serial": one.serial,
        "unit": one.load_unit,
        "before": bare(one.last_load, one.load_unit, Kind.LOAD),
        "target": "",
        "window": "",
        "turns": "",
        "label": "READ ONLY",
    }


def _nozzle(page: NozzlePage) -> dict[str, Any]:
    return {
        "equipment": page.equipment,
        "nozzle": page.nozzle,
        "readings": [[one.what, quantity(one.limit), one.source] for one in page.readings],
        "use": [
            ["start" if number == 0 else f"after round {number}", percent(share)]
            for number, share in page.use_by_round
        ],
    }


def _hanging_tag(unit: UnitSheet, pack: ResettingPack) -> dict[str, Any]:
    gauge = unit.gauge
    cold = gauge.cold_mark if gauge else None
    symbol = gauge.length_unit if gauge else "mm"
    return {
        "tag": unit.tag,
        "serial": unit.serial,
        "line": pack.line,
        "change": f"{pack.change_number} rev {pack.change_revision}",
        "unit": unit.scale.load_unit,
        "old": load(unit.scale.present, unit.scale.load_unit),
        "cold": amount(cold, symbol, Kind.LENGTH),
        "code": square_code(unit.point_id),
    }
