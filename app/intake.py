"""Files in: read, held against the register, shown, stored."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from types import MappingProxyType

from app.finding_lines import finding_lines
from importers.declarations import DeclaredUnits
from importers.profiles import Profile
from importers.reading import ReadResult, read
from importers.workbook import digest_at
from supports.database import Register
from supports.errors import BadInput, InputHasFaults
from supports.operations.intake import Brought, bring_in
from supports.operations.storing import SourceFile
from supports.proposals import Plan, Verb, compare
from supports.queries.existing import today as register_today
from supports.queries.existing import unit_positions
from supports.queries.intake import declared_units, expected_loads, profile_history

_NONE: DeclaredUnits = MappingProxyType({})


def read_against(
    register: Register,
    file: Path,
    today: date,
    *,
    source: str = "",
    trial: DeclaredUnits = _NONE,
) -> tuple[ReadResult, Plan]:
    """Read a file and compare it with the register.

    Parameters
    ----------
    source
        Where such files come from; what was confirmed for it before holds.
    trial
        Units of cells on top of those declared, to see what would become of them.

    Raises
    ------
    BadInput
        Nothing was ever confirmed for that source.
    """
    digest = digest_at(file)
    with register.reading() as session:
        positions = unit_positions(session)
        loads = expected_loads(session)
        units = declared_units(session, digest)
    result = read(
        file,
        positions=positions,
        latest=today,
        expected_loads=loads,
        profiles=profiles_of(register, source),
        declared_units={**units, **trial},
    )
    with register.reading() as session:
        existing = register_today(session, {record.subject for record in result.records})
    plan = Plan(compare(result.records, existing.values), result.findings, result.withheld)
    return result, plan


def profiles_of(register: Register, source: str) -> Mapping[str, Profile]:
    """Return the profiles that hold for a source, by sheet; none where no source is named."""
    if not source:
        return {}
    with register.reading() as session:
        known = [view for view in profile_history(session) if view.holds]
    found = {view.sheet: view.profile for view in known if view.source == source}
    if not found:
        sources = sorted({view.source for view in known})
        raise BadInput(
            f"no sheet of the source '{source}' is confirmed",
            expected=", ".join(f"'{name}'" for name in sources) or "no source is known yet",
            remedy="Look at the file with: supports sheets propose FILE, then: sheets confirm",
        )
    return {sheet: Profile.from_data(data) for sheet, data in found.items()}


def preview(result: ReadResult, plan: Plan, *, every: bool) -> None:
    """Print what would be created, changed and left, and the findings grouped."""
    print(f"{result.file_name}:")
    for subject in plan.subjects:
        counts = [f"{plan.count(verb, subject):>5} {verb}" for verb in Verb]
        print(f"  {subject:<14} {'  '.join(counts)}")
    for line in finding_lines(plan.findings, every=every):
        print(line)


def store(
    register: Register,
    result: ReadResult,
    plan: Plan,
    *,
    acting: str,
    reason: str,
    now: datetime,
    accept_the_good: bool,
) -> Brought:
    """Store a plan, all of it or, where that is asked for, what is good of it.

    Raises
    ------
    InputHasFaults
        A finding forbids storing and the good rows alone were not asked for.
    """
    if accept_the_good:
        good = tuple(f for f in plan.findings if not f.forbids_storing)
        plan = Plan(plan.proposals, good, plan.withheld)
    elif result.forbids_storing:
        raise InputHasFaults(
            "nothing was stored: the file has faults (listed above)",
            (),
            remedy="Mend them, or store the good rows alone with --accept-the-good",
        )
    source = SourceFile(result.file_name, result.digest)
    return bring_in(register, plan, source, acting=acting, reason=reason, now=now)


def brought_words(brought: Brought) -> str:
    """Return what became of a file."""
    said = "Stored." if brought.stored else "Nothing to store: the register says the same already."
    if brought.waiting:
        wait = "value waits" if brought.waiting == 1 else "values wait"
        said += f" {brought.waiting} {wait} for an answer: supports sheets doubts"
    if brought.answered:
        was = "value that waited was" if brought.answered == 1 else "values that waited were"
        said += f" {brought.answered} {was} taken."
    return said
