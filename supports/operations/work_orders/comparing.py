"""Hold a unit that was turned under an earlier assessment against the newer one."""

from __future__ import annotations

from datetime import datetime

from supports.calc.constant_support import window
from supports.database import Register
from supports.errors import BadInput, NotReady
from supports.model import Change, WorkOrder, WorkOrderLine
from supports.operations.acting import Deed, deed
from supports.operations.finishing import finish
from supports.queries.change_record import work_blockers
from supports.queries.change_views import content_of, latest_assessment
from supports.queries.lookups import unit_of, work_order_line_of
from supports.queries.orders import line_content, name_of_line
from supports.queries.work_order_views import readings_on_line
from supports.rules.site_settings import settings_as_frozen
from supports.rules.workflow import LineState, require_roles, within
from supports.rules.workflow.unit_acts import unit_act
from supports.sentences import Sentence


def compare_line(
    register: Register, order: str, place: tuple[str, str], *, acting: str, reason: str,
    now: datetime,
) -> LineState:  # fmt: skip
    """Compare what a unit was left at with what the newest approved assessment requires.

    Inside the tolerance it is kept by the engineer's note; else it is to be done again.

    Raises
    ------
    NotReady
        The unit is not to be compared, or the newer assessment is not approved yet.
    """
    tag, position = place
    with deed(
        register, acting, now, action="compare a unit", reason=reason, subject=f"{order} {tag}"
    ) as act:
        require_roles("compare a unit", unit_act("compare").roles, act.person.roles)
        if not reason:
            raise BadInput("the engineer's note is missing", remedy="Say it with --reason")
        line = work_order_line_of(act.session, order, unit_of(act.session, tag, position), tag)
        change = _require_comparable(act, line)
        low, high = _window(act, change, line)
        left = readings_on_line(act.session, line.id)["as left"].scale_load
        kept = left is not None and within(left, low, high)
        if kept:
            content = line_content(act.session, line)
            act.sign(("work order line", line.id), "kept as compared", content, reason=reason)
        line.state = LineState.KEPT if kept else LineState.TO_BE_DONE_AGAIN
        finish(act.session, line)
        return LineState(line.state)


def _require_comparable(act: Deed, line: WorkOrderLine) -> Change:
    if line.state not in unit_act("compare").frm:
        raise NotReady(
            "only a unit turned under an earlier assessment is compared",
            (Sentence("{unit}: {state}", unit=name_of_line(act.session, line), state=line.state),),
        )
    order = act.session.get_one(WorkOrder, line.work_order_id)
    change = act.session.get_one(Change, order.change_id)
    if blockers := work_blockers(act.session, change):
        raise NotReady(
            Sentence("{change}: the newer assessment does not hold yet", change=change.number),
            blockers,
        )
    return change


def _window(act: Deed, change: Change, line: WorkOrderLine) -> tuple[float, float]:
    content = content_of(latest_assessment(act.session, change.id))
    settings = settings_as_frozen(content.settings)
    units = {u.id: u for support in content.supports for u in support.units}
    for judgement in content.judgements:
        for one in judgement.units:
            if one.unit_id == line.unit_id and one.demand.governing is not None:
                variable = units[line.unit_id].kind.is_variable
                share = settings.variable_tolerance if variable else settings.tolerance
                return window(one.demand.governing, share)
    raise NotReady(
        "the newer assessment says nothing of this unit", (name_of_line(act.session, line),)
    )
