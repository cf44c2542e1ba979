"""What the audit record of a change says: who wrote what and when, each value before and after."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from reports.contents.blocks import (
    Answered,
    Block,
    Cell,
    Column,
    Facts,
    Heading,
    Listing,
    Paragraph,
    Table,
    Weight,
    Written,
)
from supports.snapshots import TrailBatch, TrailRow

LONGEST = 240
"""Signs of a value that are printed; a longer one is told by its length and fingerprint."""


@dataclass(frozen=True, slots=True)
class AuditRecord:
    """The whole record.

    Parameters
    ----------
    broken
        Words for the first batch of the register that does not follow from the one before it;
        '' where the chain is whole.
    head
        Short head of the chain when the paper was made.
    signed
        Every signature as a sentence, those that a later change of content voided among them.
    """

    number: str
    title: str
    state: str
    lines: tuple[str, ...]
    noted: str
    batches: tuple[TrailBatch, ...]
    signed: tuple[str, ...]
    made: datetime
    head: str
    broken: str = ""
    keep_years: float = 0.0


def audit_record(record: AuditRecord) -> tuple[Block, ...]:
    """Return the record as blocks."""
    return (
        _whole(record),
        Facts(
            (
                ("Change", Cell(record.number, name=True)),
                ("Stands at", record.state),
                ("Title", record.title),
                ("Lines", ", ".join(record.lines) or "none"),
                ("Noted", record.noted),
                ("Kept at hand for", f"{record.keep_years:g} years"),
            )
        ),
        Heading("Signatures"),
        Listing(record.signed) if record.signed else Paragraph("Nobody signed."),
        Heading("What was done, oldest first"),
        _batches(record.batches),
        Heading("Each value before and after", 1),
        Paragraph(
            "Values as they are stored: loads in N, lengths in m, masses in kg, temperatures in K. "
            "A blank before is a row that was made then. Rows are never deleted.",
            small=True,
        ),
        *(block for batch in record.batches for block in _batch(batch)),
    )


def _whole(record: AuditRecord) -> Answered:
    question = "Does every batch of the register follow from the one before it?"
    if record.broken:
        return Answered(question, "No", Weight.NO, record.broken)
    words = (
        f"Worked out anew over the whole register when this paper was made; head {record.head}. "
        "The same head on another paper of that moment proves the same record."
    )
    return Answered(question, "Yes", Weight.YES, words)


def _batches(batches: Sequence[TrailBatch]) -> Table:
    columns = (
        Column("Batch", 0.0, right=True),
        Column("When, UTC", 0.0),
        Column("Who", 1.0),
        Column("What", 1.3),
        Column("Why", 1.6),
        Column("Rows", 0.0, right=True),
        Column("Chained: before → after", 1.3),
    )
    rows = tuple(
        (
            str(one.batch), f"{one.written_at:%Y-%m-%d %H:%M}", Cell(one.actor, strong=True),
            one.action, one.reason or "–", str(len(one.rows)), f"{one.previous} → {one.mark}",
        )
        for one in batches
    )  # fmt: skip
    return Table(columns, rows, "Nothing is on record.", small=True)


def _batch(batch: TrailBatch) -> Iterator[Block]:
    yield Heading(f"Batch {batch.batch}: {batch.action}, {batch.actor}")
    columns = (
        Column("Row", 1.0),
        Column("Field", 1.1),
        Column("Before", 1.8),
        Column("After", 1.8),
    )
    yield Table(columns, tuple(_rows(batch.rows)), "No row.", small=True)


def _rows(rows: Sequence[TrailRow]) -> Iterator[tuple[Written, ...]]:
    for row in rows:
        name = f"{row.table.replace('_', ' ')} {row.row}"
        for field, before, after in row.values:
            yield (name, field.replace("_", " "), _short(before) or "–", _short(after) or "–")


def _short(value: str) -> str:
    return value if len(value) <= LONGEST else f"{value[:LONGEST].rstrip()}… ({len(value)} signs)"
