"""Re-set plans: as made, as chosen, and the work orders that follow them.

What to keep in mind:

- name every constraint; the same steps run on SQLite and PostgreSQL;
- import nothing of ours: tables change, revisions do not;
- a table rebuilt on SQLite runs with foreign keys off; `supports.database.migrate` sees to that,
  compares row counts and runs a foreign key check.
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op
from sqlalchemy.dialects import postgresql

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

HISTORY = ("reset_plan", "plan_choice", "planned_order")
"""Rows of these tables are added, never changed and never deleted."""

REFUSAL = "history is added, never changed"


def guard(table: str) -> None:
    """Refuse to change or delete a row of a table."""
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
    """Take the guard away."""
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("update", "delete"):
            op.execute(f"DROP TRIGGER keep_{table}_{verb}")
    else:
        op.execute(f"DROP TRIGGER keep_{table} ON {table}")
        op.execute(f"DROP TRIGGER keep_{table}_whole ON {table}")


def document() -> sa.types.TypeEngine[object]:
    """Return the type of a document on both databases."""
    return sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql")


def upgrade() -> None:
    """Go up."""
    op.create_table(
        "reset_plan",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("change_id", sa.Integer(), nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.Column("assessment_id", sa.Integer(), nullable=False),
        sa.Column("follows_id", sa.Integer(), nullable=True),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("read_from", sa.Text(), nullable=True),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.Column("made_by", sa.Text(), nullable=False),
        sa.Column("asked", document(), nullable=False),
        sa.Column("standing", document(), nullable=False),
        sa.Column("content", document(), nullable=False),
        sa.Column("fingerprint", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["assessment_id"], ["assessment.id"], name="fk_reset_plan_assessment_id_assessment"
        ),
        sa.ForeignKeyConstraint(
            ["change_id"], ["change.id"], name="fk_reset_plan_change_id_change"
        ),
        sa.ForeignKeyConstraint(
            ["follows_id"], ["reset_plan.id"], name="fk_reset_plan_follows_id_reset_plan"
        ),
        sa.ForeignKeyConstraint(["line_id"], ["line.id"], name="fk_reset_plan_line_id_line"),
        sa.PrimaryKeyConstraint("id", name="pk_reset_plan"),
        sa.UniqueConstraint("number", name="uq_reset_plan_number"),
    )
    for column in ("assessment_id", "change_id", "follows_id", "line_id"):
        op.create_index(f"ix_reset_plan_{column}", "reset_plan", [column], unique=False)
    _choices()
    _orders()
    for table in HISTORY:
        guard(table)


def _choices() -> None:
    op.create_table(
        "plan_choice",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("plan_id", sa.Integer(), nullable=False),
        sa.Column("alternative", sa.Text(), nullable=False),
        sa.Column("chosen_by", sa.Text(), nullable=False),
        sa.Column("chosen_at", sa.DateTime(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["plan_id"], ["reset_plan.id"], name="fk_plan_choice_plan_id_reset_plan"
        ),
        sa.PrimaryKeyConstraint("id", name="pk_plan_choice"),
    )
    op.create_index("ix_plan_choice_plan_id", "plan_choice", ["plan_id"], unique=False)


def _orders() -> None:
    op.create_table(
        "planned_order",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("work_order_id", sa.Integer(), nullable=False),
        sa.Column("choice_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["choice_id"], ["plan_choice.id"], name="fk_planned_order_choice_id_plan_choice"
        ),
        sa.ForeignKeyConstraint(
            ["work_order_id"], ["work_order.id"], name="fk_planned_order_work_order_id_work_order"
        ),
        sa.PrimaryKeyConstraint("id", name="pk_planned_order"),
        sa.UniqueConstraint(
            "work_order_id", "choice_id", name="uq_planned_order_work_order_id_choice_id"
        ),
    )
    for column in ("choice_id", "work_order_id"):
        op.create_index(f"ix_planned_order_{column}", "planned_order", [column], unique=False)


def downgrade() -> None:
    """Go back."""
    for table in HISTORY:
        unguard(table)
    op.drop_index("ix_planned_order_work_order_id", table_name="planned_order")
    op.drop_index("ix_planned_order_choice_id", table_name="planned_order")
    op.drop_table("planned_order")
    op.drop_index("ix_plan_choice_plan_id", table_name="plan_choice")
    op.drop_table("plan_choice")
    for column in ("line_id", "follows_id", "change_id", "assessment_id"):
        op.drop_index(f"ix_reset_plan_{column}", table_name="reset_plan")
    op.drop_table("reset_plan")
