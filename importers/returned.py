"""Forms that come back: what was changed on them, held against what was issued and what holds now.

A field untouched on the form is ignored, whatever happened meanwhile. A field changed only on the
form is proposed. A field changed on both sides to different values is a conflict for a person.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from supports.findings import Finding, Severity
from supports.proposals import Existing, Key, Record, Value, alike
from supports.sentences import Sentence


@dataclass(frozen=True, slots=True)
class Conflict:
    """A field that the form and somebody else changed to different values."""

    subject: str
    key: Key
    field: str
    issued: Value
    form: Value
    now: Value


@dataclass(frozen=True, slots=True)
class Returned:
    """What a returned form asks for.

    Parameters
    ----------
    records
        Only the fields that the form changed and nobody else did.
    """

    records: tuple[Record, ...]
    conflicts: tuple[Conflict, ...]
    findings: tuple[Finding, ...]


def three_way(issued: Existing, form: Iterable[Record], now: Existing) -> Returned:
    """Hold a returned form against what was issued and what the register says now."""
    records: list[Record] = []
    conflicts: list[Conflict] = []
    findings: list[Finding] = []
    for record in form:
        name = (record.subject, record.key)
        if name not in issued:
            findings.append(_not_issued(record))
            continue
        wanted, disputed = _sorted(record, issued[name], now.get(name, {}))
        conflicts.extend(disputed)
        findings.extend(_edited_by_two(record, conflict) for conflict in disputed)
        if wanted:
            records.append(record._replace(values=wanted))
    return Returned(tuple(records), tuple(conflicts), tuple(findings))


def _sorted(
    record: Record, base: Mapping[str, Value], today: Mapping[str, Value]
) -> tuple[dict[str, Value], list[Conflict]]:
    """Tell the fields to propose from those in dispute; the rest is untouched or agreed."""
    wanted: dict[str, Value] = {}
    disputed: list[Conflict] = []
    for name, value in record.values.items():
        before, current = base.get(name), today.get(name)
        if alike(value, before) or alike(value, current):
            continue
        if alike(before, current):
            wanted[name] = value
        else:
            disputed.append(Conflict(record.subject, record.key, name, before, value, current))
    return wanted, disputed


def _not_issued(record: Record) -> Finding:
    return Finding(
        "row-not-issued",
        Severity.STOP,
        Sentence("{names} does not stand on the form as issued", names=" ".join(record.key)),
        record.source.place(""),
        remedy="Bring new things in with their own sheet, not on a returned form",
        subject=record.key[0],
    )


def _edited_by_two(record: Record, conflict: Conflict) -> Finding:
    return Finding(
        "edited-by-two",
        Severity.ACT,
        Sentence(
            "'{field}' of {names} was changed on the form and meanwhile in the register; neither "
            "was overwritten",
            field=conflict.field,
            names=" ".join(conflict.key),
        ),
        record.source.place(conflict.field),
        found=Sentence(
            "{form} on the form, {now} now, {issued} when issued",
            form=str(conflict.form),
            now=str(conflict.now),
            issued=str(conflict.issued),
        ),
        remedy="Choose one; both stay on record",
        subject=record.key[0],
    )
