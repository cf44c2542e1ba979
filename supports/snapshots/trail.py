"""The record of writes: batches, their rows, each value before and after."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class TrailRow:
    """A row that was written: (field, before, after) of what became different, as text."""

    table: str
    row: int
    values: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class TrailBatch:
    """One batch of writes with its place in the chain; hashes are short."""

    batch: int
    written_at: datetime
    actor: str
    action: str
    reason: str
    previous: str
    mark: str
    rows: tuple[TrailRow, ...]
