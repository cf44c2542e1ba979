"""Rows that speak of something nobody knows: each is held back and named, not found when storing.

A nameplate belongs to a unit, a unit to a support, a load to a calculation, a support and a line.
What a row belongs to stands in the same file or in the register already.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import replace

from importers.reading import ReadResult
from supports.findings import Finding, Severity
from supports.proposals import Key, Record, row_held_back

Name = tuple[str, Key]
"""Subject and key."""
Owner = tuple[str, Callable[[Record], Key], str]
"""What a row belongs to: its subject, its key as the row gives it, the field that names it."""


def _part(*places: int) -> Callable[[Record], Key]:
    return lambda record: tuple(record.key[place] for place in places)


BELONGS_TO: Mapping[str, tuple[Owner, ...]] = {
    "attachment": (("support", _part(0), "tag"), ("line", _part(1), "line")),
    "unit": (("support", _part(0), "tag"),),
    "nameplate": (("unit", _part(0, 1), "tag"),),
    "hardware": (("support", _part(0), "tag"),),
    "required load": (
        ("calculation", _part(0, 1), "calculation"),
        ("support", _part(2), "tag"),
        ("line", _part(3), "line"),
    ),
    "nozzle limit": (("line", _part(0), "line"),),
    "setting": (("unit", _part(0, 1), "tag"),),
    "reading": (("unit", _part(0, 1), "tag"),),
    "line node": (("line", _part(0), "line"),),
    "line element": (("line", _part(0), "line"),),
    "line end": (("line", _part(0), "line"),),
}
_LINE_OF_SUPPORT: Owner = ("line", lambda record: (str(record.values["line"]),), "line")


def owners_of(record: Record) -> tuple[Owner, ...]:
    """Return what a row belongs to; a support that names no line belongs to none."""
    if record.subject == "support":
        return (_LINE_OF_SUPPORT,) if record.values.get("line") else ()
    return BELONGS_TO.get(record.subject, ())


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
        here = {(record.subject, record.key) for record in kept}
        orphans = {
            id(record): owner
            for record in kept
            if (owner := _missing(record, here, known)) is not None
        }
        if not orphans:
            break
        for record in kept:
            if (owner := orphans.get(id(record))) is not None:
                findings.append(_orphan(record, owner))
                withheld.append(row_held_back(record, _named(record), findings[-1]))
        kept = [record for record in kept if id(record) not in orphans]
    if len(kept) == len(result.records):
        return result
    return replace(result, records=tuple(kept), findings=tuple(findings), withheld=tuple(withheld))


def _missing(record: Record, here: Collection[Name], known: Collection[Name]) -> Owner | None:
    owners: Iterable[Owner] = owners_of(record)
    for owner in owners:
        subject, key_of, _ = owner
        name = (subject, key_of(record))
        if name not in here and name not in known:
            return owner
    return None


def _named(record: Record) -> str:
    """Return the support of a row, or its line where it speaks of no support."""
    if record.subject == "support":
        return record.key[0]
    owners = owners_of(record)
    owner = next((one for one in owners if one[2] == "tag"), owners[0])
    return owner[1](record)[0]


def _orphan(record: Record, owner: Owner) -> Finding:
    subject, key_of, field = owner
    name = " ".join(key_of(record))
    return Finding(
        "owner-not-known",
        Severity.STOP,
        f"{subject} {name} is neither in the register nor in this file",
        record.source.place(field),
        found=name,
        expected=f"a {subject} that is known",
        remedy=f"Bring the {subject} in first, in the same file, or mend its name",
        subject=_named(record),
    )
