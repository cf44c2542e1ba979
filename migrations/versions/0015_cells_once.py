"""Cells as found stand once, in their own row; the trail keeps their hash, as text on a server.

What was recorded before stays as it is. A program of an earlier revision does not know such
entries, so the register says that it is of a later one, though on SQLite no table changes.
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op
from sqlalchemy.dialects.postgresql import JSON, JSONB

revision = "0015"
down_revision = "0014"
branch_labels = None
depends_on = None

DOCUMENTS = (("source_row", "cells"), ("audit_entry", "before"), ("audit_entry", "after"))
"""What no query looks into."""


def upgrade() -> None:
    """Go up."""
    _kept_as(JSON())


def downgrade() -> None:
    """Go down."""
    _kept_as(JSONB())


def _kept_as(kind: sa.types.TypeEngine[object]) -> None:
    """Turn documents into another kind on a server; each table is written anew in one go."""
    if op.get_bind().dialect.name != "postgresql":
        return
    for table in dict(DOCUMENTS):
        columns = [column for owner, column in DOCUMENTS if owner == table]
        name = type(kind).__name__
        turns = (f'ALTER COLUMN "{one}" TYPE {name} USING "{one}"::{name}' for one in columns)
        op.execute(f'ALTER TABLE "{table}" {", ".join(turns)}')
