"""Files in: read, held against the register, shown, stored."""

from __future__ import annotations

from collections import Counter, defaultdict
from datetime import date, datetime
from pathlib import Path

from importers.reading import ReadResult, read
from supports.database import Register
from supports.errors import InputHasFaults
from supports.findings import Finding
from supports.operations.acting import actor
from supports.operations.storing import SourceFile, apply_plan
from supports.proposals import Plan, Verb, compare
from supports.queries.existing import today as register_today


def read_against(register: Register, file: Path, today: date) -> tuple[ReadResult, Plan]:
    """Read a file and compare it with the register."""
    with register.reading() as session:
        existing = register_today(session)
    positions: dict[str, set[str]] = defaultdict(set)
    for subject, key in existing.values:
        if subject == "unit":
            positions[key[0]].add(key[1])
    result = read(file, positions=positions, latest=today)
    return result, Plan(compare(result.records, existing.values), result.findings)


def preview(result: ReadResult, plan: Plan, *, every: bool) -> None:
    """Print what would be created, changed and left, and the findings grouped."""
    print(f"{result.file_name}:")
    for subject in plan.subjects:
        counts = [f"{plan.count(verb, subject):>5} {verb}" for verb in Verb]
        print(f"  {subject:<14} {'  '.join(counts)}")
    for line in finding_lines(plan.findings, every=every):
        print(line)


def finding_lines(findings: tuple[Finding, ...], *, every: bool) -> list[str]:
    """Return findings as lines: one of each code with its count, or every one."""
    if every:
        return [f"  {f.severity} {f.code}: {f}" for f in findings]
    counts = Counter(f.code for f in findings)
    first = {f.code: f for f in reversed(findings)}
    ranked = sorted(first.values(), key=lambda f: f.severity.rank)
    return [
        f"  {f.severity} {f.code} ({counts[f.code]}): {f}"
        if counts[f.code] == 1
        else f"  {f.severity} {f.code} ({counts[f.code]}, the first): {f}"
        for f in ranked
    ]


def store(
    register: Register,
    result: ReadResult,
    plan: Plan,
    *,
    acting: str,
    reason: str,
    now: datetime,
    accept_the_good: bool,
) -> bool:
    """Store a plan; return whether there was anything to store.

    Raises
    ------
    InputHasFaults
        A finding forbids storing and the good rows alone were not asked for.
    """
    if accept_the_good:
        plan = Plan(plan.proposals, tuple(f for f in plan.findings if not f.forbids_storing))
    elif result.forbids_storing:
        raise InputHasFaults(
            "nothing was stored: the file has faults (listed above)",
            (),
            remedy="Mend them, or store the good rows alone with --accept-the-good",
        )
    with register.reading() as session:
        person = actor(session, acting, now.date())
    source = SourceFile(result.file_name, result.digest)
    apply_plan(register, plan, source, actor=person.name, reason=reason, now=now)
    return not plan.changes_nothing
