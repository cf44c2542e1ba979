"""The close-out report of a campaign as PDF."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
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
from reports.languages import ENGLISH, IN_ENGLISH, Texts, texts
from reports.pdf.engine import render
from reports.pdf.head import head_data, signature_data
from reports.pdf.spoken import head_spoken, spoken
from reports.svg.movement_picture import Moved, movement_svg
from reports.svg.trend_plot import TrendPlot, trend_svg
from supports.rules.walkdown.findings import FindingView
from supports.rules.walkdown.judgement import JudgedItem
from supports.rules.walkdown.record import CampaignRecord
from supports.units import Kind, from_si

MOVEMENT_RULES = frozenset({"moves-the-wrong-way", "moves-too-little"})


def walkdown_closeout_pdf(
    report: WalkdownCloseout, page: PageSize = PageSize.A4, language: str = ENGLISH
) -> bytes:
    """Return the report as PDF bytes; the date is the head's."""
    say = texts(language)
    said = replace(report, head=head_spoken(report.head, say))
    data = spoken(closeout_data(said, page, say), say)
    return render("walkdown_closeout", data, date=report.head.made, words=say)


def closeout_data(
    report: WalkdownCloseout, page: PageSize, say: Texts = IN_ENGLISH
) -> dict[str, Any]:
    """Return what the template prints."""
    record = report.record
    late = [one for one in record.findings if one.overdue(record.today)]
    return {
        "head": head_data(report.head, page),
        "facts": _facts(record, say),
        "standing": [[words, n] for words, n in record.standing.items()],
        "by_state": [[words, n] for words, n in record.by_state],
        "overdue": [_finding(one, record, say) for one in late],
        "verdict": record.verdict or say("not given yet"),
        "steps": [[one.act, one.done_by, f"{one.done_on}", one.words] for one in record.steps],
        "findings": [_finding(one, record, say) for one in record.findings],
        "lines": [_line(line, rows, say) for line, rows in record.lines.items()],
        "not_seen": [[one.facts.tag, found_words(one.facts, say)] for one in record.not_seen],
        "unjudged": list(_unjudged(record.rows)),
        "contradictions": [
            [one.tag, [list(pair) for pair in one.entries], one.chosen, one.chosen_by, one.reason]
            for one in record.differing
        ],
        "previous": [[one.number, f"{one.rows}", f"{one.findings}"] for one in record.previous],
        "plots": [plot for one in drifting(report) for plot in _plots(one, record, say)],
        "signatures": signature_data(
            (
                Signature(say("reviewing inspector"), record.done_by("review")),
                Signature(say("engineer"), record.done_by("give verdict")),
                Signature(say("responsible engineer"), record.done_by("sign off")),
            )
        ),
        "deference": DEFERENCE,
    }


def _facts(record: CampaignRecord, say: Texts) -> list[list[str]]:
    seen, every = len(record.seen), len(record.rows)
    return [
        [say("Campaign"), f"{record.campaign}: {record.title}"],
        [
            say("Walk"),
            say(
                "{half}, wanted: {state}",
                half=half_words(record.half, say),
                state=say.word(str(record.state_wanted)),
            ),
        ],
        [say("Planned for"), str(record.walk_on)],
        [
            say("Stands at"),
            say("{state} on {day}", state=say.word(str(record.state)), day=record.today),
        ],
        [
            say("Rows seen"),
            say("{seen} of {every}, {left} not seen", seen=seen, every=every, left=every - seen),
        ],
        [say("Findings"), str(len(record.findings))],
    ]


def _finding(one: FindingView, record: CampaignRecord, say: Texts) -> dict[str, Any]:
    day = one.accepted_until or one.due_on
    return {
        "number": one.number,
        "tag": one.tag,
        "code": one.code,
        "severity": one.severity,
        "what": one.what,
        "how_soon": one.how_soon,
        "state": str(one.state),
        "owner": one.owner or say("NO OWNER"),
        "day": str(day) if day else say("no day"),
        "overdue": one.overdue(record.today),
        "answer": " ".join(part for part in (one.answer, one.reference) if part),
        "steps": [
            f"{step.done_on} {say.word(step.act)} ({step.done_by}): {step.words}".rstrip(": ")
            for step in one.steps
        ],
    }


def _line(line: str, rows: list[JudgedItem], say: Texts) -> dict[str, Any]:
    springs = [one for one in rows if one.facts.is_spring]
    unit = pointer_unit(springs[0].facts) if springs else "mm"
    return {
        "number": line,
        "rows": [_row(one, say) for one in rows],
        "picture": movement_svg(
            say("Line {line}: movement from shut down to operating", line=line),
            unit,
            [_moved(one, unit) for one in springs],
            say,
        )
        if springs
        else "",
        "told": f"{say('Line {line}', line=line)}: "
        + ", ".join(f"{one.facts.tag} {_movement_words(one, unit, say)}" for one in springs),
    }


def _moved(one: JudgedItem, unit: str) -> Moved:
    def turned(value: float | None) -> float | None:
        return None if value is None else float(from_si(value, unit, Kind.LENGTH))

    marked = any(answer.rule in MOVEMENT_RULES for answer in one.failures)
    return Moved(one.facts.tag, turned(one.facts.movement), turned(one.moved), marked)


def _movement_words(one: JudgedItem, unit: str, say: Texts) -> str:
    predicted = amount(one.facts.movement, unit, Kind.LENGTH)
    return say(
        "{moved} of {predicted}", moved=amount(one.moved, unit, Kind.LENGTH), predicted=predicted
    )


def _row(one: JudgedItem, say: Texts) -> dict[str, Any]:
    facts, unit = one.facts, pointer_unit(one.facts)
    day = facts.found.read_on if facts.found else None
    return {
        "tag": facts.tag,
        "kind": str(facts.unit.kind if facts.unit else facts.support.kind),
        "expected": expected_words(facts, one.expected, say),
        "found": found_words(facts, say),
        "who": ", ".join(facts.found.walkers) if facts.found else "",
        "day": str(day) if day else "",
        "moved": _movement_words(one, unit, say) if facts.is_spring else "",
        "said": one.said,
        "why": [answer.text for answer in one.failures],
    }


def _unjudged(rows: Iterable[JudgedItem]) -> Iterable[list[str]]:
    for one in rows:
        for answer in one.unjudged:
            yield [one.facts.tag, answer.rule, ", ".join(answer.missing)]


def _plots(one: JudgedItem, record: CampaignRecord, say: Texts) -> list[dict[str, str]]:
    made = []
    for drawn in drawn_trends(one.facts, record.limits):
        title = f"{one.facts.tag}: {say.word(drawn.what)} [{drawn.unit}]"
        plot = TrendPlot(title, drawn.unit, drawn.points, drawn.lines, drawn.bands)
        told = "; ".join(f"{p.day} {say.word(str(p.state))} {p.value:g}" for p in drawn.points)
        made.append({"svg": trend_svg(plot, say), "told": f"{title}: {told}"})
    return made
