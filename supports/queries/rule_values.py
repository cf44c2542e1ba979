"""Values of sheets that wait in quarantine, as the rules read them."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import ImportRun, QuarantineAnswer, QuarantinedValue
from supports.queries.rule_facts import columns
from supports.rules.frame import Frame, Subject, frame, whole_keys

UNIT_CODES = {"unit-not-stated", "unit-ambiguous"}
"""Why a number waits for its unit: none is stated, or the one stated may mean two things."""


def value_frame(session: Session, today: float) -> Frame:
    """Return every value that waits, by file, sheet and cell."""
    value = QuarantinedValue
    query = (
        select(
            value.id, ImportRun.file_name, value.sheet, value.cell, value.code, value.tag,
            value.text,
        )
        .join(ImportRun, value.import_run_id == ImportRun.id)
        .where(value.id.not_in(select(QuarantineAnswer.quarantined_value_id)))
        .order_by(value.id)
    )  # fmt: skip
    found = columns(session, query)
    places = zip(found["file_name"], found["sheet"], found["cell"], strict=True)
    made = frame(
        Subject.VALUE,
        [" ".join(place) for place in places],
        {
            "tag": found["tag"],
            "value_found": found["text"],
            "is_quantity": [float(code in UNIT_CODES) for code in found["code"]],
            "unit_stated": [0.0 if code in UNIT_CODES else 1.0 for code in found["code"]],
        },
        today,
    )
    return whole_keys(made, found["id"])
