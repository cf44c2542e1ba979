"""Rows of a campaign noted on a tablet: seals checked row by row, the rest taken as any form."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from app.tablets.sent import KNOWN, TAKEN, RowAnswer, SentRow, SentRows, noted_at, refused
from app.walkdown_papers import walk_seals
from app.words import counting
from importers.walkdown_form import FIELDS, LINE_FIELDS
from supports.database import Register
from supports.errors import BadInput
from supports.operations.walkdowns.returns import WrittenRow
from supports.operations.walkdowns.tablets import NotedAnswer, NotedRow, NotedWalk, take_noted
from supports.plant_time import Zone, day_of
from supports.queries.walkdowns.lookups import campaign_of, content_of_form, form_of
from supports.rules.walkdown.form import FormContent
from supports.rules.walkdown.words import box_words
from supports.sentences import Sentence

BOXES = frozenset({*FIELDS.values(), *LINE_FIELDS.values()}) - {"read_on"}
"""What can be written on a tablet; the day is that on which it was noted."""


def take_walk(register: Register, sent: SentRows, *, acting: str, now: datetime) -> list[RowAnswer]:
    """Take rows in; what was sent before changes nothing, what was altered is refused by row.

    Raises
    ------
    BadInput
        The form is none of this campaign.
    NotAllowed
        Somebody else noted the rows.
    NotReady
        The campaign takes no forms any more.
    """
    revision = _revision(sent)
    with register.reading() as session:
        content = content_of_form(form_of(session, campaign_of(session, sent.number), revision))
        issued = _issued(content, walk_seals(session, content))
    true = [one for one in sent.rows if issued.get(one.row) == (one.seal, one.tag, one.line)]
    rows = tuple(_noted(sent, one, now, register.zone) for one in true)
    noted = NotedWalk(revision, sent.tablet, rows)
    taken = take_noted(register, sent.number, noted, acting=acting, now=now)
    answers = {(str(one.item_id), one.revision): _answer(one) for one in taken}
    return [answers.get((one.row, one.revision)) or refused(one, _ALTERED) for one in sent.rows]


_ALTERED = Sentence(
    "the row was altered where it may not be, or is not on this form; it is not taken"
)


def _revision(sent: SentRows) -> int:
    number, _, written = sent.form.rpartition("/")
    revision = counting(written)
    if number != sent.number or revision is None:
        raise BadInput("the form is of another campaign", found=sent.form, expected=sent.number)
    return revision


def _issued(content: FormContent, seals: Mapping[int, str]) -> dict[str, tuple[str, str, str]]:
    return {str(row.item_id): (seals[row.item_id], row.tag, row.line) for row in content.rows}


def _noted(sent: SentRows, one: SentRow, now: datetime, zone: Zone) -> NotedRow:
    moment = noted_at(sent, one, now)
    written = {name: text for name, text in one.written.items() if name in BOXES}
    if any(written[name].strip() for name in written.keys() - set(LINE_FIELDS.values())):
        written["read_on"] = day_of(moment, zone).isoformat()
    return NotedRow(WrittenRow(int(one.row), sent.person, written), one.revision, moment)


def _answer(one: NotedAnswer) -> RowAnswer:
    conflicts = [
        Sentence("conflict on {words}; a person chooses", words=words) for words in one.conflicts
    ]
    doubts = [
        Sentence("not taken, {field} {why}", field=box_words(name), why=why)
        for name, why in one.doubts.items()
    ]
    return RowAnswer(
        row=str(one.item_id),
        revision=one.revision,
        became=TAKEN if one.is_new else KNOWN,
        words=(*conflicts, *doubts),
    )
