"""Where a unit must stand for work on it, and the words for its readings."""

from __future__ import annotations

from collections.abc import Collection

from supports.errors import NotReady
from supports.model import WorkOrderLine
from supports.operations.acting import Deed
from supports.queries.orders import name_of_line
from supports.rules.workflow import LineState
from supports.sentences import Sentence, joined

AS_FOUND, AS_LEFT, PART_WAY = "as found", "as left", "stopped part-way"


def require_states(
    act: Deed, line: WorkOrderLine, states: Collection[LineState], what: str
) -> None:
    """Raise NotReady unless the unit stands at one of the states."""
    if LineState(line.state) not in states:
        stands = "it stands at: {state}, waiting for {waited}"
        stands = stands if line.waits_for else "it stands at: {state}"
        raise NotReady(
            Sentence(
                "to be {what}, {unit} must stand at: {names}",
                what=what,
                unit=name_of_line(act.session, line),
                names=joined(sorted(states), ", "),
            ),
            (Sentence(stands, state=line.state, waited=line.waits_for or ""),),
        )
