"""The paper of a re-set plan as a workbook: plans, units, steps, readings, nozzles, reasons."""

from __future__ import annotations

from collections.abc import Iterator

from reports.contents.common import PageSize
from reports.contents.plan_paper import PlanPaper, order_words, side_by_side
from reports.contents.planned_rounds import SCREENING, UnitRow
from reports.xlsx.book import Book, Cell, Column, in_unit
from reports.xlsx.planned_rounds import (
    NOZZLES,
    READINGS,
    STEPS,
    nozzle_rows,
    reading_rows,
    step_row,
)
from supports.units import Kind

UNITS = (
    Column("Unit", 14, "@"),
    Column("Kind", 16, "@"),
    Column("Place", 28, "@"),
    Column("Load unit", 8, "@"),
    Column("Direction", 10, "@"),
    Column("Turns per bolt", 8),
    Column("Flats per bolt", 8),
    Column("Scale before [load unit]", 11),
    Column("Scale after [load unit]", 11),
    Column("Window from [load unit]", 11),
    Column("Window to [load unit]", 11),
    Column("Set load before [load unit]", 11),
    Column("Set load after [load unit]", 11),
    Column("Required [load unit]", 11),
    Column("Range used [%]", 9),
)

WORDS = (Column("About", 26, "@"), Column("Words", 110, "@"))


def plan_paper_xlsx(paper: PlanPaper, page: PageSize = PageSize.A4) -> bytes:
    """Return the workbook; the same paper gives the same bytes."""
    book = Book(paper.head, page)
    content, rounds = paper.content, paper.rounds
    heads = tuple(Column(one.name, 34, "@") for one in content.alternatives)
    sides = side_by_side(content)
    book.table(
        "Plans", (Column("Plan", 34, "@"), *heads), [[side.what, *side.values] for side in sides]
    )
    if rounds is not None:
        rows = [cells for row in rounds.turned for cells in _unit(row)]
        book.table("Units", UNITS, rows)
        book.table("Steps", STEPS, [step_row(step) for step in rounds.steps])
        book.table("Readings", READINGS, list(reading_rows(rounds)))
        book.table("Nozzles", NOZZLES, list(nozzle_rows(rounds)))
    book.table("Words", WORDS, [list(pair) for pair in _words(paper)])
    return book.finished()


def _unit(row: UnitRow) -> Iterator[list[Cell]]:
    unit, symbol = row.turned, row.face.load_unit
    if unit is None:
        return
    loads = (
        unit.scale_before, unit.scale_after, unit.window_low, unit.window_high,
        unit.setting_before, unit.setting_after,
    )  # fmt: skip
    required = "by limits" if unit.required is None else in_unit(unit.required, symbol, Kind.LOAD)
    yield [
        row.face.tag,
        row.face.kind,
        row.face.place,
        symbol,
        "increase" if unit.increases else "decrease",
        unit.turns,
        unit.flats,
        *(in_unit(load, symbol, Kind.LOAD) for load in loads),
        required,
        in_unit(unit.range_use, "%", Kind.FRACTION, 1),
    ]


def _words(paper: PlanPaper) -> Iterator[tuple[str, str]]:
    content, choice = paper.content, paper.choice
    yield "Verdict", content.sentence
    yield "Basis", SCREENING
    if choice is not None:
        yield "Chosen", f"{choice.alternative}, by {choice.by} on {choice.on}: {choice.reason}"
    yield from (("Not known", one) for one in content.missing)
    for plan in content.alternatives:
        yield f"Plan: {plan.name}", plan.verdict
        yield from (("On the way", words) for words in (plan.safety,) if words)
        yield from (("Clash of limits", words) for words in plan.clashes)
        yield from (("Way round", words) for words in plan.relief)
        yield from (("Another order", order_words(order)) for order in plan.orders)
    yield from ((f"Not turned: {one.name}", one.why) for one in content.not_turned)
    yield from (("Taken for true", note) for note in content.notes)
