"""Read what people hand over into records and findings; nothing is stored here."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from types import MappingProxyType

from importers.declarations import DeclaredUnits, with_declared
from importers.declared import Sheet
from importers.declared_before import DeclaredBefore, take_declared_before
from importers.each_once import each_once
from importers.faults import Fault, Ledger
from importers.findings_column import without_findings
from importers.headings import plain
from importers.joining import Answer, Index
from importers.known import Known, Positions
from importers.pace import collector_resting
from importers.profiles import (
    Profile,
    constants_of,
    profile_for,
    report_profile,
    with_units_said,
)
from importers.rows import SheetRead, read_rows
from importers.segments import segments
from importers.sheets import HELP_SHEETS, OTHER_COMMANDS, SHEETS
from importers.sizes import ExpectedLoads
from importers.surroundings import (
    report_colours,
    report_remarks,
    report_surroundings,
    report_title,
)
from importers.suspicions import suspicions
from importers.table import Table, is_blank
from importers.unnamed_rows import named_otherwise
from importers.workbook import SourceFile, Workbook, digest_of, open_workbook
from supports.errors import ColumnMissing, SheetMissing
from supports.findings import Finding, Place, Severity, any_forbids
from supports.progress import Told, told_along, unheard
from supports.proposals import Record, Withheld
from supports.sentences import Sentence, joined

_NOTHING_KNOWN: Positions = MappingProxyType({})
_NO_LOADS: ExpectedLoads = MappingProxyType({})
_NO_UNITS: DeclaredUnits = MappingProxyType({})
_NONE_BEFORE: DeclaredBefore = MappingProxyType({})
_NO_PROFILES: Mapping[str, Profile] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class SheetCount:
    """Rows of a sheet: read, and held back because of a finding; the row of its headings."""

    sheet: str
    rows: int
    held_back: int
    heading_row: int = 1


@dataclass(frozen=True, slots=True)
class ReadResult:
    """All that was read: the good records, in the order in which they must be stored.

    A row with a fault in what names it, or in a needed cell, gives no record; a fault in another
    cell leaves that field out. Both are findings of severity STOP, and `forbids_storing` is then
    true: the whole is refused, unless somebody decides by name to store the good rows alone. What
    was not taken then waits, value by value, for an answer.
    """

    records: tuple[Record, ...]
    findings: tuple[Finding, ...]
    files: tuple[SourceFile, ...]
    counts: tuple[SheetCount, ...]
    withheld: tuple[Withheld, ...] = ()
    unnamed: tuple[Answer, ...] = ()
    """What became of rows that bear no tag."""
    cleaned: frozenset[str] = frozenset()
    """Tags of the register that names written otherwise were taken for."""

    @property
    def forbids_storing(self) -> bool:
        """Whether a finding forbids storing all of it."""
        return any_forbids(self.findings)

    @property
    def file_name(self) -> str:
        """Name of what was read."""
        return ", ".join(file.name for file in self.files)

    @property
    def digest(self) -> str:
        """SHA-256 of the file, or of the hashes of all files of a folder."""
        return digest_of(self.files)


@collector_resting()
def read(
    path: Path,
    sheets: Sequence[Sheet] = SHEETS,
    *,
    positions: Positions = _NOTHING_KNOWN,
    latest: date | None = None,
    expected_loads: ExpectedLoads = _NO_LOADS,
    required_loads: ExpectedLoads = _NO_LOADS,
    profiles: Mapping[str, Profile] = _NO_PROFILES,
    declared_units: DeclaredUnits = _NO_UNITS,
    declared_before: DeclaredBefore = _NONE_BEFORE,
    index: Index | None = None,
    opened: Workbook | None = None,
    told: Told = unheard,
) -> ReadResult:
    """Read a workbook, a text file or a folder of text files.

    Parameters
    ----------
    sheets
        The sheets to look for. With a single one, the only table of a file is taken for it
        whatever its name.
    positions
        Unit positions known of each support, for rows that do not say which unit.
    latest
        No day may lie after this one; usually today.
    expected_loads
        The load [N] on the plate at each tag; a number whose size speaks for another unit is
        refused.
    required_loads
        The largest load [N] of a calculation at each tag, to be expected where no plate is known.
    profiles
        What the columns of a sheet mean, by the sheet's name as found.
    declared_units
        The units of single cells that a person has declared, by sheet and cell.
    declared_before
        The units that a person has declared for values of an earlier copy of the file.
    index
        The supports known: rows without a tag find theirs by serial number, node or place.
    opened
        The file, where it was opened before.
    told
        Hears how many sheets are read.

    Raises
    ------
    FileUnusable, SheetMissing, ColumnMissing
        The file, its sheets or, of every sheet, its columns are not those expected. Where other
        sheets can be read, one that lacks a column is a finding.
    """
    told(f"opening {path.name}", 0, 1)
    book = opened or open_workbook(path)
    findings = list(book.findings)
    known = Known(
        positions,
        dict(expected_loads),
        latest,
        profiles,
        declared_units,
        index,
        required=dict(required_loads),
        declared_before=declared_before,
    )
    reads: list[tuple[Sheet, Table, SheetRead]] = []
    refused: list[tuple[Table, ColumnMissing]] = []
    pairs = _paired(book, sheets, profiles, findings)
    for sheet, table in told_along("reading sheets", pairs, told):
        try:
            parts = _read_table(table, sheet, sheets, known, findings)
        except ColumnMissing as fault:
            refused.append((table, fault))
        else:
            reads.extend((found, table, part) for found, part in parts)
    if refused and not reads:
        raise refused[0][1]
    findings.extend(_not_read(table, fault) for table, fault in refused)
    withheld = [value for _, _, part in reads for value in part.withheld]
    said = [record for _, _, part in reads for record in part.records]
    records = in_order(each_once(said, findings, withheld), sheets)
    saved_on = next((table.saved_on for table in book.tables), None)
    findings.extend(suspicions(records, saved_on))
    counts = [
        SheetCount(table.sheet, done.rows, done.held_back, done.heading_row)
        for _, table, done in reads
    ]
    counts += [SheetCount(table.sheet, 0, 0) for table, _ in refused]
    return ReadResult(
        tuple(records),
        tuple(findings),
        book.files,
        tuple(counts),
        tuple(withheld),
        tuple(known.unnamed),
        frozenset(known.cleaned),
    )


def _not_read(table: Table, fault: ColumnMissing) -> Finding:
    """Return what is to be said of a sheet that lacks a column, while the others are judged."""
    what = Sentence("{what}; no row of the sheet was read", what=fault.what)
    place = Place(table.file, table.sheet)
    return Finding(
        "column-missing", Severity.STOP, what, place, fault.found, fault.expected, fault.remedy
    )


def in_order(records: Iterable[Record], sheets: Sequence[Sheet]) -> list[Record]:
    """Return records in the order of storing."""
    order = {sheet.subject: number for number, sheet in enumerate(sheets)}
    return sorted(records, key=lambda record: order[record.subject])


def _paired(
    book: Workbook,
    sheets: Sequence[Sheet],
    profiles: Mapping[str, Profile],
    findings: list[Finding],
) -> list[tuple[Sheet, Table]]:
    """Return each declared sheet with its tables, in the order of storing."""
    if len(sheets) == 1 and len(book.tables) == 1:
        return [(sheets[0], book.tables[0])]
    wanted = _by_name(sheets)
    pairs: list[tuple[Sheet, Table]] = []
    for table in book.tables:
        profile = profile_for(table, profiles)
        name = plain(profile.sheet if profile else table.sheet)
        sheet = wanted.get(name) or _longer(table, sheets, findings)
        if table.sheet in HELP_SHEETS:
            continue
        if sheet is None:
            findings.append(_unknown_sheet(table))
        else:
            pairs.append((sheet, table))
    if not pairs:
        raise _no_sheet(book, sheets)
    return sorted(pairs, key=lambda pair: list(sheets).index(pair[0]))


def _longer(table: Table, sheets: Iterable[Sheet], findings: list[Finding]) -> Sheet | None:
    """Take a sheet whose name begins with a declared one, as in 'Supports north', and say so."""
    for sheet in sheets:
        rest = table.sheet[len(sheet.name) :]
        if table.sheet.casefold().startswith(sheet.name.casefold()) and not rest[:1].isalpha():
            what = Sentence(
                "the sheet was taken for '{sheet}' by the beginning of its name", sheet=sheet.name
            )
            place = Place(table.file, table.sheet)
            findings.append(Finding("sheet-name-longer", Severity.NOTE, what, place))
            return sheet
    return None


def _by_name(sheets: Iterable[Sheet]) -> dict[str, Sheet]:
    return {plain(name): sheet for sheet in sheets for name in (sheet.name, *sheet.aliases)}


def _unknown_sheet(table: Table) -> Finding:
    place = Place(table.file, table.sheet)
    if command := OTHER_COMMANDS.get(table.sheet):
        what = "the sheet belongs to another command and was left to it"
        remedy = Sentence("Bring it in with: {command}", command=command)
        return Finding("sheet-of-other-command", Severity.NOTE, what, place, remedy=remedy)
    what = "the sheet has another name than those declared and was not read"
    remedy = Sentence(
        "If it tells of supports, say what it is: supports sheets propose {file}", file=table.file
    )
    return Finding("sheet-not-known", Severity.NOTE, what, place, remedy=remedy)


def _no_sheet(book: Workbook, sheets: Sequence[Sheet]) -> SheetMissing:
    names, found = [s.name for s in sheets], [t.sheet for t in book.tables]
    commands = [OTHER_COMMANDS[name] for name in found if name in OTHER_COMMANDS]
    near = [n for f in found for n in difflib.get_close_matches(f, names, n=1, cutoff=0.6)]
    return SheetMissing(
        "none of the sheets is one to be read",
        where=joined((file.name for file in book.files), ", "),
        found=joined((f"'{name}'" for name in found), ", ") or "no sheets",
        expected=Sentence("one of {names}", names=joined((f"'{name}'" for name in names), ", ")),
        remedy=Sentence("Bring it in with: {command}", command=commands[0])
        if commands
        else Sentence("Is '{near}' meant? Then name the sheet so", near=near[0])
        if near
        else "Name the sheets so, or say what they are with: supports sheets propose FILE",
    )


def _read_table(
    table: Table, sheet: Sheet, sheets: Sequence[Sheet], known: Known, findings: list[Finding]
) -> list[tuple[Sheet, SheetRead]]:
    table = without_findings(table)
    ledger = Ledger(table)
    report_surroundings(table, ledger)
    if all(is_blank(raw) for row in table.rows for raw in row):
        ledger.whole(Fault("sheet-empty", "the sheet is empty", severity=Severity.NOTE))
        findings.extend(ledger.findings)
        return []
    table = with_declared(table, known.units)
    profile = profile_for(table, known.profiles)
    missing = profile.missing_in(table) if profile else []
    if profile:
        table = profile.renamed(table)
    given = {*constants_of(profile, sheet), *named_otherwise(table, sheet, known.index)}
    left = profile.left if profile else ()
    parts = segments(table, sheet, sheets, ledger, given, left)
    if profile:
        parts = [replace(one, layout=with_units_said(one.layout, profile)) for one in parts]
    if not parts:
        raise _no_headings(table, sheet)
    report_title(table, parts[0].layout, ledger)
    report_remarks(table, [part.layout.top for part in parts], ledger)
    report_colours(table, [part.layout.top for part in parts], ledger)
    reads: list[tuple[Sheet, SheetRead]] = []
    for part in parts:
        key = part.layout.of(part.layout.sheet.key[0])
        ledger.named_in = key.index if key else None
        ledger.first_row = (part.layout.units_row or part.layout.top) + 1
        take_declared_before(part.layout, part.body, known.declared_before, ledger)
        done = read_rows(part.layout, part.body, ledger, known, profile)
        known.learn(part.layout.sheet.subject, done.records)
        reads.append((part.layout.sheet, done))
    if profile:
        report_profile(profile, missing, ledger)
    findings.extend(ledger.findings)
    return reads


def _no_headings(table: Table, sheet: Sheet) -> ColumnMissing:
    return ColumnMissing(
        Sentence("no row holds the headings of the sheet '{sheet}'", sheet=sheet.name),
        where=f"{table.file} {table.sheet}",
        expected=joined((f"'{c.heading}'" for c in sheet.columns if c.needed), ", "),
        remedy="Put the headings into one row above the values",
    )
