"""Travel stops in and out, and what was done at once to make a line safe."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sqlalchemy.orm import Session

from app.web.acts.asking import Act, Ask, Said, Where, same_words
from app.words import tag_and_position, word
from supports.operations.changes import Emergency, SafeAct, make_safe
from supports.operations.travel_stops import StopMove, move_stop
from supports.queries.stops import pins_in
from supports.units import Kind
from supports.vocabulary import PlantState

if TYPE_CHECKING:
    from app.web.visits import Visit

_UNIT = "Unit, as PS-12 or PS-12/B"
STOPS = "/travel-stops"


def _ask_in(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    return (
        Ask("unit", _UNIT, needed=True),
        Ask("pin", "Number stamped on the pin", needed=True),
        Ask("reason", "Why it goes in", "long", needed=True),
        Ask("witness", "Who saw it"),
    )


def _in(visit: Visit, _: Where, said: Said) -> str:
    place = tag_and_position(said.text("unit"))
    move = StopMove(*place, said.text("pin"), "in", said.text("reason"), said.text("witness"))
    move_stop(visit.register, move, acting=visit.acting, now=visit.now)
    return STOPS


def _ask_out(session: Session, _: Where, __: Visit) -> Sequence[Ask]:
    pins = tuple((f"{pin.unit}|{pin.number}", f"{pin.number} in {pin.unit}")
                 for pin in pins_in(session))  # fmt: skip
    away = "Only if nobody saw it come out; then a witness and the check below are needed."
    return (
        Ask("pin", "Which", "choice", options=pins),
        Ask("reason", "Remark", "long"),
        Ask("witness", "Who saw it"),
        Ask("found", "Where it was found, if away from its unit", hint=away),
        Ask("freed_by", "Who saw that the unit is really free"),
    )


def _out(visit: Visit, _: Where, said: Said) -> str:
    unit, __, pin = said.text("pin").rpartition("|")
    move = StopMove(
        *tag_and_position(unit), pin, "out", said.text("reason"), said.text("witness"),
        said.text("found"), said.text("freed_by"),
    )  # fmt: skip
    move_stop(visit.register, move, acting=visit.acting, now=visit.now)
    return STOPS


STOP_IN = Act("in", "A travel stop goes in", _in, _ask_in)
STOP_OUT = Act("out", "A travel stop comes out", _out, _ask_out)


def _ask_safe(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    states = same_words([*PlantState])
    return (
        Ask("what", "What was done", "choice", options=same_words([*SafeAct])),
        Ask("lines", "Lines made safe", hint="Several with commas between them.", needed=True),
        Ask("reason", "Reason, in your own words", "long", needed=True),
        Ask("leader", "Who leads the shift", needed=True),
        Ask("engineer", "The engineer on call", needed=True),
        Ask("unit", _UNIT, hint="A prop may stand where no support is."),
        Ask("pin", "Number of the travel stop put in"),
        Ask("load", "Load that it was set back to", unit="kN"),
        Ask("state", "State of the line", "choice", options=states, start=PlantState.UNKNOWN),
    )


def _make_safe(visit: Visit, _: Where, said: Said) -> str:
    lines = tuple(one.strip() for one in said.text("lines").split(",") if one.strip())
    place = tag_and_position(said.text("unit"))
    emergency = Emergency(
        lines, said.text("reason"), word(SafeAct, said.text("what")), said.text("leader"),
        said.text("engineer"), *place, said.text("pin"),
        said.quantity("load", "kN", Kind.LOAD), word(PlantState, said.text("state")),
    )  # fmt: skip
    number = make_safe(visit.register, emergency, acting=visit.acting, now=visit.now)
    return f"/changes/{number}"


MAKE_SAFE = Act(
    "make safe", "Write down what made a line safe", _make_safe, _ask_safe,
    "An emergency sets no new values: a travel stop in, a prop, or back to the value approved "
    "last. Shift leader and engineer clear it together; the full change is due within hours.",
)  # fmt: skip
