"""Where a change, a work order and the work at one unit can stand, in plain words."""

from __future__ import annotations

from collections.abc import Collection
from enum import StrEnum

from supports.sentences import Sentence


class ChangeState(StrEnum):
    """Where a change stands."""

    NOTED = "noted"
    MADE_SAFE = "made safe, to be taken through"
    BEING_WORKED_OUT = "being worked out"
    BEING_CHECKED = "being checked"
    BEFORE_THE_APPROVER = "before the approver"
    CLEARED = "cleared to build"
    BEING_DONE = "being done"
    TO_BE_PROVED = "done, to be proved"
    IN_FORCE = "in force till its date"
    CLOSED = "closed"
    SENT_BACK = "sent back"
    REFUSED = "refused"
    LIKE_FOR_LIKE = "like for like, no change"
    CALLED_OFF = "called off, untouched"
    TO_BE_PUT_RIGHT = "called off, to be put right"

    @property
    def is_over(self) -> bool:
        """Return whether nothing more comes of the change."""
        return self in _OVER

    @property
    def is_approved(self) -> bool:
        """Return whether the approver's word was given and work follows from it."""
        return self in _APPROVED

    @property
    def is_being_prepared(self) -> bool:
        """Return whether what it says may still be written."""
        return self in _PREPARED


_S = ChangeState
_OVER = {_S.CLOSED, _S.REFUSED, _S.LIKE_FOR_LIKE, _S.CALLED_OFF}
_APPROVED = {_S.CLEARED, _S.BEING_DONE, _S.TO_BE_PROVED, _S.IN_FORCE}
_PREPARED = {
    _S.NOTED,
    _S.MADE_SAFE,
    _S.BEING_WORKED_OUT,
    _S.BEING_CHECKED,
    _S.BEFORE_THE_APPROVER,
    _S.SENT_BACK,
}


class OrderKind(StrEnum):
    """What a work order is for."""

    RE_SET = "re-set"
    UNDO = "undo"
    REMOVAL = "removal"


class OrderState(StrEnum):
    """Where a work order stands; once given out, this follows from its lines."""

    WRITTEN = "written"
    CHECKED = "checked"
    GIVEN_OUT = "given out"
    IN_HAND = "in hand"
    ON_HOLD = "on hold"
    FINISHED = "finished, to be checked"
    ACCEPTED = "accepted"
    WITHDRAWN = "withdrawn"


class LineState(StrEnum):
    """Where the work at one unit stands."""

    WRITTEN = "written"
    ON_HOLD = "on hold"
    BACK_TO_ENGINEER = "as-found differs, back to the engineer"
    IN_HAND = "in hand"
    STOPPED = "stopped part-way"
    TO_BE_CHECKED = "finished, to be checked"
    OUT_OF_WINDOW = "out of window"
    TO_BE_COMPARED = "to be compared"
    TO_BE_DONE_AGAIN = "to be done again"
    TO_BE_PUT_RIGHT = "to be put right"
    BEING_UNDONE = "being undone"
    ACCEPTED = "accepted"
    ACCEPTED_IN_WRITING = "accepted in writing"
    READ = "read"
    KEPT = "kept as it is"
    UNDONE = "undone"
    TAKEN_OVER = "taken over by a later order"
    WITHDRAWN = "withdrawn"

    @property
    def is_settled(self) -> bool:
        """Return whether nothing is left to do at the unit."""
        return self in _SETTLED

    @property
    def is_untouched(self) -> bool:
        """Return whether nobody has turned anything at the unit."""
        return self in _UNTOUCHED


_L = LineState
_SETTLED = {
    _L.ACCEPTED,
    _L.ACCEPTED_IN_WRITING,
    _L.READ,
    _L.KEPT,
    _L.UNDONE,
    _L.TAKEN_OVER,
    _L.WITHDRAWN,
}
_UNTOUCHED = {_L.WRITTEN, _L.ON_HOLD, _L.BACK_TO_ENGINEER, _L.READ, _L.WITHDRAWN}


WAITED_FOR = "{unit}: its work is on hold until there is {waited} (order {order})"
LEFT_TO_DO = {
    _L.WRITTEN: "{unit}: its work is not done yet (order {order}: {state})",
    _L.ON_HOLD: "{unit}: its work is on hold (order {order})",
    _L.BACK_TO_ENGINEER: (
        "{unit}: found otherwise than ordered; an engineer must say how it goes on (order {order})"
    ),
    _L.IN_HAND: "{unit}: its work is begun; the reading as left is still to come (order {order})",
    _L.STOPPED: (
        "{unit}: its work was stopped part-way; an engineer must let it go on, or it is set back "
        "(order {order})"
    ),
    _L.TO_BE_CHECKED: (
        "{unit}: its work is finished; somebody who did not read it must accept it (order {order})"
    ),
    _L.OUT_OF_WINDOW: (
        "{unit}: left outside its window; two engineers must accept it in writing (order {order})"
    ),
    _L.TO_BE_COMPARED: (
        "{unit}: turned under an earlier assessment; an engineer must compare it with the newer "
        "one (order {order})"
    ),
    _L.TO_BE_DONE_AGAIN: "{unit}: its work is to be done again (order {order})",
    _L.TO_BE_PUT_RIGHT: (
        "{unit}: to be set back as it was, or kept as it is with an analysis (order {order})"
    ),
    _L.BEING_UNDONE: "{unit}: is being set back and not finished (order {order})",
}
"""What is still to be done at a unit that is not settled, by where its work stands."""


def left_to_do(
    state: LineState, unit: str, order: str, order_stands: OrderState, waited: str = ""
) -> Sentence:
    """Return what is still to be done at a unit that is not settled."""
    pattern = WAITED_FOR if state is _L.ON_HOLD and waited else LEFT_TO_DO[state]
    return Sentence(pattern, unit=unit, order=order, state=order_stands, waited=waited)


def order_state(lines: Collection[LineState], before: OrderState) -> OrderState:
    """Return where an order stands, once it was given out, from where its lines stand."""
    if before in {OrderState.WRITTEN, OrderState.CHECKED} or not lines:
        return before
    left = [line for line in lines if line is not LineState.WITHDRAWN]
    if not left:
        return OrderState.WITHDRAWN
    if all(line.is_settled for line in left):
        return OrderState.ACCEPTED
    if any(line is LineState.ON_HOLD for line in left):
        return OrderState.ON_HOLD
    if all(line.is_settled or line is LineState.TO_BE_CHECKED for line in left):
        return OrderState.FINISHED
    untouched = all(line is LineState.WRITTEN for line in left)
    return OrderState.GIVEN_OUT if untouched else OrderState.IN_HAND


def within(load: float, low: float, high: float) -> bool:
    """Return whether a reading [N] is inside a window [N]; exactly at an end is inside."""
    slack = 1e-9 * abs(high)
    return low - slack <= load <= high + slack
