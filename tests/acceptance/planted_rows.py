"""The invented plant written straight into the tables of a register."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from tests.acceptance.planted_plant import Row, Support, ago


def rows_of(supports: list[Support]) -> Iterator[tuple[str, list[Row]]]:
    """Give the rows of each table, in an order that the keys between them allow."""
    lines = sorted({s.line for s in supports})
    hung = [s for s in supports if s.unit is not None]
    yield "line", [
        {
            "id": n, "number": f"L-{n:04}", "pipe_mass_per_length": 79.7,
            "insulation_mass_per_length": 24.0, "content_mass_per_length": 0.0,
            "operating_temperature": 700.0, "creep_or_high_energy": "no",
        }
        for n in lines
    ]  # fmt: skip
    yield (
        "design_case",
        [
            {"id": 3 * n - 3 + k, "line_id": n, "name": kind, "kind": kind}
            for n in lines
            for k, kind in enumerate(("operating", "sustained", "test"), start=1)
        ],
    )
    yield "calculation", [
        {"id": n, "number": f"C-{n}", "revision": "A", "method": "full analysis",
         "status": "issued", "issued_on": ago(4000)}
        for n in lines
    ]  # fmt: skip
    yield "support_point", [s.point for s in supports]
    yield "support_tag", [s.tag for s in supports]
    yield "assembly", [s.assembly for s in supports]
    yield "attachment", [s.attachment for s in supports if s.attachment]
    yield "required_load", [load for s in supports for load in s.loads]
    yield "unit", [s.unit for s in hung]
    yield (
        "unit_placement",
        [
            *({"unit_id": s.number, "assembly_id": s.number, "position": "A"} for s in hung),
            *(row for s in supports for row in s.former),
        ],
    )
    yield "nameplate", [s.plate for s in hung]
    yield "setting_event", [row for s in supports for row in s.settings]
    yield "reading", [row for s in supports for row in s.readings]
    yield "hardware_piece", [row for s in supports for row in s.pieces]
    yield "travel_stop_event", [row for s in supports for row in s.stops]


def store(connection: Any, tables: Any, supports: list[Support]) -> None:
    """Write all rows at once."""
    write_rows(connection, tables, rows_of(supports))


def write_rows(
    connection: Any, tables: Any, rows_by_table: Iterable[tuple[str, list[Row]]]
) -> None:
    """Write rows table by table; columns that a row does not name are blank."""
    for name, rows in rows_by_table:
        if not rows:
            continue
        table = tables[name]
        columns = {column for row in rows for column in row}
        if "row_version" in table.c:
            columns.add("row_version")
        full = [
            {column: row.get(column, 1 if column == "row_version" else None) for column in columns}
            for row in rows
        ]
        connection.execute(table.insert(), full)
