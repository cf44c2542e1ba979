"""The load-change summary as PDF: its contents made ready for the template."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from reports.contents import field_words
from reports.contents.common import Direction, PageSize
from reports.contents.load_change_summary import (
    LoadChangeSummary,
    SupportRow,
    WeightItem,
    WeightTable,
)
from reports.contents.written import (
    NOT_KNOWN,
    amount,
    has_setting,
    load,
    percent,
    signed_load,
    span,
)
from reports.languages import ENGLISH, IN_ENGLISH, Texts, texts
from reports.pdf.engine import render
from reports.pdf.head import head_data, signature_data
from reports.pdf.line_figure import line_figures
from reports.pdf.spoken import NAMES, head_spoken, spoken
from supports.units import Kind
from supports.vocabulary import Verdict


def load_change_summary_pdf(
    summary: LoadChangeSummary, page: PageSize = PageSize.A4, language: str = ENGLISH
) -> bytes:
    """Return the summary as PDF bytes; the date is the head's."""
    say = texts(language)
    said = replace(summary, head=head_spoken(summary.head, say))
    data = spoken(summary_data(said, page, say), say, (NAMES | {"counts"}) - {"change"})
    return render("load_change_summary", data, date=summary.head.made, words=say)


def summary_data(
    summary: LoadChangeSummary, page: PageSize, say: Texts = IN_ENGLISH
) -> dict[str, Any]:
    """Return what the template prints, as words and positions."""
    return {
        "head": head_data(summary.head, page),
        "verdict": summary.verdict_sentence,
        "analysis": summary.analysis_words,
        "counts": [[str(one), number] for one, number in summary.counts.items()],
        "all": len(summary.rows),
        "change": [summary.line, summary.change_number, summary.change_revision],
        "figures": line_figures(summary.rows, say),
        "supports": [_support(row, say) for row in summary.rows],
        "weights": _weights(summary.weights),
        "doubts": _doubts(summary, say),
        "unjudged": summary.counts[Verdict.CANNOT_JUDGE],
        "in_between": [
            [_round(one.after_round, say), one.nozzle, percent(one.share)]
            for one in summary.in_between
        ],
        "basis": _basis(summary, say),
        "basis_words": field_words.basis_words(summary.basis, say),
        "deference": field_words.DEFERENCE,
        "assumptions": [[one.what, one.owner] for one in summary.assumptions],
        "signatures": signature_data(summary.signatures),
    }


def _round(number: int, say: Texts) -> str:
    return say("start") if number == 0 else say("after round {number}", number=number)


def _support(row: SupportRow, say: Texts) -> dict[str, Any]:
    unset = row.low is row.high is None and not has_setting(row.kind)
    return {
        "order": str(row.order),
        "tag": row.tag,
        "node": row.node,
        "kind": row.kind,
        "nameplate": row.nameplate_words,
        "range": "–" if unset else span(row.low, row.high, row.load_unit),
        "present": row.present_words,
        "required": load(row.required, row.load_unit),
        "bracket": load(row.required, row.other_unit) if row.other_unit != row.load_unit else "",
        "cases": [
            [f"{one.case} {load(one.load, row.load_unit)}", one.governs] for one in row.cases
        ],
        "change": signed_load(row.change, row.load_unit),
        "change_share": percent(row.change_share, signed=True, decimals=1),
        "used": "–" if unset else percent(row.used_share),
        "turns": _turns(row),
        "travel": row.travel_words,
        "weakest": f"{row.weakest_piece} {percent(row.weakest_share)}".strip(),
        "verdict": str(row.verdict),
        "codes": ", ".join(row.rule_codes),
        "reasons": list(row.reasons),
        "missing": cannot_judge(row, say),
    }


def _turns(row: SupportRow) -> str:
    if row.turns is None:
        return "–"
    sign = {Direction.INCREASE: "+", Direction.DECREASE: "−", None: ""}[row.direction]
    return f"{sign}{row.turns.short}"


def cannot_judge(row: SupportRow, say: Texts = IN_ENGLISH) -> str:
    """Return the words for what is missing, or '' where nothing is."""
    return (
        say("cannot judge (missing: {missing})", missing=", ".join(map(say.sentence, row.missing)))
        if row.missing
        else ""
    )


def _doubts(summary: LoadChangeSummary, say: Texts) -> list[list[str]]:
    """List every support that cannot be judged first, so that none can be overlooked."""
    told = {one.subject for one in summary.doubts}
    unlisted = [
        [row.tag, ", ".join(map(say.sentence, row.missing)) or say("not said"), say("cannot judge")]
        for row in summary.rows
        if (row.missing or row.verdict is Verdict.CANNOT_JUDGE) and row.tag not in told
    ]
    return unlisted + [[one.subject, one.missing, one.consequence] for one in summary.doubts]


def _basis(summary: LoadChangeSummary, say: Texts) -> list[list[str]]:
    basis = summary.basis
    facts = [
        [
            say("Calculation"),
            say(
                "{calculation}, revision {revision}",
                calculation=basis.calculation,
                revision=basis.revision,
            ),
        ],
        [say("Method"), basis.method],
        [say("Sign convention"), basis.sign_convention],
        [say("Cases"), "; ".join(basis.cases)],
    ]
    return [[name, value or NOT_KNOWN] for name, value in facts]


def _weights(table: WeightTable) -> dict[str, Any]:
    return {
        "rows": [_weight_row(item, table) for item in table.items],
        "mass": amount(table.mass, table.mass_unit, Kind.MASS),
        "weight": load(table.weight, table.load_unit),
        "centre": amount(table.centre, table.length_unit, Kind.LENGTH),
        "twist": amount(table.twist, table.moment_unit, Kind.MOMENT),
        "missing": list(table.missing),
    }


def _weight_row(item: WeightItem, table: WeightTable) -> list[str]:
    return [
        item.what,
        amount(item.mass, table.mass_unit, Kind.MASS),
        amount(item.distance, table.length_unit, Kind.LENGTH),
        amount(item.offset, table.length_unit, Kind.LENGTH) if item.offset else "–",
        item.source,
    ]
