"""What the register knows that helps to read a file, and the values that wait for an answer."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import (
    DeclaredUnit,
    ImportRun,
    Nameplate,
    Person,
    QuarantineAnswer,
    QuarantinedValue,
    RequiredLoad,
    SheetProfile,
    SupportTag,
    Unit,
)
from supports.queries.existing import in_place
from supports.queries.narrowing import only


def plate_loads(session: Session, tags: Collection[str] | None = None) -> dict[str, float]:
    """Return the load [N] on the plate at each support, or at some; of several units the last's."""
    plates = in_place(Nameplate.nameplate_load, Nameplate.hot_load).join(
        Nameplate, Nameplate.unit_id == Unit.id
    )
    loads: dict[str, tuple[str, float]] = {}
    for tag, place, plate, hot in session.execute(only(plates, SupportTag.tag, tags)):
        if load := plate or hot:
            loads[tag] = max(loads.get(tag, ("", 0.0)), (place, load))
    return {tag: load for tag, (_, load) in loads.items()}


def largest_required(session: Session, tags: Collection[str] | None = None) -> dict[str, float]:
    """Return the largest load [N] that a calculation asks of each support, or of some."""
    required = (
        select(SupportTag.tag, RequiredLoad.load)
        .join(SupportTag, SupportTag.point_id == RequiredLoad.point_id)
        .where(SupportTag.valid_to.is_(None), RequiredLoad.load > 0.0)
        .order_by(RequiredLoad.load)
    )
    named = only(required, SupportTag.tag, tags)
    return {tag: load for tag, load in session.execute(named) if load is not None}


@dataclass(frozen=True, slots=True)
class ProfileView:
    """What the columns of one sheet of a source mean, and who said so when."""

    source: str
    sheet: str
    profile: dict[str, Any]
    person: str
    confirmed_at: datetime
    holds: bool
    """No newer one is confirmed for the same source and sheet."""


def profile_history(session: Session, source: str = "") -> list[ProfileView]:
    """Return every profile ever confirmed, oldest first, of one source or of all."""
    query = select(SheetProfile, Person.name).join(Person, SheetProfile.person_id == Person.id)
    if source:
        query = query.where(SheetProfile.source == source)
    rows = session.execute(query.order_by(SheetProfile.id)).all()
    newest = {(row.source, row.sheet): row.id for row, _ in rows}
    return [
        ProfileView(
            row.source,
            row.sheet,
            row.profile,
            name,
            row.confirmed_at,
            newest[row.source, row.sheet] == row.id,
        )
        for row, name in rows
    ]


def declared_units(session: Session, file_hash: str) -> dict[tuple[str, str], str]:
    """Return the units declared for cells of a file, by sheet and cell; the newest word holds."""
    query = select(DeclaredUnit).where(DeclaredUnit.file_hash == file_hash)
    rows = session.scalars(query.order_by(DeclaredUnit.id))
    return {(row.sheet, row.cell): row.unit for row in rows}


def declared_before(
    session: Session, source: str, file_name: str, file_hash: str
) -> dict[tuple[str, str, str, str], str]:
    """Return the units declared for values of other copies of a file; the newest word holds.

    A copy is a file of the same source or, where none is named, of the same name. Values go by
    sheet, heading with its unit, support or line, and text.
    """
    query = select(DeclaredUnit).where(
        DeclaredUnit.file_hash != file_hash,
        DeclaredUnit.heading.is_not(None),
        DeclaredUnit.source == source,
    )
    if not source:
        query = query.where(DeclaredUnit.file_name == file_name)
    rows = session.scalars(query.order_by(DeclaredUnit.id))
    return {(row.sheet, row.heading or "", row.named or "", row.text): row.unit for row in rows}


Mark = tuple[str, str, str, str, str, str]


@dataclass(frozen=True, slots=True)
class Doubt:
    """A value that waits for an answer."""

    number: int
    file: str
    file_hash: str
    sheet: str
    cell: str
    code: str
    subject: str
    field: str
    tag: str
    text: str
    question: str

    @property
    def words(self) -> str:
        """Return the doubt in a few words."""
        what = f"{self.field.replace('_', ' ')} of a {self.subject}" if self.field else self.subject
        return f"{what}: '{self.text}' in {self.file} {self.sheet} {self.cell} waits for an answer"

    @property
    def mark(self) -> Mark:
        """Return what makes it the same value when its file is read again, wherever it then is."""
        return (self.sheet, self.subject, self.field, self.tag, self.text, self.code)


def doubts(session: Session, *, file_name: str = "", tag: str = "") -> list[Doubt]:
    """Return the values that wait for an answer: of one file by its name, of one tag, or all."""
    query = _waiting()
    if file_name:
        query = query.where(ImportRun.file_name == file_name)
    if tag:
        query = query.where(QuarantinedValue.tag == tag)
    return [Doubt(*row) for row in session.execute(query)]


def rows_known_by(session: Session) -> dict[int, dict[str, str]]:
    """Return the cells by which the row of each value that waits is known again, by its number."""
    value = QuarantinedValue
    query = _waiting().with_only_columns(value.id, value.known_by)
    return {number: known for number, known in session.execute(query) if known}


def _waiting() -> Any:
    value = QuarantinedValue
    return (
        select(
            value.id, ImportRun.file_name, ImportRun.file_hash, value.sheet, value.cell,
            value.code, value.subject, value.field, value.tag, value.text, value.question,
        )
        .join(ImportRun, value.import_run_id == ImportRun.id)
        .outerjoin(QuarantineAnswer, QuarantineAnswer.quarantined_value_id == value.id)
        .where(QuarantineAnswer.id.is_(None))
        .order_by(value.id)
    )  # fmt: skip


JUDGED: dict[str, Collection[str] | None] = {
    "support": ("kind", "arrangement", "arm_a", "arm_b", "beam_mass"),
    "unit": ("kind",),
    "nameplate": None,
    "hardware": ("kind", "rated_load", "mass", "derating"),
    "required load": None,
    "setting": ("load", "happened_on", "method"),
}
"""Fields on which a verdict stands, by subject; None for all of them."""


def waiting_at(session: Session, points: Collection[int] | None) -> dict[int, tuple[str, ...]]:
    """Return by support point what its verdict must wait for."""
    found = [doubt for doubt in doubts(session) if _is_judged(doubt)]
    if not found:
        return {}
    borne = bearers_now(session, {doubt.tag for doubt in found})
    words: dict[int, list[str]] = defaultdict(list)
    for doubt in found:
        for point in borne.get(doubt.tag, ()):
            if points is None or point in points:
                words[point].append(doubt.words)
    return {point: tuple(said) for point, said in words.items()}


def _is_judged(doubt: Doubt) -> bool:
    fields = JUDGED.get(doubt.subject, ())
    return fields is None or doubt.field in fields or (doubt.field == "" and bool(fields))


def bearers_now(session: Session, tags: Iterable[str]) -> dict[str, set[int]]:
    """Return the points that bear a tag now; those that bore it, where none does."""
    query = select(SupportTag.tag, SupportTag.point_id, SupportTag.valid_to).where(
        SupportTag.tag.in_(set(tags))
    )
    now: dict[str, set[int]] = defaultdict(set)
    once: dict[str, set[int]] = defaultdict(set)
    for tag, point, valid_to in session.execute(query):
        (now if valid_to is None else once)[tag].add(point)
    return {**once, **now}
