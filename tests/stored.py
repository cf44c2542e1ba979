"""A line, a support, its unit and a setting as records of sheets, and how tests store them."""

from __future__ import annotations

from datetime import date, datetime

from supports.model import Base
from supports.operations.intake import bring_in
from supports.operations.storing import SourceFile
from supports.proposals import Plan, Record, SourceCell, SourceLine, compare
from supports.queries.existing import today

NOW = datetime(2031, 5, 4, 8)  # noqa: DTZ001  the register keeps UTC without zone
FILE = SourceFile("plant.xlsx", "ab" * 32)


def record(subject, key, row=2, **values):
    cells = {name: SourceCell("C", str(value)) for name, value in values.items()}
    return Record(subject, key, values, SourceLine("plant.xlsx", subject, row, cells))


LINE = record("line", ("L-1",), area="North")
SUPPORT = record("support", ("PS-1",), line="L-1", order_along=1, kind="constant hanger")
UNIT = record("unit", ("PS-1", "A"), kind="constant hanger", serial="0042")
SETTING = record(
    "setting", ("PS-1", "A", "2030-01-01", ""), happened_on=date(2030, 1, 1), load=20_000.0,
    method="scale", set_by="N. N.",
)  # fmt: skip


def with_writer(register):
    """Give the register with its writer, put in before the trail begins."""
    with register.engine.begin() as connection:
        connection.execute(Base.metadata.tables["person"].insert(), {"name": "N. N."})
    return register


def store(register, *records, findings=()):
    with register.reading() as session:
        plan = Plan(compare(records, today(session).values), tuple(findings))
    bring_in(register, plan, FILE, acting="N. N.", reason="a test", now=NOW)
    return plan
