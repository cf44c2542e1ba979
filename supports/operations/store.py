"""What a plan is stored with: the register as it stands, new rows, and where they came from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from sqlalchemy import select

from supports.errors import NotFound
from supports.freezing import Written, written
from supports.model import Area, SourceRow, SupportTag
from supports.operations.buffer import Buffer
from supports.proposals import Cells, Key, Record, SourceCell, SourceLine, Today
from supports.queries.plant_days import day_at
from supports.sentences import Sentence, joined


@dataclass(slots=True)
class Store:
    """Turns proposals into rows, subject by subject."""

    buffer: Buffer
    today: Today
    run: int
    now: datetime
    areas: dict[str, int]
    cases: dict[tuple[int, str], int] = field(default_factory=dict)
    sources: dict[tuple[str, int], int] = field(default_factory=dict)
    _former: set[str] | None = None

    @property
    def day(self) -> date:
        """Return the day at the plant on which the rows are stored."""
        return day_at(self.buffer.trail.session, self.now)

    def need(self, subject: str, key: Key, table: str, record: Record) -> int:
        """Return the id of what a record speaks of."""
        found = self.today.id_of(subject, key, table)
        if found is None:
            raise NotFound(
                Sentence(
                    "{subject} {names} is not in the register",
                    subject=subject,
                    names=joined(key, " "),
                ),
                where=str(record.source.place("tag")),
                remedy=Sentence(
                    "Bring the {subject} in first, or in the same file", subject=subject
                ),
            )
        return found

    def former_tags(self) -> set[str]:
        """Return the tags that some support bore once."""
        if self._former is None:
            ended = select(SupportTag.tag).where(SupportTag.valid_to.is_not(None))
            self._former = set(self.buffer.trail.session.scalars(ended))
        return self._former

    def area(self, values: dict[str, Any], source: int) -> int | None:
        """Return the id of the area named, which is made if it is new."""
        code = values.get("area")
        if not code:
            return None
        if code not in self.areas:
            self.areas[code] = self.buffer.insert(Area, {"code": code}, source)
        return self.areas[code]

    def source(self, line: SourceLine) -> int:
        """Return the id of the source row, which is entered once."""
        key = (line.sheet, line.row)
        if key not in self.sources:
            cells = Written(cells_written(line.cells))
            row = {"import_run_id": self.run, "sheet": line.sheet, "row": line.row, "cells": cells}
            self.sources[key] = self.buffer.insert(SourceRow, row)
        return self.sources[key]


def cells_written(cells: Mapping[str, SourceCell]) -> str:
    """Return column, text and unit of every cell of a row, by field, as JSON."""
    if isinstance(cells, Cells):
        return cells.written()
    return written({name: (cell.column, cell.text, cell.unit) for name, cell in cells.items()})
