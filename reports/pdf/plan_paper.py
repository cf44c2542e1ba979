"""The paper of a re-set plan as PDF: its contents made ready for the template."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from reports.contents import field_words
from reports.contents.common import Direction, PageSize
from reports.contents.plan_paper import (
    PlanPaper,
    order_words,
    proof_words,
    side_by_side,
    step_words,
    use_words,
)
from reports.contents.planned_rounds import SCREENING, UnitRow, stamp_of
from reports.contents.written import cut, load, load_pair, percent, signed_load, span
from reports.drawings.as_data import as_data
from reports.drawings.steps import Turned, rounds_matrix
from reports.languages import ENGLISH, IN_ENGLISH, Texts, texts
from reports.pdf.engine import render
from reports.pdf.head import head_data, signature_data
from reports.pdf.planned_rounds import chart_data, rounds_data
from reports.pdf.spoken import NAMES, head_spoken, spoken
from supports.freezing import short
from supports.rules.reset_planning.content import GoalReached, PlanAlternative

_WIDE = 244.0
"""Width of the drawings, landscape on both sheet sizes [mm]."""
_TAG = 22
"""Signs of a tag in the small matrix; the tables hold it whole."""
_ROUNDS_DRAWN = 8
"""Rounds that one strip of the small matrix holds."""


def plan_paper_pdf(
    paper: PlanPaper, page: PageSize = PageSize.A4, language: str = ENGLISH
) -> bytes:
    """Return the paper as PDF bytes; the date is the head's."""
    say = texts(language)
    said = replace(paper, head=head_spoken(paper.head, say))
    data = spoken(plan_paper_data(said, page, say), say, NAMES - {"verdict"})
    return render("plan_paper", data, date=paper.head.made, words=say)


def plan_paper_data(paper: PlanPaper, page: PageSize, say: Texts = IN_ENGLISH) -> dict[str, Any]:
    """Return what the template prints, as words and drawings."""
    content, plan = paper.content, paper.shown
    sides = side_by_side(content, say)
    return {
        "head": head_data(paper.head, page),
        "sentence": content.sentence,
        "facts": _facts(paper, say),
        "choice": _choice(paper),
        "screening": SCREENING,
        "missing": list(content.missing),
        "void": list(paper.void),
        "shifted": [_shifted(paper, one.name, one.by) for one in content.shifted],
        "same_end": _same_end(paper, say),
        "names": [one.name for one in content.alternatives],
        "chosen": plan.name if plan else "",
        "verdicts": [one.verdict for one in content.alternatives],
        "sides": [[side.what, list(side.values), side.strong] for side in sides],
        "plan": _plan(paper, plan, say) if plan else None,
        "impossible": [_impossible(one) for one in content.alternatives if not one.can_be_done],
        "not_turned": [[one.name, one.why] for one in content.not_turned],
        "notes": list(content.notes),
        "cautions": list(field_words.CAUTIONS),
        "deference": field_words.DEFERENCE,
        "signatures": signature_data(paper.signatures),
    }


def _facts(paper: PlanPaper, say: Texts) -> list[list[str]]:
    content = paper.content
    return [
        [say("Change"), content.change],
        [say("Line"), content.line],
        [say("Made"), str(content.kind)],
        [say("Aim"), str(content.aim)],
        [say("Line state of the work"), str(content.work_state)],
        [say("Smallest step"), step_words(content.steps_per_turn, say)],
        [
            say("Friction borne"),
            say(
                "{share} of each nameplate's band, both ways",
                share=percent(content.friction_share),
            ),
        ],
        *([name, value] for name, value in paper.basis),
        [say("Fingerprint of the assessment"), short(content.assessment)],
    ]


def _choice(paper: PlanPaper) -> dict[str, str] | None:
    if paper.choice is None:
        return None
    one = paper.choice
    return {"name": one.alternative, "by": one.by, "on": one.on, "reason": one.reason}


def _shifted(paper: PlanPaper, name: str, by: float) -> list[str]:
    symbol = next((f.load_unit for f in paper.faces.values() if f.name == name), "kN")
    return [name, signed_load(by, symbol)]


def _same_end(paper: PlanPaper, say: Texts) -> str:
    known = {True: say("Both plans end at the same set loads."),
             False: say("This plan ends at other set loads than the earlier one.")}  # fmt: skip
    same = paper.content.same_end
    return "" if same is None else known[same]


def _impossible(plan: PlanAlternative) -> dict[str, Any]:
    return {
        "name": plan.name,
        "verdict": plan.verdict,
        "clashes": list(plan.clashes),
        "relief": list(plan.relief),
    }


def _plan(paper: PlanPaper, plan: PlanAlternative, say: Texts) -> dict[str, Any]:
    rounds = paper.rounds
    return {
        "name": plan.name,
        "stamp": stamp_of(plan, paper.content, paper.void),
        "verdict": plan.verdict,
        "safety": plan.safety,
        "solved": plan.solved,
        "uses": [
            [say("weight let go, nothing turned"), use_words(plan.start, say)],
            [say("on the way"), use_words(plan.way, say)],
            [say("at the end"), use_words(plan.end, say)],
            [say("at the end, if all friction added up"), use_words(plan.band, say)],
        ],
        "goals": [_goal(one, say) for one in plan.goals],
        "units": [_unit(row, say) for row in rounds.turned] if rounds else [],
        "rounds": rounds_data(rounds, say) if rounds else None,
        "chart": chart_data(plan, rounds, _WIDE, say) if rounds else None,
        "matrices": _matrices(plan, rounds.turned, say) if rounds else [],
        "orders": [[order_words(one, say), one.passes] for one in plan.orders],
    }


def _goal(goal: GoalReached, say: Texts) -> list[str]:
    as_share = "use" in goal.goal
    value, bound = (
        percent(x, decimals=1) if as_share else f"{x:.2f}" for x in (goal.value, goal.bound)
    )
    return [goal.goal, value, bound, proof_words(goal, say)]


def _unit(row: UnitRow, say: Texts) -> dict[str, Any]:
    unit, symbol = row.turned, row.face.load_unit
    if unit is None:
        raise ValueError(row.face.tag)
    return {
        "tag": row.face.tag,
        "place": row.face.place,
        "kind": row.face.kind,
        "sum": row.sum,
        "way": str(Direction.INCREASE if unit.increases else Direction.DECREASE),
        "before": load(unit.scale_before, symbol),
        "after": load_pair(unit.scale_after, symbol, row.face.other_unit),
        "change": signed_load(unit.scale_after - unit.scale_before, symbol),
        "set": f"{load(unit.setting_before, symbol)} → {load(unit.setting_after, symbol)}",
        "required": load(unit.required, symbol) if unit.required is not None else say("by limits"),
        "window": span(unit.window_low, unit.window_high, symbol),
        "range": percent(unit.range_use),
    }


def _matrices(plan: PlanAlternative, rows: tuple[UnitRow, ...], say: Texts) -> list[dict[str, Any]]:
    """Return who is turned when, drawn in strips of some rounds."""
    strips = range(0, len(plan.rounds), _ROUNDS_DRAWN)
    return [as_data(_strip(plan, rows, first, say)) for first in strips]


def _strip(plan: PlanAlternative, rows: tuple[UnitRow, ...], first: int, say: Texts) -> Any:
    places = range(first, min(first + _ROUNDS_DRAWN, len(plan.rounds)))
    names = [say("round {number}", number=plan.rounds[place].number) for place in places]
    turned = [
        Turned(
            cut(row.face.tag, _TAG), tuple((c.told if (c := row.cells[p]) else "") for p in places)
        )
        for row in rows
    ]
    return rounds_matrix(names, turned, _WIDE, say)
