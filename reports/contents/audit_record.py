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
from reports.languages import IN_ENGLISH, Texts
from supports.plant_time import to_the_minute
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


def audit_record(record: AuditRecord, say: Texts = IN_ENGLISH) -> tuple[Block, ...]:
    """Return the record as blocks."""
    return (
        _whole(record, say),
        Facts(
            (
                (say("Change"), Cell(record.number, name=True)),
                (say("Stands at"), say.word(record.state)),
                (say("Title"), record.title),
                (say("Lines"), ", ".join(record.lines) or say("none")),
                (say("Noted"), record.noted),
                (
                    say("Kept at hand for"),
                    say("{years} years", years=f"{record.keep_years:g}"),
                ),
            )
        ),
        Heading(say("Signatures")),
        Listing(tuple(map(say.sentence, record.signed)))
        if record.signed
        else Paragraph(say("Nobody signed.")),
        Heading(say("What was done, oldest first")),
        _batches(record.batches, say),
        Heading(say("Each value before and after"), 1),
        Paragraph(
            say(
                "Values as they are stored: loads in N, lengths in m, masses in kg, temperatures "
                "in K. A blank before is a row that was made then. Rows are never deleted. Rows, "
                "fields and states bear the names that the register has for them."
            ),
            small=True,
        ),
        *(block for batch in record.batches for block in _batch(batch, say)),
    )


def _whole(record: AuditRecord, say: Texts) -> Answered:
    question = say("Does every batch of the register follow from the one before it?")
    if record.broken:
        return Answered(question, say("No"), Weight.NO, say.sentence(record.broken))
    words = say(
        "Worked out anew over the whole register when this paper was made; head {head}. The "
        "same head on another paper of that moment proves the same record.",
        head=record.head,
    )
    return Answered(question, say("Yes"), Weight.YES, words)


def _batches(batches: Sequence[TrailBatch], say: Texts) -> Table:
    columns = (
        Column(say("Batch"), 0.0, right=True),
        Column(say("When, UTC"), 0.0),
        Column(say("Who"), 1.0),
        Column(say("What"), 1.3),
        Column(say("Why"), 1.6),
        Column(say("Rows"), 0.0, right=True),
        Column(say("Chained: before → after"), 1.3),
    )
    rows = tuple(
        (
            str(one.batch), to_the_minute(one.written_at), Cell(one.actor, strong=True),
            say.word(one.action), one.reason or "–", str(len(one.rows)),
            f"{one.previous} → {one.mark}",
        )
        for one in batches
    )  # fmt: skip
    return Table(columns, rows, say("Nothing is on record."), small=True)


def _batch(batch: TrailBatch, say: Texts) -> Iterator[Block]:
    yield Heading(
        say(
            "Batch {batch}: {action}, {actor}",
            batch=batch.batch,
            action=say.word(batch.action),
            actor=batch.actor,
        ),
        listed=False,
    )
    columns = (
        Column(say("Row"), 1.0),
        Column(say("Field"), 1.1),
        Column(say("Before"), 1.8),
        Column(say("After"), 1.8),
    )
    yield Table(columns, tuple(_rows(batch.rows, say)), say("No row."), small=True)


def _rows(rows: Sequence[TrailRow], say: Texts) -> Iterator[tuple[Written, ...]]:
    for row in rows:
        name = f"{row.table.replace('_', ' ')} {row.row}"
        for field, before, after in row.values:
            yield (
                name,
                field.replace("_", " "),
                _short(before, say) or "–",
                _short(after, say) or "–",
            )


def _short(value: str, say: Texts) -> str:
    return (
        value
        if len(value) <= LONGEST
        else say("{start}… ({count} signs)", start=value[:LONGEST].rstrip(), count=len(value))
    )
