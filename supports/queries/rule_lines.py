"""The frame of lines: what calculations, changes, stops and the screening of each line say."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Assessment, Calculation, Change, ChangeLine
from supports.queries.holding import holding_calculations
from supports.queries.line_standings import Kept
from supports.queries.rule_waiting import nodes_without_tag
from supports.rules.along_lines import line_loads, order_faults, run_of
from supports.rules.facts import KINDS, Facts
from supports.rules.frame import FloatColumn, Frame, Subject, numbers, texts
from supports.rules.grouping import sum_by
from supports.rules.workflow import ChangeState
from supports.vocabulary import CalculationMethod

Columns = dict[str, Any]
"""Columns by name, numbers and words."""

CARRIES = numbers(float(not kind.carries_no_weight) for kind in KINDS)
"""Whether a kind of support carries weight, by its number."""

CONSTANT = numbers(float(kind.is_constant) for kind in KINDS)

NO_FULL_ANALYSIS = {CalculationMethod.SCREENING, CalculationMethod.HAND}


def line_frame(session: Session, facts: Facts, kept: Mapping[int, Kept]) -> Frame:
    """Return every line."""
    lines, loads = facts.lines, line_loads(facts)
    columns_of_lines: Columns = {
        **{name: lines[name] for name in ("creep_or_high_energy", "near_machine", "criticality")},
        **{name: lines[name] for name in ("open_changes", "heat_up_asked")},
        **loads,
        **order_faults(facts, run_of(facts)),
        "line": lines["number"],
        **_basis(session, lines["id"].tolist()),
        **_screened([kept[line] for line in lines["id"].tolist()]),
        **nodes_without_tag(session, lines["number"].tolist()),
        "stops_in": _stops_on_lines(facts),
        "weight_supports": _on_lines(facts, CARRIES),
        "constants_on_line": _on_lines(facts, CONSTANT),
    }
    return Frame(Subject.LINE, lines["id"], lines["number"], columns_of_lines, facts.today)


def _basis(session: Session, lines: list[int]) -> Columns:
    """Return what the loads of each line rest on: what holds, else what was approved by less.

    An approved change that was assessed by a screening makes it the basis before its work is done.
    """
    holding, approved = holding_calculations(session), _approved_by(session)
    known = {c.id: c for c in session.scalars(select(Calculation))}
    held = [known.get(approved.get(line, holding.get(line, -1))) for line in lines]
    return {
        "by_screening": numbers(
            float(c.method in NO_FULL_ANALYSIS) if c is not None else None for c in held
        ),
        "calculation_method": texts(c.method if c is not None else "" for c in held),
        "calculation": texts(f"{c.number} rev. {c.revision}" if c else "" for c in held),
    }


def _approved_by(session: Session) -> dict[int, int]:
    """Return by line the screening or hand calculation that an approved, open change rests on."""
    query = (
        select(Change.id, ChangeLine.line_id, Assessment.calculation_id, Calculation.method)
        .join(ChangeLine, ChangeLine.change_id == Change.id)
        .join(Assessment, Assessment.change_id == Change.id)
        .join(Calculation, Assessment.calculation_id == Calculation.id)
        .where(Change.state.in_([state for state in ChangeState if state.is_approved]))
        .order_by(Assessment.revision)
    )
    newest = {
        (change, line): (calculation, method)
        for change, line, calculation, method in session.execute(query)
    }
    return {
        line: calculation
        for (_, line), (calculation, method) in newest.items()
        if method in NO_FULL_ANALYSIS
    }


def _screened(kept: Sequence[Kept]) -> Columns:
    """Return weight and loads of each line by its screening and its record, or why not [N]."""
    held = [one.standing for one in kept]
    absent = [f"load on record of {', '.join(s.without_load)}" for s in held]
    without = [bool(s.missing or s.without_load) for s in held]
    return {
        "line_weight": numbers(s.weight for s in held),
        "line_weight?": texts(s.missing for s in held),
        "ends_load": numbers(s.at_ends for s in held),
        "supports_load": numbers(s.on_record for s in held),
        "loads_sum": numbers(
            None if gone or s.on_record is None else s.on_record + (s.at_ends or 0.0)
            for s, gone in zip(held, without, strict=True)
        ),
        "loads_sum?": texts(
            s.missing or (words if s.without_load else "")
            for s, words in zip(held, absent, strict=True)
        ),
        "line_screened": texts(one.source for one in kept),
    }


def _stops_on_lines(facts: Facts) -> Any:
    points = len(facts.points["id"])
    stops = sum_by(facts.units["point"], facts.units["stops_in"], points)
    line = facts.attachments["line"]
    return sum_by(line, stops[facts.attachments["point"]], len(facts.lines["id"]))


def _on_lines(facts: Facts, counted: FloatColumn) -> Any:
    """Return by line how many of its supports are of the kinds that are counted."""
    here = counted[facts.points["kind"]][facts.attachments["point"]]
    return sum_by(facts.attachments["line"], here, len(facts.lines["id"]))
