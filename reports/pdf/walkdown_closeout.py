"""The close-out report of a campaign as PDF."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from reports.contents.common import PageSize, Signature
from reports.contents.walkdown_closeout import (
    WalkdownCloseout,
    drawn_trends,
    drifting,
    expected_words,
    found_words,
    pointer_unit,
)
from reports.contents.walkdown_package import DEFERENCE, half_words
from reports.contents.written import amount
from reports.pdf.engine import render
from reports.pdf.head import head_data, signature_data
from reports.svg.movement_picture import Moved, movement_svg
from reports.svg.trend_plot import TrendPlot, trend_svg
from supports.rules.walkdown.findings import FindingView
from supports.rules.walkdown.judgement import JudgedItem
from supports.rules.walkdown.record import CampaignRecord
from supports.units import Kind, from_si

MOVEMENT_RULES = frozenset({"moves-the-wrong-way", "moves-too-little"})


def walkdown_closeout_pdf(report: WalkdownCloseout, page: PageSize = PageSize.A4) -> bytes:
    """Return the report as PDF bytes; the date is the head's."""
    return render("walkdown_closeout", closeout_data(report, page), date=report.head.made)


def closeout_data(report: WalkdownCloseout, page: PageSize) -> dict[str, Any]:
    """Return what the template prints."""
    record = report.record
    late = [one for one in record.findings if one.overdue(record.today)]
    return {
        "head": head_data(report.head, page),
        "facts": _facts(record),
        "standing": [[words, n] for words, n in record.standing.items()],
        "by_state": [[words, n] for words, n in record.by_state],
        "overdue": [_finding(one, record) for one in late],
        "verdict": record.verdict or "not given yet",
        "steps": [[one.act, one.done_by, f"{one.done_on}", one.words] for one in record.steps],
        "findings": [_finding(one, record) for one in record.findings],
        "lines": [_line(line, rows) for line, rows in record.lines.items()],
        "not_seen": [[one.facts.tag, found_words(one.facts)] for one in record.not_seen],
        "unjudged": list(_unjudged(record.rows)),
        "contradictions": [
            [one.tag, [list(pair) for pair in one.entries], one.chosen, one.chosen_by, one.reason]
            for one in record.differing
        ],
        "previous": [[one.number, f"{one.rows}", f"{one.findings}"] for one in record.previous],
        "plots": [plot for one in drifting(report) for plot in _plots(one, record)],
        "signatures": signature_data(
            (
                Signature("reviewing inspector", record.done_by("review")),
                Signature("engineer", record.done_by("give verdict")),
                Signature("responsible engineer", record.done_by("sign off")),
            )
        ),
        "deference": DEFERENCE,
    }


def _facts(record: CampaignRecord) -> list[list[str]]:
    seen, every = len(record.seen), len(record.rows)
    return [
        ["Campaign", f"{record.campaign}: {record.title}"],
        ["Walk", f"{half_words(record.half)}, wanted: {record.state_wanted}"],
        ["Planned for", str(record.walk_on)],
        ["Stands at", f"{record.state} on {record.today}"],
        ["Rows seen", f"{seen} of {every}, {every - seen} not seen"],
        ["Findings", str(len(record.findings))],
    ]


def _finding(one: FindingView, record: CampaignRecord) -> dict[str, Any]:
    day = one.accepted_until or one.due_on
    return {
        "number": one.number,
        "tag": one.tag,
        "code": one.code,
        "severity": one.severity,
        "what": one.what,
        "how_soon": one.how_soon,
        "state": str(one.state),
        "owner": one.owner or "NO OWNER",
        "day": str(day) if day else "no day",
        "overdue": one.overdue(record.today),
        "answer": " ".join(part for part in (one.answer, one.reference) if part),
        "steps": [
            f"{step.done_on} {step.act} ({step.done_by}){f': {step.words}' if step.words else ''}"
            for step in one.steps
        ],
    }


def _line(line: str, rows: list[JudgedItem]) -> dict[str, Any]:
    springs = [one for one in rows if one.facts.is_spring]
    unit = pointer_unit(springs[0].facts) if springs else "mm"
    return {
        "number": line,
        "rows": [_row(one) for one in rows],
        "picture": movement_svg(
            f"Line {line}: movement from shut down to operating",
            unit,
            [_moved(one, unit) for one in springs],
        )
        if springs
        else "",
        "told": f"Line {line}: "
        + ", ".join(f"{one.facts.tag} {_movement_words(one, unit)}" for one in springs),
    }


def _moved(one: JudgedItem, unit: str) -> Moved:
    def turned(value: float | None) -> float | None:
        return None if value is None else float(from_si(value, unit, Kind.LENGTH))

    marked = any(answer.rule in MOVEMENT_RULES for answer in one.failures)
    return Moved(one.facts.tag, turned(one.facts.movement), turned(one.moved), marked)


def _movement_words(one: JudgedItem, unit: str) -> str:
    predicted = amount(one.facts.movement, unit, Kind.LENGTH)
    return f"{amount(one.moved, unit, Kind.LENGTH)} of {predicted}"


def _row(one: JudgedItem) -> dict[str, Any]:
    facts, unit = one.facts, pointer_unit(one.facts)
    day = facts.found.read_on if facts.found else None
    return {
        "tag": facts.tag,
        "kind": str(facts.unit.kind if facts.unit else facts.support.kind),
        "expected": expected_words(facts, one.expected),
        "found": found_words(facts),
        "who": ", ".join(facts.found.walkers) if facts.found else "",
        "day": str(day) if day else "",
        "moved": _movement_words(one, unit) if facts.is_spring else "",
        "said": one.said,
        "why": [answer.text for answer in one.failures],
    }


def _unjudged(rows: Iterable[JudgedItem]) -> Iterable[list[str]]:
    for one in rows:
        for answer in one.unjudged:
            yield [one.facts.tag, answer.rule, ", ".join(answer.missing)]


def _plots(one: JudgedItem, record: CampaignRecord) -> list[dict[str, str]]:
    made = []
    for drawn in drawn_trends(one.facts, record.limits):
        title = f"{one.facts.tag}: {drawn.what} [{drawn.unit}]"
        plot = TrendPlot(title, drawn.unit, drawn.points, drawn.lines, drawn.bands)
        told = "; ".join(f"{p.day} {p.state} {p.value:g}" for p in drawn.points)
        made.append({"svg": trend_svg(plot), "told": f"{title}: {told}"})
    return made
