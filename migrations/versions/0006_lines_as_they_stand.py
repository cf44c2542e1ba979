"""Lines screened as they stand, and when they were started up and shut down."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op
from sqlalchemy.dialects import postgresql

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None

TABLES = ("line_run_event", "line_screening")
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
        "line_screening",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.Column("screened_at", sa.DateTime(), nullable=False),
        sa.Column("screened_by", sa.Text(), nullable=False),
        sa.Column("mark", sa.Text(), nullable=False),
        sa.Column(
            "content",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.ForeignKeyConstraint(
            ["line_id"], ["line.id"], name=op.f("fk_line_screening_line_id_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_line_screening")),
    )
    op.create_index(op.f("ix_line_screening_line_id"), "line_screening", ["line_id"])
    op.create_table(
        "line_run_event",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.Column("happened_on", sa.Date(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("told_by", sa.Text(), nullable=False),
        sa.Column("recorded_by", sa.Text(), nullable=False),
        sa.Column("recorded_at", sa.DateTime(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "what IN ('start-up', 'shut-down')", name=op.f("ck_line_run_event_what")
        ),
        sa.ForeignKeyConstraint(
            ["line_id"], ["line.id"], name=op.f("fk_line_run_event_line_id_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_line_run_event")),
    )
    op.create_index(op.f("ix_line_run_event_line_id"), "line_run_event", ["line_id"])
    op.create_index(
        "ix_line_run_event_line_day", "line_run_event", ["line_id", "happened_on"]
    )
    for table in TABLES:
        guard(table)


def downgrade() -> None:
    """Go back."""
    for table in TABLES:
        unguard(table)
    op.drop_index("ix_line_run_event_line_day", table_name="line_run_event")
    op.drop_index(op.f("ix_line_run_event_line_id"), table_name="line_run_event")
    op.drop_table("line_run_event")
    op.drop_index(op.f("ix_line_screening_line_id"), table_name="line_screening")
    op.drop_table("line_screening")
