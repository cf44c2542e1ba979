"""The rounds of a plan as rows of a workbook: steps, readings, use of nozzles."""

from __future__ import annotations

from collections.abc import Iterator

from reports.contents.planned_rounds import PlannedRounds, WrittenStep
from reports.xlsx.book import Cell, Column, in_unit
from supports.units import Kind

STEPS = (
    Column("Step", 7),
    Column("Round", 7),
    Column("Where", 20, "@"),
    Column("What", 24, "@"),
    Column("Hold point", 8, "@"),
    Column("Direction", 10, "@"),
    Column("Turns per bolt", 8),
    Column("Flats per bolt", 8),
    Column("Scale then [load unit]", 10),
    Column("STOP below [load unit]", 10),
    Column("STOP above [load unit]", 10),
    Column("Load unit", 8, "@"),
    Column("Most used limit then [%]", 10),
    Column("Which limit", 46, "@"),
)

READINGS = (
    Column("Round", 7),
    Column("Unit", 14, "@"),
    Column("What to do", 12, "@"),
    Column("Turns per bolt", 12, "@"),
    Column("Expected [load unit]", 11),
    Column("STOP below [load unit]", 11),
    Column("STOP above [load unit]", 11),
    Column("Load unit", 8, "@"),
    Column("Pointer [pointer unit]", 10),
    Column("Pointer unit", 8, "@"),
)

NOZZLES = (
    Column("After round", 9),
    Column("Nozzle", 14, "@"),
    Column("Use of its limits [%]", 11),
    Column("Which", 10, "@"),
)


def step_row(step: WrittenStep) -> list[Cell]:
    """Return one step: what is done where, and the limit that is most used then."""
    turns = step.cell.turns if step.cell else None
    way = step.cell.direction if step.cell else None
    return [
        step.number,
        step.round,
        step.place,
        step.words,
        "" if step.is_turn else "HOLD",
        str(way) if way else "",
        turns.whole if turns else "",
        turns.flats if turns else "",
        *_seen(step),
        in_unit(step.worst.share, "%", Kind.FRACTION, 1),
        step.worst.words,
    ]


def _seen(step: WrittenStep) -> list[Cell]:
    """Return what the scale shows right after a step, and its unit; blanks for a prop or stop."""
    if step.cell is None or step.cell.at_step is None or step.face is None:
        return [None, None, None, ""]
    symbol = step.face.load_unit
    return [*(in_unit(one, symbol, Kind.LOAD) for one in step.cell.at_step), symbol]


def reading_rows(rounds: PlannedRounds) -> Iterator[list[Cell]]:
    """Yield what every scale should show: at the start as round 0, then after each round."""
    for place, number in enumerate((0, *rounds.rounds)):
        for row in rounds.units:
            cell = row.start if place == 0 else row.cells[place - 1]
            if cell is None:
                continue
            symbol, length = row.face.load_unit, row.face.length_unit
            pointer: Cell = None
            if cell.pointer is not None:
                pointer = in_unit(cell.pointer, length, Kind.LENGTH, 1)
            yield [
                number,
                row.face.tag,
                "turn" if cell.turns else "READ ONLY",
                cell.told,
                *(in_unit(one, symbol, Kind.LOAD) for one in (cell.expected, cell.low, cell.high)),
                symbol,
                pointer,
                length,
            ]


def nozzle_rows(rounds: PlannedRounds) -> Iterator[list[Cell]]:
    """Yield the use of each nozzle's limits: before the first turn as round 0, then each round."""
    for name, uses in rounds.nozzles:
        for number, use in zip((0, *rounds.rounds), uses, strict=True):
            if use is not None:
                yield [number, name, in_unit(use.use, "%", Kind.FRACTION, 1), use.what]
