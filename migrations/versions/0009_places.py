"""Clearances, shoes, falls, drawings and calculations as the rules read them; bodies' warmth."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

NUMBERS = {
    "assembly": (
        "gap_up", "gap_down", "gap_east", "gap_west", "gap_north", "gap_south",
        "insulation_growth", "bearing_length", "fall_designed", "fall_found", "drawn_load",
        "drawn_rate", "drawn_travel",
    ),
    "nameplate": ("body_temperature_limit",),
    "reading": ("body_temperature",),
    "required_load": ("used_plate_load", "used_rate", "used_travel"),
}  # fmt: skip
WORDS = {"assembly": ("designed_for_fill",), "hardware_piece": ("thread_in_sight",)}


def upgrade() -> None:
    """Go up."""
    for kind, tables in ((sa.Double, NUMBERS), (sa.Text, WORDS)):
        for table, names in tables.items():
            for name in names:
                op.add_column(table, sa.Column(name, kind(), nullable=True))


def downgrade() -> None:
    """Go down."""
    for tables in (WORDS, NUMBERS):
        for table, names in tables.items():
            for name in reversed(names):
                op.drop_column(table, name)
