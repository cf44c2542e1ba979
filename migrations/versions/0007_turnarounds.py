"""Turnarounds: scope with its reasons, windows, stored plans."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op
from sqlalchemy.dialects import postgresql

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

HISTORY = ("turnaround_plan", "turnaround_reason", "turnaround_window")
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
    _make_turnaround()
    _make_plan()
    _make_item()
    _make_line()
    _make_window()
    _make_reason()
    for table in HISTORY:
        guard(table)


def _make_turnaround() -> None:
    op.create_table(
        "turnaround",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("begins_on", sa.Date(), nullable=False),
        sa.Column("ends_on", sa.Date(), nullable=False),
        sa.Column("freeze_on", sa.Date(), nullable=True),
        sa.Column("frozen_on", sa.Date(), nullable=True),
        sa.Column("frozen_by", sa.Text(), nullable=True),
        sa.Column("hours_a_day", sa.Double(), nullable=False),
        sa.Column("crews", sa.Integer(), nullable=False),
        sa.Column("fitters", sa.Integer(), nullable=False),
        sa.Column("scaffolders", sa.Integer(), nullable=False),
        sa.Column("inspectors", sa.Integer(), nullable=False),
        sa.Column("engineers", sa.Integer(), nullable=False),
        sa.Column("opened_by", sa.Text(), nullable=False),
        sa.Column("opened_on", sa.Date(), nullable=False),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_turnaround")),
        sa.UniqueConstraint("number", name=op.f("uq_turnaround_number")),
    )


def _make_plan() -> None:
    op.create_table(
        "turnaround_plan",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("turnaround_id", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.Column("made_by", sa.Text(), nullable=False),
        sa.Column(
            "content",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.Column("fingerprint", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["turnaround_id"],
            ["turnaround.id"],
            name=op.f("fk_turnaround_plan_turnaround_id_turnaround"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_turnaround_plan")),
        sa.UniqueConstraint(
            "turnaround_id", "revision", name=op.f("uq_turnaround_plan_turnaround_id_revision")
        ),
    )
    op.create_index(
        op.f("ix_turnaround_plan_turnaround_id"), "turnaround_plan", ["turnaround_id"], unique=False
    )


def _make_item() -> None:
    op.create_table(
        "turnaround_item",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("turnaround_id", sa.Integer(), nullable=False),
        sa.Column("point_id", sa.Integer(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=True),
        sa.Column("added_on", sa.Date(), nullable=False),
        sa.Column("added_by", sa.Text(), nullable=False),
        sa.Column("after_freeze", sa.Text(), nullable=False),
        sa.Column("taken_out_on", sa.Date(), nullable=True),
        sa.Column("taken_out_by", sa.Text(), nullable=True),
        sa.Column("taken_out_why", sa.Text(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["point_id"],
            ["support_point.id"],
            name=op.f("fk_turnaround_item_point_id_support_point"),
        ),
        sa.ForeignKeyConstraint(
            ["turnaround_id"],
            ["turnaround.id"],
            name=op.f("fk_turnaround_item_turnaround_id_turnaround"),
        ),
        sa.ForeignKeyConstraint(
            ["unit_id"], ["unit.id"], name=op.f("fk_turnaround_item_unit_id_unit")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_turnaround_item")),
        sa.UniqueConstraint(
            "turnaround_id",
            "point_id",
            "unit_id",
            name=op.f("uq_turnaround_item_turnaround_id_point_id_unit_id"),
        ),
    )
    op.create_index(
        op.f("ix_turnaround_item_point_id"), "turnaround_item", ["point_id"], unique=False
    )
    op.create_index(
        op.f("ix_turnaround_item_turnaround_id"), "turnaround_item", ["turnaround_id"], unique=False
    )
    op.create_index(
        op.f("ix_turnaround_item_unit_id"), "turnaround_item", ["unit_id"], unique=False
    )


def _make_line() -> None:
    op.create_table(
        "turnaround_line",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("turnaround_id", sa.Integer(), nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["line_id"], ["line.id"], name=op.f("fk_turnaround_line_line_id_line")
        ),
        sa.ForeignKeyConstraint(
            ["turnaround_id"],
            ["turnaround.id"],
            name=op.f("fk_turnaround_line_turnaround_id_turnaround"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_turnaround_line")),
        sa.UniqueConstraint(
            "turnaround_id", "line_id", name=op.f("uq_turnaround_line_turnaround_id_line_id")
        ),
    )
    op.create_index(
        op.f("ix_turnaround_line_line_id"), "turnaround_line", ["line_id"], unique=False
    )
    op.create_index(
        op.f("ix_turnaround_line_turnaround_id"), "turnaround_line", ["turnaround_id"], unique=False
    )


def _make_window() -> None:
    op.create_table(
        "turnaround_window",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("turnaround_id", sa.Integer(), nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=True),
        sa.Column("plant_state", sa.Text(), nullable=False),
        sa.Column("first_day", sa.Date(), nullable=False),
        sa.Column("last_day", sa.Date(), nullable=False),
        sa.Column("laid_down_by", sa.Text(), nullable=False),
        sa.Column("laid_down_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["line_id"], ["line.id"], name=op.f("fk_turnaround_window_line_id_line")
        ),
        sa.ForeignKeyConstraint(
            ["turnaround_id"],
            ["turnaround.id"],
            name=op.f("fk_turnaround_window_turnaround_id_turnaround"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_turnaround_window")),
    )
    op.create_index(
        op.f("ix_turnaround_window_line_id"), "turnaround_window", ["line_id"], unique=False
    )
    op.create_index(
        op.f("ix_turnaround_window_turnaround_id"),
        "turnaround_window",
        ["turnaround_id"],
        unique=False,
    )


def _make_reason() -> None:
    op.create_table(
        "turnaround_reason",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("reference", sa.Text(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("action", sa.Text(), nullable=False),
        sa.Column("noted_by", sa.Text(), nullable=False),
        sa.Column("noted_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["item_id"],
            ["turnaround_item.id"],
            name=op.f("fk_turnaround_reason_item_id_turnaround_item"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_turnaround_reason")),
        sa.UniqueConstraint(
            "item_id",
            "source",
            "reference",
            name=op.f("uq_turnaround_reason_item_id_source_reference"),
        ),
    )
    op.create_index(
        op.f("ix_turnaround_reason_item_id"), "turnaround_reason", ["item_id"], unique=False
    )


def downgrade() -> None:
    """Go down."""
    for table in HISTORY:
        unguard(table)
    op.drop_index(op.f("ix_turnaround_reason_item_id"), table_name="turnaround_reason")
    op.drop_table("turnaround_reason")
    op.drop_index(op.f("ix_turnaround_window_turnaround_id"), table_name="turnaround_window")
    op.drop_index(op.f("ix_turnaround_window_line_id"), table_name="turnaround_window")
    op.drop_table("turnaround_window")
    op.drop_index(op.f("ix_turnaround_line_turnaround_id"), table_name="turnaround_line")
    op.drop_index(op.f("ix_turnaround_line_line_id"), table_name="turnaround_line")
    op.drop_table("turnaround_line")
    op.drop_index(op.f("ix_turnaround_item_unit_id"), table_name="turnaround_item")
    op.drop_index(op.f("ix_turnaround_item_turnaround_id"), table_name="turnaround_item")
    op.drop_index(op.f("ix_turnaround_item_point_id"), table_name="turnaround_item")
    op.drop_table("turnaround_item")
    op.drop_index(op.f("ix_turnaround_plan_turnaround_id"), table_name="turnaround_plan")
    op.drop_table("turnaround_plan")
    op.drop_table("turnaround")
