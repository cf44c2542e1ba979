"""What people chose where a pack's form and the register differed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import FormChoice, Person, WorkOrderLine
from supports.queries.plant_days import clock_at


@dataclass(frozen=True, slots=True)
class ChoiceView:
    """One choice: loads [N], pointers [m]."""

    line_id: int
    occasion: str
    kept: str
    form_load: float
    form_pointer: float | None
    recorded_load: float | None
    recorded_pointer: float | None
    person: str
    chosen_at: datetime
    reason: str


def choices_on_order(session: Session, order_id: int) -> list[ChoiceView]:
    """Return the choices made on a work order, oldest first."""
    query: Any = (
        select(
            FormChoice.work_order_line_id,
            FormChoice.occasion,
            FormChoice.kept,
            FormChoice.form_load,
            FormChoice.form_pointer,
            FormChoice.recorded_load,
            FormChoice.recorded_pointer,
            Person.name,
            FormChoice.chosen_at,
            FormChoice.reason,
        )
        .join(Person, FormChoice.person_id == Person.id)
        .join(WorkOrderLine, FormChoice.work_order_line_id == WorkOrderLine.id)
        .where(WorkOrderLine.work_order_id == order_id)
        .order_by(FormChoice.id)
    )
    return [
        replace(ChoiceView(*row), chosen_at=clock_at(session, row.chosen_at))
        for row in session.execute(query)
    ]
