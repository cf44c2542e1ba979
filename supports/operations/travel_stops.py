"""Travel stops in and out, by pin number; a pin is one thing and is in one unit at a time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from supports.database import Register
from supports.errors import BadInput, NotReady
from supports.model import TravelStopEvent
from supports.operations.acting import Deed, deed
from supports.queries.lookups import unit_of
from supports.queries.stops import pins_in
from supports.rules.workflow import require_other_person
from supports.sentences import Sentence


@dataclass(frozen=True, slots=True)
class StopMove:
    """A travel stop put in or taken out at a unit.

    Parameters
    ----------
    freed_by
        Who saw that the unit is really free; needed, with a witness, where the pin was found away
        from its unit.
    found_away
        Where the pin was found, if nobody saw it come out.
    """

    tag: str
    position: str
    pin_number: str
    direction: str
    reason: str
    witness: str = ""
    found_away: str = ""
    freed_by: str = ""


def move_stop(register: Register, move: StopMove, *, acting: str, now: datetime) -> None:
    """Record a travel stop going in or out.

    Raises
    ------
    NotReady
        The pin is in already, here or elsewhere, or is not in.
    BadInput
        No pin number or reason, or a pin found away from its unit without witness and check.
    """
    _check(move)
    with deed(
        register, acting, now, action=f"travel stop {move.direction}", reason=move.reason,
        subject=move.tag,
    ) as act:  # fmt: skip
        unit = unit_of(act.session, move.tag, move.position)
        _require_place(act, move, unit.id)
        if move.found_away:
            why = "finder and witness are two people"
            require_other_person("witness the find", move.witness, {act.person.name}, why)
        act.session.add(
            TravelStopEvent(
                unit_id=unit.id,
                pin_number=move.pin_number,
                direction=move.direction,
                happened_at=now,
                done_by=act.person.name,
                witness=move.witness or None,
                reason=_words(move),
                freed_by=move.freed_by or None,
            )
        )


def _check(move: StopMove) -> None:
    if move.direction not in {"in", "out"}:
        raise BadInput("a travel stop goes 'in' or 'out'", found=move.direction)
    if not move.pin_number.strip():
        raise BadInput("a travel stop has a pin number", found="a blank")
    if move.direction == "in" and not move.reason:
        raise BadInput("why the travel stop goes in is not said", remedy="Say it with --reason")
    if move.found_away and not (move.witness and move.freed_by):
        raise BadInput(
            Sentence(
                "travel stop {pin_number} was found away from its unit", pin_number=move.pin_number
            ),
            expected="a witness, and who saw that the unit is really free",
            remedy="Look at the unit first, then say --witness and --freed-by",
        )


def _require_place(act: Deed, move: StopMove, unit: int) -> None:
    places = {pin.unit_id: pin for pin in pins_in(act.session) if pin.number == move.pin_number}
    here = unit in places
    if here == (move.direction == "in"):
        state = "in already" if here else "not in"
        raise NotReady(
            Sentence(
                "travel stop {pin_number} of {tag} is {state}",
                pin_number=move.pin_number,
                tag=move.tag,
                state=state,
            )
        )
    if move.direction == "in" and places:
        elsewhere = next(iter(places.values()))
        raise NotReady(
            Sentence("travel stop {pin_number} is in another unit", pin_number=move.pin_number),
            (str(elsewhere),),
            remedy="Two pins bear one number, or one event is missing: look at both",
        )


def _words(move: StopMove) -> str:
    return f"found {move.found_away}; {move.reason}" if move.found_away else move.reason
