"""The removal order of a temporary change, written with its approval."""

from __future__ import annotations

from supports.model import Assessment, Change
from supports.operations.acting import Deed
from supports.operations.work_orders.making import make_order
from supports.queries.change_views import content_of
from supports.rules.site_settings import settings_as_frozen
from supports.rules.work_plan import RE_SET, PlannedLine, planned_lines
from supports.rules.workflow import OrderKind
from supports.rules.workflow.way_back import standing_of, way_back

DEFAULT_STATE = "shut down, drained"


def write_removal_order(act: Deed, change: Change, assessment: Assessment) -> str:
    """Write the order that takes a temporary change away again; return its number.

    Units that the change re-sets go back to what they were set to; the others are read.
    """
    content = content_of(assessment)
    settings = settings_as_frozen(content.settings)
    units = {unit.id: unit for support in content.supports for unit in support.units}

    def back(line: PlannedLine) -> PlannedLine:
        if line.action != RE_SET or line.from_load is None or line.to_load is None:
            return line
        unit = units[line.unit_id]
        standing = standing_of(unit, content, DEFAULT_STATE)
        return way_back(line.point_id, unit, line.to_load, line.from_load, settings, standing)

    lines = [back(line) for line in planned_lines(content, DEFAULT_STATE)]
    return make_order(act, change, assessment, OrderKind.REMOVAL, DEFAULT_STATE, lines).number
