"""A foreign key has no index of its own where a key or another index begins with it anyway.

What was looked up by the dropped index is looked up by the other one; a row is written once less.
"""

from __future__ import annotations

from alembic import op

revision = "0016"
down_revision = "0015"
branch_labels = None
depends_on = None

SERVED = (
    ("assessment", "change_id"),
    ("attachment", "point_id"),
    ("campaign_item", "campaign_id"),
    ("change_line", "change_id"),
    ("change_need", "change_id"),
    ("design_case", "line_id"),
    ("hardware_piece", "assembly_id"),
    ("line_element", "line_id"),
    ("line_end", "line_id"),
    ("line_node", "line_id"),
    ("line_run_event", "line_id"),
    ("nameplate", "unit_id"),
    ("nozzle_limit", "line_id"),
    ("planned_order", "work_order_id"),
    ("point_document", "point_id"),
    ("quarantine_answer", "quarantined_value_id"),
    ("quarantined_value", "import_run_id"),
    ("reading", "unit_id"),
    ("required_load", "calculation_id"),
    ("rule_answers", "run_id"),
    ("setting_event", "unit_id"),
    ("source_row", "import_run_id"),
    ("turnaround_item", "turnaround_id"),
    ("turnaround_line", "turnaround_id"),
    ("turnaround_plan", "turnaround_id"),
    ("turnaround_reason", "item_id"),
    ("walk_form", "campaign_id"),
    ("walk_form_holder", "form_id"),
    ("walk_noted", "form_id"),
    ("walk_photo", "item_id"),
    ("walk_reading", "item_id"),
    ("work_order_before", "work_order_id"),
    ("work_order_copy", "work_order_id"),
    ("work_order_hold", "work_order_id"),
    ("work_order_line", "work_order_id"),
    ("work_order_material", "work_order_id"),
)
"""Tables and columns; each index was named after both."""


def upgrade() -> None:
    """Go up."""
    for table, column in SERVED:
        op.drop_index(f"ix_{table}_{column}", table_name=table)


def downgrade() -> None:
    """Go down."""
    for table, column in SERVED:
        op.create_index(f"ix_{table}_{column}", table, [column])
