"""Accounts for the desk: sign-in names, passwords, sessions, failed sign-ins, tokens.

What to keep in mind:

- name every constraint; the same steps run on SQLite and PostgreSQL;
- import nothing of ours: tables change, revisions do not;
- passwords are kept as hashes, the keys of sessions and tokens as marks of themselves.
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Go up."""
    accounts()
    sessions()
    tokens()


def accounts() -> None:
    """Make the tables of accounts and their passwords."""
    op.create_table(
        "account",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("outside_name", sa.Text(), nullable=True),
        sa.Column("opened_at", sa.DateTime(), nullable=False),
        sa.Column("closed_at", sa.DateTime(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_account_person_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_account")),
        sa.UniqueConstraint("name", name=op.f("uq_account_name")),
        sa.UniqueConstraint("outside_name", name=op.f("uq_account_outside_name")),
        sa.UniqueConstraint("person_id", name=op.f("uq_account_person_id")),
    )
    op.create_table(
        "account_password",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("account_id", sa.Integer(), nullable=False),
        sa.Column("hash", sa.Text(), nullable=False),
        sa.Column("set_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["account_id"], ["account.id"], name=op.f("fk_account_password_account_id_account")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_account_password")),
        sa.UniqueConstraint("account_id", name=op.f("uq_account_password_account_id")),
    )


def sessions() -> None:
    """Make the tables of sessions and failed sign-ins."""
    op.create_table(
        "desk_session",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("account_id", sa.Integer(), nullable=False),
        sa.Column("mark", sa.Text(), nullable=False),
        sa.Column("started_at", sa.DateTime(), nullable=False),
        sa.Column("seen_at", sa.DateTime(), nullable=False),
        sa.Column("ends_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["account_id"], ["account.id"], name=op.f("fk_desk_session_account_id_account")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_desk_session")),
        sa.UniqueConstraint("mark", name=op.f("uq_desk_session_mark")),
    )
    op.create_index(op.f("ix_desk_session_account_id"), "desk_session", ["account_id"])
    op.create_table(
        "failed_sign_in",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("address", sa.Text(), nullable=False),
        sa.Column("tried_at", sa.DateTime(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_failed_sign_in")),
    )
    op.create_index(op.f("ix_failed_sign_in_name"), "failed_sign_in", ["name", "tried_at"])
    op.create_index(op.f("ix_failed_sign_in_address"), "failed_sign_in", ["address", "tried_at"])


def tokens() -> None:
    """Make the table of tokens."""
    op.create_table(
        "api_token",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("account_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("mark", sa.Text(), nullable=False),
        sa.Column("scope", sa.Text(), nullable=False),
        sa.Column("given_at", sa.DateTime(), nullable=False),
        sa.Column("ends_at", sa.DateTime(), nullable=True),
        sa.Column("withdrawn_at", sa.DateTime(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["account_id"], ["account.id"], name=op.f("fk_api_token_account_id_account")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_api_token")),
        sa.UniqueConstraint("mark", name=op.f("uq_api_token_mark")),
    )
    op.create_index(op.f("ix_api_token_account_id"), "api_token", ["account_id"])


def downgrade() -> None:
    """Go down."""
    for table in ("api_token", "failed_sign_in", "desk_session", "account_password", "account"):
        op.drop_table(table)
