"""The re-setting pack as a workbook: the form to fill, the units' numbers, the sequence."""

from __future__ import annotations

from collections.abc import Mapping

from reports.contents.common import PageSize
from reports.contents.resetting_pack import Neighbour, ResettingPack, UnitSheet
from reports.xlsx.book import Book, Cell, Column, in_unit, number_rule
from reports.xlsx.planned_rounds import (
    NOZZLES,
    READINGS,
    STEPS,
    nozzle_rows,
    reading_rows,
    step_row,
)
from supports.units import Kind
from supports.vocabulary import PlantState

FORM_SHEET = "As-found as-left"
META_SHEET = "_meta"
YES_NO = ("yes", "no")
_LOAD = number_rule("decimal", 0.0, 1e7, "A load on the scale, a plain number, not negative.")
_LENGTH = number_rule("decimal", -1e5, 1e5, "A plain number in the unit named in this row.")
_TURNS = number_rule("integer", 0, 200, "Whole turns of one bolt, 0 to 200.")
_FLATS = number_rule("integer", 0, 5, "Flats, 0 to 5; six flats are one turn more.")

FORM = (
    Column("Order", 6),
    Column("Tag", 14, "@"),
    Column("Serial", 14, "@"),
    Column("Point id", 12, "@"),
    Column("Unit of the load scale", 9, "@"),
    Column("Unit of the pointer", 8, "@"),
    Column("What to do", 11, "@"),
    Column("Before [load unit]", 10),
    Column("Target [load unit]", 10),
    Column("Window from [load unit]", 10),
    Column("Window to [load unit]", 10),
    Column("Turns told, per bolt", 14, "@"),
    Column("As-found load [load unit]", 10, entry=True, rule=_LOAD),
    Column("As-found pointer [pointer unit]", 10, entry=True, rule=_LENGTH),
    Column("Travel stop in when found?", 9, "@", entry=True, choices=("in", "out", "seized")),
    Column("Turns given, whole", 8, entry=True, rule=_TURNS),
    Column("Flats given", 7, entry=True, rule=_FLATS),
    Column("As-left load [load unit]", 10, entry=True, rule=_LOAD),
    Column("As-left pointer [pointer unit]", 10, entry=True, rule=_LENGTH),
    Column("Second reading [load unit]", 10, entry=True, rule=_LOAD),
    Column("In window?", 8, "@", entry=True, choices=YES_NO),
    Column("Lock nut tight?", 8, "@", entry=True, choices=YES_NO),
    Column("Travel stop out by hand?", 9, "@", entry=True, choices=YES_NO),
    Column("Plant state", 16, "@", entry=True, choices=tuple(str(one) for one in PlantState)),
    Column("Read by", 14, "@", entry=True),
    Column("Second reader", 14, "@", entry=True),
    Column("Date and time", 16, "yyyy-mm-dd hh:mm", entry=True),
    Column("Remarks", 24, "@", entry=True),
    Column("Row fingerprint", 12, "@", hidden=True),
)

UNITS = (
    Column("Order", 6),
    Column("Tag", 14, "@"),
    Column("Kind", 16, "@"),
    Column("Place", 28, "@"),
    Column("Load unit", 8, "@"),
    Column("Nameplate [load unit]", 11),
    Column("Low limit [load unit]", 11),
    Column("High limit [load unit]", 11),
    Column("Present [load unit]", 11),
    Column("Required [load unit]", 11),
    Column("Window from [load unit]", 11),
    Column("Window to [load unit]", 11),
    Column("Range used [%]", 9),
    Column("Load per turn [load unit]", 11),
    Column("Turns told, per bolt", 14, "@"),
    Column("Direction", 10, "@"),
    Column("Nameplate's words", 24, "@"),
    Column("Stored energy [kJ]", 9),
    Column("Verdict", 16, "@"),
    Column("Reasons, missing", 50, "@"),
)

SEQUENCE = (
    Column("Round", 7),
    Column("Tag", 14, "@"),
    Column("Together with", 14, "@"),
    Column("Direction", 10, "@"),
    Column("Turns per bolt", 8),
    Column("Flats per bolt", 8),
    Column("Expected after [load unit]", 12),
    Column("STOP below [load unit]", 12),
    Column("STOP above [load unit]", 12),
    Column("Load unit", 8, "@"),
)


def resetting_pack_xlsx(
    pack: ResettingPack,
    *,
    form_id: str,
    row_fingerprints: Mapping[str, str],
    page: PageSize = PageSize.A4,
) -> bytes:
    """Return the workbook.

    Parameters
    ----------
    form_id
        Names this form when it comes back.
    row_fingerprints
        Keyed fingerprint of each row by tag, made by the caller who holds the key; a tag that is
        not in it is refused with `KeyError`.
    """
    book = Book(pack.head, page)
    rows = form_rows(pack, row_fingerprints)
    book.table(FORM_SHEET, FORM, rows)
    book.table("Units", UNITS, [_unit_row(unit) for unit in pack.units])
    book.table("Sequence", SEQUENCE, _sequence_rows(pack))
    _rounds_sheets(book, pack)
    book.facts(
        META_SHEET,
        {
            "form_id": form_id,
            "paper": pack.head.number,
            "revision": pack.head.revision,
            "count": str(len(rows)),
            "fingerprint": pack.head.fingerprint,
            "made": f"{pack.head.made:%Y-%m-%dT%H:%M}",
        },
    )
    return book.finished()


def _rounds_sheets(book: Book, pack: ResettingPack) -> None:
    """Write the rounds of the plans that the order follows; nothing where it follows none."""
    if not pack.planned:
        return
    book.table("Steps", STEPS, [step_row(step) for one in pack.planned for step in one.steps])
    book.table("Rounds", READINGS, [row for one in pack.planned for row in reading_rows(one)])
    book.table("Nozzles", NOZZLES, [row for one in pack.planned for row in nozzle_rows(one)])


def form_rows(pack: ResettingPack, fingerprints: Mapping[str, str]) -> list[list[Cell]]:
    """Return the rows to fill: units with a line in the order, and neighbours, along the line."""
    listed = {unit.tag for unit in pack.units}
    others = [one for one in pack.neighbours if one.tag not in listed]
    known = [(one.order, one.tag, _unit_cells(one)) for one in pack.units if one.on_form]
    known += [(one.order, one.tag, _neighbour_cells(one)) for one in others]
    blanks: list[Cell] = [None] * sum(column.entry for column in FORM)
    return [
        [*cells, *blanks, fingerprints[tag]]
        for _, tag, cells in sorted(known, key=lambda row: row[:2])
    ]


def _unit_cells(unit: UnitSheet) -> list[Cell]:
    scale, job = unit.scale, unit.job
    symbol = scale.load_unit
    told: list[Cell] = ["", "", "", ""]
    if job is not None:
        told = [
            in_unit(scale.required, symbol, Kind.LOAD),
            in_unit(scale.window_low, symbol, Kind.LOAD),
            in_unit(scale.window_high, symbol, Kind.LOAD),
            f"{job.turns}, {job.direction}",
        ]
    return [
        unit.order,
        unit.tag,
        unit.serial,
        unit.point_id,
        symbol,
        unit.gauge.length_unit if unit.gauge else "mm",
        "turn" if job else "STOP, READ ONLY" if unit.refused else "READ ONLY",
        in_unit(scale.present, symbol, Kind.LOAD),
        *told,
    ]


def _neighbour_cells(one: Neighbour) -> list[Cell]:
    before = in_unit(one.last_load, one.load_unit, Kind.LOAD)
    known: list[Cell] = [one.order, one.tag, one.serial, "", one.load_unit, one.length_unit]
    return [*known, "READ ONLY", before, "", "", "", ""]


def _unit_row(unit: UnitSheet) -> list[Cell]:
    scale, job = unit.scale, unit.job
    loads = (
        scale.nameplate, scale.low, scale.high, scale.present, scale.required,
        scale.window_low, scale.window_high,
    )  # fmt: skip
    missing = [f"Missing: {one.what} ({one.who_supplies})" for one in unit.missing]
    per_turn: Cell = in_unit(job.load_per_turn, scale.load_unit, Kind.LOAD) if job else ""
    return [
        unit.order,
        unit.tag,
        unit.kind,
        unit.place,
        scale.load_unit,
        *(in_unit(load, scale.load_unit, Kind.LOAD) for load in loads),
        in_unit(scale.used_share, "%", Kind.FRACTION, 1),
        per_turn,
        str(job.turns) if job else "",
        str(job.direction) if job else "",
        job.nameplate_words if job else "",
        "not known" if unit.stored_energy is None else round(unit.stored_energy / 1000.0, 2),
        str(unit.verdict),
        " · ".join((*unit.reasons, *missing)),
    ]


def _sequence_rows(pack: ResettingPack) -> list[list[Cell]]:
    rows: list[list[Cell]] = []
    for number in range(1, pack.rounds + 1):
        for unit in pack.turned:
            rows += _round_rows(unit, number)
    return rows


def _round_rows(unit: UnitSheet, number: int) -> list[list[Cell]]:
    job, symbol = unit.job, unit.scale.load_unit
    if job is None:
        return []
    return [
        [
            number,
            unit.tag,
            ", ".join(unit.partners),
            str(job.direction),
            turn.turns.whole,
            turn.turns.flats,
            *(in_unit(load, symbol, Kind.LOAD) for load in (turn.expected, turn.low, turn.high)),
            symbol,
        ]
        for turn in job.rounds
        if turn.number == number
    ]
