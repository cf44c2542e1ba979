"""The rounds of a plan made ready for the template: matrix, list of steps, chart."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reports.contents.planned_rounds import (
    PUT_IN,
    Cell,
    PlannedRounds,
    UnitRow,
    WrittenStep,
)
from reports.contents.written import amount, bare, load, span, used
from reports.drawings.as_data import as_data
from reports.drawings.use_chart import HeldSpan, NozzleLine, StepBar, use_chart
from reports.languages import IN_ENGLISH, Texts
from supports.rules.reset_planning.content import NozzleUseSaid, PlanAlternative, UseSaid
from supports.units import Kind

ABREAST = 5
"""Rounds that fit side by side on a sheet, landscape."""


def rounds_data(rounds: PlannedRounds, say: Texts = IN_ENGLISH) -> dict[str, Any]:
    """Return the matrix in blocks of rounds, and the steps one by one."""
    blocks = range(0, len(rounds.rounds), ABREAST)
    return {
        "line": rounds.line,
        "state": rounds.work_state,
        "safety": rounds.safety,
        "stamp": rounds.stamp,
        "blocks": [_block(rounds, first, say) for first in blocks],
        "steps": [_step(step) for step in rounds.steps],
        "holds": [_hold(rounds, place, say) for place in range(len(rounds.holds))],
    }


def _block(rounds: PlannedRounds, first: int, say: Texts) -> dict[str, Any]:
    places = range(first, min(first + ABREAST, len(rounds.rounds)))
    last = places[-1] == len(rounds.rounds) - 1
    return {
        "rounds": [rounds.rounds[place] for place in places],
        "before": [_hold_steps(rounds, place, PUT_IN, say) for place in places],
        "after": [_hold_steps(rounds, place, "", say) for place in places],
        "rows": [_row(row, places, first=first == 0, last=last) for row in rounds.units],
        "nozzles": [
            {
                "name": name,
                "start": _nozzle(uses[0], say),
                "uses": [_nozzle(uses[n + 1], say) for n in places],
            }
            for name, uses in rounds.nozzles
        ],
        "worst": [_use(rounds.worst[place]) for place in places],
        "last": last,
        "bare_start": say("nothing propped") if rounds.holds else "",
    }


def _hold_steps(rounds: PlannedRounds, place: int, kind: str, say: Texts) -> list[str]:
    """Return the props and stops of one round: those put in, or the others."""
    steps = [s for s in rounds.steps if s.round == rounds.rounds[place] and not s.is_turn]
    return [
        say(
            "step {number}: {words} {place}",
            number=step.number,
            words=say.word(step.words),
            place=say.sentence(step.place),
        )
        for step in steps
        if (step.kind == PUT_IN) == (kind == PUT_IN)
    ]


def _row(row: UnitRow, places: Sequence[int], *, first: bool, last: bool) -> dict[str, Any]:
    symbol, length = row.face.load_unit, row.face.length_unit
    return {
        "tag": row.face.tag,
        "place": row.face.place,
        "sum": row.sum,
        "turned": row.turned is not None,
        "unit": symbol,
        "start": _cell(row.start, symbol, length) if first else None,
        "cells": [_cell(row.cells[place], symbol, length) for place in places],
        "window": span(*row.window, symbol) if last and row.window else "",
    }


def _cell(cell: Cell | None, symbol: str, length: str) -> dict[str, Any] | None:
    if cell is None:
        return None
    return {
        "told": cell.told,
        "step": "" if cell.step is None else str(cell.step),
        "expected": bare(cell.expected, symbol, Kind.LOAD),
        "window": _bare_span(cell, symbol),
        "pointer": "" if cell.pointer is None else amount(cell.pointer, length, Kind.LENGTH),
    }


def _bare_span(cell: Cell, symbol: str) -> str:
    return f"{bare(cell.low, symbol, Kind.LOAD)} – {bare(cell.high, symbol, Kind.LOAD)}"


def _nozzle(use: NozzleUseSaid | None, say: Texts) -> dict[str, Any]:
    if use is None:
        return {"share": say("not known"), "what": "", "over": True}
    return {"share": used(use.use), "what": use.what, "over": use.use > 1.0}


def _use(use: UseSaid) -> dict[str, Any]:
    return {"share": used(use.share), "words": use.words, "over": not use.passes}


def _step(step: WrittenStep) -> dict[str, Any]:
    cell, face = step.cell, step.face
    symbol = face.load_unit if face else "kN"
    seen = cell.at_step if cell else None
    return {
        "number": str(step.number),
        "round": str(step.round),
        "place": step.place if step.is_turn else "",
        "held": "" if step.is_turn else step.place,
        "where": face.place if face else "",
        "words": step.words,
        "hold": not step.is_turn,
        "expected": load(seen[0], symbol) if seen else "",
        "window": span(seen[1], seen[2], symbol) if seen else "",
        "worst": _use(step.worst),
    }


def _hold(rounds: PlannedRounds, place: int, say: Texts) -> list[str]:
    hold = rounds.holds[place]
    number, put_in = rounds.props.get(hold.name, ("", ""))
    return [
        hold.called,
        say("before step {number}", number=hold.before_step),
        say("not before step {number} is done and read", number=hold.out_after_step),
        load(hold.force, "kN"),
        amount(hold.level, "mm", Kind.LENGTH),
        number,
        put_in,
    ]


def chart_data(
    plan: PlanAlternative, rounds: PlannedRounds, width: float, say: Texts = IN_ENGLISH
) -> dict[str, Any]:
    """Return the chart of limit use: before the first turn, and after each step."""
    ends = {step.round: place for place, step in enumerate(rounds.steps, start=1)}
    at = [0, *(ends[number] for number in rounds.rounds)]
    bars = [
        StepBar(say("start"), plan.start.share if plan.start else None),
        *(StepBar(str(step.number), step.worst.share) for step in rounds.steps),
    ]
    lines = [
        NozzleLine(name, tuple((x, use.use) for x, use in zip(at, uses, strict=True) if use))
        for name, uses in rounds.nozzles
    ]
    spans = [HeldSpan(h.called, h.before_step, h.out_after_step) for h in rounds.holds]
    return as_data(use_chart(bars, lines, spans, width, say=say))
