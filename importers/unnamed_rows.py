"""Rows that bear no tag: joined by serial number, calculation node, or line and order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from importers.columns import Body, Converted
from importers.declared import Sheet
from importers.faults import Fault
from importers.headings import MARK_OF, MARKS, Layout, plain
from importers.joining import Answer, Index, Question, Stranger, join_one
from importers.stacked import SEARCHED_ROWS
from importers.table import Table, text_of
from supports.sentences import Sentence


def may_lack_tag(sheet: Sheet) -> bool:
    """Return whether rows may be named by another mark; a list of supports names its supports."""
    return "tag" in sheet.key and sheet.subject != "support"


def named_otherwise(table: Table, sheet: Sheet, index: Index | None) -> tuple[str, ...]:
    """Return ('tag',) where the rows of a sheet may be named by something else than a tag."""
    if index is None or not may_lack_tag(sheet):
        return ()
    found = any(
        isinstance(raw, str) and plain(raw) in MARK_OF
        for row in table.rows[:SEARCHED_ROWS]
        for raw in row
        if raw
    )
    return ("tag",) if found else ()


def placed(
    layout: Layout, body: Body, columns: Mapping[str, Converted], tags: Converted, index: Index
) -> Iterator[tuple[int, Answer]]:
    """Yield what becomes of each row without a tag that bears another mark."""
    if not (blank := [i for i, tag in enumerate(tags.values) if tag is None and i not in tags.bad]):
        return
    where = _columns(layout)
    for i in blank:
        marks = {name: text_of(body.rows[i][at]).strip() for name, at in where.items()}
        said = {name: _said(columns, name, i) for name in ("calculation", "line")}
        order = marks.get("order_along", "").removesuffix(".0")
        stranger = Stranger(
            body.numbers[i] + 1,
            serial=marks.get("serial", ""),
            node=marks.get("node", ""),
            calculation=said["calculation"],
            line=said["line"],
            order=int(order) if order.isdecimal() and said["line"] else None,
            sheet=layout.sheet.name,
        )
        if stranger.name:
            yield i, join_one(stranger, index)


def _columns(layout: Layout) -> dict[str, int]:
    """Return the columns that hold marks, taken by the sheet or only kept as text."""
    found = {name: taken.index for name in MARKS if (taken := layout.of(name)) is not None}
    for at, heading in layout.unknown.items():
        if (name := MARK_OF.get(plain(heading))) is not None:
            found.setdefault(name, at)
    return found


def _said(columns: Mapping[str, Converted], name: str, i: int) -> str:
    known = columns.get(name)
    value = known.values[i] if known else None
    return "" if value is None else str(value)


def not_placed(answer: Answer) -> Fault:
    """Return why a row without a tag was held back."""
    if isinstance(answer, Question):
        name = answer.stranger.name
        remedy = Sentence("Decide it: supports sheets decide '{name}'", name=name)
        return Fault(
            "join-to-decide",
            Sentence("'{name}': {what}", name=name, what=answer.what),
            answer.choices,
            remedy,
        )
    name = answer.name if isinstance(answer, Stranger) else ""
    remedy = Sentence("Decide it: supports sheets decide '{name}'", name=name)
    return Fault(
        "support-not-known",
        Sentence("'{name}' leads to no support that is known", name=name),
        "",
        remedy,
    )
