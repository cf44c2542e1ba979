"""supports ask: which units answer to some filters, at once or under a name kept for later."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import ActingAs, RegisterAt

app = Noun()

_Day = Annotated[
    datetime | None,
    typer.Option("--not-read-since", formats=["%Y-%m-%d"], help="Not read since that day."),
]


@app.command()
def ask(
    area: Annotated[str, typer.Option(help="Only this area.")] = "",
    line: Annotated[str, typer.Option(help="Only this line.")] = "",
    kind: Annotated[str, typer.Option(help="Only this kind, as: constant hanger")] = "",
    of_class: Annotated[str, typer.Option("--class", help="Only this class.")] = "",
    verdict: Annotated[str, typer.Option(help="What is to become of it, as: re-set")] = "",
    rule: Annotated[str, typer.Option(help="Where this rule fails.")] = "",
    severity: Annotated[str, typer.Option(help="Where a rule of this severity fails.")] = "",
    unjudged: Annotated[
        bool, typer.Option("--unjudged", help="Where a rule cannot judge.")
    ] = False,
    room_below: Annotated[str, typer.Option(help="Room left below this, as: '2 kN'")] = "",
    not_read_since: _Day = None,
    part_of_tag: Annotated[str, typer.Option(help="Part of the tag, as: ps-10")] = "",
    saved: Annotated[str, typer.Option(help="Ask a question kept by this name.")] = "",
    save: Annotated[str, typer.Option(help="Keep the question under this name.")] = "",
    into: Annotated[Path | None, typer.Option("--into", help="Workbook to write.")] = None,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> Answer:
    """List the units that answer to every filter given; a question may be kept by name."""
    from app.question_papers import answer_lines, units_asked, write_answer
    from app.settings import acting_person, now, open_register
    from supports.operations.rule_runs import save_question
    from supports.queries.plant_days import clock_at, day_at
    from supports.queries.questions import answer_question, saved_question
    from supports.queries.site import plant_name
    from supports.rules.questions import Question

    opened, moment = open_register(register), now()
    question = Question(
        area=area,
        line=line,
        kind=kind,
        criticality=of_class,
        verdict=verdict,
        rule=rule,
        severity=severity.upper(),
        answer="cannot judge" if unjudged else "",
        room_below=_load(room_below),
        not_read_since=not_read_since.date() if not_read_since else None,
        part_of_tag=part_of_tag.strip(),
    ).checked()
    if save:
        who = acting_person(acting)
        save_question(opened, save, question.as_words, acting=who, now=moment)
    with opened.reading() as session:
        asked = saved_question(session, saved) if saved else question
        table = answer_question(session, asked, day_at(session, moment))
        plant, made = plant_name(session), clock_at(session, moment)
    lines = list(answer_lines(table))
    if into is not None:
        lines.append(str(write_answer(table, asked, saved or save, plant, into, made)))
    return Answer(tuple(units_asked(table)), lines)


def _load(text: str) -> float | None:
    from supports.errors import BadInput
    from supports.units import Kind, number, to_si

    if not text:
        return None
    value, _, unit = text.strip().partition(" ")
    if not unit:
        raise BadInput("a load needs its unit", found=text, expected="as '2 kN'")
    return to_si(number(value), unit, Kind.LOAD)
