"""What the list of supports is asked for, read from an address; answers of the rules, kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Annotated
from urllib.parse import urlencode

from fastapi import Depends, Query
from sqlalchemy import select
from sqlalchemy.orm import Session

from app.readings import quantity
from app.web.memory import remembered
from app.web.visits import Visit
from supports.errors import BadInput
from supports.model import SupportTag
from supports.queries.questions import answer_question
from supports.queries.register_list import (
    PAGE,
    ListFilter,
    Page,
    Place,
    listed_points,
)
from supports.rules.catalogue import rule_of
from supports.rules.questions import Question
from supports.tags import natural_key
from supports.units import Kind, shown

_Area = Annotated[str, Query(description="Only of this area.")]
_Line = Annotated[str, Query(description="Only on this line.")]
_Kind = Annotated[str, Query(description="Only of this kind, as 'constant hanger'.")]
_Class = Annotated[str, Query(description="Only of this class of criticality.")]
_Rule = Annotated[str, Query(description="Only where this rule has something to say.")]
_Text = Annotated[str, Query(max_length=200, description="A part of the tag.")]
_Verdict = Annotated[str, Query(description="What the rules on loads make of it today.")]
_Severity = Annotated[str, Query(description="Of what the rules find there.")]
_Answer = Annotated[str, Query(description="'fails' or 'cannot judge', of the rule or of any.")]
_Room = Annotated[
    str, Query(description="Nearer than this to an end of its range; a load with its unit.")
]
_Since = Annotated[str, Query(description="Not read since this day, or never.")]


def question_of(
    area: _Area = "", line: _Line = "", kind: _Kind = "", criticality: _Class = "",
    text: _Text = "", verdict: _Verdict = "", severity: _Severity = "", answer: _Answer = "",
    rule: _Rule = "",
    room_below: _Room = "", not_read_since: _Since = "",
) -> Question:  # fmt: skip
    """Return the question that an address asks.

    Raises
    ------
    BadInput
        A word is not in its list, a load has no unit, a day is none.
    """
    question = Question(
        area, line.strip(), kind, criticality, verdict, rule.strip(), severity, answer,
        quantity(room_below, Kind.LOAD), day_asked(not_read_since), text.strip(),
    ).checked()  # fmt: skip
    if question.rule:
        rule_of(question.rule)
    return question


Asked = Annotated[Question, Depends(question_of)]


def address_of(question: Question) -> str:
    """Return the address that asks a question."""
    words = {name: str(value) for name, value in question.as_words.items()}
    if question.room_below is not None:
        words["room_below"] = shown(question.room_below, "kN", Kind.LOAD).replace("\u202f", "")
    if question.part_of_tag:
        words["text"] = words.pop("part_of_tag")
    return f"/supports?{urlencode(words)}" if words else "/supports"


def filter_of(question: Question) -> ListFilter:
    """Return the part of a question that the database answers by itself."""
    return ListFilter(
        question.area, question.line, question.kind, question.criticality, question.part_of_tag
    )


def day_asked(text: str) -> date | None:
    """Return the day that an address names; None where it names none.

    Raises
    ------
    BadInput
        What it names is no day.
    """
    if not text.strip():
        return None
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise BadInput("this is no day", found=text, expected="as 2031-05-04") from None


@dataclass(frozen=True, slots=True)
class Found:
    """What the rules find at the units of a support, counted."""

    stop: int = 0
    act: int = 0
    unjudged: int = 0
    verdict: str = ""


@dataclass(frozen=True, slots=True)
class Answered:
    """Supports that answer to a question of the rules, in natural order of their tags."""

    tags: tuple[str, ...]
    points: tuple[int, ...]
    found: dict[str, Found]

    def page(
        self, session: Session, after: Place | None, before: Place | None, size: int = PAGE
    ) -> Page:
        """Return a page of the answer."""
        first = 0
        if after is not None:
            first = self._behind(after.tag)
        elif before is not None:
            first = max(self._behind(before.tag) - 1 - size, 0)
        last = min(first + size, len(self.tags))
        return Page(
            listed_points(session, self.points[first:last]),
            Place("", self.tags[first]) if first else None,
            Place("", self.tags[last - 1]) if last < len(self.tags) else None,
        )

    def _behind(self, tag: str) -> int:
        """Return the place behind a tag, whether it still answers or not."""
        key = natural_key(tag)
        return sum(natural_key(one) <= key for one in self.tags)


def answered(visit: Visit, session: Session, question: Question) -> Answered:
    """Return the answer of the rules; asked once for each state of the register and each day."""
    today = visit.today
    return remembered(visit, session, question, lambda: _answered(session, question, today))


def _answered(session: Session, question: Question, today: date) -> Answered:
    table = answer_question(session, question, today)
    found: dict[str, Found] = {}
    verdicts: Sequence[str] = table["verdict"] if "verdict" in table else [""] * len(table)
    counts = zip(table.tag, table.stop, table.act, table.unjudged, verdicts, strict=True)
    for tag, stop, act, unjudged, verdict in counts:
        found[tag] = Found(int(stop), int(act), int(unjudged), str(verdict))
    present = select(SupportTag.tag, SupportTag.point_id).where(SupportTag.valid_to.is_(None))
    points = {tag: point for tag, point in session.execute(present) if tag in found}
    tags = sorted(points, key=natural_key)
    return Answered(tuple(tags), tuple(points[tag] for tag in tags), found)
