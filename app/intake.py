"""Files in: read, held against the register, shown, stored."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from types import MappingProxyType

from app.finding_lines import finding_lines
from app.joining import Acquaintance, acquaintance
from app.shapes import FileChecked
from importers.asked import names_asked, tags_by_marks
from importers.belonging import hold_back_orphans
from importers.declarations import DeclaredUnits
from importers.findings_back import comes_back_as, copy_of, write_findings_back
from importers.joined_records import JoinedRecords
from importers.known import AskedLate, Positions
from importers.pace import collector_resting
from importers.profiles import Profile
from importers.reading import ReadResult, read
from importers.workbook import digest_at, open_workbook
from supports.database import Register
from supports.errors import InputHasFaults
from supports.findings import Finding, Severity
from supports.operations.intake import Brought, bring_in
from supports.operations.store import cells_written
from supports.operations.storing import SourceFile
from supports.progress import Told, unheard
from supports.proposals import Plan, Verb, compare
from supports.queries.existing import today_for, unit_positions
from supports.queries.intake import (
    declared_before,
    declared_units,
    largest_required,
    plate_loads,
    profile_history,
)
from supports.sentences import Sentence, joined
from supports.vocabulary import counted

_NONE: DeclaredUnits = MappingProxyType({})


@collector_resting()
def read_against(
    register: Register,
    file: Path,
    today: date,
    *,
    source: str = "",
    on: date | None = None,
    trial: DeclaredUnits = _NONE,
    told: Told = unheard,
) -> tuple[ReadResult, Plan]:
    """Read a file under the tags of the register and compare it with the register.

    Parameters
    ----------
    source
        Where such files come from; what was confirmed and decided for it before holds.
    on
        The day that the file speaks of where its rows do not; today if None.
    trial
        Units of cells on top of those declared, to see what would become of them.
    """
    day = on or today
    result = read_file(register, file, today, source=source, on=day, trial=trial, told=told).result
    return held_against(register, result, told)


def held_against(
    register: Register, result: ReadResult, told: Told = unheard
) -> tuple[ReadResult, Plan]:
    """Compare what was read with the register; rows of what is not there are held back."""
    told("comparing with the register", 0, 1)
    with register.reading() as session:
        existing = today_for(session, result.records)
    result = hold_back_orphans(result, existing.ids.keys())
    proposals = compare(result.records, existing.values)
    return result, Plan(proposals, result.findings, result.withheld, against=existing)


def read_file(
    register: Register,
    file: Path,
    today: date,
    *,
    source: str,
    on: date,
    trial: DeclaredUnits = _NONE,
    told: Told = unheard,
) -> JoinedRecords:
    """Read a file with all that is known and was declared, under the tags of the register."""
    told(f"opening {file.name}", 0, 1)
    book = open_workbook(file)
    profiles, sources = profiles_of(register, source)
    with register.reading() as session:
        digest = digest_at(file)
        units = declared_units(session, digest)
        before = declared_before(session, source, file.name, digest)

    def read_knowing(met: Acquaintance, tags: Collection[str] | None) -> ReadResult:
        with register.reading() as session:
            plates, required = plate_loads(session, tags), largest_required(session, tags)
        return read(
            file,
            positions=AskedLate(lambda: _positions(register, tags)),
            latest=today,
            expected_loads=met.under_all_names(plates),
            required_loads=met.under_all_names(required),
            profiles=profiles,
            declared_units={**units, **trial},
            declared_before=before,
            index=met.index,
            opened=book,
            told=told,
        )

    met = acquaintance(register, source, names_asked(book, profiles.values()))
    result = read_knowing(met, met.tags)
    if met.tags is not None and not met.tags.issuperset(tags_by_marks(result)):
        met = acquaintance(register, source)
        result = read_knowing(met, None)
    if source and not profiles and not met.decided.names:
        unknown = _source_not_known(source, sources)
        result = replace(result, findings=(unknown, *result.findings))
    return met.joined(result, on)


def _positions(register: Register, tags: Collection[str] | None) -> Positions:
    with register.reading() as session:
        return unit_positions(session, tags)


def profiles_of(register: Register, source: str) -> tuple[Mapping[str, Profile], list[str]]:
    """Return the profiles that hold for a source, by sheet, and all sources that have some."""
    with register.reading() as session:
        known = [view for view in profile_history(session) if view.holds]
    found = {view.sheet: Profile.from_data(view.profile) for view in known if view.source == source}
    return found, sorted({view.source for view in known})


NOTHING_DECIDED = "nothing was confirmed or decided for the source '{source}' so far"


def _source_not_known(source: str, sources: Iterable[str]) -> Finding:
    return Finding(
        "source-not-known",
        Severity.LOOK,
        Sentence(NOTHING_DECIDED, source=source),
        expected=joined((f"'{name}'" for name in sources), ", ") or "no source is known yet",
        remedy="Check its spelling, or look at the file with: supports sheets propose FILE",
    )


def preview(result: ReadResult, plan: Plan, *, every: bool) -> Iterator[str]:
    """Return what would be created, changed and left, and the findings grouped, as lines."""
    yield f"{result.file_name}:"
    for subject in plan.subjects:
        counts = [f"{plan.count(verb, subject):>5} {verb}" for verb in Verb]
        yield f"  {subject:<14} {'  '.join(counts)}"
    yield from finding_lines(plan.findings, every=every)


def file_checked(result: ReadResult, plan: Plan) -> FileChecked:
    """Return what would be created, changed and left, and the findings."""
    subjects = {
        subject: {str(verb): plan.count(verb, subject) for verb in Verb}
        for subject in plan.subjects
    }
    return FileChecked(result.file_name, subjects, plan.findings, result.forbids_storing)


def mark_of(plan: Plan) -> str:
    """Return a mark of all that a plan would store and say, and of the cells that it was read in.

    Whoever was shown a plan stores by its mark: where another would be stored, it is another mark.
    """
    mark = hashlib.sha256()
    for one in plan.proposals:
        record, source = one.record, one.record.source
        before = {c.field: c.before for c in one.changes} if one.verb is Verb.CHANGE else {}
        said = (one.verb.value, record.subject, record.key, dict(record.values), before)
        place = (source.file, source.sheet, source.row, cells_written(source.cells))
        mark.update(repr((said, place)).encode())
    for each in (*plan.findings, *plan.withheld):
        mark.update(repr(each).encode())
    return mark.hexdigest()


def hand_back(file: Path, result: ReadResult, into: Path | None) -> Iterator[str]:
    """Write a file once more with a column of findings, where that is asked for; say so."""
    if into is not None:
        into = copy_of(file, into)
        held = write_findings_back(file, result, into)
        form = f", {comes_back_as(file)}" if comes_back_as(file) else ""
        stand = counted(held, "finding stands", "findings stand") if held else "No finding stands"
        yield f"{stand} in {into}{form}." + (
            f" Mend it there: supports sheets import {into}" if held else ""
        )


@collector_resting()
def store(
    register: Register,
    result: ReadResult,
    plan: Plan,
    *,
    acting: str,
    reason: str,
    now: datetime,
    accept_the_good: bool,
    told: Told = unheard,
) -> Brought:
    """Store a plan, all of it or, where that is asked for, what is good of it.

    Raises
    ------
    InputHasFaults
        A finding forbids storing and the good rows alone were not asked for.
    """
    if accept_the_good:
        good = tuple(f for f in plan.findings if not f.forbids_storing)
        plan = replace(plan, findings=good)
    elif result.forbids_storing:
        raise InputHasFaults(
            "nothing was stored: the file has faults (listed above)",
            (),
            remedy="Mend them, or store the good rows alone with --accept-the-good",
        )
    source = SourceFile(result.file_name, result.digest)
    return bring_in(register, plan, source, acting=acting, reason=reason, now=now, told=told)


def brought_words(brought: Brought) -> str:
    """Return what became of a file."""
    said = "Stored." if brought.stored else "Nothing to store: the register says the same already."
    if brought.waiting:
        wait = counted(brought.waiting, "value waits", "values wait")
        said += f" {wait} for an answer: supports sheets doubts"
    if brought.answered:
        was = counted(brought.answered, "value that waited was", "values that waited were")
        said += f" {was} taken."
    return said
