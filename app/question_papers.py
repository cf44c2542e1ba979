"""The answer to a question as lines for a terminal, and as a workbook."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from math import isnan
from pathlib import Path
from typing import Any

from app.shapes import UnitAsked
from reports.contents.common import PageSize, PaperHead
from reports.xlsx.book import Book, Cell, Column
from supports.freezing import fingerprint, short
from supports.queries.tables import in_units
from supports.rules.questions import Question
from supports.vocabulary import counted

SHOWN = {
    "required": "kN", "setting": "kN", "room_left": "kN", "nameplate_load": "kN",
    "range_low": "kN", "range_high": "kN", "working_low": "kN", "working_high": "kN",
    "rate": "N/mm", "design_travel": "mm", "total_travel": "mm", "pointer": "mm",
    "scale_load": "kN",
}  # fmt: skip


def answer_lines(table: Any) -> Iterator[str]:
    """Return the units asked for, a line each."""
    yield (
        f"{'unit':<14}{'line':<14}{'kind':<17}{'required':>10}{'set':>10}{'room left':>11}"
        f"{'last read':>12}  STOP ACT cannot judge"
    )
    shown = in_units(table, dict.fromkeys(("required", "setting", "room_left"), "kN"))
    for name, row in zip(shown.index, shown.to_dict("records"), strict=True):
        numbers = "".join(
            f"{_number(row[f'{column} [kN]']):>{width}}"
            for column, width in (("required", 10), ("setting", 10), ("room_left", 11))
        )
        verdict = f"  {row['verdict']}" if "verdict" in row else ""
        yield (
            f"{name:<14}{row['line']:<14}{row['support_kind']:<17}{numbers}"
            f"{_day(row['last_seen_day']):>12}  {row['stop']:>4} {row['act']:>3} "
            f"{row['unjudged']:>12}{verdict}"
        )
    yield f"{counted(len(table), 'unit')}."


def units_asked(table: Any) -> Iterator[UnitAsked]:
    """Return the units asked for."""
    for name, row in zip(table.index, table.to_dict("records"), strict=True):
        yield UnitAsked(
            unit=str(name),
            tag=row["tag"],
            line=row["line"],
            kind=str(row["support_kind"]),
            required_N=float(row["required"]),
            setting_N=float(row["setting"]),
            room_left_N=float(row["room_left"]),
            last_read=row["last_seen_day"],
            stop=int(row["stop"]),
            act=int(row["act"]),
            cannot_judge=int(row["unjudged"]),
            rules=row["rules"],
            verdict=row.get("verdict"),
        )


def _number(value: float) -> str:
    return "not known" if isnan(value) else f"{value:.2f}"


def _day(value: date | None) -> str:
    return "never" if value is None else value.isoformat()


def write_answer(
    table: Any, question: Question, name: str, plant: str, path: Path, made: datetime
) -> Path:
    """Write the answer as a workbook: one sheet with units in its headings, one with the words."""
    shown = in_units(table, {c: symbol for c, symbol in SHOWN.items() if c in table.columns})
    rows = [
        [key, *(_cell(value) for value in row.values())]
        for key, row in zip(shown.index, shown.to_dict("records"), strict=True)
    ]
    columns = [Column("unit", 14), *(Column(str(one).replace("_", " "), 16) for one in shown)]
    words = {key: str(value) for key, value in question.as_words.items()}
    head = PaperHead(
        title=name or "Question about the register",
        number=name or "-",
        about="; ".join(f"{key}: {value}" for key, value in words.items()) or "every unit",
        revision="-",
        made=made,
        fingerprint=short(fingerprint([list(map(str, row)) for row in rows])),
        valid_until="the register changes",
        plant=plant,
    )
    book = Book(head, PageSize.A4)
    book.table("Answer", columns, rows)
    asked = [[key, value] for key, value in words.items()] or [["asked", "every unit"]]
    book.table("Question", [Column("filter", 20), Column("value", 30)], asked)
    path.write_bytes(book.finished())
    return path


def _cell(value: Any) -> Cell:
    if value is None or (isinstance(value, float) and isnan(value)):
        return None
    if isinstance(value, date):
        return value.isoformat()
    return round(value, 6) if isinstance(value, float) else value
