"""Documents that the trail keeps by their mark, put back from the rows in which they stand."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.freezing import mark_of
from supports.model import Base
from supports.model.base import BY_MARK
from supports.queries.narrowing import only


def put_back(session: Session, told: Mapping[str, Mapping[int, dict[str, Any]]]) -> None:
    """Put into rows, by table and id as the trail tells them, the documents that were recorded.

    Where a row no longer holds the document that was recorded, its mark is left.
    """
    for table in Base.metadata.sorted_tables:
        columns = [column for column in table.columns if BY_MARK in column.info]
        rows = told.get(table.name) if columns else None
        if not rows:
            continue
        query = only(select(table.c.id, *columns), table.c.id, rows.keys())
        for row_id, *documents in session.execute(query):
            row = rows[row_id]
            for column, document in zip(columns, documents, strict=True):
                if row.get(column.name) == mark_of(document):
                    row[column.name] = document
