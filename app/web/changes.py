"""What the change desk shows, gathered from the register; nothing is decided here."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from app.change_pages import blockers_of
from app.lines import made_ready
from app.possible import Possible, on_change
from reports.contents.load_change_summary import SupportRow
from reports.contents.summary_of_assessment import support_rows
from supports.calc.line.aims import Aim
from supports.errors import CannotCalculate, InputHasFaults, NotReady
from supports.model import Assessment, Change, ChangeProof
from supports.queries.asked_once import ask_together
from supports.queries.audit_head import audit_head
from supports.queries.change_record import change_record, signed_on_change, unmet_changes
from supports.queries.change_views import content_of, latest_assessment_or_none
from supports.queries.history import Event, change_history
from supports.queries.lookups import change_of
from supports.queries.periods import periods_in_force
from supports.queries.plans import PlanOnRecord, plan_on_record, plans_of_change
from supports.queries.plant_days import day_at
from supports.queries.plant_standing import change_waits_for, open_changes
from supports.queries.proofs import items_wanting, proofs_of
from supports.queries.temporary import temporary_standing
from supports.queries.work_order_views import orders_of_change
from supports.rules.assessment import AssessmentContent
from supports.rules.line import screening
from supports.rules.line.words import CAUTION, analysis_words, details, verdict_words
from supports.rules.workflow import ChangeState
from supports.rules.workflow.proofs import PROOFS, ProofItem
from supports.rules.workflow.record import ChangeRecord, Signed
from supports.snapshots import OpenChange, WorkOrderView
from supports.vocabulary import Verdict

if TYPE_CHECKING:
    from app.web.visits import Visit

ON_A_PAGE = 15
BLOCKERS_TOLD = 3


# The list


@dataclass(frozen=True, slots=True)
class ListedChange:
    """A change in the list, with what is in its way."""

    change: OpenChange
    mine: bool
    blocked: str
    blockers: tuple[str, ...]
    more: int


@dataclass(frozen=True, slots=True)
class ListedChanges:
    """A page of the list."""

    rows: tuple[ListedChange, ...]
    count: int
    page: int
    pages: int


def changes_listed(
    session: Session, visit: Visit, text: str, *, over: bool, page: int
) -> ListedChanges:
    """Return a page of changes: those that wait for the visitor first, or those that are over."""
    held = {str(role) for role in visit.roles}
    known = _over(session) if over else open_changes(session)
    wanted = [one for one in known if text.casefold() in f"{one.number} {one.title}".casefold()]
    mine = [one for one in wanted if held & set(one.waits_for)]
    order = [*mine, *(one for one in wanted if one not in mine)]
    pages = max(1, -(-len(order) // ON_A_PAGE))
    page = min(page, pages)
    shown = order[(page - 1) * ON_A_PAGE : page * ON_A_PAGE]
    numbers = {one.number for one in shown}
    found = {one.number: one for one in session.scalars(_of_numbers(numbers))}
    ask_together(session, Change, (one.id for one in found.values()))
    rows = tuple(_listed(session, visit, found[one.number], one, mine=one in mine) for one in shown)
    return ListedChanges(rows, len(order), page, pages)


def _over(session: Session) -> tuple[OpenChange, ...]:
    states = [state for state in ChangeState if state.is_over]
    query = select(Change).where(Change.state.in_(states)).order_by(Change.id.desc())
    return tuple(
        OpenChange(one.number, one.title, one.state, one.requested_on)
        for one in session.scalars(query)
    )


def _of_numbers(numbers: Collection[str]) -> Select[Change]:
    return select(Change).where(Change.number.in_(sorted(numbers)))


def _listed(
    session: Session, visit: Visit, change: Change, one: OpenChange, *, mine: bool
) -> ListedChange:
    blocked, blockers = blockers_of(session, change, visit.today)
    told = tuple(blockers[:BLOCKERS_TOLD])
    return ListedChange(one, mine, blocked, told, len(blockers) - len(told))


# One change


@dataclass(frozen=True, slots=True)
class Station:
    """One station of the road: 'behind', 'here' or 'ahead', with who and when where known."""

    name: str
    where: str
    by: str = ""
    on: date | None = None


@dataclass(frozen=True, slots=True)
class ProofGiven:
    """What was given as a proof, or until when it was put off."""

    given_by: str
    given_at: datetime
    put_off_until: date | None
    note: str


@dataclass(frozen=True, slots=True)
class Assessed:
    """Who made the newest assessment, and when."""

    revision: int
    prepared_by: str
    made_at: datetime
    fingerprint: str


@dataclass(frozen=True, slots=True)
class ProofLine:
    """One thing to be proved, and what was given for it."""

    item: ProofItem
    given: ProofGiven | None
    wanting: bool


@dataclass(frozen=True, slots=True)
class ChangeFile:
    """All that the page of a change shows."""

    number: str
    title: str
    state: ChangeState
    record: ChangeRecord
    requested_by: str
    requested_on: date
    wanted_on: date | None
    aim: str
    temporary: str
    safe_until: datetime | None
    waits_for: tuple[str, ...]
    road: tuple[Station, ...]
    blocked: str
    blockers: tuple[str, ...]
    unmet: tuple[str, ...]
    possible: tuple[Possible, ...]
    signed: tuple[Signed, ...]
    assessment: Assessed | None
    sentence: str
    plans: tuple[PlanOnRecord, ...]
    orders: tuple[WorkOrderView, ...]
    proofs: tuple[ProofLine, ...]

    @property
    def net_mass(self) -> float:
        """Return what is added less what is taken off [kg]."""
        return sum(item.mass for item in self.record.weights)


def change_file(session: Session, number: str, now: datetime) -> ChangeFile:
    """Return all that the page of a change shows."""
    change = change_of(session, number)
    assessment = latest_assessment_or_none(session, change.id)
    signed = tuple(signed_on_change(session, change))
    blocked, blockers = blockers_of(session, change, day_at(session, now))
    return ChangeFile(
        number=change.number,
        title=change.title,
        state=ChangeState(change.state),
        record=change_record(session, change),
        requested_by=change.requested_by,
        requested_on=change.requested_on,
        wanted_on=change.wanted_on,
        aim=change.aim or "",
        temporary=temporary_standing(session, change, day_at(session, now)),
        safe_until=change.safe_until,
        waits_for=change_waits_for(session, change),
        road=tuple(_road(session, change, assessment, signed)),
        blocked=blocked,
        blockers=tuple(blockers),
        unmet=tuple(one.number for one in unmet_changes(session, change)),
        possible=on_change(session, change, day_at(session, now)),
        signed=signed,
        assessment=None
        if assessment is None
        else Assessed(
            assessment.revision, assessment.prepared_by, assessment.made_at, assessment.fingerprint
        ),
        sentence=content_of(assessment).sentence if assessment else "",
        plans=tuple(plan_on_record(session, one) for one in plans_of_change(session, change.id)),
        orders=tuple(orders_of_change(session, change.id)),
        proofs=tuple(_proofs(session, change, now)),
    )


ROAD = ("noted", "sifted", "assessed", "checked", "approved", "done at the line", "proved",
        "closed")  # fmt: skip
_S = ChangeState
_HERE = {
    _S.NOTED: 1, _S.MADE_SAFE: 1, _S.BEING_WORKED_OUT: 2, _S.SENT_BACK: 2, _S.BEING_CHECKED: 3,
    _S.BEFORE_THE_APPROVER: 4, _S.CLEARED: 5, _S.BEING_DONE: 5, _S.TO_BE_PROVED: 6,
    _S.IN_FORCE: 7, _S.CLOSED: 8,
}  # fmt: skip
"""Which station comes next, by where a change stands; on no road where it left it."""


def _road(
    session: Session, change: Change, assessment: Assessment | None, signed: Sequence[Signed]
) -> Iterator[Station]:
    here = _HERE.get(ChangeState(change.state))
    if here is None:
        return
    by: dict[str, tuple[str, date]] = {"noted": (change.requested_by, change.requested_on)}
    if assessment is not None:
        by["assessed"] = (assessment.prepared_by, day_at(session, assessment.made_at))
    for one in signed:
        if one.stands and one.meaning in {"checked", "approved"}:
            by[one.meaning] = (one.person, day_at(session, one.signed_at))
    for place, name in enumerate(ROAD):
        where = "behind" if place < here else "here" if place == here else "ahead"
        yield Station(name, where, *(by.get(name, ("",)) if place < here else ()))


def _proofs(session: Session, change: Change, now: datetime) -> Iterator[ProofLine]:
    given = {proof.item: proof for proof in proofs_of(session, change.id)}
    wanting = items_wanting(session, change, day_at(session, now))
    for item in PROOFS:
        yield ProofLine(item, _given(given.get(item.proof)), item in wanting)


def _given(proof: ChangeProof | None) -> ProofGiven | None:
    if proof is None:
        return None
    return ProofGiven(proof.given_by, proof.given_at, proof.put_off_until, proof.note)


# Its pages


@dataclass(frozen=True, slots=True)
class Judged:
    """The newest assessment, a row for every unit."""

    content: AssessmentContent
    rows: tuple[SupportRow, ...]
    counts: tuple[tuple[str, int], ...]


def judged_rows(session: Session, number: str) -> Judged | None:
    """Return the newest assessment of a change; None if it was not assessed."""
    assessment = latest_assessment_or_none(session, change_of(session, number).id)
    if assessment is None:
        return None
    content = content_of(assessment)
    rows = support_rows(content.supports, content.judgements, content.change.lines)
    counts = tuple((str(verdict), content.count(verdict)) for verdict in Verdict)
    return Judged(content, rows, counts)


@dataclass(frozen=True, slots=True)
class ScreenedLine:
    """One line screened through a change; `missing` says why it could not be."""

    line: str
    found: screening.Screening | None = None
    verdict: str = ""
    details: tuple[str, ...] = ()
    analysis: str = ""
    planned: bool = False
    missing: str = ""
    caution: str = CAUTION


def screened_lines(session: Session, number: str) -> tuple[ScreenedLine, ...]:
    """Return every line of a change, screened; the aim is the engineer's if it is on the list."""
    change = change_of(session, number)
    known = change.aim in set(Aim)
    aim = Aim(change.aim or "") if known else Aim.KEEP
    lines = change_record(session, change).lines
    return tuple(_screened(session, number, line, aim, known=known) for line in lines)


def _screened(session: Session, number: str, line: str, aim: Aim, *, known: bool) -> ScreenedLine:
    try:
        found = screening.screen(made_ready(session, line, number), aim)
    except (NotReady, CannotCalculate, InputHasFaults) as error:
        return ScreenedLine(line, missing=error.said)
    return ScreenedLine(
        line, found, verdict_words(found), details(found), analysis_words(found.need), known
    )


@dataclass(frozen=True, slots=True)
class Told:
    """The history of a change."""

    events: tuple[Event, ...]
    people: tuple[tuple[str, int], ...]
    refused: int
    head: str
    keep_years: float


def history_of(session: Session, number: str) -> Told:
    """Return all that was done on a change, oldest first, with refusals."""
    change = change_of(session, number)
    events = tuple(change_history(session, change))
    people = Counter(event.actor for event in events)
    return Told(
        events,
        tuple(people.items()),
        sum(event.is_refusal for event in events),
        str(audit_head(session)),
        periods_in_force(session, change.requested_on).keep_years,
    )
