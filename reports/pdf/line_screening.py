"""The paper of a screened line as PDF: its contents made ready for the template."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from reports.contents.common import PageSize
from reports.contents.field_words import DEFERENCE
from reports.contents.line_screening import LineScreening, NozzleState, SupportStates
from reports.contents.written import (
    NOT_KNOWN,
    amount,
    bare,
    load,
    percent,
    signed_load,
    signed_millimetres,
    span,
)
from reports.drawings.as_data import as_data
from reports.drawings.isometric import isometric
from reports.drawings.pointers import pointers
from reports.drawings.straight import straight
from reports.languages import ENGLISH, IN_ENGLISH, Texts, texts
from reports.pdf.engine import render
from reports.pdf.head import head_data
from reports.pdf.spoken import NAMES, head_spoken, spoken
from supports.units import Kind

_FORCES, _TURNING = ("Fx", "Fy", "Fz", "F"), ("Mx", "My", "Mz", "M")


def line_screening_pdf(
    paper: LineScreening, page: PageSize = PageSize.A4, language: str = ENGLISH
) -> bytes:
    """Return the paper as PDF bytes; the date is the head's."""
    say = texts(language)
    said = replace(paper, head=head_spoken(paper.head, say))
    data = spoken(line_screening_data(said, page, say), say, NAMES - {"verdict"})
    return render("line_screening", data, date=paper.head.made, words=say)


def line_screening_data(
    paper: LineScreening, page: PageSize, say: Texts = IN_ENGLISH
) -> dict[str, Any]:
    """Return what the template prints, as words and drawings."""
    drawing, room = isometric(paper.route, say)
    return {
        "head": head_data(paper.head, page),
        "verdict": paper.verdict,
        "details": list(paper.details),
        "analysis": paper.analysis,
        "line": [paper.line, paper.change, paper.aim],
        "facts": [list(fact) for fact in paper.facts],
        "straight": as_data(straight(paper.straight, say=say)),
        "pointers": as_data(pointers(paper.moved, say=say)),
        "isometric": as_data(drawing),
        "isometric_sheet": room.name if room.name != "a4" else page.value,
        "supports": [_support(row) for row in paper.supports],
        "nozzle_heads": [*_FORCES, *_TURNING],
        "nozzles": [_nozzle(one, say) for one in paper.nozzles],
        "limits": _limits(paper),
        "findings": [
            [f.severity, f.subject, f.what, f.found, f.expected, f.code] for f in paper.findings
        ],
        "compared": [_compared(row) for row in paper.supports if row.calculation is not None],
        "uncompared": [r.tag for r in paper.supports if r.calculation is None and r.look],
        "reasons": list(paper.reasons),
        "unknown": list(paper.unknown),
        "notes": list(paper.notes),
        "caution": paper.caution,
        "deference": DEFERENCE,
    }


def _support(row: SupportStates) -> list[Any]:
    first, second, third = (bare(value, "kN", Kind.LOAD) for value in row.loads)
    return [
        row.tag,
        row.kind,
        "" if row.distance is None else amount(row.distance, "m", Kind.LENGTH, 1),
        first,
        second,
        third,
        _standing(row),
        _millimetres(None if row.sink is None else -row.sink),
        _millimetres(row.planned_rise),
        "–" if row.setting_change is None else signed_load(row.setting_change, "kN"),
        "–" if row.low is None and row.high is None else span(row.low, row.high, "kN"),
    ]


def _standing(row: SupportStates) -> str:
    if len(set(row.standing)) == 1:
        return row.standing[0]
    return " · ".join(row.standing)


def _millimetres(value: float | None) -> str:
    return bare(value, "mm", Kind.LENGTH) if value is None else signed_millimetres(value)


def _nozzle(one: NozzleState, say: Texts) -> list[Any]:
    return [
        one.nozzle,
        one.state,
        [_value(value, n) for n, value in enumerate(one.values)],
        [use is not None and use > 1.0 for use in one.uses],
        percent(one.worst) if one.worst is not None else say("cannot judge (missing: limits)"),
    ]


def _value(value: float | None, place: int) -> str:
    if value is None:
        return NOT_KNOWN
    turning = place >= len(_FORCES)
    return bare(value, "kN·m", Kind.MOMENT) if turning else bare(value, "kN", Kind.LOAD)


def _limits(paper: LineScreening) -> list[list[Any]]:
    seen: dict[str, NozzleState] = {one.nozzle: one for one in paper.nozzles}
    return [
        [one.nozzle, [_value(limit, n) for n, limit in enumerate(one.limits)], one.source]
        for one in seen.values()
    ]


def _compared(row: SupportStates) -> list[str]:
    ours, theirs = row.loads[0], row.calculation
    apart = None if ours is None or not theirs else (ours - theirs) / abs(theirs)
    return [row.tag, load(ours, "kN"), load(theirs, "kN"), percent(apart, signed=True), row.look]
