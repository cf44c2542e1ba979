"""Walkdown forms that come back: their seals checked, their rows handed on as written."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from app.walkdown_papers import walk_seals
from app.words import counting
from importers.walkdown_form import FilledWalk, read_walk
from supports.database import Register
from supports.errors import BadInput
from supports.operations.walkdowns.returns import (
    ReturnedForm,
    ReturnOutcome,
    RowOutcome,
    WrittenRow,
    take_return,
)
from supports.queries.walkdowns.lookups import campaign_of, content_of_form, form_of, item_of
from supports.rules.walkdown.compare import Outcome
from supports.rules.walkdown.words import box_words
from supports.sentences import Sentence, joined
from supports.units import Kind, shown
from supports.vocabulary import counted


def take_file(
    register: Register, number: str, file: Path, *, walker: str, acting: str, now: datetime
) -> ReturnOutcome:
    """Take a filled-in workbook.

    Parameters
    ----------
    walker
        Who walked, where the form itself does not say.

    Raises
    ------
    BadInput
        The form is of another campaign, rows were altered where they may not be, or nobody is
        named as walker.
    """
    form = read_walk(file)
    revision = _revision(form, number)
    with register.reading() as session:
        content = content_of_form(form_of(session, campaign_of(session, number), revision))
        seals = walk_seals(session, content)
    _check(
        form, {str(row.item_id): (seals[row.item_id], row.tag, row.line) for row in content.rows}
    )
    names = form.walkers or ((walker,) if walker else ())
    if not names:
        raise BadInput(
            "the form does not say who walked", where=form.file, remedy="Say so with --walker NAME"
        )
    rows = tuple(
        WrittenRow(int(row.item_id), row.walker or names[0], row.written) for row in form.rows
    )
    digest = hashlib.sha256(file.read_bytes()).hexdigest()
    returned = ReturnedForm(revision, names[0], rows, form.file, digest)
    return take_return(register, number, returned, acting=acting, now=now)


def _revision(form: FilledWalk, number: str) -> int:
    campaign, _, written = form.form_id.rpartition("/")
    revision = counting(written)
    if campaign != number or revision is None:
        raise BadInput(
            "the form is of another campaign", where=form.file, found=form.form_id, expected=number
        )
    return revision


def _check(form: FilledWalk, issued: dict[str, tuple[str, str, str]]) -> None:
    altered: list[str] = [
        Sentence("row {row} ({tag})", row=str(row.row), tag=row.tag or "no tag")
        for row in form.rows
        if issued.get(row.item_id) != (row.seal, row.tag, row.line)
    ]
    ids = [row.item_id for row in form.rows]
    altered += [
        Sentence("row {row} ({tag}) stands there twice", row=str(row.row), tag=row.tag)
        for place, row in enumerate(form.rows)
        if row.item_id in ids[:place]
    ]
    if altered:
        raise BadInput(
            "rows were altered where they may not be; nothing was taken",
            where=form.file,
            found=joined(altered, ", "),
        )


def key_in(
    register: Register,
    number: str,
    place: tuple[str, str],
    written: dict[str, Any],
    *,
    walker: str,
    revision: int | None,
    acting: str,
    now: datetime,
) -> ReturnOutcome:
    """Take one row keyed in from paper, on the revision printed on the sheet."""
    with register.reading() as session:
        campaign = campaign_of(session, number)
        form = form_of(session, campaign, revision)
        item = item_of(session, campaign, *place)
        row = WrittenRow(item.id, walker, written)
        returned = ReturnedForm(form.revision, walker, (row,))
    return take_return(register, number, returned, acting=acting, now=now)


def outcome_lines(outcome: ReturnOutcome) -> Iterator[str]:
    """Return what became of a form, a line for each row that says something."""
    if outcome.known_already:
        yield "This file was read in before; nothing was changed."
        return
    if outcome.is_old:
        yield (
            f"The form is of revision {outcome.revision}, the newest is {outcome.newest}: "
            "compared three ways."
        )
    for row in outcome.rows:
        yield from _row_lines(row)
    blank = sum(not row.compared and not row.doubts for row in outcome.rows)
    conflicts = sum(bool(row.conflicts) for row in outcome.rows)
    yield f"{counted(len(outcome.rows), 'row')}, {blank} left blank, {conflicts} with conflicts."


_UNITS = {
    "pointer": ("mm", Kind.LENGTH),
    "gap": ("mm", Kind.LENGTH),
    "load": ("kN", Kind.LOAD),
    "rod_angle": ("°", Kind.ANGLE),
    "pipe_temperature": ("°C", Kind.TEMPERATURE),
}


def _shown(field: str, value: Any) -> str:
    """Return a value as people write it."""
    if field not in _UNITS or not isinstance(value, float):
        return str(value)
    return shown(value, *_UNITS[field])


@dataclass(frozen=True, slots=True)
class ComparedBox:
    """One box of a returned form in words: as issued, on the form, and known now."""

    tag: str
    walker: str
    field: str
    issued: str
    form: str
    known: str
    outcome: Outcome


def compared_boxes(outcome: ReturnOutcome) -> list[ComparedBox]:
    """Return every box in which a form says something, row by row."""
    return [
        ComparedBox(
            row.tag, row.walker, box_words(one.field),
            _said(one.field, one.base), _said(one.field, one.form), _said(one.field, one.now),
            one.outcome,
        )
        for row in outcome.rows
        for one in row.compared
        if one.outcome is not Outcome.UNTOUCHED
    ]  # fmt: skip


def _said(field: str, value: Any) -> str:
    return "" if value is None else _shown(field, value)


def _row_lines(row: RowOutcome) -> Iterator[str]:
    if row.taken:
        names = sorted(box_words(one.field) for one in row.taken)
        yield f"  {row.tag}: taken {', '.join(names)}"
    for one in row.conflicts:
        yield (
            f"  {row.tag}: CONFLICT on {box_words(one.field)}: {row.walker} wrote "
            f"{_shown(one.field, one.form)}, known is {_shown(one.field, one.now)}; "
            "choose with: supports walkdown choose"
        )
    if row.compared and {one.outcome for one in row.compared} <= {
        Outcome.SAME,
        Outcome.UNTOUCHED,
    }:
        yield f"  {row.tag}: says what is known already"
    for name, why in row.doubts.items():
        yield f"  {row.tag}: NOT TAKEN {box_words(name)}: {why}"
