"""The load-change summary as a workbook: supports and weights as numbers."""

from __future__ import annotations

from reports.contents.common import PageSize
from reports.contents.load_change_summary import LoadChangeSummary, SupportRow, WeightTable
from reports.contents.written import NOT_KNOWN
from reports.xlsx.book import Book, Cell, Column, in_unit
from supports.units import Kind

SUPPORTS = (
    Column("Order", 6),
    Column("Tag", 14, "@"),
    Column("Kind", 16, "@"),
    Column("Node", 8, "@"),
    Column("Along line [m]", 9),
    Column("Load unit", 8, "@"),
    Column("Nameplate [load unit]", 11),
    Column("Low limit [load unit]", 11),
    Column("High limit [load unit]", 11),
    Column("Present [load unit]", 11),
    Column("Required [load unit]", 11),
    Column("Change [load unit]", 11),
    Column("Change [%]", 9),
    Column("Range used [%]", 9),
    Column("Turns per bolt", 14, "@"),
    Column("Direction", 10, "@"),
    Column("Weakest piece", 16, "@"),
    Column("Weakest piece [%]", 9),
    Column("Travel", 18, "@"),
    Column("Verdict", 16, "@"),
    Column("Rules", 22, "@"),
    Column("Reasons", 40, "@"),
    Column("Missing", 32, "@"),
)


def load_change_summary_xlsx(summary: LoadChangeSummary, page: PageSize = PageSize.A4) -> bytes:
    """Return the workbook."""
    book = Book(summary.head, page)
    book.table("Supports", SUPPORTS, [_row(row) for row in summary.rows])
    book.table("Weights", _weight_columns(summary.weights), _weight_rows(summary.weights))
    return book.finished()


def _row(row: SupportRow) -> list[Cell]:
    loads = (row.nameplate, row.low, row.high, row.present, row.required, row.change)
    return [
        row.order,
        row.tag,
        row.kind,
        row.node,
        in_unit(row.distance, "m", Kind.LENGTH),
        row.load_unit,
        *(in_unit(load, row.load_unit, Kind.LOAD) for load in loads),
        in_unit(row.change_share, "%", Kind.FRACTION, 2),
        in_unit(row.used_share, "%", Kind.FRACTION, 1),
        str(row.turns) if row.turns else "",
        str(row.direction) if row.direction else "",
        row.weakest_piece,
        in_unit(row.weakest_share, "%", Kind.FRACTION, 1),
        row.travel_words,
        str(row.verdict),
        ", ".join(row.rule_codes),
        " ".join(row.reasons),
        ", ".join(row.missing),
    ]


def _weight_columns(table: WeightTable) -> tuple[Column, ...]:
    return (
        Column("Item", 34, "@"),
        Column(f"Mass [{table.mass_unit}]", 12),
        Column(f"Along line [{table.length_unit}]", 12),
        Column(f"Off axis [{table.length_unit}]", 12),
        Column(f"Weight [{table.load_unit}]", 12),
        Column(f"Twist [{table.moment_unit}]", 12),
        Column("Source", 34, "@"),
    )


def _weight_rows(table: WeightTable) -> list[list[Cell]]:
    items: list[list[Cell]] = [
        [
            item.what,
            in_unit(item.mass, table.mass_unit, Kind.MASS),
            in_unit(item.distance, table.length_unit, Kind.LENGTH),
            in_unit(item.offset, table.length_unit, Kind.LENGTH),
            "",
            "",
            item.source,
        ]
        for item in table.items
    ]
    missing = f"{NOT_KNOWN}: {', '.join(table.missing)}" if table.missing else ""
    return [
        *items,
        [
            "Net",
            in_unit(table.mass, table.mass_unit, Kind.MASS),
            in_unit(table.centre, table.length_unit, Kind.LENGTH),
            "",
            in_unit(table.weight, table.load_unit, Kind.LOAD),
            in_unit(table.twist, table.moment_unit, Kind.MOMENT),
            missing,
        ],
    ]
