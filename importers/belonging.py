"""Rows that speak of something nobody knows: each is held back and named, not found when storing.

A nameplate belongs to a unit, a unit to a support, a load to a calculation, a support and a line.
What a row belongs to stands in the same file or in the register already.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace

from importers.reading import ReadResult
from importers.row_names import held_back
from supports.findings import Finding, Severity
from supports.proposals import BELONGS_TO, Name, Owner, Record, owners_of
from supports.sentences import Sentence


def hold_back_orphans(result: ReadResult, known: Collection[Name]) -> ReadResult:
    """Hold back each row whose support, unit, line or calculation is nowhere to be found.

    Parameters
    ----------
    known
        What the register holds, by subject and key.
    """
    kept, findings = list(result.records), list(result.findings)
    withheld = list(result.withheld)
    while True:
        there = known if _owners_apart(kept) else {(r.subject, r.key) for r in kept} | {*known}
        orphans = {
            id(record): owner for record in kept if (owner := _missing(record, there)) is not None
        }
        if not orphans:
            break
        for record in kept:
            if (owner := orphans.get(id(record))) is not None:
                findings.append(_orphan(record, owner))
                withheld.append(replace(held_back(record, findings[-1]), named=_named(record)))
        kept = [record for record in kept if id(record) not in orphans]
    if len(kept) == len(result.records):
        return result
    return replace(result, records=tuple(kept), findings=tuple(findings), withheld=tuple(withheld))


def _owners_apart(records: Iterable[Record]) -> bool:
    """Return whether no record can belong to another of them."""
    subjects = {record.subject for record in records}
    return not any(one.subject in subjects for of in subjects for one in BELONGS_TO.get(of, ()))


def _missing(record: Record, there: Collection[Name]) -> Owner | None:
    for owner in owners_of(record):
        if (owner.subject, owner.key_of(record)) not in there:
            return owner
    return None


def _named(record: Record) -> str:
    """Return the support of a row, or its line where it speaks of no support."""
    if record.subject == "support":
        return record.key[0]
    owners = owners_of(record)
    owner = next((one for one in owners if one.field == "tag"), owners[0])
    return owner.key_of(record)[0]


def _orphan(record: Record, owner: Owner) -> Finding:
    subject, name = owner.subject, " ".join(owner.key_of(record))
    return Finding(
        "owner-not-known",
        Severity.STOP,
        Sentence(
            "{subject} {name} is neither in the register nor in this file",
            subject=subject,
            name=name,
        ),
        record.source.place(owner.field),
        found=name,
        expected=Sentence("a {subject} that is known", subject=subject),
        remedy=Sentence(
            "Bring the {subject} in first, in the same file, or mend its name", subject=subject
        ),
        subject=_named(record),
    )
