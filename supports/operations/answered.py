"""Which values that wait a file answers: the same file mended, or a copy of another name."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from supports.operations.storing import SourceFile
from supports.proposals import ROW, Plan, Proposal, Record, Verb, Withheld
from supports.queries.intake import Doubt, Mark

KnownBy = Mapping[int, Mapping[str, str]]
"""Cells by which the row of a doubt is known again, by the number of the doubt."""


def not_waiting_yet(plan: Plan, waiting: Iterable[Doubt]) -> list[Withheld]:
    """Return what is withheld and does not wait yet, be it from another copy of the file."""
    known = Counter(doubt.mark for doubt in waiting)
    new: list[Withheld] = []
    for value in plan.withheld:
        known[_mark(value)] -= 1
        if known[_mark(value)] < 0:
            new.append(value)
    return new


def _mark(value: Withheld) -> Mark:
    return (value.sheet, value.subject, value.field, value.named, value.text, value.code)


def answered_by(
    plan: Plan, waiting: Sequence[Doubt], source: SourceFile, known_by: KnownBy
) -> list[Doubt]:
    """Return the doubts whose value this plan stores.

    In a file of the same name or content it is the value of the same support; in any other the row
    must be the same as well: the same sheet, and the same cells of those that it is known by.
    """
    still = Counter(map(_mark, plan.withheld))
    gone: list[Doubt] = []
    for doubt in waiting:
        still[doubt.mark] -= 1
        if still[doubt.mark] < 0:
            gone.append(doubt)
    if not gone:
        return []
    taken = set(_fields_stored(plan, {doubt.tag for doubt in gone if doubt.tag}))
    mended = _rows_mended(plan, gone, known_by)
    return [
        doubt
        for doubt in gone
        if doubt.number in mended
        or (_is_of(doubt, source) and (doubt.subject, doubt.tag, doubt.field) in taken)
    ]


def _is_of(doubt: Doubt, source: SourceFile) -> bool:
    return source.name == doubt.file or source.digest == doubt.file_hash


def _fields_stored(plan: Plan, names: set[str]) -> Iterator[tuple[str, str, str]]:
    """Yield subject, name and field of what is stored of some supports or lines."""
    for proposal in plan.proposals:
        if proposal.verb is not Verb.SAME:
            record = proposal.record
            for name in names.intersection(record.key):
                yield record.subject, name, ""
                yield from ((record.subject, name, c.field) for c in proposal.changes)


_Where = tuple[str, str, str]
"""Sheet, subject, and the support or line, or the number of the row where that is in doubt."""


def _rows_mended(plan: Plan, gone: Iterable[Doubt], known_by: KnownBy) -> set[int]:
    """Return the numbers of doubts whose row stands in this plan with a value instead."""
    places: dict[_Where, list[Doubt]] = defaultdict(list)
    for doubt in gone:
        if known := known_by.get(doubt.number):
            places[doubt.sheet, doubt.subject, known.get(ROW) or doubt.tag].append(doubt)
    if not places:
        return set()
    refused = {(value.sheet, value.subject, value.field, value.row) for value in plan.withheld}
    return {
        doubt.number
        for proposal in plan.proposals
        for where in _places_of(proposal.record)
        for doubt in places.get(where, ())
        if _holds(proposal, doubt, refused) and _is_row(proposal.record, known_by[doubt.number])
    }


def _places_of(record: Record) -> Iterator[_Where]:
    for name in (*record.key, str(record.source.row)):
        yield record.source.sheet, record.subject, name


def _is_row(record: Record, known: Mapping[str, str]) -> bool:
    """Return whether the row of a record holds the cells that the row of a doubt is known by."""
    cells = record.source.cells
    return all(
        text == (str(record.source.row) if field == ROW else _text(record, field))
        for field, text in known.items()
        if field == ROW or text or field in cells
    )


def _text(record: Record, field: str) -> str:
    cell = record.source.cells.get(field)
    return cell.text.strip() if cell else ""


def _holds(proposal: Proposal, doubt: Doubt, refused: set[tuple[str, str, str, int]]) -> bool:
    """Return whether the plan takes the value that was in doubt from this row."""
    record = proposal.record
    if not doubt.field:
        return proposal.verb is not Verb.SAME
    here = (doubt.sheet, doubt.subject, doubt.field, record.source.row)
    return bool(_text(record, doubt.field)) and here not in refused
