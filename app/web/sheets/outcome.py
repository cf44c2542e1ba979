"""What was read of a file, as plain data that any process of the desk can show."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, is_dataclass
from functools import cache
from typing import Any

from app.finding_lines import grouped
from app.intake import mark_of
from importers.declared import Column, kind_of
from importers.joined_records import JoinedRecords
from importers.joining import Joined, Stranger
from importers.reading import ReadResult
from importers.sheets import SHEETS
from importers.unit_choice import METRIC, unit_for
from supports.errors import SupportsError
from supports.findings import Finding
from supports.proposals import FieldChange, Plan, Proposal, Value, Verb, Withheld
from supports.units import shown

GROUPS, DETAILS = 200, 60
"""Groups of findings that are kept, and findings of each; all are counted."""
RECORDS = 30
"""Records of one subject and verb that are kept field by field."""
LISTED = 300
"""Rows of each list of names that are kept; what is to be decided is kept whole."""

Data = dict[str, Any]


def outcome_of(joined: JoinedRecords, result: ReadResult, plan: Plan) -> Data:
    """Return what the page of a file shows."""
    groups = sorted(grouped(plan.findings), key=lambda g: (g[0].severity.rank, -len(g)))
    return {
        "file": result.file_name,
        "digest": result.digest,
        "forbids": result.forbids_storing,
        "nothing_new": plan.changes_nothing,
        "sheets": list(_sheets(joined, result)),
        "subjects": _subjects(plan),
        "records": _records(plan),
        "findings": len(plan.findings),
        "groups": [_group(group) for group in groups[:GROUPS]],
        "more_groups": max(len(groups) - GROUPS, 0),
        "doubts": list(_doubts(plan.withheld)),
        "names": _names(joined.joined, joined.counts),
        "mark": mark_of(plan),
    }


def error_of(error: SupportsError) -> Data:
    """Return what stopped the reading."""
    parts = ("what", "where", "found", "expected", "remedy")
    return {name: getattr(error, name) for name in parts}


def _sheets(joined: JoinedRecords, result: ReadResult) -> Iterator[Data]:
    """Yield each sheet of the file with what it was read as and its rows."""
    read_as: dict[str, dict[str, None]] = defaultdict(dict)
    for record in joined.result.records:
        read_as[record.source.sheet][_sheet_names()[record.subject]] = None
    for count in result.counts:
        yield {
            "sheet": count.sheet, "read_as": list(read_as[count.sheet]), "rows": count.rows,
            "held_back": count.held_back, "heading_row": count.heading_row,
        }  # fmt: skip


@cache
def _sheet_names() -> dict[str, str]:
    return {sheet.subject: sheet.name for sheet in SHEETS}


@cache
def _columns() -> dict[tuple[str, str], Column]:
    return {(sheet.subject, c.field): c for sheet in SHEETS for c in sheet.columns}


def _subjects(plan: Plan) -> list[Data]:
    """Return for each subject how many are new, changed and unchanged, and the rows refused."""
    refused: dict[str, set[tuple[str, str]]] = defaultdict(set)
    for value in plan.withheld:
        refused[value.subject].add((value.sheet, row_of(value.cell)))
    counts = Counter((p.record.subject, str(p.verb)) for p in plan.proposals)
    return [
        {"subject": subject, "refused": len(refused[subject]),
         **{str(verb): counts[subject, str(verb)] for verb in Verb}}
        for subject in dict.fromkeys((*plan.subjects, *refused))
    ]  # fmt: skip


def row_of(cell: str) -> str:
    """Return the row of a cell.

    >>> row_of("D17"), row_of("row 3")
    ('17', '3')
    """
    return cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ").removeprefix("row ")


def _records(plan: Plan) -> list[Data]:
    """Return by sort the first records that would change and be new, as entered and understood."""
    sorts: dict[tuple[Verb, str], list[Proposal]] = defaultdict(list)
    for one in plan.proposals:
        if one.verb is not Verb.SAME:
            sorts[one.verb, one.record.subject].append(one)
    return [
        {"subject": subject, "verb": str(verb), "count": len(found),
         "each": [_record(one) for one in found[:RECORDS]]}
        for wanted in (Verb.CHANGE, Verb.CREATE)
        for (verb, subject), found in sorts.items()
        if verb is wanted
    ]  # fmt: skip


def _record(one: Proposal) -> Data:
    source = one.record.source
    return {
        "name": " ".join(one.record.key),
        "place": f"{source.sheet} {source.row}",
        "fields": [_field(one, change) for change in one.changes],
    }  # fmt: skip


def _field(one: Proposal, change: FieldChange) -> Data:
    cell = one.record.source.cells.get(change.field)
    entered = f"{cell.text} {cell.unit}".strip() if cell else ""
    subject = one.record.subject
    column = _columns().get((subject, change.field))
    return {
        "field": column.heading if column else change.field.replace("_", " "),
        "cell": f"{cell.column}{one.record.source.row}" if cell else "",
        "entered": entered,
        "before": "" if change.before is None else understood(subject, change.field, change.before),
        "after": understood(subject, change.field, change.after),
    }


def understood(subject: str, field: str, value: Value) -> str:
    """Return a value as the register has it, a quantity with a unit."""
    column = _columns().get((subject, field))
    kind = kind_of(column) if column else None
    if column and kind and isinstance(value, float | int):
        return shown(float(value), unit_for(column, METRIC), kind)
    if column and kind and isinstance(value, list):
        unit = unit_for(column, METRIC)
        return "; ".join(" ".join(shown(float(n), unit, kind) for n in row) for row in value)
    return "" if value is None else str(value)


def _group(group: Sequence[Finding]) -> Data:
    first = group[0]
    return {
        "severity": str(first.severity), "code": first.code, "what": first.what,
        "sheet": first.place.sheet, "cell": first.place.cell, "count": len(group),
        "expected": first.expected, "remedy": first.remedy,
        "each": [
            {"cell": f.place.cell, "found": f.found, "expected": f.expected, "about": f.subject}
            for f in group[:DETAILS]
        ],
    }  # fmt: skip


def _doubts(withheld: Iterable[Withheld]) -> Iterator[Data]:
    """Yield the values whose unit somebody may declare, alike ones of a column together."""
    groups: dict[tuple[str, ...], list[Withheld]] = defaultdict(list)
    for value in withheld:
        if value.field:
            groups[value.sheet, value.column, value.code, value.question].append(value)
    for (sheet, column, code, question), group in groups.items():
        heading = _columns().get((group[0].subject, group[0].field))
        yield {
            "sheet": sheet, "column": column, "code": code, "question": question,
            "count": len(group), "first": group[0].cell,
            "is_quantity": bool(heading and kind_of(heading)),
            "field": heading.heading if heading else group[0].field.replace("_", " "),
            "each": [{"cell": v.cell, "about": v.named, "text": v.text} for v in group[:DETAILS]],
        }  # fmt: skip


def _names(joined: Joined, counts: Mapping[str, int]) -> Data:
    """Return the four lists, the last one both ways, with how many stand on each."""

    def row(stranger: Stranger) -> Data:
        return {
            "name": stranger.name, "sheet": stranger.sheet, "row": stranger.row,
            "rows": counts.get(stranger.name, 1), "listed": stranger.states_support,
        }  # fmt: skip

    def match(one: Any) -> Data:
        return {**row(one.stranger), "tag": one.tag, "step": str(one.step), "reason": one.reason}

    lists: dict[str, list[Any]] = {
        "matched": [match(one) for one in joined.matched[:LISTED]],
        "cleaned": [match(one) for one in joined.cleaned[:LISTED]],
        "to_decide": [
            {**row(one.stranger), "what": one.what, "candidates": list(map(_plain, one.candidates))}
            for one in joined.to_decide
        ],
        "not_found": [row(one) for one in joined.not_found[:LISTED]],
        "not_met": list(joined.not_met[:LISTED]),
    }
    return {"lists": lists, "counts": {name: len(getattr(joined, name)) for name in lists}}


def _plain(one: Any) -> Any:
    return asdict(one) if is_dataclass(one) and not isinstance(one, type) else one
