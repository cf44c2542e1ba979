"""What the verification manual says: every published value with ours beside it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby

from reports.contents.blocks import (
    Answered,
    Block,
    Caution,
    Cell,
    Column,
    Figure,
    Figures,
    Heading,
    Mark,
    Paragraph,
    Table,
    Weight,
    Written,
)
from supports.verification import Checked, Trust

WHAT_IT_IS = (
    "Every row holds a value that somebody else published, or that follows in closed form, against "
    "the same value worked out by this program when this paper was made. The tolerance comes from "
    "the digits printed, and says so. A source marked 'from memory' was not at hand when the row "
    "was written: hold it against a purchased copy before relying on it."
)
WHAT_IT_IS_NOT = (
    "Agreement here shows that the arithmetic is carried out as published. It does not show that "
    "the loads, plates and routes of a plant are right, and it replaces no analysis: local codes "
    "and licensed practice decide. The line calculation of this program is a screening."
)


def verification_manual(checked: Sequence[Checked]) -> tuple[Block, ...]:
    """Return the manual as blocks, subject by subject."""
    return (
        _answer(checked),
        _figures(checked),
        Paragraph(WHAT_IT_IS),
        Caution("What this does not show", WHAT_IT_IS_NOT),
        Heading("Sources"),
        _sources(checked),
        *_subjects(checked),
    )


def _answer(checked: Sequence[Checked]) -> Answered:
    apart = [one for one in checked if not one.agrees]
    return Answered(
        question="Does the program give the published values?",
        answer="NO" if apart else "YES",
        weight=Weight.NO if apart else Weight.YES,
        words=f"{len(apart)} of {len(checked)} values differ by more than their tolerance."
        if apart
        else f"All {len(checked)} values agree within their tolerances.",
    )


def _figures(checked: Sequence[Checked]) -> Figures:
    trust = Counter(one.check.trust for one in checked)
    return Figures(tuple(Figure(str(trust[one]), str(one)) for one in Trust))


def _sources(checked: Sequence[Checked]) -> Table:
    counted = Counter((one.check.source, one.check.trust) for one in checked)
    return Table(
        (Column("Source", 5.0), Column("Trust", 2.0), Column("Values", 1.0, right=True)),
        tuple((source, str(trust), str(count)) for (source, trust), count in counted.items()),
    )


def _subjects(checked: Sequence[Checked]) -> Iterator[Block]:
    for subject, rows in groupby(checked, key=lambda one: one.check.subject):
        yield Heading(subject, 1)
        yield Table(
            (
                Column("What", 4.2),
                Column("Source, place", 3.6),
                Column("Published", 1.5, right=True),
                Column("Ours", 1.7, right=True),
                Column("Unit", 0.9),
                Column("Difference", 1.3, right=True),
                Column("Allowed", 1.2, right=True),
                Column("Why", 3.0),
                Column("Trust", 1.7),
                Column("Agrees", 1.0),
            ),
            tuple(_row(one) for one in rows),
            small=True,
        )


def _row(one: Checked) -> tuple[Written, ...]:
    check = one.check
    return (
        check.what,
        ", ".join(words for words in (check.source, check.place) if words),
        check.printed,
        f"{one.ours:.7g}",
        check.unit,
        difference(one),
        f"{check.tolerance:.2g}",
        check.because,
        str(check.trust),
        "yes" if one.agrees else Cell("NO", strong=True, mark=Mark.STOP),
    )


def difference(one: Checked) -> str:
    """Return the difference as written; 0 where it is below the digits of a float."""
    scale = max(abs(one.check.published), abs(one.ours), 1e-300)
    return "0" if abs(one.difference) < 1e-13 * scale else f"{one.difference:+.2g}"
