"""Work orders, a line for each unit."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from supports.snapshots.units import ReadingView


@dataclass(frozen=True, slots=True)
class WorkOrderLineView:
    """What is done at one unit, and what was read there."""

    id: int
    order_no: int
    point_id: int
    tag: str
    unit_id: int
    position: str
    serial: str
    action: str
    state: str
    from_load: float | None = None
    to_load: float | None = None
    window_low: float | None = None
    window_high: float | None = None
    turns: int | None = None
    flats: int | None = None
    direction: str = ""
    remark: str = ""
    as_found: ReadingView | None = None
    as_left: ReadingView | None = None
    waits_for: str = ""
    scale_unit: str = ""
    """What the unit's own scale is marked in; '' is not known."""


@dataclass(frozen=True, slots=True)
class WorkOrderView:
    """A work order with its lines, in order."""

    id: int
    number: str
    change: str
    assessment_id: int
    state: str
    line_state_needed: str
    written_on: date
    written_by: str
    crew: int | None = None
    hours: float | None = None
    lines: tuple[WorkOrderLineView, ...] = ()
    kind: str = "re-set"
    scaffold_group: str = ""
    scaffold_hours: float | None = None


@dataclass(frozen=True, slots=True)
class CopyView:
    """A numbered copy of a pack, and whether it is still good to work by."""

    number: int
    given_to: str
    given_on: date
    recalled_on: date | None = None
    fate: str = ""
