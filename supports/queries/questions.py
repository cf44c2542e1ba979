"""Answer a question about the register; questions kept by name."""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.errors import NotFound
from supports.findings import Answer, Severity
from supports.model import Line, SavedQuestion, SupportTag
from supports.queries.holding import holding_calculations
from supports.queries.rule_runs import ask_register
from supports.queries.support_views import support_views
from supports.queries.tables import findings_table, units_table
from supports.rules.catalogue import rule_of
from supports.rules.judgement import judge_supports
from supports.rules.questions import Question
from supports.rules.rule import Limits
from supports.sentences import Sentence, joined
from supports.tags import matching_key


def answer_question(session: Session, question: Question, today: date) -> Any:
    """Return the units that a question asks for, with what the rules found at each.

    Returns
    -------
    pandas.DataFrame
        The table of units narrowed, with columns `stop`, `act`, `unjudged` (counts), `rules`, and
        `verdict` where it was asked for.
    """
    if question.rule:
        rule_of(question.rule)
    asked = ask_register(session, today)
    units = _narrowed(units_table(session, today, asked), question)
    findings = findings_table(session, today, asked)
    failing = findings[findings.answer == str(Answer.FAILS)]
    unjudged = findings[findings.answer == str(Answer.CANNOT_JUDGE)]
    for name, rows in (
        ("stop", failing[failing.severity == str(Severity.STOP)]),
        ("act", failing[failing.severity == str(Severity.ACT)]),
        ("unjudged", unjudged),
    ):
        count = Counter(rows.tag)
        units[name] = [count[tag] for tag in units.tag]
    broken = failing.groupby("tag").rule.agg(list).to_dict()
    units["rules"] = [", ".join(dict.fromkeys(broken.get(tag, ()))) for tag in units.tag]
    if question.asks_for_findings:
        units = units[units.tag.isin(_with_findings(findings, question))]
    return _judged(session, units, question, asked.limits) if question.verdict else units


def _narrowed(units: Any, question: Question) -> Any:
    for column, wanted in (
        ("area", question.area), ("line", question.line), ("support_kind", question.kind),
        ("criticality", question.criticality),
    ):  # fmt: skip
        if wanted:
            units = units[units[column] == wanted]
    if question.part_of_tag:
        part = matching_key(question.part_of_tag)
        units = units[[part in matching_key(tag) for tag in units.tag]]
    if question.room_below is not None:
        units = units[units.room_left < question.room_below]
    if question.not_read_since is not None:
        since = question.not_read_since
        units = units[[seen is None or seen < since for seen in units.last_seen_day]]
    return units.copy()


def _with_findings(findings: Any, question: Question) -> set[str]:
    for column, wanted in (
        ("rule", question.rule), ("severity", question.severity),
        ("answer", question.answer or str(Answer.FAILS)),
    ):  # fmt: skip
        if wanted:
            findings = findings[findings[column] == wanted]
    return set(findings.tag)


def _judged(session: Session, units: Any, question: Question, limits: Limits) -> Any:
    """Narrow to a verdict; only the supports that are left are judged."""
    tags = set(units.tag)
    query = select(SupportTag.point_id, SupportTag.tag).where(SupportTag.valid_to.is_(None))
    points = [point for point, tag in session.execute(query) if tag in tags]
    numbers = {line.id: line.number for line in session.scalars(select(Line))}
    held = {numbers[line]: one for line, one in holding_calculations(session).items()}
    views = support_views(session, points, held)
    judgements = judge_supports(views, limits.settings, overrides=limits.overrides)
    verdicts = {one.tag: str(one.verdict) for one in judgements}
    units["verdict"] = units.tag.map(verdicts)
    return units[units.verdict == question.verdict]


def saved_questions(session: Session) -> dict[str, Question]:
    """Return the questions kept, by name; the newest of each name."""
    query = select(SavedQuestion).order_by(SavedQuestion.id)
    return {row.name: Question.of_words(row.words) for row in session.scalars(query)}


def saved_question(session: Session, name: str) -> Question:
    """Return a question kept by name."""
    kept = saved_questions(session)
    if name not in kept:
        raise NotFound(
            Sentence("no question is kept under '{name}'", name=name),
            remedy=Sentence("Kept are: {names}", names=joined(sorted(kept), ", "))
            if kept
            else "None is kept yet",
        )
    return kept[name]
