"""Findings as lines: what is the same in many rows is said once, with its count and first place."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from supports.findings import Finding, Severity

MOST = 3
"""Groups shown of one code; the rest is counted."""

Group = list[Finding]
"""Findings that say the same of one column."""


def finding_lines(findings: Sequence[Finding], *, every: bool) -> list[str]:
    """Return findings as lines, the gravest first: grouped, or every one."""
    if every:
        return [f"  {f.severity} {f.code}: {f}" for f in findings]
    by_code: dict[str, list[Group]] = defaultdict(list)
    for group in grouped(findings):
        by_code[group[0].code].append(group)
    lines: list[str] = []
    for code, groups in sorted(by_code.items(), key=lambda item: item[1][0][0].severity.rank):
        ranked = sorted(groups, key=len, reverse=True)
        lines.extend(_line(group) for group in ranked[:MOST])
        if rest := ranked[MOST:]:
            count = sum(len(group) for group in rest)
            lines.append(
                f"  {rest[0][0].severity} {code}: and {count} more: supports sheets check --every"
            )
    return lines


def grouped(findings: Iterable[Finding]) -> Iterable[Group]:
    """Put together what is said in the same words of one column of one sheet."""
    groups: dict[tuple[str, str, Severity, str, str, str], Group] = defaultdict(list)
    for one in findings:
        place = one.place
        column = place.cell.rstrip("0123456789")
        key = (one.code, one.what, one.severity, place.file, place.sheet, column)
        groups[key].append(one)
    return groups.values()


def _line(group: Group) -> str:
    first = group[0]
    if len(group) == 1:
        return f"  {first.severity} {first.code}: {first}"
    return f"  {first.severity} {first.code} ({len(group)} rows, first {_at(first)}): {first}"


def _at(finding: Finding) -> str:
    return finding.place.cell or finding.place.sheet or finding.place.file
