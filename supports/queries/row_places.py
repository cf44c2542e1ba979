"""Where rows of the register came from: file, sheet and row, as the audit trail keeps them."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.findings import Place
from supports.model import AuditEntry, Base, ImportRun, SourceRow


def row_places(session: Session, model: type[Base], ids: Sequence[int]) -> dict[int, Place]:
    """Return the sheet row that wrote each row last; rows that came from no sheet are absent."""
    query = (
        select(AuditEntry.row_id, ImportRun.file_name, SourceRow.sheet, SourceRow.row)
        .join(SourceRow, AuditEntry.source_row_id == SourceRow.id)
        .join(ImportRun, SourceRow.import_run_id == ImportRun.id)
        .where(AuditEntry.table_name == model.__tablename__, AuditEntry.row_id.in_(ids))
        .order_by(AuditEntry.id)
    )
    return {
        row_id: Place(file, sheet, f"row {row}")
        for row_id, file, sheet, row in session.execute(query)
    }
