"""What leaves the register besides the sheets that come in again; what stays is counted."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.model import (
    Base,
    Change,
    Line,
    Person,
    PersonRole,
    PropEvent,
    Reading,
    SettingEvent,
    Signature,
    SiteSetting,
    SupportTag,
    TravelStopEvent,
    Unit,
)
from supports.queries.existing import plain_columns
from supports.queries.site import FORM_KEY

Cell = str | int | float | date | datetime | None
Rows = list[list[Cell]]

_IN_SHEETS = {
    "area", "line", "support_point", "assembly", "attachment", "unit", "unit_placement",
    "nameplate", "hardware_piece", "calculation", "design_case", "required_load", "nozzle_limit",
    "setting_event", "reading", "line_node", "line_element", "line_end",
}  # fmt: skip
"""Tables that the sheets which come in again are made of."""

_IN_HISTORY = {
    "support_tag",
    "person",
    "person_role",
    "site_setting",
    "travel_stop_event",
    "prop_event",
    "change",
    "signature",
}


def history_tables(session: Session) -> dict[str, Rows]:
    """Return what is written for reading only, headings first, by name."""
    found = {
        "Tags through time": _tags(session),
        "People and roles": _people(session),
        "Site settings": _settings(session),
        "Travel stops": _stops(session),
        "Props": _props(session),
        "Changes": _changes(session),
        "Signatures": _signatures(session),
    }
    return {name: rows for name, rows in found.items() if len(rows) > 1}


def _table(headings: list[Cell], rows: Iterable[Iterable[Cell]]) -> Rows:
    return [headings, *(list(row) for row in rows)]


def _tags(session: Session) -> Rows:
    query = select(
        SupportTag.point_id, SupportTag.tag, SupportTag.valid_from, SupportTag.valid_to,
        SupportTag.source,
    ).order_by(SupportTag.point_id, SupportTag.id)  # fmt: skip
    head: list[Cell] = ["Point", "Support tag", "Borne from", "Borne to", "Source"]
    return _table(head, ([f"P{row[0]:06d}", *row[1:]] for row in session.execute(query)))


def _people(session: Session) -> Rows:
    query = (
        select(
            Person.name, Person.initials, PersonRole.role, PersonRole.valid_from,
            PersonRole.valid_to, PersonRole.deputy_for,
        )
        .outerjoin(PersonRole, PersonRole.person_id == Person.id)
        .order_by(Person.name, PersonRole.id)
    )  # fmt: skip
    head: list[Cell] = ["Name", "Initials", "Role", "From", "To", "Deputy for"]
    return _table(head, session.execute(query))


def _settings(session: Session) -> Rows:
    query = select(SiteSetting).where(SiteSetting.name != FORM_KEY).order_by(SiteSetting.id)
    head: list[Cell] = ["Setting", "Holds for", "Value", "Source", "Laid down by", "From"]
    return _table(
        head,
        (
            [s.name, s.scope or "the site", _plain(s.value), s.source, s.owner, s.valid_from]
            for s in session.scalars(query)
        ),
    )


def _plain(value: dict[str, object]) -> str:
    return "; ".join(f"{v}" if k in {"text", "number"} else f"{k} {v}" for k, v in value.items())


def _stops(session: Session) -> Rows:
    query = (
        select(TravelStopEvent, Unit.serial)
        .join(Unit, TravelStopEvent.unit_id == Unit.id)
        .order_by(TravelStopEvent.id)
    )
    head: list[Cell] = [
        "Unit", "Serial number", "Pin number", "In or out", "When", "By", "Witness", "Reason",
        "Seen free by",
    ]  # fmt: skip
    return _table(
        head,
        (
            [
                e.unit_id, serial, e.pin_number, e.direction, e.happened_at, e.done_by, e.witness,
                e.reason, e.freed_by,
            ]
            for e, serial in session.execute(query)
        ),
    )  # fmt: skip


def _props(session: Session) -> Rows:
    query = (
        select(PropEvent, Line.number)
        .join(Line, PropEvent.line_id == Line.id)
        .order_by(PropEvent.id)
    )
    head: list[Cell] = [
        "Line number", "Prop number", "Distance along line [m]", "In or out", "When", "By",
        "Witness", "Reason",
    ]  # fmt: skip
    return _table(
        head,
        (
            [
                line, e.prop_number, e.along, e.direction, e.happened_at, e.done_by, e.witness,
                e.reason,
            ]
            for e, line in session.execute(query)
        ),
    )  # fmt: skip


def _changes(session: Session) -> Rows:
    names = plain_columns(Change)
    query = select(*(getattr(Change, name) for name in names)).order_by(Change.id)
    head: list[Cell] = [name.replace("_", " ").capitalize() for name in names]
    return _table(head, (map(_cell, row) for row in session.execute(query)))


def _cell(value: object) -> Cell:
    return value if isinstance(value, str | int | float | date) or value is None else str(value)


def _signatures(session: Session) -> Rows:
    query = (
        select(
            Signature.subject, Signature.subject_id, Signature.meaning, Person.name,
            Signature.role, Signature.signed_at, Signature.fingerprint, Signature.reason,
        )
        .join(Person, Signature.person_id == Person.id)
        .order_by(Signature.id)
    )  # fmt: skip
    head: list[Cell] = [
        "On", "Number within", "Meaning", "Person", "Role", "Signed at", "Fingerprint", "Reason",
    ]  # fmt: skip
    return _table(head, session.execute(query))


def stays_behind(session: Session, written: Iterable[tuple[str, object]]) -> dict[str, int]:
    """Return how many rows of what leave in no form, by name in words.

    Parameters
    ----------
    written
        Subject and key of each record that is written.
    """
    counts: dict[str, int] = {}
    for table in Base.metadata.sorted_tables:
        if table.name not in _IN_SHEETS | _IN_HISTORY:
            counts[table.name.replace("_", " ")] = _count(session, table)
    subjects = [subject for subject, _ in written]
    for model, subject in ((SettingEvent, "setting"), (Reading, "reading")):
        whole = _count(session, model)
        counts[f"{subject} of a unit that hangs nowhere now"] = whole - subjects.count(subject)
    return {name: count for name, count in counts.items() if count > 0}


def _count(session: Session, what: Any) -> int:
    return int(session.execute(select(func.count()).select_from(what)).scalar_one())
