"""Forms that come back: compared three ways, all entries kept, one chosen by name, reviewed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import BadInput, NotFound, NotReady
from supports.model import (
    Campaign,
    CampaignItem,
    Reading,
    WalkChoice,
    WalkEntry,
    WalkForm,
    WalkReading,
    WalkReturn,
)
from supports.operations.acting import Deed, deed
from supports.operations.walkdowns.campaigns import move
from supports.queries.walkdowns.lookups import campaign_of, content_of_form, form_of, item_of
from supports.queries.walkdowns.rows import (
    EntryView,
    WalkedRow,
    forms_out,
    people_of_returns,
    walked_rows,
)
from supports.rules.walkdown.compare import Compared, Outcome, three_ways
from supports.rules.walkdown.form import FormContent, FormRow
from supports.rules.walkdown.intake import TakenRow, Written, take_row
from supports.rules.walkdown.words import box_words
from supports.rules.workflow import require_other_person
from supports.sentences import Sentence
from supports.vocabulary import SettingMethod


@dataclass(frozen=True, slots=True)
class WrittenRow:
    """A row as it came back: which, by whom, and what stands in its boxes."""

    item_id: int
    walker: str
    written: Written


@dataclass(frozen=True, slots=True)
class ReturnedForm:
    """A form that came back, as a file or keyed in from paper."""

    revision: int
    walker: str
    rows: tuple[WrittenRow, ...]
    file_name: str = ""
    file_hash: str = ""


@dataclass(frozen=True, slots=True)
class RowOutcome:
    """What became of one row."""

    tag: str
    compared: tuple[Compared, ...]
    doubts: Mapping[str, str]
    walker: str = ""

    @property
    def conflicts(self) -> tuple[Compared, ...]:
        """Return the fields that a person must choose on."""
        return tuple(one for one in self.compared if one.outcome is Outcome.CONFLICT)

    @property
    def taken(self) -> tuple[Compared, ...]:
        """Return the fields taken from the form."""
        return tuple(one for one in self.compared if one.outcome is Outcome.PROPOSED)


@dataclass(frozen=True, slots=True)
class ReturnOutcome:
    """What became of a form."""

    rows: tuple[RowOutcome, ...]
    revision: int
    newest: int
    known_already: bool = False

    @property
    def is_old(self) -> bool:
        """Return whether a newer form was issued meanwhile."""
        return self.revision < self.newest


def take_return(
    register: Register, number: str, form: ReturnedForm, *, acting: str, now: datetime
) -> ReturnOutcome:
    """Keep what a form says; a file read twice changes nothing.

    Raises
    ------
    NotFound
        No form of this revision was issued.
    BadInput
        A row is not on that form, or a day lies ahead.
    """
    with deed(register, acting, now, action="read a walkdown form in", subject=number) as act:
        session, campaign = act.session, campaign_of(act.session, number)
        issued, newest = form_of(session, campaign, form.revision), form_of(session, campaign)
        if form.file_hash and _read_before(session, campaign, form.file_hash):
            return ReturnOutcome((), issued.revision, newest.revision, known_already=True)
        move(act, campaign, "return", form.file_name or "keyed in")
        kept = Keeping(act, campaign, issued, content_of_form(issued))
        back = kept.open_return(form)
        outcomes = tuple(kept.row(back, row) for row in form.rows)
        return ReturnOutcome(outcomes, issued.revision, newest.revision)


def _read_before(session: Session, campaign: Campaign, file_hash: str) -> bool:
    query = (
        select(WalkReturn.id)
        .join(WalkForm, WalkReturn.form_id == WalkForm.id)
        .where(WalkForm.campaign_id == campaign.id, WalkReturn.file_hash == file_hash)
    )
    return session.scalar(query.limit(1)) is not None


class Keeping:
    """The rows of one returned form on their way into the register."""

    def __init__(
        self, act: Deed, campaign: Campaign, issued: WalkForm, content: FormContent
    ) -> None:
        self.act, self.issued, self.content = act, issued, content
        self.now = {row.item.id: row for row in walked_rows(act.session, campaign)}
        self.added: dict[int, WalkEntry] = {}

    def open_return(self, form: ReturnedForm) -> WalkReturn:
        """Keep that a form came back, by whom it was walked and by whom keyed in."""
        back = WalkReturn(
            form_id=self.issued.id,
            walker=form.walker,
            keyed_by=self.act.person.name,
            keyed_at=self.act.now,
            file_name=form.file_name or None,
            file_hash=form.file_hash or None,
        )
        self.act.session.add(back)
        self.act.session.flush()
        return back

    def row(
        self, back: WalkReturn, row: WrittenRow, replaces: EntryView | None = None
    ) -> RowOutcome:
        """Keep one row, if it says anything that its issue did not.

        Parameters
        ----------
        replaces
            What the same tablet said before of this row: the row is kept if it says otherwise.
        """
        issued = self.content.row(row.item_id)
        if issued is None:
            raise BadInput(
                "a row is not on the form that was issued",
                found=Sentence("row of item {item_id}", item_id=str(row.item_id)),
            )
        taken = take_row(row.written, issued)
        if taken.is_blank and replaces is None:
            return RowOutcome(issued.tag, (), {}, row.walker)
        self._refuse_days_ahead(taken, issued)
        known = self.now[row.item_id]
        compared = three_ways(issued.base, taken.values, known.settled.values)
        said = {one.field: one.form for one in compared if one.outcome is not Outcome.UNTOUCHED}
        if replaces is not None:
            adds = (said, taken.doubts) != (replaces.values, replaces.doubts)
        else:
            adds = self._adds(compared, taken, known, row.walker)
        if adds:
            self.added[row.item_id] = self._add(back, row, taken, said)
        return RowOutcome(issued.tag, compared, taken.doubts, row.walker)

    def _refuse_days_ahead(self, taken: TakenRow, issued: FormRow) -> None:
        day = taken.values.get("read_on")
        if day is not None and date.fromisoformat(day) > self.act.today:
            raise BadInput(
                Sentence("{tag}: a reading cannot be of a day to come", tag=issued.tag), found=day
            )

    def _adds(
        self, compared: Sequence[Compared], taken: TakenRow, known: WalkedRow, walker: str
    ) -> bool:
        outcomes = {one.outcome for one in compared}
        own = any(entry.walker == walker for entry in known.entries)
        if outcomes & {Outcome.PROPOSED, Outcome.CONFLICT}:
            return True
        return bool(taken.doubts) or (Outcome.SAME in outcomes and not own)

    def _add(
        self, back: WalkReturn, row: WrittenRow, taken: TakenRow, said: dict[str, Any]
    ) -> WalkEntry:
        day = taken.values.get("read_on")
        entry = WalkEntry(
            return_id=back.id,
            item_id=row.item_id,
            walker=row.walker,
            read_on=date.fromisoformat(day) if day else None,
            values=said,
            written=taken.written,
            doubts=taken.doubts,
        )
        self.act.session.add(entry)
        return entry


def choose_entry(
    register: Register,
    number: str,
    place: tuple[str, str],
    walker: str,
    *,
    acting: str,
    reason: str,
    now: datetime,
) -> None:
    """Choose one walker's entry where several differ; the others are kept beside it.

    Raises
    ------
    BadInput
        No reason is given.
    NotFound
        That walker wrote nothing there.
    """
    if not reason.strip():
        raise BadInput("to choose between readings, give the reason")
    with deed(register, acting, now, action="choose a reading", reason=reason) as act:
        campaign = campaign_of(act.session, number)
        if campaign.state != "forms back":
            raise NotReady("readings are chosen while forms are back", (campaign.state,))
        item = item_of(act.session, campaign, *place)
        row = next(r for r in walked_rows(act.session, campaign) if r.item.id == item.id)
        entry = next((e for e in reversed(row.entries) if e.walker == walker), None)
        if entry is None:
            wrote = ", ".join(dict.fromkeys(e.walker for e in row.entries)) or "nobody"
            raise NotFound(
                Sentence("{walker} wrote nothing at {place}", walker=walker, place=place[0]),
                found=Sentence("entries by {wrote}", wrote=wrote),
            )
        act.session.add(
            WalkChoice(
                item_id=item.id,
                entry_id=entry.id,
                chosen_by=act.person.name,
                chosen_at=act.now,
                reason=reason,
            )
        )


def read_in(
    register: Register, number: str, *, acting: str, now: datetime, lost: Sequence[str] = ()
) -> None:
    """Declare all forms read in; a lost form is named with its holder.

    Raises
    ------
    NotReady
        Forms are still out, or readings contradict each other; all are named.
    """
    reason = f"lost: {', '.join(lost)}" if lost else ""
    with deed(register, acting, now, action="forms read in", reason=reason) as act:
        campaign = campaign_of(act.session, number)
        out = [name for name in forms_out(act.session, campaign) if name not in lost]
        blockers: list[str] = [
            Sentence("the form of {name} is not back", name=name) for name in out
        ]
        blockers += contradictions(act.session, campaign)
        if blockers:
            raise NotReady(Sentence("{number} is not read in", number=number), blockers)
        move(act, campaign, "read in", reason)


def contradictions(session: Session, campaign: Campaign) -> list[str]:
    """Return rows on which walkers differ and nobody has chosen, with both words."""
    content = content_of_form(form_of(session, campaign))
    told: list[str] = []
    for row in walked_rows(session, campaign):
        issued = content.row(row.item.id)
        tag = issued.tag if issued else _row(row)
        told += [
            Sentence("{tag} {words}", tag=tag, words=words) for words in contradictions_of(row)
        ]
    return told


def contradictions_of(row: WalkedRow) -> list[str]:
    """Return the fields of a row on which walkers differ and nobody has chosen, with all words."""
    told: list[str] = []
    for name in row.settled.conflicts:
        words = tuple(
            f"{entry.walker}: {entry.written.get(name, entry.values[name])}"
            for entry in row.entries
            if name in entry.values
        )
        told.append(Sentence("{field}: {words}", field=box_words(name), words=words))
    return told


def take_back(register: Register, number: str, *, acting: str, reason: str, now: datetime) -> None:
    """Go back from 'read in' to 'forms back', for a form that turns up or a wrong choice."""
    with deed(register, acting, now, action="forms taken back", reason=reason) as act:
        move(act, campaign_of(act.session, number), "take back", reason)


def review(register: Register, number: str, *, acting: str, now: datetime) -> int:
    """Take the rows into the register as readings; return how many.

    Raises
    ------
    NotAllowed
        The reviewer walked or keyed in.
    NotReady
        Values stand without their day or their plant state.
    """
    with deed(register, acting, now, action="review a walkdown", subject=number) as act:
        session, campaign = act.session, campaign_of(act.session, number)
        require_other_person(
            "review the walk", act.person.name, people_of_returns(session, campaign),
            "they walked or keyed in",
        )  # fmt: skip
        rows = walked_rows(session, campaign)
        blockers = [b for row in rows for b in _undated(session, campaign, row)]
        if blockers:
            raise NotReady(Sentence("{number} cannot be reviewed", number=number), blockers)
        move(act, campaign, "review")
        stored = [_store(session, row) for row in rows if _is_reading(row)]
        return len(stored)


def _undated(session: Session, campaign: Campaign, row: WalkedRow) -> list[str]:
    found = row.found
    if not found.has_value or (found.read_on and found.half):
        return []
    issued = content_of_form(form_of(session, campaign)).row(row.item.id)
    tag = issued.tag if issued else _row(row)
    if found.read_on:
        return [Sentence("{tag}: plant state not stated", tag=tag)]
    if found.half:
        return [Sentence("{tag}: day of the reading not stated", tag=tag)]
    return [Sentence("{tag}: day of the reading and plant state not stated", tag=tag)]


def _row(row: WalkedRow) -> Sentence:
    return Sentence("row {row}", row=str(row.item.order_no))


def _is_reading(row: WalkedRow) -> bool:
    return row.item.unit_id is not None and row.found.has_value


def _store(session: Session, row: WalkedRow) -> CampaignItem:
    found = row.found
    first, *others = found.walkers or ("not known",)
    reading = Reading(
        unit_id=row.item.unit_id,
        read_on=found.read_on,
        plant_state=found.plant_state,
        pipe_temperature=found.pipe_temperature,
        scale_load=found.load,
        pointer=found.pointer,
        rod_angle=found.rod_angle,
        read_by=first,
        second_reader=", ".join(others) or None,
        method=SettingMethod.SCALE,
        occasion="walkdown",
        note=found.remarks or None,
    )
    session.add(reading)
    session.flush()
    session.add(WalkReading(item_id=row.item.id, reading_id=reading.id))
    return row.item
