"""One thing that several tables speak of, or one table under two writings of its name."""

from __future__ import annotations

from collections.abc import Iterable

from importers.row_names import held_back
from importers.surroundings import told_apart_by_title
from supports.findings import Finding, Place, Severity
from supports.proposals import Key, Record, Withheld
from supports.sentences import Sentence


def each_once(
    records: Iterable[Record], findings: list[Finding], withheld: list[Withheld]
) -> list[Record]:
    """Hold back what two rows say of one thing, unless they agree.

    Parameters
    ----------
    findings, withheld
        What is found and held back is put down there.
    """
    first: dict[tuple[str, Key], Record] = {}
    held: set[tuple[str, Key]] = set()
    for record in records:
        name = (record.subject, record.key)
        other = first.setdefault(name, record)
        if other is record:
            continue
        agree = other.values == record.values and not told_apart_by_title(record, other)
        findings.append(_said_twice(record, other, agree=agree))
        if not agree:
            rows = (record,) if name in held else (record, other)
            withheld.extend(held_back(row, findings[-1]) for row in rows)
            held.add(name)
    return [record for name, record in first.items() if name not in held]


def _said_twice(record: Record, other: Record, *, agree: bool) -> Finding:
    what = "{names} stands also in {sheet} row {row}, with other values"
    if agree:
        what = "{names} stands also in {sheet} row {row}, with the same values"
    elif other.values == record.values:
        what = (
            "{names} stands also in {sheet} row {row}, the area in the names of the sheets alone; "
            "one support or two?"
        )
    return Finding(
        "row-repeated" if agree else "same-key-twice",
        Severity.NOTE if agree else Severity.STOP,
        Sentence(
            what,
            names=" ".join(filter(None, record.key)),
            sheet=other.source.sheet,
            row=str(other.source.row),
        ),
        Place(
            record.source.file,
            record.source.sheet,
            Sentence("row {count}", count=str(record.source.row)),
        ),
        remedy="" if agree else "Keep one row for each, or tell them apart",
        subject=record.key[0],
    )
