"""Travel stops in and out, by pin number."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from supports.database import Register
from supports.errors import BadInput, NotReady
from supports.model import TravelStopEvent
from supports.operations.acting import actor
from supports.queries.lookups import unit_of
from supports.queries.unit_history import stops_in


@dataclass(frozen=True, slots=True)
class StopMove:
    """A travel stop put in or taken out at a unit."""

    tag: str
    position: str
    pin_number: str
    direction: str
    reason: str
    witness: str = ""


def move_stop(register: Register, move: StopMove, *, acting: str, now: datetime) -> None:
    """Record a travel stop going in or out.

    Raises
    ------
    NotReady
        The pin is in already, or is not in.
    """
    if move.direction not in {"in", "out"}:
        raise BadInput("a travel stop goes 'in' or 'out'", found=move.direction)
    with register.writing(acting, move.reason, now, action="move a travel stop") as writing:
        session, person = writing.session, actor(writing.session, acting, now.date())
        unit = unit_of(session, move.tag, move.position)
        is_in = move.pin_number in stops_in(session, [unit.id]).get(unit.id, ())
        if is_in == (move.direction == "in"):
            state = "in already" if is_in else "not in"
            raise NotReady(f"travel stop {move.pin_number} of {move.tag} is {state}")
        session.add(
            TravelStopEvent(
                unit_id=unit.id,
                pin_number=move.pin_number,
                direction=move.direction,
                happened_at=now,
                done_by=person.name,
                witness=move.witness or None,
                reason=move.reason,
            )
        )
