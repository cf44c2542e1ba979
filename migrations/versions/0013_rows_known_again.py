"""Cells by which the row of a value that waits is known again in a copy of another name."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op
from sqlalchemy.dialects.postgresql import JSONB

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None

TABLE, COLUMN = "quarantined_value", "known_by"


def upgrade() -> None:
    """Go up."""
    kind = sa.JSON().with_variant(JSONB(), "postgresql")
    op.add_column(TABLE, sa.Column(COLUMN, kind, nullable=True))


def downgrade() -> None:
    """Go down."""
    op.drop_column(TABLE, COLUMN)
