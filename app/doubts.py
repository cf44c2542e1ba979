"""Values that wait for an answer: shown in groups, and the units that people declare for them."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import datetime
from pathlib import Path

from app.intake import read_file
from importers.table import column_index
from supports.database import Register
from supports.errors import BadInput, NotFound
from supports.operations.intake import declare_units
from supports.operations.storing import SourceFile
from supports.plant_time import day_of
from supports.proposals import Withheld
from supports.queries.intake import Doubt
from supports.sentences import Sentence
from supports.vocabulary import counted

_ADDRESS = re.compile(
    r"(?:(?P<sheet>.+)!)?(?P<left>[A-Z]{1,3})(?P<top>\d*)"
    r"(?::(?P<right>[A-Z]{1,3})(?P<bottom>\d*))?"
)
_CELL = re.compile(r"([A-Z]{1,3})(\d+)")


HOW_ANSWERED = (
    "Mend them in a copy and import that; end one that nobody can answer: "
    "supports sheets settle NUMBER --reason '...'"
)


def doubt_groups(found: Iterable[Doubt]) -> list[list[Doubt]]:
    """Return the doubts in groups: alike ones of a column together."""
    groups: dict[tuple[str, ...], list[Doubt]] = defaultdict(list)
    for doubt in found:
        column = doubt.cell.rstrip("0123456789")
        groups[doubt.file, doubt.sheet, column, doubt.code, doubt.question].append(doubt)
    return list(groups.values())


def doubt_lines(found: Iterable[Doubt], *, every: bool) -> Iterator[str]:
    """Return the doubts as lines: alike ones of a column together, or every one by its number."""
    for group in doubt_groups(found):
        first = group[0]
        what = f"{first.field.replace('_', ' ')} of a {first.subject}" if first.field else "the row"
        rows = counted(len(group), "row")
        yield f"{first.file} {first.sheet}: {rows}, first {first.cell}: {what}"
        yield f"    {first.question}"
        shown = group if every else group[:3]
        for one in shown:
            yield f"    {one.number:>6}  {one.cell:<8} {one.tag:<14} '{one.text}'"
        if len(shown) < len(group):
            yield f"            and {len(group) - len(shown)} more; see them with --every"


def declare(
    register: Register,
    file: Path,
    address: str,
    unit: str,
    *,
    source: str,
    acting: str,
    reason: str,
    now: datetime,
) -> list[Withheld]:
    """Declare the unit of the doubtful cells at an address; return them.

    Raises
    ------
    BadInput
        The address cannot be read, or the values stay unclear under that unit.
    NotFound
        Nothing is in doubt there.
    """
    today = day_of(now, register.zone)
    read = read_file(register, file, today, source=source, on=today).result
    values = [value for value in read.withheld if value.field and _lies_in(value, address)]
    if not values:
        raise NotFound(
            Sentence("no value at {address} is in doubt", address=address),
            where=read.file_name,
            found=_doubtful_columns(read.withheld),
            remedy="Name cells as in 'Settings!D3', 'Settings!D3:D40' or 'Settings!D'",
        )
    trial = {(value.sheet, value.cell): unit for value in values}
    again = read_file(register, file, today, source=source, on=today, trial=trial).result
    if left := [v for v in again.withheld if v.field and (v.sheet, v.cell) in trial]:
        raise BadInput(
            Sentence(
                "under the unit '{unit}' {count} of {all} values stay unclear",
                unit=unit,
                count=str(len(left)),
                all=str(len(values)),
            ),
            where=f"{left[0].file} {left[0].sheet} {left[0].cell}",
            found=f"'{left[0].text}': {left[0].question}",
        )
    origin = SourceFile(read.file_name, read.digest)
    declare_units(register, origin, values, unit, acting=acting, now=now, reason=reason, of=source)
    return values


def _doubtful_columns(withheld: Iterable[Withheld]) -> str:
    columns = dict.fromkeys(f"{v.sheet}!{v.column}" for v in withheld if v.field)
    return "doubts in " + ", ".join(columns) if columns else "no doubts at all"


def _lies_in(value: Withheld, address: str) -> bool:
    """Return whether a cell lies at an address: a cell, a block, whole columns."""
    where, cell = _ADDRESS.fullmatch(address.strip()), _CELL.fullmatch(value.cell)
    if where is None:
        raise BadInput(
            "the address cannot be read",
            found=f"'{address}'",
            expected="'Settings!D3', 'Settings!D3:D40' or 'Settings!D'",
        )
    if cell is None or (where["sheet"] and where["sheet"].strip("'") != value.sheet):
        return False
    left, right = where["left"], where["right"] or where["left"]
    top = where["top"]
    bottom = where["bottom"] if where["right"] else top
    return column_index(left) <= column_index(cell[1]) <= column_index(right) and (
        int(top or 1) <= int(cell[2]) <= (int(bottom) if bottom else int(cell[2]))
    )
