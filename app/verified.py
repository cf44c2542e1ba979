"""Published checks as lines of text."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from app.shapes import ValueChecked
from reports.contents.verification_manual import difference
from supports.verification import Checked


def values_checked(checked: Iterable[Checked]) -> Iterator[ValueChecked]:
    """Return each value with ours and what they may differ by."""
    for one in checked:
        check = one.check
        yield ValueChecked(
            check.subject, check.what, check.unit, check.published, one.ours, one.difference,
            check.tolerance, one.agrees, check.source, str(check.trust),
        )  # fmt: skip


def every_line(checked: Iterable[Checked]) -> Iterator[str]:
    """Return a line for each value: what, published, ours, difference, source."""
    for one in checked:
        check = one.check
        verdict = "agrees" if one.agrees else "DIFFERS"
        yield (
            f"{verdict:<8}{check.what}: published {check.printed} {check.unit}, here "
            f"{one.ours:.7g}, difference {difference(one)} of {check.tolerance:.2g} allowed "
            f"({check.source}; {check.trust})"
        )


def counted_lines(checked: Sequence[Checked]) -> Iterator[str]:
    """Return the counts by subject, and the sentence that sums up."""
    subjects = Counter(one.check.subject for one in checked)
    apart = Counter(one.check.subject for one in checked if not one.agrees)
    for subject, count in subjects.items():
        yield f"{subject:<24}{count:>5} values, {apart[subject]} differ"
    total = sum(apart.values())
    yield f"{len(checked)} published values: {len(checked) - total} agree, {total} differ."
    yield "The manual with every figure: supports paper make verification-manual"
