"""Where a unit must stand for work on it, and the words for its readings."""

from __future__ import annotations

from collections.abc import Collection

from supports.errors import NotReady
from supports.model import WorkOrderLine
from supports.operations.acting import Deed
from supports.queries.orders import name_of_line
from supports.rules.workflow import LineState

AS_FOUND, AS_LEFT, PART_WAY = "as found", "as left", "stopped part-way"


def require_states(
    act: Deed, line: WorkOrderLine, states: Collection[LineState], what: str
) -> None:
    """Raise NotReady unless the unit stands at one of the states."""
    if LineState(line.state) not in states:
        waits = f", waiting for {line.waits_for}" if line.waits_for else ""
        raise NotReady(
            f"to be {what}, {name_of_line(act.session, line)} must stand at: "
            f"{', '.join(sorted(states))}",
            (f"it stands at: {line.state}{waits}",),
        )
