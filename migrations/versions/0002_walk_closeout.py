"""The record of a walkdown as it was signed off, kept from then on."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op
from sqlalchemy.dialects import postgresql

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

TABLE = "walk_closeout"
REFUSAL = "history is added, never changed"


def guard(table: str) -> None:
    """Refuse UPDATE and DELETE on a table, whoever asks."""
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER keep_{table}_{verb.lower()} BEFORE {verb} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END"
            )
    else:
        op.execute(
            f"CREATE TRIGGER keep_{table} BEFORE UPDATE OR DELETE ON {table} "
            "FOR EACH ROW EXECUTE FUNCTION keep_history()"
        )
        op.execute(
            f"CREATE TRIGGER keep_{table}_whole BEFORE TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION keep_history()"
        )


def unguard(table: str) -> None:
    """Take the guard of a table away."""
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("update", "delete"):
            op.execute(f"DROP TRIGGER keep_{table}_{verb}")
    else:
        op.execute(f"DROP TRIGGER keep_{table} ON {table}")
        op.execute(f"DROP TRIGGER keep_{table}_whole ON {table}")


def upgrade() -> None:
    """Go up."""
    op.create_table(
        TABLE,
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("campaign_id", sa.Integer(), nullable=False),
        sa.Column("frozen_at", sa.DateTime(), nullable=False),
        sa.Column("frozen_by", sa.Text(), nullable=False),
        sa.Column(
            "content",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.Column("fingerprint", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["campaign_id"], ["campaign.id"], name=op.f("fk_walk_closeout_campaign_id_campaign")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_walk_closeout")),
        sa.UniqueConstraint("campaign_id", name=op.f("uq_walk_closeout_campaign_id")),
    )
    guard(TABLE)


def downgrade() -> None:
    """Go back."""
    unguard(TABLE)
    op.drop_table(TABLE)
