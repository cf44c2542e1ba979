"""Rows noted on a tablet come back: each revision once, through the same gate as any form."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from supports.database import Register
from supports.errors import NotAllowed
from supports.model import Campaign, WalkNoted
from supports.operations.acting import Deed, deed
from supports.operations.walkdowns.campaigns import move
from supports.operations.walkdowns.returns import (
    Keeping,
    ReturnedForm,
    WrittenRow,
    contradictions_of,
)
from supports.queries.walkdowns.lookups import campaign_of, content_of_form, form_of
from supports.queries.walkdowns.rows import EntryView, NotedBefore, noted_before, walked_rows
from supports.sentences import Sentence, joined
from supports.vocabulary import counted


@dataclass(frozen=True, slots=True)
class NotedRow:
    """A row as it stood on the tablet at one revision, and when it was read."""

    row: WrittenRow
    revision: int
    noted_at: datetime


@dataclass(frozen=True, slots=True)
class NotedWalk:
    """What a tablet sends of a campaign: revision of the form, rows noted."""

    revision: int
    tablet: str
    rows: tuple[NotedRow, ...]


@dataclass(frozen=True, slots=True)
class NotedAnswer:
    """What became of one row: how the campaign has it now.

    Parameters
    ----------
    is_new
        It was taken in just now; else it, or a later revision, was known.
    conflicts
        Fields on which walkers differ, with all words; a person chooses.
    doubts
        Fields that could not be read, with the reason.
    """

    item_id: int
    revision: int
    is_new: bool
    conflicts: tuple[str, ...]
    doubts: Mapping[str, str]


def take_noted(
    register: Register, number: str, noted: NotedWalk, *, acting: str, now: datetime
) -> tuple[NotedAnswer, ...]:
    """Take in what is new of what a tablet sends; whatever was taken before changes nothing.

    A later revision of a row stands in for an earlier one of the same tablet, in whichever order
    they arrive; all are kept.

    Raises
    ------
    NotFound
        No form of this revision was issued.
    BadInput
        A row is not on that form.
    NotAllowed
        The rows were noted by somebody else.
    NotReady
        The campaign takes no forms any more.
    """
    with deed(register, acting, now, action="take in from a tablet", subject=number) as act:
        campaign = campaign_of(act.session, number)
        issued = form_of(act.session, campaign, noted.revision)
        known = noted_before(act.session, issued, noted.tablet)
        _require_own(act, noted, known.values())
        new = [one for one in _newest(noted.rows) if _is_later(one, known)]
        if new:
            move(act, campaign, "return", f"from a tablet, {counted(len(new), 'row')}")
            kept = Keeping(act, campaign, issued, content_of_form(issued))
            _keep(kept, noted.tablet, new, known)
        return tuple(_answers(act, campaign, noted.rows, new))


def _require_own(act: Deed, noted: NotedWalk, known: Iterable[NotedBefore]) -> None:
    """Raise unless all was noted by who sends it; a copy stays with one person."""
    writers = {one.row.walker for one in noted.rows} | {one.person for one in known}
    if others := writers - {act.person.name}:
        raise NotAllowed(
            "what one person noted is not sent by another",
            found=Sentence(
                "noted by {names}, sent by {person}",
                names=joined(sorted(others), ", "),
                person=act.person.name,
            ),
            remedy="Let whoever noted it sign in on this tablet, then send",
        )


def _newest(rows: Iterable[NotedRow]) -> list[NotedRow]:
    """Return the last revision of each row."""
    by_row: dict[int, NotedRow] = {}
    for one in sorted(rows, key=lambda one: one.revision):
        by_row[one.row.item_id] = one
    return list(by_row.values())


def _is_later(one: NotedRow, known: Mapping[int, NotedBefore]) -> bool:
    before = known.get(one.row.item_id)
    return before is None or one.revision > before.revision


def _keep(
    kept: Keeping, tablet: str, new: Collection[NotedRow], known: Mapping[int, NotedBefore]
) -> None:
    act = kept.act
    back = kept.open_return(ReturnedForm(kept.content.revision, act.person.name, ()))
    replaced = {one.row.item_id: _before(kept, one, known) for one in new}
    for one in new:
        kept.row(back, one.row, replaced[one.row.item_id])
    act.session.flush()
    for one in new:
        entry, before = kept.added.get(one.row.item_id), replaced[one.row.item_id]
        act.session.add(
            WalkNoted(
                form_id=kept.issued.id,
                tablet=tablet,
                item_id=one.row.item_id,
                revision=one.revision,
                person=act.person.name,
                noted_at=one.noted_at,
                sent_at=act.now,
                entry_id=entry.id if entry else None,
                replaces_id=before.id if entry and before else None,
            )
        )


def _before(kept: Keeping, one: NotedRow, known: Mapping[int, NotedBefore]) -> EntryView | None:
    """Return what still stands of an earlier revision of the row."""
    before, row = known.get(one.row.item_id), kept.now.get(one.row.item_id)
    if before is None or row is None:
        return None
    return next((entry for entry in row.entries if entry.id == before.entry_id), None)


def _answers(
    act: Deed, campaign: Campaign, rows: Iterable[NotedRow], new: Collection[NotedRow]
) -> Iterator[NotedAnswer]:
    act.session.flush()
    held = {row.item.id: row for row in walked_rows(act.session, campaign)}
    for one in rows:
        row = held[one.row.item_id]
        own = [entry for entry in row.entries if entry.walker == act.person.name]
        yield NotedAnswer(
            one.row.item_id,
            one.revision,
            one in new,
            tuple(contradictions_of(row)),
            own[-1].doubts if own else {},
        )
