"""What the screens of the record show: who is asked about, past days, what differs, the check."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy.orm import Session

from app.web.record_words import KINDS
from supports.audit import first_break
from supports.errors import BadInput
from supports.model import AuditBatch
from supports.queries.as_of import register_as_of
from supports.queries.audit_head import AuditHead, ClockSetBack, audit_head, clocks_set_back
from supports.queries.differences import Difference, differences, rows_of_line, rows_of_point
from supports.queries.history import rows_of_change
from supports.queries.lookups import change_of, line_of, point_of
from supports.queries.plant_days import end_of_day
from supports.queries.record import RecordAsked, RowName
from supports.queries.register_list import ListFilter, Page, Place, count_listed, listed_page
from supports.queries.row_names import RowNames
from supports.queries.rows_and_record import departures
from supports.sentences import Sentence, joined

OF_THE_LIST = (
    "support_point", "support_tag", "area", "assembly", "attachment", "line", "unit",
    "unit_placement", "setting_event", "reading", "work_order_line", "work_order",
)  # fmt: skip
"""Tables that the list of supports is made of."""
DEPARTURES_SHOWN = 50


@dataclass(frozen=True, slots=True)
class About:
    """Support, line and change that are asked about; each may be left out."""

    support: str = ""
    line: str = ""
    change: str = ""

    def __bool__(self) -> bool:
        """Return whether anything is named."""
        return bool(self.support or self.line or self.change)

    def rows(self, session: Session) -> frozenset[RowName] | None:
        """Return the rows that all that is named has in common; None where nothing is named."""
        sets: list[set[RowName]] = []
        if self.support:
            sets.append(set(rows_of_point(session, point_of(session, self.support))))
        if self.line:
            sets.append(set(rows_of_line(session, line_of(session, self.line))))
        if self.change:
            sets.append(set(rows_of_change(session, change_of(session, self.change))))
        return frozenset(set.intersection(*sets)) if sets else None


def asked_of_record(
    session: Session, about: About, kind: str, person: str, days: tuple[date | None, date | None]
) -> RecordAsked:
    """Return what narrows the record.

    Raises
    ------
    BadInput
        There is no such kind of entry.
    """
    if kind and kind not in KINDS:
        raise BadInput("no such kind of entry", found=kind, expected=joined(KINDS, ", "))
    tables = KINDS[kind] if kind else ()
    return RecordAsked(about.rows(session), tables, person, *days)


def list_as_of(
    session: Session, day: date, asked: ListFilter, places: tuple[Place | None, Place | None]
) -> tuple[Page, int]:
    """Return a page of the list of supports as it stood at the end of a day, and their number."""
    with register_as_of(session, end_of_day(session, day), OF_THE_LIST) as then:
        page = listed_page(then, asked, after=places[0], before=places[1])
        return page, count_listed(then, asked)


@dataclass(frozen=True, slots=True)
class Differs:
    """A difference with what its row is about."""

    about: str
    one: Difference


def differing(session: Session, since: date, until: date, about: About) -> list[Difference]:
    """Return what differs between the ends of two days.

    Raises
    ------
    BadInput
        The second day is before the first.
    """
    if until < since:
        raise BadInput(
            "the second day is before the first",
            found=f"{until}",
            expected=Sentence("{since} or later", since=str(since)),
        )
    found = differences(
        session, end_of_day(session, since), end_of_day(session, until), about.rows(session)
    )
    return [one for one in found if one.field != "row_version"]


def named(session: Session, found: Sequence[Difference]) -> tuple[Differs, ...]:
    """Return differences with what each is about."""
    names = RowNames(session)
    return tuple(Differs(names.of(*one.row), one) for one in found)


@dataclass(frozen=True, slots=True)
class Checked:
    """What a check of the record found.

    Parameters
    ----------
    departed
        Rows that do not say what the record says; None where the rows were not looked at.
    """

    head: AuditHead
    broken: AuditBatch | None
    back: tuple[ClockSetBack, ...]
    departed: tuple[str, ...] | None

    @property
    def holds(self) -> bool:
        """Return whether nothing was found."""
        return self.broken is None and not self.departed


def checked_record(session: Session, *, rows: bool) -> Checked:
    """Walk the chain, and hold every row against the record if that is wanted."""
    broken = first_break(session)
    departed = tuple(map(str, departures(session))) if rows and broken is None else None
    return Checked(audit_head(session), broken, tuple(clocks_set_back(session)), departed)
