"""The register: all tables, and triggers that keep history from being rewritten.

What to keep in mind:

- name every constraint; the same steps run on SQLite and PostgreSQL;
- import nothing of ours: tables change, revisions do not;
- a table rebuilt on SQLite runs with foreign keys off; `supports.database.migrate` sees to that,
  compares row counts and runs a foreign key check.
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op
from sqlalchemy.dialects import postgresql

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


HISTORY = (
    "assessment",
    "audit_batch",
    "audit_entry",
    "campaign_item",
    "campaign_step",
    "change_meeting",
    "change_proof",
    "change_term",
    "emergency_act",
    "finding_acceptance",
    "finding_step",
    "import_run",
    "reading",
    "refusal",
    "rule_answers",
    "rule_run",
    "saved_question",
    "setting_event",
    "signature",
    "source_row",
    "step_reading",
    "travel_stop_event",
    "walk_choice",
    "walk_entry",
    "walk_form",
    "walk_form_holder",
    "walk_photo",
    "walk_reading",
    "walk_return",
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
    op.create_table(
        "area",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_area")),
        sa.UniqueConstraint("code", name=op.f("uq_area_code")),
    )
    op.create_table(
        "audit_batch",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("action", sa.Text(), nullable=False),
        sa.Column("actor", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.Column("written_at", sa.DateTime(), nullable=False),
        sa.Column("previous_hash", sa.Text(), nullable=False),
        sa.Column("hash", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_audit_batch")),
        sa.UniqueConstraint("previous_hash", name=op.f("uq_audit_batch_previous_hash")),
    )
    op.create_table(
        "calculation",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("revision", sa.Text(), nullable=False),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("status", sa.Text(), nullable=False),
        sa.Column("issued_on", sa.Date(), nullable=True),
        sa.Column("author", sa.Text(), nullable=True),
        sa.Column("basis", sa.Text(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_calculation")),
        sa.UniqueConstraint("number", "revision", name=op.f("uq_calculation_number_revision")),
    )
    op.create_table(
        "campaign",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.Column("half", sa.Text(), nullable=False),
        sa.Column("state_wanted", sa.Text(), nullable=False),
        sa.Column(
            "scope",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.Column("walk_on", sa.Date(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("pair_id", sa.Integer(), nullable=True),
        sa.Column("planned_by", sa.Text(), nullable=False),
        sa.Column("planned_on", sa.Date(), nullable=False),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["pair_id"], ["campaign.id"], name=op.f("fk_campaign_pair_id_campaign")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_campaign")),
        sa.UniqueConstraint("number", name=op.f("uq_campaign_number")),
    )
    op.create_index(op.f("ix_campaign_pair_id"), "campaign", ["pair_id"], unique=False)
    op.create_table(
        "change",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.Column("duration", sa.Text(), nullable=False),
        sa.Column("ends_on", sa.Date(), nullable=True),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("aim", sa.Text(), nullable=True),
        sa.Column("requested_by", sa.Text(), nullable=False),
        sa.Column("requested_on", sa.Date(), nullable=False),
        sa.Column("wanted_on", sa.Date(), nullable=True),
        sa.Column("depth", sa.Text(), nullable=True),
        sa.Column("stretch", sa.Text(), nullable=True),
        sa.Column("owner", sa.Text(), nullable=True),
        sa.Column("watch_days", sa.Integer(), nullable=True),
        sa.Column("asked_until", sa.Date(), nullable=True),
        sa.Column("safe_until", sa.DateTime(), nullable=True),
        sa.Column("technical_basis", sa.Text(), nullable=True),
        sa.Column("safety_and_health", sa.Text(), nullable=True),
        sa.Column("operating_procedures", sa.Text(), nullable=True),
        sa.Column("time_period", sa.Text(), nullable=True),
        sa.Column("authorization", sa.Text(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_change")),
        sa.UniqueConstraint("number", name=op.f("uq_change_number")),
    )
    op.create_table(
        "document",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("sheet", sa.Text(), nullable=False),
        sa.Column("revision", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("status", sa.Text(), nullable=True),
        sa.Column("kept_at", sa.Text(), nullable=True),
        sa.Column("content_hash", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_document")),
        sa.UniqueConstraint(
            "number", "sheet", "revision", name=op.f("uq_document_number_sheet_revision")
        ),
    )
    op.create_table(
        "finding_acceptance",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("rule", sa.Text(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("subject_key", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("severity", sa.Text(), nullable=False),
        sa.Column("inputs", sa.Text(), nullable=False),
        sa.Column("accepted_by", sa.Text(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("accepted_at", sa.DateTime(), nullable=False),
        sa.Column("until", sa.Date(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_finding_acceptance")),
    )
    op.create_index(
        "ix_finding_acceptance_place",
        "finding_acceptance",
        ["rule", "subject", "subject_key"],
        unique=False,
    )
    op.create_table(
        "import_run",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("file_name", sa.Text(), nullable=False),
        sa.Column("file_hash", sa.Text(), nullable=False),
        sa.Column("read_at", sa.DateTime(), nullable=False),
        sa.Column("read_by", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_import_run")),
    )
    op.create_table(
        "person",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("initials", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person")),
        sa.UniqueConstraint("name", name=op.f("uq_person_name")),
    )
    op.create_table(
        "refusal",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("asked_at", sa.DateTime(), nullable=False),
        sa.Column("asked_by", sa.Text(), nullable=False),
        sa.Column("action", sa.Text(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("answer", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_refusal")),
    )
    op.create_table(
        "saved_question",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column(
            "words",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.Column("saved_by", sa.Text(), nullable=False),
        sa.Column("saved_at", sa.DateTime(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_saved_question")),
    )
    op.create_table(
        "site_setting",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("scope", sa.Text(), nullable=False),
        sa.Column(
            "value",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.Column("source", sa.Text(), nullable=True),
        sa.Column("owner", sa.Text(), nullable=False),
        sa.Column("valid_from", sa.Date(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_site_setting")),
        sa.UniqueConstraint(
            "name", "scope", "valid_from", name=op.f("uq_site_setting_name_scope_valid_from")
        ),
    )
    op.create_table(
        "unit",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=True),
        sa.Column("series", sa.Text(), nullable=True),
        sa.Column("stock_code", sa.Text(), nullable=True),
        sa.Column("year_built", sa.Integer(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_unit")),
    )
    op.create_index(
        "uq_unit_serial",
        "unit",
        ["serial", "series"],
        unique=True,
        sqlite_where=sa.text("serial IS NOT NULL"),
        postgresql_where=sa.text("serial IS NOT NULL"),
    )
    op.create_table(
        "assessment",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("change_id", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("calculation_id", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.Column("prepared_by", sa.Text(), nullable=False),
        sa.Column(
            "content",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.Column("fingerprint", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["calculation_id"],
            ["calculation.id"],
            name=op.f("fk_assessment_calculation_id_calculation"),
        ),
        sa.ForeignKeyConstraint(
            ["change_id"], ["change.id"], name=op.f("fk_assessment_change_id_change")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_assessment")),
        sa.UniqueConstraint("change_id", "revision", name=op.f("uq_assessment_change_id_revision")),
    )
    op.create_index(
        op.f("ix_assessment_calculation_id"), "assessment", ["calculation_id"], unique=False
    )
    op.create_index(op.f("ix_assessment_change_id"), "assessment", ["change_id"], unique=False)
    op.create_table(
        "campaign_step",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("campaign_id", sa.Integer(), nullable=False),
        sa.Column("act", sa.Text(), nullable=False),
        sa.Column("came_from", sa.Text(), nullable=False),
        sa.Column("went_to", sa.Text(), nullable=False),
        sa.Column("done_by", sa.Text(), nullable=False),
        sa.Column("done_at", sa.DateTime(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["campaign_id"], ["campaign.id"], name=op.f("fk_campaign_step_campaign_id_campaign")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_campaign_step")),
    )
    op.create_index(
        op.f("ix_campaign_step_campaign_id"), "campaign_step", ["campaign_id"], unique=False
    )
    op.create_table(
        "change_meeting",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("change_id", sa.Integer(), nullable=False),
        sa.Column("other_id", sa.Integer(), nullable=False),
        sa.Column("lead_id", sa.Integer(), nullable=False),
        sa.Column("agreed_by", sa.Text(), nullable=False),
        sa.Column("agreed_at", sa.DateTime(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["change_id"], ["change.id"], name=op.f("fk_change_meeting_change_id_change")
        ),
        sa.ForeignKeyConstraint(
            ["lead_id"], ["change.id"], name=op.f("fk_change_meeting_lead_id_change")
        ),
        sa.ForeignKeyConstraint(
            ["other_id"], ["change.id"], name=op.f("fk_change_meeting_other_id_change")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_change_meeting")),
    )
    op.create_index(
        op.f("ix_change_meeting_change_id"), "change_meeting", ["change_id"], unique=False
    )
    op.create_index(op.f("ix_change_meeting_lead_id"), "change_meeting", ["lead_id"], unique=False)
    op.create_index(
        op.f("ix_change_meeting_other_id"), "change_meeting", ["other_id"], unique=False
    )
    op.create_table(
        "change_need",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("change_id", sa.Integer(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["change_id"], ["change.id"], name=op.f("fk_change_need_change_id_change")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_change_need")),
        sa.UniqueConstraint("change_id", "role", name=op.f("uq_change_need_change_id_role")),
    )
    op.create_index(op.f("ix_change_need_change_id"), "change_need", ["change_id"], unique=False)
    op.create_table(
        "change_proof",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("change_id", sa.Integer(), nullable=False),
        sa.Column("item", sa.Text(), nullable=False),
        sa.Column("given_by", sa.Text(), nullable=False),
        sa.Column("given_at", sa.DateTime(), nullable=False),
        sa.Column("put_off_until", sa.Date(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["change_id"], ["change.id"], name=op.f("fk_change_proof_change_id_change")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_change_proof")),
    )
    op.create_index(op.f("ix_change_proof_change_id"), "change_proof", ["change_id"], unique=False)
    op.create_table(
        "emergency_act",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("change_id", sa.Integer(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=True),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("load", sa.Double(), nullable=True),
        sa.Column("shift_leader", sa.Text(), nullable=False),
        sa.Column("engineer", sa.Text(), nullable=False),
        sa.Column("done_by", sa.Text(), nullable=False),
        sa.Column("done_at", sa.DateTime(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["change_id"], ["change.id"], name=op.f("fk_emergency_act_change_id_change")
        ),
        sa.ForeignKeyConstraint(
            ["unit_id"], ["unit.id"], name=op.f("fk_emergency_act_unit_id_unit")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_emergency_act")),
    )
    op.create_index(
        op.f("ix_emergency_act_change_id"), "emergency_act", ["change_id"], unique=False
    )
    op.create_index(op.f("ix_emergency_act_unit_id"), "emergency_act", ["unit_id"], unique=False)
    op.create_table(
        "line",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("area_id", sa.Integer(), nullable=True),
        sa.Column("service", sa.Text(), nullable=True),
        sa.Column("nominal_size", sa.Text(), nullable=True),
        sa.Column("schedule", sa.Text(), nullable=True),
        sa.Column("outside_diameter", sa.Double(), nullable=True),
        sa.Column("wall", sa.Double(), nullable=True),
        sa.Column("material", sa.Text(), nullable=True),
        sa.Column("insulation", sa.Text(), nullable=True),
        sa.Column("insulation_thickness", sa.Double(), nullable=True),
        sa.Column("insulation_density", sa.Double(), nullable=True),
        sa.Column("cladding_mass_per_length", sa.Double(), nullable=True),
        sa.Column("pipe_mass_per_length", sa.Double(), nullable=True),
        sa.Column("insulation_mass_per_length", sa.Double(), nullable=True),
        sa.Column("content_mass_per_length", sa.Double(), nullable=True),
        sa.Column("content_density", sa.Double(), nullable=True),
        sa.Column("design_temperature", sa.Double(), nullable=True),
        sa.Column("operating_temperature", sa.Double(), nullable=True),
        sa.Column("design_pressure", sa.Double(), nullable=True),
        sa.Column("code", sa.Text(), nullable=True),
        sa.Column("creep_or_high_energy", sa.Text(), nullable=True),
        sa.Column("criticality", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["area_id"], ["area.id"], name=op.f("fk_line_area_id_area")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_line")),
        sa.UniqueConstraint("number", name=op.f("uq_line_number")),
    )
    op.create_index(op.f("ix_line_area_id"), "line", ["area_id"], unique=False)
    op.create_table(
        "nameplate",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("source", sa.Text(), nullable=True),
        sa.Column("provisional", sa.Text(), nullable=True),
        sa.Column("scale_unit", sa.Text(), nullable=True),
        sa.Column("pointer_unit", sa.Text(), nullable=True),
        sa.Column("nameplate_load", sa.Double(), nullable=True),
        sa.Column("range_low", sa.Double(), nullable=True),
        sa.Column("range_high", sa.Double(), nullable=True),
        sa.Column("load_per_turn", sa.Double(), nullable=True),
        sa.Column(
            "load_per_turn_table",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=True,
        ),
        sa.Column("direction_to_increase", sa.Text(), nullable=True),
        sa.Column("direction_to_decrease", sa.Text(), nullable=True),
        sa.Column("load_bolts", sa.Integer(), nullable=True),
        sa.Column("turn_counts", sa.Text(), nullable=True),
        sa.Column("bolt_pitch", sa.Double(), nullable=True),
        sa.Column("free_to_increase", sa.Double(), nullable=True),
        sa.Column("free_to_decrease", sa.Double(), nullable=True),
        sa.Column("total_travel", sa.Double(), nullable=True),
        sa.Column("design_travel", sa.Double(), nullable=True),
        sa.Column("cold_mark", sa.Double(), nullable=True),
        sa.Column("hot_mark", sa.Double(), nullable=True),
        sa.Column("zero_end", sa.Text(), nullable=True),
        sa.Column("deviation", sa.Double(), nullable=True),
        sa.Column("setting_changes_travel", sa.Text(), nullable=True),
        sa.Column("may_turn_locked", sa.Text(), nullable=True),
        sa.Column("stop_rating", sa.Double(), nullable=True),
        sa.Column("own_mass", sa.Double(), nullable=True),
        sa.Column("rate", sa.Double(), nullable=True),
        sa.Column("working_low", sa.Double(), nullable=True),
        sa.Column("working_high", sa.Double(), nullable=True),
        sa.Column("hot_load", sa.Double(), nullable=True),
        sa.Column("cold_load", sa.Double(), nullable=True),
        sa.Column("movement", sa.Double(), nullable=True),
        sa.Column("thread_pitch", sa.Double(), nullable=True),
        sa.Column("take_up", sa.Text(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["unit_id"], ["unit.id"], name=op.f("fk_nameplate_unit_id_unit")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_nameplate")),
        sa.UniqueConstraint("unit_id", name=op.f("uq_nameplate_unit_id")),
    )
    op.create_index(op.f("ix_nameplate_unit_id"), "nameplate", ["unit_id"], unique=False)
    op.create_table(
        "person_role",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("valid_from", sa.Date(), nullable=True),
        sa.Column("valid_to", sa.Date(), nullable=True),
        sa.Column("deputy_for", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_person_role_person_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person_role")),
    )
    op.create_index(op.f("ix_person_role_person_id"), "person_role", ["person_id"], unique=False)
    op.create_table(
        "rule_run",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("run_at", sa.DateTime(), nullable=False),
        sa.Column("for_day", sa.Date(), nullable=False),
        sa.Column("run_by", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.Column("after_batch_id", sa.Integer(), nullable=True),
        sa.Column("rules_version", sa.Text(), nullable=False),
        sa.Column(
            "limits",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.Column(
            "counts",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.Column("fingerprint", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["after_batch_id"],
            ["audit_batch.id"],
            name=op.f("fk_rule_run_after_batch_id_audit_batch"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_rule_run")),
    )
    op.create_index(
        op.f("ix_rule_run_after_batch_id"), "rule_run", ["after_batch_id"], unique=False
    )
    op.create_table(
        "signature",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("subject_id", sa.Integer(), nullable=False),
        sa.Column("meaning", sa.Text(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("signed_at", sa.DateTime(), nullable=False),
        sa.Column("fingerprint", sa.Text(), nullable=False),
        sa.Column(
            "covers",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=True,
        ),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_signature_person_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_signature")),
    )
    op.create_index(op.f("ix_signature_person_id"), "signature", ["person_id"], unique=False)
    op.create_index("ix_signature_subject", "signature", ["subject", "subject_id"], unique=False)
    op.create_table(
        "source_row",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("import_run_id", sa.Integer(), nullable=False),
        sa.Column("sheet", sa.Text(), nullable=False),
        sa.Column("row", sa.Integer(), nullable=False),
        sa.Column(
            "cells",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.ForeignKeyConstraint(
            ["import_run_id"],
            ["import_run.id"],
            name=op.f("fk_source_row_import_run_id_import_run"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_source_row")),
        sa.UniqueConstraint(
            "import_run_id", "sheet", "row", name=op.f("uq_source_row_import_run_id_sheet_row")
        ),
    )
    op.create_index(
        op.f("ix_source_row_import_run_id"), "source_row", ["import_run_id"], unique=False
    )
    op.create_table(
        "support_point",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("area_id", sa.Integer(), nullable=True),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("function", sa.Text(), nullable=True),
        sa.Column("criticality", sa.Text(), nullable=True),
        sa.Column("in_service", sa.Text(), nullable=False),
        sa.Column("floor", sa.Text(), nullable=True),
        sa.Column("grid", sa.Text(), nullable=True),
        sa.Column("elevation", sa.Double(), nullable=True),
        sa.Column("steel_elevation", sa.Double(), nullable=True),
        sa.Column("height_above_floor", sa.Double(), nullable=True),
        sa.Column("east", sa.Double(), nullable=True),
        sa.Column("north", sa.Double(), nullable=True),
        sa.Column("access", sa.Text(), nullable=True),
        sa.Column("scaffold_group", sa.Text(), nullable=True),
        sa.Column("isometric", sa.Text(), nullable=True),
        sa.Column("isometric_mark", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["area_id"], ["area.id"], name=op.f("fk_support_point_area_id_area")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_support_point")),
    )
    op.create_index(op.f("ix_support_point_area_id"), "support_point", ["area_id"], unique=False)
    op.create_table(
        "travel_stop_event",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("pin_number", sa.Text(), nullable=False),
        sa.Column("direction", sa.Text(), nullable=False),
        sa.Column("happened_at", sa.DateTime(), nullable=False),
        sa.Column("done_by", sa.Text(), nullable=False),
        sa.Column("witness", sa.Text(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("freed_by", sa.Text(), nullable=True),
        sa.CheckConstraint(
            "direction IN ('in', 'out')", name=op.f("ck_travel_stop_event_direction")
        ),
        sa.ForeignKeyConstraint(
            ["unit_id"], ["unit.id"], name=op.f("fk_travel_stop_event_unit_id_unit")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_travel_stop_event")),
    )
    op.create_index(
        op.f("ix_travel_stop_event_unit_id"), "travel_stop_event", ["unit_id"], unique=False
    )
    op.create_table(
        "walk_form",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("campaign_id", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("issued_at", sa.DateTime(), nullable=False),
        sa.Column("issued_by", sa.Text(), nullable=False),
        sa.Column(
            "content",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.Column("fingerprint", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["campaign_id"], ["campaign.id"], name=op.f("fk_walk_form_campaign_id_campaign")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_walk_form")),
        sa.UniqueConstraint(
            "campaign_id", "revision", name=op.f("uq_walk_form_campaign_id_revision")
        ),
    )
    op.create_index(op.f("ix_walk_form_campaign_id"), "walk_form", ["campaign_id"], unique=False)
    op.create_table(
        "assembly",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("point_id", sa.Integer(), nullable=False),
        sa.Column("arrangement", sa.Text(), nullable=False),
        sa.Column("arm_a", sa.Double(), nullable=True),
        sa.Column("arm_b", sa.Double(), nullable=True),
        sa.Column("beam_mass", sa.Double(), nullable=True),
        sa.Column("rod_length", sa.Double(), nullable=True),
        sa.Column("rod_offset", sa.Double(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "arrangement IN ('single', 'two units on one trapeze', 'riser pair')",
            name=op.f("ck_assembly_arrangement"),
        ),
        sa.ForeignKeyConstraint(
            ["point_id"], ["support_point.id"], name=op.f("fk_assembly_point_id_support_point")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_assembly")),
        sa.UniqueConstraint("point_id", name=op.f("uq_assembly_point_id")),
    )
    op.create_table(
        "attachment",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("point_id", sa.Integer(), nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.Column("order_along", sa.Integer(), nullable=True),
        sa.Column("distance_along", sa.Double(), nullable=True),
        sa.Column("node", sa.Text(), nullable=True),
        sa.Column("arm", sa.Double(), nullable=True),
        sa.Column("share", sa.Double(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["line_id"], ["line.id"], name=op.f("fk_attachment_line_id_line")),
        sa.ForeignKeyConstraint(
            ["point_id"], ["support_point.id"], name=op.f("fk_attachment_point_id_support_point")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_attachment")),
        sa.UniqueConstraint("point_id", "line_id", name=op.f("uq_attachment_point_id_line_id")),
    )
    op.create_index(op.f("ix_attachment_line_id"), "attachment", ["line_id"], unique=False)
    op.create_index(op.f("ix_attachment_point_id"), "attachment", ["point_id"], unique=False)
    op.create_table(
        "audit_entry",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("batch_id", sa.Integer(), nullable=False),
        sa.Column("table_name", sa.Text(), nullable=False),
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column(
            "before",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=True,
        ),
        sa.Column(
            "after",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=True,
        ),
        sa.Column("source_row_id", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["batch_id"], ["audit_batch.id"], name=op.f("fk_audit_entry_batch_id_audit_batch")
        ),
        sa.ForeignKeyConstraint(
            ["source_row_id"],
            ["source_row.id"],
            name=op.f("fk_audit_entry_source_row_id_source_row"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_audit_entry")),
    )
    op.create_index(op.f("ix_audit_entry_batch_id"), "audit_entry", ["batch_id"], unique=False)
    op.create_index("ix_audit_entry_row", "audit_entry", ["table_name", "row_id"], unique=False)
    op.create_index(
        op.f("ix_audit_entry_source_row_id"), "audit_entry", ["source_row_id"], unique=False
    )
    op.create_table(
        "campaign_item",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("campaign_id", sa.Integer(), nullable=False),
        sa.Column("order_no", sa.Integer(), nullable=False),
        sa.Column("point_id", sa.Integer(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["campaign_id"], ["campaign.id"], name=op.f("fk_campaign_item_campaign_id_campaign")
        ),
        sa.ForeignKeyConstraint(
            ["point_id"], ["support_point.id"], name=op.f("fk_campaign_item_point_id_support_point")
        ),
        sa.ForeignKeyConstraint(
            ["unit_id"], ["unit.id"], name=op.f("fk_campaign_item_unit_id_unit")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_campaign_item")),
        sa.UniqueConstraint(
            "campaign_id", "order_no", name=op.f("uq_campaign_item_campaign_id_order_no")
        ),
    )
    op.create_index(
        op.f("ix_campaign_item_campaign_id"), "campaign_item", ["campaign_id"], unique=False
    )
    op.create_index(op.f("ix_campaign_item_point_id"), "campaign_item", ["point_id"], unique=False)
    op.create_index(op.f("ix_campaign_item_unit_id"), "campaign_item", ["unit_id"], unique=False)
    op.create_table(
        "change_line",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("change_id", sa.Integer(), nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["change_id"], ["change.id"], name=op.f("fk_change_line_change_id_change")
        ),
        sa.ForeignKeyConstraint(["line_id"], ["line.id"], name=op.f("fk_change_line_line_id_line")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_change_line")),
        sa.UniqueConstraint("change_id", "line_id", name=op.f("uq_change_line_change_id_line_id")),
    )
    op.create_index(op.f("ix_change_line_change_id"), "change_line", ["change_id"], unique=False)
    op.create_index(op.f("ix_change_line_line_id"), "change_line", ["line_id"], unique=False)
    op.create_table(
        "change_term",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("change_id", sa.Integer(), nullable=False),
        sa.Column("assessment_id", sa.Integer(), nullable=False),
        sa.Column("ends_on", sa.Date(), nullable=False),
        sa.Column("approved_by", sa.Text(), nullable=False),
        sa.Column("approved_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["assessment_id"],
            ["assessment.id"],
            name=op.f("fk_change_term_assessment_id_assessment"),
        ),
        sa.ForeignKeyConstraint(
            ["change_id"], ["change.id"], name=op.f("fk_change_term_change_id_change")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_change_term")),
    )
    op.create_index(
        op.f("ix_change_term_assessment_id"), "change_term", ["assessment_id"], unique=False
    )
    op.create_index(op.f("ix_change_term_change_id"), "change_term", ["change_id"], unique=False)
    op.create_table(
        "design_case",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["line_id"], ["line.id"], name=op.f("fk_design_case_line_id_line")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_design_case")),
        sa.UniqueConstraint("line_id", "name", name=op.f("uq_design_case_line_id_name")),
    )
    op.create_index(op.f("ix_design_case_line_id"), "design_case", ["line_id"], unique=False)
    op.create_table(
        "line_element",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.Column("from_node", sa.Text(), nullable=False),
        sa.Column("to_node", sa.Text(), nullable=False),
        sa.Column("piece", sa.Text(), nullable=False),
        sa.Column("outside_diameter", sa.Double(), nullable=True),
        sa.Column("wall", sa.Double(), nullable=True),
        sa.Column("bend_radius", sa.Double(), nullable=True),
        sa.Column("mass", sa.Double(), nullable=True),
        sa.Column("centre_east", sa.Double(), nullable=True),
        sa.Column("centre_north", sa.Double(), nullable=True),
        sa.Column("centre_up", sa.Double(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["line_id"], ["line.id"], name=op.f("fk_line_element_line_id_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_line_element")),
        sa.UniqueConstraint(
            "line_id",
            "from_node",
            "to_node",
            name=op.f("uq_line_element_line_id_from_node_to_node"),
        ),
    )
    op.create_index(op.f("ix_line_element_line_id"), "line_element", ["line_id"], unique=False)
    op.create_table(
        "line_end",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.Column("node", sa.Text(), nullable=False),
        sa.Column("end_kind", sa.Text(), nullable=False),
        sa.Column("nozzle", sa.Text(), nullable=True),
        sa.Column("stiffness", sa.Double(), nullable=True),
        sa.Column("rotational_stiffness", sa.Double(), nullable=True),
        sa.Column("movement_east", sa.Double(), nullable=True),
        sa.Column("movement_north", sa.Double(), nullable=True),
        sa.Column("movement_up", sa.Double(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["line_id"], ["line.id"], name=op.f("fk_line_end_line_id_line")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_line_end")),
        sa.UniqueConstraint("line_id", "node", name=op.f("uq_line_end_line_id_node")),
    )
    op.create_index(op.f("ix_line_end_line_id"), "line_end", ["line_id"], unique=False)
    op.create_table(
        "line_node",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.Column("node", sa.Text(), nullable=False),
        sa.Column("east", sa.Double(), nullable=True),
        sa.Column("north", sa.Double(), nullable=True),
        sa.Column("elevation", sa.Double(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["line_id"], ["line.id"], name=op.f("fk_line_node_line_id_line")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_line_node")),
        sa.UniqueConstraint("line_id", "node", name=op.f("uq_line_node_line_id_node")),
    )
    op.create_index(op.f("ix_line_node_line_id"), "line_node", ["line_id"], unique=False)
    op.create_table(
        "nozzle_limit",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.Column("nozzle", sa.Text(), nullable=False),
        sa.Column("equipment", sa.Text(), nullable=True),
        sa.Column("machine", sa.Text(), nullable=True),
        sa.Column("node", sa.Text(), nullable=True),
        sa.Column("force_x", sa.Double(), nullable=True),
        sa.Column("force_y", sa.Double(), nullable=True),
        sa.Column("force_z", sa.Double(), nullable=True),
        sa.Column("moment_x", sa.Double(), nullable=True),
        sa.Column("moment_y", sa.Double(), nullable=True),
        sa.Column("moment_z", sa.Double(), nullable=True),
        sa.Column("force_resultant", sa.Double(), nullable=True),
        sa.Column("moment_resultant", sa.Double(), nullable=True),
        sa.Column("source", sa.Text(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["line_id"], ["line.id"], name=op.f("fk_nozzle_limit_line_id_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_nozzle_limit")),
        sa.UniqueConstraint("line_id", "nozzle", name=op.f("uq_nozzle_limit_line_id_nozzle")),
    )
    op.create_index(op.f("ix_nozzle_limit_line_id"), "nozzle_limit", ["line_id"], unique=False)
    op.create_table(
        "point_document",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("point_id", sa.Integer(), nullable=False),
        sa.Column("document_id", sa.Integer(), nullable=False),
        sa.Column("since", sa.Date(), nullable=False),
        sa.ForeignKeyConstraint(
            ["document_id"], ["document.id"], name=op.f("fk_point_document_document_id_document")
        ),
        sa.ForeignKeyConstraint(
            ["point_id"],
            ["support_point.id"],
            name=op.f("fk_point_document_point_id_support_point"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_point_document")),
        sa.UniqueConstraint(
            "point_id", "document_id", name=op.f("uq_point_document_point_id_document_id")
        ),
    )
    op.create_index(
        op.f("ix_point_document_document_id"), "point_document", ["document_id"], unique=False
    )
    op.create_index(
        op.f("ix_point_document_point_id"), "point_document", ["point_id"], unique=False
    )
    op.create_table(
        "rule_answers",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("run_id", sa.Integer(), nullable=False),
        sa.Column("rule", sa.Text(), nullable=False),
        sa.Column(
            "answers",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.ForeignKeyConstraint(
            ["run_id"], ["rule_run.id"], name=op.f("fk_rule_answers_run_id_rule_run")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_rule_answers")),
        sa.UniqueConstraint("run_id", "rule", name=op.f("uq_rule_answers_run_id_rule")),
    )
    op.create_index(op.f("ix_rule_answers_run_id"), "rule_answers", ["run_id"], unique=False)
    op.create_table(
        "support_tag",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("point_id", sa.Integer(), nullable=False),
        sa.Column("tag", sa.Text(), nullable=False),
        sa.Column("matching_key", sa.Text(), nullable=False),
        sa.Column("valid_from", sa.Date(), nullable=True),
        sa.Column("valid_to", sa.Date(), nullable=True),
        sa.Column("source", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["point_id"], ["support_point.id"], name=op.f("fk_support_tag_point_id_support_point")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_support_tag")),
    )
    op.create_index("ix_support_tag_matching_key", "support_tag", ["matching_key"], unique=False)
    op.create_index(op.f("ix_support_tag_point_id"), "support_tag", ["point_id"], unique=False)
    op.create_index(
        "uq_support_tag_present",
        "support_tag",
        ["tag"],
        unique=True,
        sqlite_where=sa.text("valid_to IS NULL"),
        postgresql_where=sa.text("valid_to IS NULL"),
    )
    op.create_table(
        "walk_form_holder",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("form_id", sa.Integer(), nullable=False),
        sa.Column("copy_number", sa.Integer(), nullable=False),
        sa.Column("holder", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["form_id"], ["walk_form.id"], name=op.f("fk_walk_form_holder_form_id_walk_form")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_walk_form_holder")),
        sa.UniqueConstraint(
            "form_id", "copy_number", name=op.f("uq_walk_form_holder_form_id_copy_number")
        ),
    )
    op.create_index(
        op.f("ix_walk_form_holder_form_id"), "walk_form_holder", ["form_id"], unique=False
    )
    op.create_table(
        "walk_return",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("form_id", sa.Integer(), nullable=False),
        sa.Column("walker", sa.Text(), nullable=False),
        sa.Column("keyed_by", sa.Text(), nullable=False),
        sa.Column("keyed_at", sa.DateTime(), nullable=False),
        sa.Column("file_name", sa.Text(), nullable=True),
        sa.Column("file_hash", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["form_id"], ["walk_form.id"], name=op.f("fk_walk_return_form_id_walk_form")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_walk_return")),
    )
    op.create_index("ix_walk_return_file_hash", "walk_return", ["file_hash"], unique=False)
    op.create_index(op.f("ix_walk_return_form_id"), "walk_return", ["form_id"], unique=False)
    op.create_table(
        "weight_item",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("change_id", sa.Integer(), nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.Column("description", sa.Text(), nullable=False),
        sa.Column("mass", sa.Double(), nullable=False),
        sa.Column("along", sa.Double(), nullable=True),
        sa.Column("off_axis", sa.Double(), nullable=True),
        sa.Column("above_axis", sa.Double(), nullable=True),
        sa.Column("source", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["change_id"], ["change.id"], name=op.f("fk_weight_item_change_id_change")
        ),
        sa.ForeignKeyConstraint(["line_id"], ["line.id"], name=op.f("fk_weight_item_line_id_line")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_weight_item")),
    )
    op.create_index(op.f("ix_weight_item_change_id"), "weight_item", ["change_id"], unique=False)
    op.create_index(op.f("ix_weight_item_line_id"), "weight_item", ["line_id"], unique=False)
    op.create_table(
        "work_order",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("change_id", sa.Integer(), nullable=False),
        sa.Column("assessment_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("line_state_needed", sa.Text(), nullable=False),
        sa.Column("scaffold_group", sa.Text(), nullable=True),
        sa.Column("crew", sa.Integer(), nullable=True),
        sa.Column("hours", sa.Double(), nullable=True),
        sa.Column("scaffold_hours", sa.Double(), nullable=True),
        sa.Column("written_on", sa.Date(), nullable=False),
        sa.Column("written_by", sa.Text(), nullable=False),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["assessment_id"],
            ["assessment.id"],
            name=op.f("fk_work_order_assessment_id_assessment"),
        ),
        sa.ForeignKeyConstraint(
            ["change_id"], ["change.id"], name=op.f("fk_work_order_change_id_change")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_work_order")),
        sa.UniqueConstraint("number", name=op.f("uq_work_order_number")),
    )
    op.create_index(
        op.f("ix_work_order_assessment_id"), "work_order", ["assessment_id"], unique=False
    )
    op.create_index(op.f("ix_work_order_change_id"), "work_order", ["change_id"], unique=False)
    op.create_table(
        "field_finding",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("campaign_id", sa.Integer(), nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=True),
        sa.Column("point_id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("severity", sa.Text(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("how_soon", sa.Text(), nullable=False),
        sa.Column("told", sa.Text(), nullable=True),
        sa.Column("found_on", sa.Date(), nullable=False),
        sa.Column("found_by", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("owner", sa.Text(), nullable=True),
        sa.Column("due_on", sa.Date(), nullable=True),
        sa.Column("answer", sa.Text(), nullable=True),
        sa.Column("reference", sa.Text(), nullable=True),
        sa.Column("done_by", sa.Text(), nullable=True),
        sa.Column("done_on", sa.Date(), nullable=True),
        sa.Column("verified_by", sa.Text(), nullable=True),
        sa.Column("accepted_until", sa.Date(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["campaign_id"], ["campaign.id"], name=op.f("fk_field_finding_campaign_id_campaign")
        ),
        sa.ForeignKeyConstraint(
            ["item_id"], ["campaign_item.id"], name=op.f("fk_field_finding_item_id_campaign_item")
        ),
        sa.ForeignKeyConstraint(
            ["point_id"], ["support_point.id"], name=op.f("fk_field_finding_point_id_support_point")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_field_finding")),
        sa.UniqueConstraint("number", name=op.f("uq_field_finding_number")),
    )
    op.create_index(
        op.f("ix_field_finding_campaign_id"), "field_finding", ["campaign_id"], unique=False
    )
    op.create_index(op.f("ix_field_finding_item_id"), "field_finding", ["item_id"], unique=False)
    op.create_index(op.f("ix_field_finding_point_id"), "field_finding", ["point_id"], unique=False)
    op.create_table(
        "hardware_piece",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("assembly_id", sa.Integer(), nullable=False),
        sa.Column("branch", sa.Text(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("size", sa.Text(), nullable=True),
        sa.Column("length", sa.Double(), nullable=True),
        sa.Column("material", sa.Text(), nullable=True),
        sa.Column("rated_load", sa.Double(), nullable=True),
        sa.Column("rating_temperature", sa.Double(), nullable=True),
        sa.Column("rating_source", sa.Text(), nullable=True),
        sa.Column("mass", sa.Double(), nullable=True),
        sa.Column("adjustment_left", sa.Double(), nullable=True),
        sa.Column("derating", sa.Double(), nullable=True),
        sa.Column("condition", sa.Text(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["assembly_id"], ["assembly.id"], name=op.f("fk_hardware_piece_assembly_id_assembly")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_hardware_piece")),
        sa.UniqueConstraint(
            "assembly_id",
            "branch",
            "position",
            name=op.f("uq_hardware_piece_assembly_id_branch_position"),
        ),
    )
    op.create_index(
        op.f("ix_hardware_piece_assembly_id"), "hardware_piece", ["assembly_id"], unique=False
    )
    op.create_table(
        "required_load",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("calculation_id", sa.Integer(), nullable=False),
        sa.Column("point_id", sa.Integer(), nullable=False),
        sa.Column("line_id", sa.Integer(), nullable=False),
        sa.Column("case_id", sa.Integer(), nullable=False),
        sa.Column("load", sa.Double(), nullable=True),
        sa.Column("includes_hardware", sa.Text(), nullable=True),
        sa.Column("movement_up", sa.Double(), nullable=True),
        sa.Column("movement_east", sa.Double(), nullable=True),
        sa.Column("movement_north", sa.Double(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["calculation_id"],
            ["calculation.id"],
            name=op.f("fk_required_load_calculation_id_calculation"),
        ),
        sa.ForeignKeyConstraint(
            ["case_id"], ["design_case.id"], name=op.f("fk_required_load_case_id_design_case")
        ),
        sa.ForeignKeyConstraint(
            ["line_id"], ["line.id"], name=op.f("fk_required_load_line_id_line")
        ),
        sa.ForeignKeyConstraint(
            ["point_id"], ["support_point.id"], name=op.f("fk_required_load_point_id_support_point")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_required_load")),
        sa.UniqueConstraint(
            "calculation_id",
            "point_id",
            "line_id",
            "case_id",
            name=op.f("uq_required_load_calculation_id_point_id_line_id_case_id"),
        ),
    )
    op.create_index(
        op.f("ix_required_load_calculation_id"), "required_load", ["calculation_id"], unique=False
    )
    op.create_index(op.f("ix_required_load_case_id"), "required_load", ["case_id"], unique=False)
    op.create_index(op.f("ix_required_load_line_id"), "required_load", ["line_id"], unique=False)
    op.create_index(op.f("ix_required_load_point_id"), "required_load", ["point_id"], unique=False)
    op.create_table(
        "unit_placement",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("assembly_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Text(), nullable=False),
        sa.Column("since", sa.Date(), nullable=True),
        sa.Column("until", sa.Date(), nullable=True),
        sa.ForeignKeyConstraint(
            ["assembly_id"], ["assembly.id"], name=op.f("fk_unit_placement_assembly_id_assembly")
        ),
        sa.ForeignKeyConstraint(
            ["unit_id"], ["unit.id"], name=op.f("fk_unit_placement_unit_id_unit")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_unit_placement")),
    )
    op.create_index(
        op.f("ix_unit_placement_assembly_id"), "unit_placement", ["assembly_id"], unique=False
    )
    op.create_index(op.f("ix_unit_placement_unit_id"), "unit_placement", ["unit_id"], unique=False)
    op.create_index(
        "uq_unit_placement_present",
        "unit_placement",
        ["assembly_id", "position"],
        unique=True,
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    op.create_table(
        "walk_entry",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("return_id", sa.Integer(), nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("walker", sa.Text(), nullable=False),
        sa.Column("read_on", sa.Date(), nullable=True),
        sa.Column(
            "values",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.Column(
            "written",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.Column(
            "doubts",
            sa.JSON().with_variant(postgresql.JSONB(astext_type=sa.Text()), "postgresql"),
            nullable=False,
        ),
        sa.ForeignKeyConstraint(
            ["item_id"], ["campaign_item.id"], name=op.f("fk_walk_entry_item_id_campaign_item")
        ),
        sa.ForeignKeyConstraint(
            ["return_id"], ["walk_return.id"], name=op.f("fk_walk_entry_return_id_walk_return")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_walk_entry")),
    )
    op.create_index(op.f("ix_walk_entry_item_id"), "walk_entry", ["item_id"], unique=False)
    op.create_index(op.f("ix_walk_entry_return_id"), "walk_entry", ["return_id"], unique=False)
    op.create_table(
        "walk_photo",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("content_hash", sa.Text(), nullable=False),
        sa.Column("file_name", sa.Text(), nullable=False),
        sa.Column("width", sa.Integer(), nullable=False),
        sa.Column("height", sa.Integer(), nullable=False),
        sa.Column("stored_by", sa.Text(), nullable=False),
        sa.Column("stored_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["item_id"], ["campaign_item.id"], name=op.f("fk_walk_photo_item_id_campaign_item")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_walk_photo")),
        sa.UniqueConstraint(
            "item_id",
            "number",
            "content_hash",
            name=op.f("uq_walk_photo_item_id_number_content_hash"),
        ),
    )
    op.create_index(op.f("ix_walk_photo_item_id"), "walk_photo", ["item_id"], unique=False)
    op.create_table(
        "work_order_before",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("work_order_id", sa.Integer(), nullable=False),
        sa.Column("job", sa.Text(), nullable=False),
        sa.Column("order_id", sa.Integer(), nullable=True),
        sa.Column("done_on", sa.Date(), nullable=True),
        sa.Column("done_by", sa.Text(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["order_id"], ["work_order.id"], name=op.f("fk_work_order_before_order_id_work_order")
        ),
        sa.ForeignKeyConstraint(
            ["work_order_id"],
            ["work_order.id"],
            name=op.f("fk_work_order_before_work_order_id_work_order"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_work_order_before")),
        sa.UniqueConstraint(
            "work_order_id", "job", name=op.f("uq_work_order_before_work_order_id_job")
        ),
    )
    op.create_index(
        op.f("ix_work_order_before_order_id"), "work_order_before", ["order_id"], unique=False
    )
    op.create_index(
        op.f("ix_work_order_before_work_order_id"),
        "work_order_before",
        ["work_order_id"],
        unique=False,
    )
    op.create_table(
        "work_order_copy",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("work_order_id", sa.Integer(), nullable=False),
        sa.Column("copy_no", sa.Integer(), nullable=False),
        sa.Column("given_to", sa.Text(), nullable=False),
        sa.Column("given_on", sa.Date(), nullable=False),
        sa.Column("given_by", sa.Text(), nullable=False),
        sa.Column("recalled_on", sa.Date(), nullable=True),
        sa.Column("fate", sa.Text(), nullable=True),
        sa.Column("fate_on", sa.Date(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["work_order_id"],
            ["work_order.id"],
            name=op.f("fk_work_order_copy_work_order_id_work_order"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_work_order_copy")),
        sa.UniqueConstraint(
            "work_order_id", "copy_no", name=op.f("uq_work_order_copy_work_order_id_copy_no")
        ),
    )
    op.create_index(
        op.f("ix_work_order_copy_work_order_id"), "work_order_copy", ["work_order_id"], unique=False
    )
    op.create_table(
        "work_order_hold",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("work_order_id", sa.Integer(), nullable=False),
        sa.Column("hold_no", sa.Integer(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("released_by", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["work_order_id"],
            ["work_order.id"],
            name=op.f("fk_work_order_hold_work_order_id_work_order"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_work_order_hold")),
        sa.UniqueConstraint(
            "work_order_id", "hold_no", name=op.f("uq_work_order_hold_work_order_id_hold_no")
        ),
    )
    op.create_index(
        op.f("ix_work_order_hold_work_order_id"), "work_order_hold", ["work_order_id"], unique=False
    )
    op.create_table(
        "work_order_line",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("work_order_id", sa.Integer(), nullable=False),
        sa.Column("order_no", sa.Integer(), nullable=False),
        sa.Column("point_id", sa.Integer(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("action", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("from_load", sa.Double(), nullable=True),
        sa.Column("to_load", sa.Double(), nullable=True),
        sa.Column("window_low", sa.Double(), nullable=True),
        sa.Column("window_high", sa.Double(), nullable=True),
        sa.Column("turns", sa.Integer(), nullable=True),
        sa.Column("flats", sa.Integer(), nullable=True),
        sa.Column("direction", sa.Text(), nullable=True),
        sa.Column("remark", sa.Text(), nullable=True),
        sa.Column("waits_for", sa.Text(), nullable=True),
        sa.Column("undoes_id", sa.Integer(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["point_id"],
            ["support_point.id"],
            name=op.f("fk_work_order_line_point_id_support_point"),
        ),
        sa.ForeignKeyConstraint(
            ["undoes_id"],
            ["work_order_line.id"],
            name=op.f("fk_work_order_line_undoes_id_work_order_line"),
        ),
        sa.ForeignKeyConstraint(
            ["unit_id"], ["unit.id"], name=op.f("fk_work_order_line_unit_id_unit")
        ),
        sa.ForeignKeyConstraint(
            ["work_order_id"],
            ["work_order.id"],
            name=op.f("fk_work_order_line_work_order_id_work_order"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_work_order_line")),
        sa.UniqueConstraint(
            "work_order_id", "order_no", name=op.f("uq_work_order_line_work_order_id_order_no")
        ),
    )
    op.create_index(
        op.f("ix_work_order_line_point_id"), "work_order_line", ["point_id"], unique=False
    )
    op.create_index(
        op.f("ix_work_order_line_undoes_id"), "work_order_line", ["undoes_id"], unique=False
    )
    op.create_index(
        op.f("ix_work_order_line_unit_id"), "work_order_line", ["unit_id"], unique=False
    )
    op.create_index(
        op.f("ix_work_order_line_work_order_id"), "work_order_line", ["work_order_id"], unique=False
    )
    op.create_table(
        "work_order_material",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("work_order_id", sa.Integer(), nullable=False),
        sa.Column("item", sa.Text(), nullable=False),
        sa.Column("quantity", sa.Double(), nullable=False),
        sa.Column("status", sa.Text(), nullable=False),
        sa.Column("due_on", sa.Date(), nullable=True),
        sa.Column("fallback", sa.Text(), nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["work_order_id"],
            ["work_order.id"],
            name=op.f("fk_work_order_material_work_order_id_work_order"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_work_order_material")),
        sa.UniqueConstraint(
            "work_order_id", "item", name=op.f("uq_work_order_material_work_order_id_item")
        ),
    )
    op.create_index(
        op.f("ix_work_order_material_work_order_id"),
        "work_order_material",
        ["work_order_id"],
        unique=False,
    )
    op.create_table(
        "finding_step",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("finding_id", sa.Integer(), nullable=False),
        sa.Column("act", sa.Text(), nullable=False),
        sa.Column("came_from", sa.Text(), nullable=False),
        sa.Column("went_to", sa.Text(), nullable=False),
        sa.Column("done_by", sa.Text(), nullable=False),
        sa.Column("done_at", sa.DateTime(), nullable=False),
        sa.Column("words", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["finding_id"],
            ["field_finding.id"],
            name=op.f("fk_finding_step_finding_id_field_finding"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_finding_step")),
    )
    op.create_index(
        op.f("ix_finding_step_finding_id"), "finding_step", ["finding_id"], unique=False
    )
    op.create_table(
        "reading",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("read_on", sa.Date(), nullable=False),
        sa.Column("plant_state", sa.Text(), nullable=False),
        sa.Column("pipe_temperature", sa.Double(), nullable=True),
        sa.Column("scale_load", sa.Double(), nullable=True),
        sa.Column("pointer", sa.Double(), nullable=True),
        sa.Column("cell_raising", sa.Double(), nullable=True),
        sa.Column("cell_lowering", sa.Double(), nullable=True),
        sa.Column("rod_angle", sa.Double(), nullable=True),
        sa.Column("exposed_thread", sa.Double(), nullable=True),
        sa.Column("read_by", sa.Text(), nullable=False),
        sa.Column("second_reader", sa.Text(), nullable=True),
        sa.Column("instrument", sa.Text(), nullable=True),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("work_order_line_id", sa.Integer(), nullable=True),
        sa.Column("occasion", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["unit_id"], ["unit.id"], name=op.f("fk_reading_unit_id_unit")),
        sa.ForeignKeyConstraint(
            ["work_order_line_id"],
            ["work_order_line.id"],
            name=op.f("fk_reading_work_order_line_id_work_order_line"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reading")),
    )
    op.create_index("ix_reading_unit_day", "reading", ["unit_id", "read_on"], unique=False)
    op.create_index(op.f("ix_reading_unit_id"), "reading", ["unit_id"], unique=False)
    op.create_index(
        op.f("ix_reading_work_order_line_id"), "reading", ["work_order_line_id"], unique=False
    )
    op.create_table(
        "setting_event",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("happened_on", sa.Date(), nullable=False),
        sa.Column("day_precision", sa.Text(), nullable=True),
        sa.Column("load", sa.Double(), nullable=False),
        sa.Column("turns_given", sa.Double(), nullable=True),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("plant_state", sa.Text(), nullable=False),
        sa.Column("set_by", sa.Text(), nullable=False),
        sa.Column("second_reader", sa.Text(), nullable=True),
        sa.Column("work_order_line_id", sa.Integer(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["unit_id"], ["unit.id"], name=op.f("fk_setting_event_unit_id_unit")
        ),
        sa.ForeignKeyConstraint(
            ["work_order_line_id"],
            ["work_order_line.id"],
            name=op.f("fk_setting_event_work_order_line_id_work_order_line"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_setting_event")),
    )
    op.create_index(
        "ix_setting_event_unit_day", "setting_event", ["unit_id", "happened_on"], unique=False
    )
    op.create_index(op.f("ix_setting_event_unit_id"), "setting_event", ["unit_id"], unique=False)
    op.create_index(
        op.f("ix_setting_event_work_order_line_id"),
        "setting_event",
        ["work_order_line_id"],
        unique=False,
    )
    op.create_table(
        "step_reading",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("work_order_line_id", sa.Integer(), nullable=False),
        sa.Column("round_no", sa.Integer(), nullable=False),
        sa.Column("load", sa.Double(), nullable=False),
        sa.Column("expected", sa.Double(), nullable=True),
        sa.Column("pointer", sa.Double(), nullable=True),
        sa.Column("read_by", sa.Text(), nullable=False),
        sa.Column("read_at", sa.DateTime(), nullable=False),
        sa.Column("note", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["work_order_line_id"],
            ["work_order_line.id"],
            name=op.f("fk_step_reading_work_order_line_id_work_order_line"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_step_reading")),
    )
    op.create_index(
        op.f("ix_step_reading_work_order_line_id"),
        "step_reading",
        ["work_order_line_id"],
        unique=False,
    )
    op.create_table(
        "walk_choice",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=False),
        sa.Column("chosen_by", sa.Text(), nullable=False),
        sa.Column("chosen_at", sa.DateTime(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["entry_id"], ["walk_entry.id"], name=op.f("fk_walk_choice_entry_id_walk_entry")
        ),
        sa.ForeignKeyConstraint(
            ["item_id"], ["campaign_item.id"], name=op.f("fk_walk_choice_item_id_campaign_item")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_walk_choice")),
    )
    op.create_index(op.f("ix_walk_choice_entry_id"), "walk_choice", ["entry_id"], unique=False)
    op.create_index(op.f("ix_walk_choice_item_id"), "walk_choice", ["item_id"], unique=False)
    op.create_table(
        "walk_reading",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("item_id", sa.Integer(), nullable=False),
        sa.Column("reading_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["item_id"], ["campaign_item.id"], name=op.f("fk_walk_reading_item_id_campaign_item")
        ),
        sa.ForeignKeyConstraint(
            ["reading_id"], ["reading.id"], name=op.f("fk_walk_reading_reading_id_reading")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_walk_reading")),
        sa.UniqueConstraint(
            "item_id", "reading_id", name=op.f("uq_walk_reading_item_id_reading_id")
        ),
    )
    op.create_index(op.f("ix_walk_reading_item_id"), "walk_reading", ["item_id"], unique=False)
    op.create_index(
        op.f("ix_walk_reading_reading_id"), "walk_reading", ["reading_id"], unique=False
    )
    if op.get_bind().dialect.name != "sqlite":
        op.execute(
            "CREATE FUNCTION keep_history() RETURNS trigger LANGUAGE plpgsql AS "
            f"$$ BEGIN RAISE EXCEPTION '{REFUSAL}'; END $$"
        )
    for table in HISTORY:
        guard(table)


def downgrade() -> None:
    """Go back."""
    for table in HISTORY:
        unguard(table)
    op.drop_index(op.f("ix_walk_reading_reading_id"), table_name="walk_reading")
    op.drop_index(op.f("ix_walk_reading_item_id"), table_name="walk_reading")
    op.drop_table("walk_reading")
    op.drop_index(op.f("ix_walk_choice_item_id"), table_name="walk_choice")
    op.drop_index(op.f("ix_walk_choice_entry_id"), table_name="walk_choice")
    op.drop_table("walk_choice")
    op.drop_index(op.f("ix_step_reading_work_order_line_id"), table_name="step_reading")
    op.drop_table("step_reading")
    op.drop_index(op.f("ix_setting_event_work_order_line_id"), table_name="setting_event")
    op.drop_index(op.f("ix_setting_event_unit_id"), table_name="setting_event")
    op.drop_index("ix_setting_event_unit_day", table_name="setting_event")
    op.drop_table("setting_event")
    op.drop_index(op.f("ix_reading_work_order_line_id"), table_name="reading")
    op.drop_index(op.f("ix_reading_unit_id"), table_name="reading")
    op.drop_index("ix_reading_unit_day", table_name="reading")
    op.drop_table("reading")
    op.drop_index(op.f("ix_finding_step_finding_id"), table_name="finding_step")
    op.drop_table("finding_step")
    op.drop_index(op.f("ix_work_order_material_work_order_id"), table_name="work_order_material")
    op.drop_table("work_order_material")
    op.drop_index(op.f("ix_work_order_line_work_order_id"), table_name="work_order_line")
    op.drop_index(op.f("ix_work_order_line_unit_id"), table_name="work_order_line")
    op.drop_index(op.f("ix_work_order_line_undoes_id"), table_name="work_order_line")
    op.drop_index(op.f("ix_work_order_line_point_id"), table_name="work_order_line")
    op.drop_table("work_order_line")
    op.drop_index(op.f("ix_work_order_hold_work_order_id"), table_name="work_order_hold")
    op.drop_table("work_order_hold")
    op.drop_index(op.f("ix_work_order_copy_work_order_id"), table_name="work_order_copy")
    op.drop_table("work_order_copy")
    op.drop_index(op.f("ix_work_order_before_work_order_id"), table_name="work_order_before")
    op.drop_index(op.f("ix_work_order_before_order_id"), table_name="work_order_before")
    op.drop_table("work_order_before")
    op.drop_index(op.f("ix_walk_photo_item_id"), table_name="walk_photo")
    op.drop_table("walk_photo")
    op.drop_index(op.f("ix_walk_entry_return_id"), table_name="walk_entry")
    op.drop_index(op.f("ix_walk_entry_item_id"), table_name="walk_entry")
    op.drop_table("walk_entry")
    op.drop_index(
        "uq_unit_placement_present",
        table_name="unit_placement",
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    op.drop_index(op.f("ix_unit_placement_unit_id"), table_name="unit_placement")
    op.drop_index(op.f("ix_unit_placement_assembly_id"), table_name="unit_placement")
    op.drop_table("unit_placement")
    op.drop_index(op.f("ix_required_load_point_id"), table_name="required_load")
    op.drop_index(op.f("ix_required_load_line_id"), table_name="required_load")
    op.drop_index(op.f("ix_required_load_case_id"), table_name="required_load")
    op.drop_index(op.f("ix_required_load_calculation_id"), table_name="required_load")
    op.drop_table("required_load")
    op.drop_index(op.f("ix_hardware_piece_assembly_id"), table_name="hardware_piece")
    op.drop_table("hardware_piece")
    op.drop_index(op.f("ix_field_finding_point_id"), table_name="field_finding")
    op.drop_index(op.f("ix_field_finding_item_id"), table_name="field_finding")
    op.drop_index(op.f("ix_field_finding_campaign_id"), table_name="field_finding")
    op.drop_table("field_finding")
    op.drop_index(op.f("ix_work_order_change_id"), table_name="work_order")
    op.drop_index(op.f("ix_work_order_assessment_id"), table_name="work_order")
    op.drop_table("work_order")
    op.drop_index(op.f("ix_weight_item_line_id"), table_name="weight_item")
    op.drop_index(op.f("ix_weight_item_change_id"), table_name="weight_item")
    op.drop_table("weight_item")
    op.drop_index(op.f("ix_walk_return_form_id"), table_name="walk_return")
    op.drop_index("ix_walk_return_file_hash", table_name="walk_return")
    op.drop_table("walk_return")
    op.drop_index(op.f("ix_walk_form_holder_form_id"), table_name="walk_form_holder")
    op.drop_table("walk_form_holder")
    op.drop_index(
        "uq_support_tag_present",
        table_name="support_tag",
        sqlite_where=sa.text("valid_to IS NULL"),
        postgresql_where=sa.text("valid_to IS NULL"),
    )
    op.drop_index(op.f("ix_support_tag_point_id"), table_name="support_tag")
    op.drop_index("ix_support_tag_matching_key", table_name="support_tag")
    op.drop_table("support_tag")
    op.drop_index(op.f("ix_rule_answers_run_id"), table_name="rule_answers")
    op.drop_table("rule_answers")
    op.drop_index(op.f("ix_point_document_point_id"), table_name="point_document")
    op.drop_index(op.f("ix_point_document_document_id"), table_name="point_document")
    op.drop_table("point_document")
    op.drop_index(op.f("ix_nozzle_limit_line_id"), table_name="nozzle_limit")
    op.drop_table("nozzle_limit")
    op.drop_index(op.f("ix_line_node_line_id"), table_name="line_node")
    op.drop_table("line_node")
    op.drop_index(op.f("ix_line_end_line_id"), table_name="line_end")
    op.drop_table("line_end")
    op.drop_index(op.f("ix_line_element_line_id"), table_name="line_element")
    op.drop_table("line_element")
    op.drop_index(op.f("ix_design_case_line_id"), table_name="design_case")
    op.drop_table("design_case")
    op.drop_index(op.f("ix_change_term_change_id"), table_name="change_term")
    op.drop_index(op.f("ix_change_term_assessment_id"), table_name="change_term")
    op.drop_table("change_term")
    op.drop_index(op.f("ix_change_line_line_id"), table_name="change_line")
    op.drop_index(op.f("ix_change_line_change_id"), table_name="change_line")
    op.drop_table("change_line")
    op.drop_index(op.f("ix_campaign_item_unit_id"), table_name="campaign_item")
    op.drop_index(op.f("ix_campaign_item_point_id"), table_name="campaign_item")
    op.drop_index(op.f("ix_campaign_item_campaign_id"), table_name="campaign_item")
    op.drop_table("campaign_item")
    op.drop_index(op.f("ix_audit_entry_source_row_id"), table_name="audit_entry")
    op.drop_index("ix_audit_entry_row", table_name="audit_entry")
    op.drop_index(op.f("ix_audit_entry_batch_id"), table_name="audit_entry")
    op.drop_table("audit_entry")
    op.drop_index(op.f("ix_attachment_point_id"), table_name="attachment")
    op.drop_index(op.f("ix_attachment_line_id"), table_name="attachment")
    op.drop_table("attachment")
    op.drop_table("assembly")
    op.drop_index(op.f("ix_walk_form_campaign_id"), table_name="walk_form")
    op.drop_table("walk_form")
    op.drop_index(op.f("ix_travel_stop_event_unit_id"), table_name="travel_stop_event")
    op.drop_table("travel_stop_event")
    op.drop_index(op.f("ix_support_point_area_id"), table_name="support_point")
    op.drop_table("support_point")
    op.drop_index(op.f("ix_source_row_import_run_id"), table_name="source_row")
    op.drop_table("source_row")
    op.drop_index("ix_signature_subject", table_name="signature")
    op.drop_index(op.f("ix_signature_person_id"), table_name="signature")
    op.drop_table("signature")
    op.drop_index(op.f("ix_rule_run_after_batch_id"), table_name="rule_run")
    op.drop_table("rule_run")
    op.drop_index(op.f("ix_person_role_person_id"), table_name="person_role")
    op.drop_table("person_role")
    op.drop_index(op.f("ix_nameplate_unit_id"), table_name="nameplate")
    op.drop_table("nameplate")
    op.drop_index(op.f("ix_line_area_id"), table_name="line")
    op.drop_table("line")
    op.drop_index(op.f("ix_emergency_act_unit_id"), table_name="emergency_act")
    op.drop_index(op.f("ix_emergency_act_change_id"), table_name="emergency_act")
    op.drop_table("emergency_act")
    op.drop_index(op.f("ix_change_proof_change_id"), table_name="change_proof")
    op.drop_table("change_proof")
    op.drop_index(op.f("ix_change_need_change_id"), table_name="change_need")
    op.drop_table("change_need")
    op.drop_index(op.f("ix_change_meeting_other_id"), table_name="change_meeting")
    op.drop_index(op.f("ix_change_meeting_lead_id"), table_name="change_meeting")
    op.drop_index(op.f("ix_change_meeting_change_id"), table_name="change_meeting")
    op.drop_table("change_meeting")
    op.drop_index(op.f("ix_campaign_step_campaign_id"), table_name="campaign_step")
    op.drop_table("campaign_step")
    op.drop_index(op.f("ix_assessment_change_id"), table_name="assessment")
    op.drop_index(op.f("ix_assessment_calculation_id"), table_name="assessment")
    op.drop_table("assessment")
    op.drop_index(
        "uq_unit_serial",
        table_name="unit",
        sqlite_where=sa.text("serial IS NOT NULL"),
        postgresql_where=sa.text("serial IS NOT NULL"),
    )
    op.drop_table("unit")
    op.drop_table("site_setting")
    op.drop_table("saved_question")
    op.drop_table("refusal")
    op.drop_table("person")
    op.drop_table("import_run")
    op.drop_index("ix_finding_acceptance_place", table_name="finding_acceptance")
    op.drop_table("finding_acceptance")
    op.drop_table("document")
    op.drop_table("change")
    op.drop_index(op.f("ix_campaign_pair_id"), table_name="campaign")
    op.drop_table("campaign")
    op.drop_table("calculation")
    op.drop_table("audit_batch")
    op.drop_table("area")
    if op.get_bind().dialect.name != "sqlite":
        op.execute("DROP FUNCTION keep_history()")
