"""Papers about lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from sqlalchemy.orm import Session

from app.making.wanted import Title, Wanted, document, write_document
from reports.contents.drawn_route import drawn_route
from reports.contents.judged_units import place_words
from reports.contents.line_summary import LineRow, LineSummary, line_summary
from reports.contents.load_change_summary import SupportRow
from reports.contents.summary_of_assessment import support_rows
from reports.contents.written import has_setting, load
from reports.drawings.route import DrawnRoute
from reports.languages import Texts
from supports.errors import CannotCalculate, InputHasFaults, NotReady
from supports.queries.change_views import nozzle_limits
from supports.queries.lookups import line_of
from supports.queries.plant_days import day_at
from supports.queries.plant_standing import open_changes
from supports.queries.route_views import line_view, route_view
from supports.queries.support_record import JudgedSupport, judged_supports
from supports.queries.support_views import points_on_lines
from supports.rules.line.build import built_line


def make_line_summaries(session: Session, wanted: Wanted) -> list[Path]:
    """Write the summary of each line."""
    return [
        path
        for number in wanted.one_or_more("a line")
        for path in _summary(session, line_of(session, number).number, wanted)
    ]


def _summary(session: Session, number: str, wanted: Wanted) -> list[Path]:
    paper, say = summary_of(session, number, wanted), wanted.say
    title = Title(
        say("Line summary"),
        number,
        f"{say('line {number}', number=number)}: {paper.line.service}".rstrip(": "),
    )
    made = document(session, wanted, title, line_summary(paper, say), landscape=True)
    return write_document(made, wanted, f"{number}-line-summary")


def summary_of(session: Session, number: str, wanted: Wanted) -> LineSummary:
    """Return all that the summary of a line says."""
    points = points_on_lines(session, [number])
    judged = sorted(
        judged_supports(session, points, day_at(session, wanted.made)),
        key=lambda one: one.support.order_on(number),
    )
    rows = support_rows([one.support for one in judged], [one.judgement for one in judged],
                        [number])  # fmt: skip
    route, why = _route(session, number, rows)
    return LineSummary(
        line=line_view(session, line_of(session, number)),
        rows=tuple(_line_rows(judged, rows, wanted.say)),
        basis=tuple(dict.fromkeys(basis for one in judged for basis in one.basis)),
        nozzles=tuple(nozzle_limits(session, [number])),
        changes=tuple(
            f"{one.number}: {one.title} ({wanted.say.word(str(one.state))})"
            for one in open_changes(session, number)
        ),
        route=route,
        no_route=why,
    )


def _line_rows(
    judged: Sequence[JudgedSupport], rows: Sequence[SupportRow], say: Texts
) -> Iterator[LineRow]:
    """Give each row with where its support is and what was read there last."""
    held = iter(rows)
    for one in judged:
        units = {unit.id: unit for unit in one.support.units}
        for unit_judged in one.judgement.units:
            unit = units.get(unit_judged.unit_id or -1)
            yield LineRow(
                next(held),
                place_words(one.support, say),
                unit.last_reading if unit else None,
                unit.stops_in if unit else (),
            )


def _route(
    session: Session, number: str, rows: tuple[SupportRow, ...]
) -> tuple[DrawnRoute | None, str]:
    """Return the line in space with set and required load beneath each tag, or why it is not."""
    try:
        view = route_view(session, number)
        built = built_line(view)
    except (NotReady, CannotCalculate, InputHasFaults) as error:
        return None, str(error)
    return drawn_route(view, built, (), _told(rows)), ""


def _told(rows: Sequence[SupportRow]) -> dict[str, tuple[str, ...]]:
    """Return by support the loads of each of its units, set and required."""
    told: dict[str, tuple[str, ...]] = {}
    for row in rows:
        if row.required is not None:
            tag, _, position = row.tag.partition("/")
            named = f"{position}: " if position else ""
            required = load(row.required, row.load_unit)
            words = (
                f"{named}{row.present_words} → {required}" if has_setting(row.kind) else required
            )
            told[tag] = (*told.get(tag, ()), words)
    return told
