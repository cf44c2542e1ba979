"""Choices between a pack's form and what is recorded; declared units by source, heading and row."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

REFUSAL = "history is added, never changed"
DECLARED = ("source", "heading", "named")


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
        "form_choice",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("work_order_line_id", sa.Integer(), nullable=False),
        sa.Column("occasion", sa.Text(), nullable=False),
        sa.Column("kept", sa.Text(), nullable=False),
        sa.Column("form_load", sa.Double(), nullable=False),
        sa.Column("form_pointer", sa.Double(), nullable=True),
        sa.Column("recorded_load", sa.Double(), nullable=True),
        sa.Column("recorded_pointer", sa.Double(), nullable=True),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("chosen_at", sa.DateTime(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_form_choice")),
        sa.ForeignKeyConstraint(
            ["work_order_line_id"],
            ["work_order_line.id"],
            name=op.f("fk_form_choice_work_order_line_id_work_order_line"),
        ),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_form_choice_person_id_person")
        ),
    )
    for column in ("work_order_line_id", "person_id"):
        op.create_index(op.f(f"ix_form_choice_{column}"), "form_choice", [column])
    guard("form_choice")
    for name in DECLARED:
        op.add_column("declared_unit", sa.Column(name, sa.Text(), nullable=True))


def downgrade() -> None:
    """Go down."""
    for name in reversed(DECLARED):
        op.drop_column("declared_unit", name)
    unguard("form_choice")
    for column in ("person_id", "work_order_line_id"):
        op.drop_index(op.f(f"ix_form_choice_{column}"), table_name="form_choice")
    op.drop_table("form_choice")
