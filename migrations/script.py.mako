"""${message}.

What to keep in mind:

- name every constraint; the same steps run on SQLite and PostgreSQL;
- import nothing of ours: tables change, revisions do not;
- a table rebuilt on SQLite runs with foreign keys off; `supports.database.migrate` sees to that,
  compares row counts and runs a foreign key check.
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op
${imports if imports else ""}
revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Go up."""
    ${upgrades if upgrades else "pass"}


def downgrade() -> None:
    """Go back."""
    ${downgrades if downgrades else "pass"}
