"""Screenings kept for a change are planned, not issued: they hold once the change is done.

They were kept with the status 'issued', by which a what-if could pass for the newest calculation of
a line. The program gave them the number of their change after 'SCREENING-'.
"""

from __future__ import annotations

from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

OURS = "method = 'screening' AND number LIKE 'SCREENING-%'"


def upgrade() -> None:
    """Call them planned."""
    _say("issued", "planned")


def downgrade() -> None:
    """Call them issued again."""
    _say("planned", "issued")


def _say(was: str, becomes: str) -> None:
    op.execute(
        f"UPDATE calculation SET status = '{becomes}', row_version = row_version + 1 "
        f"WHERE {OURS} AND status = '{was}'"
    )
