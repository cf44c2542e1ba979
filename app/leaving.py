"""The register as plain sheets: those that come in again, and history to be read."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy.orm import Session

from importers.export import export_csv, export_xlsx
from importers.template import write_tables
from supports.queries.existing import today
from supports.queries.leaving import history_tables

FORMS = ("workbook", "text", "history")
"""One workbook that comes in again, the same as CSV files, what is for reading only."""


def write_register(session: Session, into: Path, form: str) -> list[Path]:
    """Write the register in one of its forms; return the files."""
    if form == "history":
        history = history_tables(session)
        write_tables(into / "history.xlsx", history)
        return [into / "history.xlsx"]
    values = today(session).values
    if form == "workbook":
        export_xlsx(into / "register.xlsx", values)
        return [into / "register.xlsx"]
    export_csv(into, values)
    return sorted(into.glob("*.csv"))
