"""What the readings of a work order tell a plan: which units were found elsewhere than planned."""

from __future__ import annotations

from supports.rules.assessment import AssessmentContent
from supports.rules.reset_planning.content import PlanAlternative
from supports.rules.reset_planning.order_lines import ChosenPlan
from supports.rules.reset_planning.springs import unit_name
from supports.rules.site_settings import SiteSettings
from supports.snapshots import WorkOrderLineView, WorkOrderView


def found_elsewhere(
    order: WorkOrderView,
    content: AssessmentContent,
    taken: PlanAlternative,
    settings: SiteSettings,
) -> dict[str, float]:
    """Return as-found scale loads [N] that differ by more than half the window, by unit.

    A unit that was turned already counts no more: its as-left load is its setting.
    """
    expected = {one.unit_id: one.scale for one in taken.start_readings}
    names, variable = names_of(content), variables_of(content)
    found = {}
    for line in order.lines:
        read, due = _as_found(line), expected.get(line.unit_id)
        if read is None or due is None or line.as_left is not None:
            continue
        share = settings.variable_tolerance if line.unit_id in variable else settings.tolerance
        if abs(read - due) > _room(line, share * abs(due)) * (1.0 + 1e-9):
            found[names[line.unit_id]] = read
    return found


def found_before(
    order: WorkOrderView, content: AssessmentContent, chosen: ChosenPlan
) -> dict[str, float]:
    """Return the scale loads [N] of units that an earlier reading had found elsewhere already.

    The plan was made from them; they hold until the unit is turned, whatever the record says.
    """
    names = names_of(content)
    turned = {names[line.unit_id] for line in order.lines if line.as_left is not None}
    shown = {one.name: one.scale for one in chosen.alternative.start_readings}
    earlier = (one.name for one in chosen.content.shifted)
    return {name: shown[name] for name in earlier if name not in turned}


def _as_found(line: WorkOrderLineView) -> float | None:
    return line.as_found.scale_load if line.as_found else None


def _room(line: WorkOrderLineView, tolerance: float) -> float:
    """Return half the window of a line [N]; of a unit only read, the site's tolerance."""
    if line.window_low is None or line.window_high is None:
        return tolerance
    return (line.window_high - line.window_low) / 2.0


def names_of(content: AssessmentContent) -> dict[int, str]:
    """Return the name of each unit, by its id."""
    return {
        unit.id: unit_name(support, unit) for support in content.supports for unit in support.units
    }


def variables_of(content: AssessmentContent) -> frozenset[int]:
    """Return the units that are variable springs."""
    units = (unit for support in content.supports for unit in support.units)
    return frozenset(unit.id for unit in units if unit.kind.is_variable)
