"""What people declare about files that come in, and the values that wait for an answer."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op
from sqlalchemy.dialects import postgresql

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


HISTORY = (
    "declared_unit",
    "join_decision",
    "quarantine_answer",
    "quarantined_value",
    "sheet_profile",
)
"""Rows of these tables are added, never changed and never deleted."""

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
    _make_declarations()
    _make_decisions()
    _make_quarantine()
    for table in HISTORY:
        guard(table)


def _make_declarations() -> None:
    op.create_table(
        "sheet_profile",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("sheet", sa.Text(), nullable=False),
        sa.Column(
            "profile",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("confirmed_at", sa.DateTime(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_sheet_profile_person_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sheet_profile")),
    )
    op.create_index(op.f("ix_sheet_profile_person_id"), "sheet_profile", ["person_id"])
    op.create_table(
        "declared_unit",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("file_name", sa.Text(), nullable=False),
        sa.Column("file_hash", sa.Text(), nullable=False),
        sa.Column("sheet", sa.Text(), nullable=False),
        sa.Column("cell", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("declared_at", sa.DateTime(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_declared_unit_person_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_declared_unit")),
    )
    op.create_index(op.f("ix_declared_unit_person_id"), "declared_unit", ["person_id"])


def _make_decisions() -> None:
    op.create_table(
        "join_decision",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("tag", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("point_id", sa.Integer(), nullable=True),
        sa.Column("since", sa.Date(), nullable=True),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("decided_at", sa.DateTime(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_join_decision_person_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["point_id"], ["support_point.id"], name=op.f("fk_join_decision_point_id_support_point")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_join_decision")),
    )
    op.create_index(op.f("ix_join_decision_person_id"), "join_decision", ["person_id"])
    op.create_index(op.f("ix_join_decision_point_id"), "join_decision", ["point_id"])


def _make_quarantine() -> None:
    op.create_table(
        "quarantined_value",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("import_run_id", sa.Integer(), nullable=False),
        sa.Column("sheet", sa.Text(), nullable=False),
        sa.Column("cell", sa.Text(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("field", sa.Text(), nullable=False),
        sa.Column("tag", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("question", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["import_run_id"],
            ["import_run.id"],
            name=op.f("fk_quarantined_value_import_run_id_import_run"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_quarantined_value")),
        sa.UniqueConstraint(
            "import_run_id",
            "sheet",
            "cell",
            "code",
            name=op.f("uq_quarantined_value_import_run_id_sheet_cell_code"),
        ),
    )
    op.create_index(
        op.f("ix_quarantined_value_import_run_id"), "quarantined_value", ["import_run_id"]
    )
    _make_answers()


def _make_answers() -> None:
    op.create_table(
        "quarantine_answer",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("quarantined_value_id", sa.Integer(), nullable=False),
        sa.Column("how", sa.Text(), nullable=False),
        sa.Column("import_run_id", sa.Integer(), nullable=True),
        sa.Column("person", sa.Text(), nullable=False),
        sa.Column("answered_at", sa.DateTime(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["import_run_id"],
            ["import_run.id"],
            name=op.f("fk_quarantine_answer_import_run_id_import_run"),
        ),
        sa.ForeignKeyConstraint(
            ["quarantined_value_id"],
            ["quarantined_value.id"],
            name=op.f("fk_quarantine_answer_quarantined_value_id_quarantined_value"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_quarantine_answer")),
        sa.UniqueConstraint(
            "quarantined_value_id", name=op.f("uq_quarantine_answer_quarantined_value_id")
        ),
    )
    op.create_index(
        op.f("ix_quarantine_answer_import_run_id"), "quarantine_answer", ["import_run_id"]
    )
    op.create_index(
        op.f("ix_quarantine_answer_quarantined_value_id"),
        "quarantine_answer",
        ["quarantined_value_id"],
    )


def downgrade() -> None:
    """Go down."""
    for table in HISTORY:
        unguard(table)
    for table in (
        "quarantine_answer",
        "quarantined_value",
        "join_decision",
        "declared_unit",
        "sheet_profile",
    ):
        op.drop_table(table)
