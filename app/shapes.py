"""Answers in JSON that are no view of the register already; numbers carry their unit by name."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from importers.proposing import ColumnProposal
from supports.findings import Finding
from supports.queries.provenance import Origin
from supports.rules.acceptances import Stood
from supports.rules.run import RuleCount
from supports.rules.workflow.record import Signed
from supports.rules.workflow.start_up import StartUp
from supports.snapshots import ReadingView, SettingView, SupportView, WorkOrderView


@dataclass(frozen=True, slots=True)
class Whole:
    """The record of writes is whole; the head stands for all of it."""

    whole: bool
    head: str
    clocks_set_back: tuple[str, ...]
    """Moments at which a clock had been set back, in words; order and content hold."""
    rows_held: bool
    """Whether every row was held against the record as well."""


@dataclass(frozen=True, slots=True)
class Batch:
    """One batch of writes."""

    number: int
    written_at: datetime
    actor: str
    action: str
    rows: int
    reason: str


@dataclass(frozen=True, slots=True)
class Refused:
    """Something that was asked for and refused."""

    asked_at: datetime
    asked_by: str
    action: str
    answer: str


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """A change in a list."""

    number: str
    title: str
    state: str


@dataclass(frozen=True, slots=True)
class UnitVerdict:
    """What an assessment says of one unit."""

    tag: str
    position: str
    verdict: str
    present_N: float | None
    required_N: float | None
    turns: int | None
    flats: int | None
    direction: str
    reasons: tuple[str, ...]
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ChangeStanding:
    """Where a change stands."""

    number: str
    title: str
    state: str
    lines: tuple[str, ...]
    requested_by: str
    requested_on: date
    reason: str
    depth: str
    stretch: str
    items: dict[str, str]
    """The five items of the record, by name."""
    assessment: tuple[UnitVerdict, ...]
    orders: tuple[WorkOrderView, ...]
    signatures: tuple[Signed, ...]
    blocks_approval: tuple[str, ...]
    blocks_closing: tuple[str, ...]
    next: str


@dataclass(frozen=True, slots=True)
class AsOf:
    """A support, the supports of a line, or a change, as known at the end of a day."""

    day: date
    supports: tuple[SupportView, ...]
    change: ChangeStanding | None


@dataclass(frozen=True, slots=True)
class PaperRow:
    """A paper of the catalogue."""

    name: str
    purpose: str
    who: str
    about: str
    forms: tuple[str, ...]
    languages: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PersonRow:
    """A person with the roles held today."""

    name: str
    initials: str
    roles: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FindingsNow:
    """What the rules find now, and how often each gave which answer."""

    findings: tuple[Stood, ...]
    counts: tuple[RuleCount, ...]


@dataclass(frozen=True, slots=True)
class LimitNow:
    """A limit as it holds for the site, a line or a class; `unit` is the one it is shown in."""

    name: str
    scope: str
    value_si: float
    shown: str
    unit: str
    said: str


@dataclass(frozen=True, slots=True)
class NumberNow:
    """A period or a norm as it holds, in its own unit."""

    name: str
    value: float
    unit: str
    meaning: str
    laid_down: bool
    source: str


@dataclass(frozen=True, slots=True)
class FileChecked:
    """What a file would store: counts of each subject by what happens to it."""

    file: str
    subjects: dict[str, dict[str, int]]
    findings: tuple[Finding, ...]
    forbids_storing: bool


@dataclass(frozen=True, slots=True)
class UnitHistory:
    """Every setting and reading of a unit, oldest first."""

    tag: str
    serial: str
    settings: tuple[SettingView, ...]
    readings: tuple[ReadingView, ...]


@dataclass(frozen=True, slots=True)
class TurnaroundRow:
    """A turnaround in a list."""

    number: str
    title: str
    begins_on: date
    ends_on: date
    frozen_on: date | None


@dataclass(frozen=True, slots=True)
class ValueChecked:
    """A published value, ours, and how far apart they may be, in the unit beside."""

    subject: str
    what: str
    unit: str
    published: float
    here: float
    difference: float
    allowed: float
    agrees: bool
    source: str
    trust: str


@dataclass(frozen=True, slots=True)
class ItemSeen:
    """A row of a campaign."""

    order: int
    tag: str
    position: str
    standing: str
    found: str


@dataclass(frozen=True, slots=True)
class CampaignShown:
    """A campaign row by row, and what stands in the way of signing it off."""

    number: str
    title: str
    half: str
    walk_on: date
    state: str
    items: tuple[ItemSeen, ...]
    forms_out_with: tuple[str, ...]
    blockers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AreaSeen:
    """How many supports of an area were seen; '' is no area, `None` the whole plant."""

    area: str | None
    supports: int
    seen: int
    never: int
    overdue: int
    unpaired: int


@dataclass(frozen=True, slots=True)
class Sampling:
    """When to look again at shock arrestors, and how many to test."""

    next_look_months: float
    why: str
    to_test: int


@dataclass(frozen=True, slots=True)
class StepRow:
    """A step of a change: from where, to where, by whom, on what evidence."""

    act: str
    from_states: tuple[str, ...]
    to: str
    roles: tuple[str, ...]
    evidence: str


@dataclass(frozen=True, slots=True)
class Text:
    """A document as it would be printed."""

    text: str


@dataclass(frozen=True, slots=True)
class UnitAsked:
    """A unit that answers to a question."""

    unit: str
    tag: str
    line: str
    kind: str
    required_N: float | None
    setting_N: float | None
    room_left_N: float | None
    last_read: date | None
    stop: int
    act: int
    cannot_judge: int
    rules: str
    verdict: str | None = None


@dataclass(frozen=True, slots=True)
class SupportShown:
    """A support, and where its values were read if that was asked for."""

    support: SupportView
    sources: tuple[Origin, ...]


@dataclass(frozen=True, slots=True)
class StartUpAnswer:
    """May we start up? `answer` is yes, no or not known; `rests_on` everything it rests on."""

    answer: str
    rests_on: StartUp


@dataclass(frozen=True, slots=True)
class SheetProposed:
    """What a sheet of a stranger's file is proposed to be read as."""

    sheet: str
    heading_row: int
    read_as: str
    reason: str
    runner_up: str
    columns: tuple[ColumnProposal, ...]
    missing: tuple[str, ...]
