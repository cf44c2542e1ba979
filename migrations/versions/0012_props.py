"""Temporary props in and out."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None

TABLE = "prop_event"
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
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.Column("prop_number", sa.Text(), nullable=False),
        sa.Column("along", sa.Double(), nullable=False),
        sa.Column("direction", sa.Text(), nullable=False),
        sa.Column("happened_at", sa.DateTime(), nullable=False),
        sa.Column("done_by", sa.Text(), nullable=False),
        sa.Column("witness", sa.Text(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.CheckConstraint("direction IN ('in', 'out')", name=op.f("ck_prop_event_direction")),
        sa.ForeignKeyConstraint(["line_id"], ["line.id"], name=op.f("fk_prop_event_line_id_line")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_prop_event")),
    )
    op.create_index(op.f("ix_prop_event_line_id"), TABLE, ["line_id"])
    guard(TABLE)


def downgrade() -> None:
    """Go down."""
    unguard(TABLE)
    op.drop_index(op.f("ix_prop_event_line_id"), table_name=TABLE)
    op.drop_table(TABLE)
