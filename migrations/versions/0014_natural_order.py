"""Tags in natural order: a text to sort by, made for every tag that is there."""

from __future__ import annotations

import re

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None

TABLE, INDEX = "support_tag", "ix_support_tag_present_sort_key"
AT_ONCE = 5_000
LONGEST = 250


def natural_key(tag: str) -> str:
    """Return the text by which a tag is sorted."""
    ordered = re.sub("[0-9]+", counted_digits, tag.upper())
    return f"{ordered[:LONGEST]}\x01{tag[:LONGEST]}"


def counted_digits(number: re.Match[str]) -> str:
    """Return a number behind a character for the count of its digits."""
    digits = number[0].lstrip("0") or "0"
    return f"{chr(ord('0') + min(len(digits), LONGEST))}{digits}"


def upgrade() -> None:
    """Go up."""
    in_order = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")
    column = sa.Column("sort_key", in_order, server_default=sa.text("''"), nullable=False)
    op.add_column(TABLE, column)
    fill()
    present = sa.text("valid_to IS NULL")
    op.create_index(INDEX, TABLE, ["sort_key"], sqlite_where=present, postgresql_where=present)


def fill() -> None:
    """Give every tag its place, some thousands at a time."""
    bind = op.get_bind()
    tags = sa.table(TABLE, sa.column("id"), sa.column("tag"), sa.column("sort_key"))
    given = sa.update(tags).where(tags.c.id == sa.bindparam("row"))
    given = given.values(sort_key=sa.bindparam("place"))
    following = sa.select(tags.c.id, tags.c.tag).order_by(tags.c.id).limit(AT_ONCE)
    last = 0
    while rows := bind.execute(following.where(tags.c.id > last)).all():
        bind.execute(given, [{"row": row, "place": natural_key(tag)} for row, tag in rows])
        last = rows[-1].id


def downgrade() -> None:
    """Go down."""
    op.drop_index(INDEX, table_name=TABLE)
    op.drop_column(TABLE, "sort_key")
