"""The re-setting pack as PDF: its contents made ready for the template."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby
from typing import Any

from reports.contents import field_words
from reports.contents.common import Direction, PageSize
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
from reports.contents.steps import Step, steps, turns_words
from reports.contents.stop_pages import further_reasons, stop_page
from reports.contents.written import (
    NOT_KNOWN,
    amount,
    bare,
    load,
    load_pair,
    quantity,
    set_load,
    signed_load,
    span,
    used,
)
from reports.drawings.square_code import square_code
from reports.languages import ENGLISH, IN_ENGLISH, Texts, texts
from reports.pdf.engine import render
from reports.pdf.head import head_data, signature_data
from reports.pdf.pack_words import (
    alternate_words,
    energy_words,
    job_facts,
    missing_words,
    part_words,
    revised_words,
    stop_pages_words,
    told_turns,
)
from reports.pdf.planned_rounds import rounds_data
from reports.pdf.scales import load_scale, pointer_gauge
from reports.pdf.spoken import NAMES, head_spoken, spoken
from supports.units import Kind

TAGS_ON_COVER = 16
"""Tags of units with a STOP page that the cover names; each has its page in any case."""
ROUNDS_ABREAST = 6
"""Rounds that fit side by side on the sequence sheet."""


def resetting_pack_pdf(
    pack: ResettingPack, page: PageSize = PageSize.A4, language: str = ENGLISH
) -> bytes:
    """Return the pack as PDF bytes; the date is the head's."""
    say = texts(language)
    said = replace(pack, head=head_spoken(pack.head, say))
    data = spoken(pack_data(said, page, say), say, _NAMES)
    return render("resetting_pack", data, date=pack.head.made, words=say)


_NAMES = NAMES | {"partners", "telephones", "counts"}
"""What is called by a name in a pack."""


def pack_data(pack: ResettingPack, page: PageSize, say: Texts = IN_ENGLISH) -> dict[str, Any]:
    """Return what the template prints, as words and positions."""
    return {
        "head": head_data(pack.head, page),
        "cover": _cover(pack, say),
        "what": [_what_row(unit, say) for unit in pack.units],
        "counts": [[str(one), n] for one, n in pack.counts.items() if n],
        "reason": pack.reason,
        "aim": pack.aim,
        "assumptions": list(pack.assumptions),
        "cautions": list(field_words.CAUTIONS),
        "how_to_count": field_words.HOW_TO_COUNT,
        "energies": [_energy_row(unit, say) for unit in pack.units],
        "readiness": [*field_words.READINESS, *pack.site_readiness],
        "planned": [rounds_data(one) for one in pack.planned],
        "plan_words": list(pack.plan_words),
        "screening": SCREENING if pack.planned else "",
        "sequence": _sequence(pack),
        "units": [_unit(unit, say) for unit in pack.units if unit.job is not None or unit.refused],
        "readings": _readings(pack),
        "stops": [
            [one.number, one.tag, str(one.state), _fitted(one.fitted_on, one.fitted_by), one.reason]
            for one in pack.travel_stops
        ],
        "nozzles": [_nozzle(page, say) for page in pack.nozzles],
        "signatures": signature_data(pack.signatures),
        "tags": [_hanging_tag(unit, pack, say) for unit in pack.units if unit.job is not None],
    }


def _fitted(when: str, who: str) -> str:
    return ", ".join(part for part in (when, who) if part)


def _cover(pack: ResettingPack, say: Texts) -> dict[str, Any]:
    facts = [
        ["Line", pack.line],
        ["Change and revision", revised_words(pack.change_number, pack.change_revision, say)],
        *([["Plan", "; ".join(pack.plan_words)]] if pack.plan_words else []),
        ["Line state needed", pack.line_state_needed],
        ["Who may start the work", pack.start_authority],
        ["Permits", ", ".join(map(say.word, pack.permits))],
        ["Crew", pack.crew],
        ["Hours", pack.hours],
        ["Scaffold group", pack.scaffold_group],
        *([["STOP, not turned", _tags(pack, say)]] if pack.stopped else []),
        ["Calculation", revised_words(pack.basis.calculation, pack.basis.revision, say)],
        [
            "Method; signs",
            "; ".join(map(say.word, (pack.basis.method, pack.basis.sign_convention))),
        ],
        ["Cases", "; ".join(pack.basis.cases)],
        *([["Copy", pack.copy_words]] if pack.copy_words else []),
    ]
    return {
        "job": pack.job,
        "turned": len(pack.turned),
        "all": len(pack.units),
        "refused": stop_pages_words(len(pack.stopped), say),
        "facts": [[name, value or NOT_KNOWN] for name, value in facts],
        "holds": [[str(one.number), one.what, one.who] for one in pack.hold_points],
        "stop_rules": [*field_words.STOP_RULES, *pack.site_stop_rules],
        "basis": WAY_BACK if pack.way_back else field_words.basis_words(pack.basis, say),
        "deference": field_words.DEFERENCE,
        "telephones": [list(pair) for pair in pack.telephones],
    }


def _tags(pack: ResettingPack, say: Texts) -> str:
    tags = [unit.tag for unit in pack.stopped]
    more = len(tags) - TAGS_ON_COVER
    named = ", ".join(tags[:TAGS_ON_COVER])
    return say("{tags} and {count} more", tags=named, count=more) if more > 0 else named


def _what_row(unit: UnitSheet, say: Texts) -> dict[str, Any]:
    scale = unit.scale
    return {
        "order": str(unit.order),
        "tag": unit.tag,
        "kind": unit.kind,
        "place": unit.place,
        "nameplate": set_load(scale.nameplate, scale.load_unit, unit.kind),
        "present": set_load(scale.present, scale.load_unit, unit.kind),
        "required": load(scale.required, scale.load_unit),
        "bracket": _bracket(scale),
        "verdict": str(unit.verdict),
        "turns": told_turns(unit.job, say) if unit.job else "",
        "reasons": [*unit.reasons, *(missing_words(one.what, say) for one in unit.missing)],
    }


def _bracket(scale: LoadScale) -> str:
    if scale.required is None or scale.other_unit == scale.load_unit:
        return ""
    return load(scale.required, scale.other_unit)


def _energy_row(unit: UnitSheet, say: Texts) -> list[str]:
    return [unit.tag, unit.kind, energy_words(unit.stored_energy, say)]


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


def _unit(unit: UnitSheet, say: Texts) -> dict[str, Any]:
    gauge = pointer_gauge(unit.gauge, say) if unit.gauge else None
    return {
        "order": str(unit.order),
        "tag": unit.tag,
        "code": square_code(unit.point_id),
        "serial": unit.serial,
        "kind": unit.kind,
        "place": unit.place,
        "verdict": str(unit.verdict),
        "partners": ", ".join(unit.partners),
        "energy": energy_words(unit.stored_energy, say),
        "reasons": list(unit.reasons if unit.job else further_reasons(unit)),
        "notes": list(unit.notes),
        "stop": None if unit.job else _stop(unit),
        "scale": load_scale(unit.scale, say),
        "gauge": gauge,
        "job": _job(unit, unit.job, say) if unit.job else None,
    }


def _stop(unit: UnitSheet) -> dict[str, Any]:
    page = stop_page(unit)
    rows = [[one.what, one.who_supplies] for one in page.rows]
    return {"lead": page.lead, "title": page.title, "by": page.by, "rows": rows}


def _job(unit: UnitSheet, job: TurnJob, say: Texts) -> dict[str, Any]:
    scale = unit.scale
    return {
        "part": part_words(job, say),
        "where": job.where,
        "direction": str(job.direction),
        "up": job.direction is Direction.INCREASE,
        "nameplate_words": job.nameplate_words,
        "says": say("nameplate says" if job.part is TurnedPart.LOAD_BOLT else "that is,"),
        "turns": turns_words(job.turns, say),
        "per_bolt": job.bolts > 1,
        "from": bare(scale.present, scale.load_unit, Kind.LOAD),
        "to": load(scale.required, scale.load_unit),
        "after": load_pair(_reached(scale.present, job), scale.load_unit, scale.other_unit),
        "window": span(scale.window_low, scale.window_high, scale.load_unit),
        "change": signed_load(_change(unit), scale.load_unit),
        "facts": job_facts(job, scale.load_unit, say),
        "alternate": alternate_words(unit, job, say),
        "stop": field_words.STOP_STRIP,
        "steps": _step_rows(steps(unit, job, say)),
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


def _nozzle(page: NozzlePage, say: Texts) -> dict[str, Any]:
    return {
        "equipment": page.equipment,
        "nozzle": page.nozzle,
        "machine": page.machine,
        "readings": [[one.what, quantity(one.limit), one.source] for one in page.readings],
        "use": [
            [say("after round {number}", number=number) if number else say("start"), used(share)]
            for number, share in page.use_by_round
        ],
    }


def _hanging_tag(unit: UnitSheet, pack: ResettingPack, say: Texts) -> dict[str, Any]:
    gauge = unit.gauge
    cold = gauge.cold_mark if gauge else None
    symbol = gauge.length_unit if gauge else "mm"
    return {
        "tag": unit.tag,
        "serial": unit.serial,
        "line": pack.line,
        "change": revised_words(pack.change_number, pack.change_revision, say),
        "unit": unit.scale.load_unit,
        "old": load(unit.scale.present, unit.scale.load_unit),
        "cold": amount(cold, symbol, Kind.LENGTH),
        "code": square_code(unit.point_id),
    }
