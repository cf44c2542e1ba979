"""Rows of walkdowns noted on tablets, by tablet and revision."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None

POINTING = ("entry_id", "form_id", "item_id", "replaces_id")
"""Columns that point at other tables."""
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
        "walk_noted",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("form_id", sa.Integer(), nullable=False),
        sa.Column("tablet", sa.Text(), nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("person", sa.Text(), nullable=False),
        sa.Column("noted_at", sa.DateTime(), nullable=False),
        sa.Column("sent_at", sa.DateTime(), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=True),
        sa.Column("replaces_id", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["form_id"], ["walk_form.id"], name=op.f("fk_walk_noted_form_id_walk_form")
        ),
        sa.ForeignKeyConstraint(
            ["item_id"], ["campaign_item.id"], name=op.f("fk_walk_noted_item_id_campaign_item")
        ),
        sa.ForeignKeyConstraint(
            ["entry_id"], ["walk_entry.id"], name=op.f("fk_walk_noted_entry_id_walk_entry")
        ),
        sa.ForeignKeyConstraint(
            ["replaces_id"], ["walk_entry.id"], name=op.f("fk_walk_noted_replaces_id_walk_entry")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_walk_noted")),
        sa.UniqueConstraint(
            "form_id", "tablet", "item_id", "revision",
            name=op.f("uq_walk_noted_form_id_tablet_item_id_revision"),
        ),
    )  # fmt: skip
    for column in POINTING:
        op.create_index(op.f(f"ix_walk_noted_{column}"), "walk_noted", [column])
    guard("walk_noted")


def downgrade() -> None:
    """Go down."""
    unguard("walk_noted")
    for column in POINTING:
        op.drop_index(op.f(f"ix_walk_noted_{column}"), table_name="walk_noted")
    op.drop_table("walk_noted")
