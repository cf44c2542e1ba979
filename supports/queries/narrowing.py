"""Narrow a query to ids, or leave it whole."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any, TypeVarTuple

from sqlalchemy import Select

Columns = TypeVarTuple("Columns")


def only(query: Select[*Columns], column: Any, ids: Collection[int] | None) -> Select[*Columns]:
    """Return the query for these ids alone; None asks for all."""
    return query if ids is None else query.where(column.in_(ids))
