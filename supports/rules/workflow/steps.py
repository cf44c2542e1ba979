"""Every step of a change in one table: from where, to where, by whom, on what evidence."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from supports.errors import NotReady
from supports.rules.workflow.eyes import require_roles
from supports.rules.workflow.states import ChangeState, OrderState
from supports.sentences import Sentence, either, joined
from supports.vocabulary import Role


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a change.

    Parameters
    ----------
    evidence
        What must be there to take it.
    command
        What somebody types for it, after ``supports change``; '' where it follows by itself.
    """

    act: str
    frm: frozenset[ChangeState]
    to: ChangeState
    roles: frozenset[Role]
    evidence: str
    command: str = ""


_S, _R = ChangeState, Role


def _step(
    act: str, frm: Collection[ChangeState], to: ChangeState, roles: Collection[Role],
    evidence: str, command: str = "",
) -> Step:  # fmt: skip
    return Step(act, frozenset(frm), to, frozenset(roles), evidence, command)


_ANYONE = tuple(Role)
_IN_PREPARATION = {_S.BEING_WORKED_OUT, _S.BEING_CHECKED, _S.BEFORE_THE_APPROVER, _S.SENT_BACK}
_APPROVED = {_S.CLEARED, _S.BEING_DONE, _S.TO_BE_PROVED}

STEPS = (
    _step("note", (), _S.NOTED, _ANYONE, "lines, reason; an end date if temporary", "new"),
    _step(
        "sift", {_S.NOTED, _S.MADE_SAFE, _S.SENT_BACK}, _S.BEING_WORKED_OUT, {_R.COORDINATOR},
        "how deep to look, the stretch that feels it, whose word is needed", "sift",
    ),
    _step(
        "find like for like", {_S.NOTED}, _S.LIKE_FOR_LIKE, {_R.COORDINATOR},
        "the reason: same load, rate, travel and length", "like-for-like",
    ),
    _step(
        "assess", _IN_PREPARATION | _APPROVED, _S.BEING_CHECKED, {_R.STRESS_ENGINEER},
        "weights with centres, calculation and revision with loads on every line, the aim",
        "assess",
    ),
    _step(
        "check", {_S.BEING_CHECKED}, _S.BEFORE_THE_APPROVER, {_R.STRESS_ENGINEER},
        "not the preparer; the present content", "sign",
    ),
    _step(
        "approve", {_S.BEFORE_THE_APPROVER}, _S.CLEARED, {_R.RESPONSIBLE_ENGINEER},
        "neither preparer nor checker; the five items; the word of every role asked; "
        "the present calculation; other changes on the stretch met", "sign",
    ),
    _step(
        "send back", {_S.BEING_CHECKED, _S.BEFORE_THE_APPROVER}, _S.SENT_BACK,
        {_R.STRESS_ENGINEER, _R.RESPONSIBLE_ENGINEER}, "the reason", "sign",
    ),
    _step(
        "refuse", {_S.BEFORE_THE_APPROVER}, _S.REFUSED, {_R.RESPONSIBLE_ENGINEER},
        "the reason; nothing was turned yet", "sign",
    ),
    _step("start", {_S.CLEARED}, _S.BEING_DONE, (), "the first as-found of a given-out order"),
    _step("finish", {_S.BEING_DONE}, _S.TO_BE_PROVED, (), "every unit of its orders is settled"),
    _step(
        "put in force", {_S.TO_BE_PROVED}, _S.IN_FORCE, {_R.RESPONSIBLE_ENGINEER},
        "temporary; proved for start-up; owner and removal order there", "put-in-force",
    ),
    _step(
        "ask for the renewal of", {_S.IN_FORCE}, _S.BEING_WORKED_OUT, {_R.RESPONSIBLE_ENGINEER},
        "temporary, not renewed before; a fresh assessment follows", "renew",
    ),
    _step(
        "call off", {*_IN_PREPARATION, _S.NOTED, _S.CLEARED}, _S.CALLED_OFF, {_R.COORDINATOR},
        "the reason; nothing was turned", "call-off",
    ),
    _step(
        "call off half-way", {_S.BEING_CHECKED, _S.BEFORE_THE_APPROVER, _S.SENT_BACK,
        _S.BEING_WORKED_OUT, _S.CLEARED, _S.BEING_DONE, _S.TO_BE_PROVED}, _S.TO_BE_PUT_RIGHT,
        {_R.RESPONSIBLE_ENGINEER}, "the reason; no unit in hand", "call-off",
    ),
    _step(
        "close", {_S.TO_BE_PROVED, _S.TO_BE_PUT_RIGHT}, _S.CLOSED, {_R.COORDINATOR},
        "every unit settled, travel stops out, every proof given, copies back; "
        "not somebody who turned or read a unit", "close",
    ),
)  # fmt: skip
"""All steps; those without roles follow by themselves from the work orders."""


def step_of(act: str) -> Step:
    """Return a step by its word."""
    return next(step for step in STEPS if step.act == act)


def require_step(act: str, state: ChangeState, roles: Collection[Role]) -> Step:
    """Return the step if it may be taken from this state by somebody with these roles.

    Raises
    ------
    NotReady
        The change stands elsewhere.
    NotAllowed
        The person holds none of the roles.
    """
    step = step_of(act)
    require_roles(Sentence("{act} a change", act=act), step.roles, roles)
    if state not in step.frm:
        wanted = joined(sorted(step.frm), ", ")
        raise NotReady(
            Sentence("to {act} a change, it must stand at: {wanted}", act=act, wanted=wanted),
            (Sentence("it stands at: {state}", state=state),),
            remedy=next_words(state),
        )
    return step


def roles_waited_for(state: ChangeState) -> tuple[Role, ...]:
    """Return whose word or work takes a change on from a state; calling off is no way on."""
    if state is ChangeState.CLEARED:
        return (Role.PLANNER,)
    if state is ChangeState.BEING_DONE:
        return (Role.TECHNICIAN,)
    steps = [one for one in STEPS if state in one.frm and not one.act.startswith("call off")]
    return tuple(sorted({role for one in steps for role in one.roles}))


def next_words(state: ChangeState) -> str:
    """Return what may be done next from a state, and by whom; '' if nothing."""
    if state is ChangeState.CLEARED:
        return Sentence("Next, by the planner: supports work-order write")
    words = dict.fromkeys(
        Sentence("{act} ({who})", act=step.act, who=_who_types(step))
        for step in STEPS
        if state in step.frm and step.command and not step.act.startswith("call off")
    )
    return Sentence("Possible now: {steps}.", steps=joined(words)) if words else ""


def _who_types(step: Step) -> Sentence:
    roles = either(sorted(step.roles))
    return Sentence("{roles}: supports change {command}", roles=roles, command=step.command)


_NEXT_OF_ORDER = {
    OrderState.WRITTEN: "by a stress engineer who did not write it: supports work-order check {}",
    OrderState.CHECKED: "by the planner: supports work-order give-out {}",
    OrderState.GIVEN_OUT: "by the crew, before anything is turned: supports work-order as-found {}",
    OrderState.IN_HAND: "unit by unit: supports work-order as-left {0} and accept {0}",
    OrderState.ON_HOLD: "what it waits for: supports work-order show {}",
    OrderState.FINISHED: "by inspector or engineer: supports work-order accept {}",
}


_ORDER_WAITS_FOR = {
    OrderState.WRITTEN: (Role.STRESS_ENGINEER,),
    OrderState.CHECKED: (Role.PLANNER,),
    OrderState.GIVEN_OUT: (Role.TECHNICIAN,),
    OrderState.IN_HAND: (Role.TECHNICIAN,),
    OrderState.ON_HOLD: (Role.PLANNER,),
    OrderState.FINISHED: (Role.INSPECTOR, Role.STRESS_ENGINEER),
}


def roles_an_order_waits_for(state: OrderState) -> tuple[Role, ...]:
    """Return whose work takes a work order on from a state; nobody's at its end."""
    return _ORDER_WAITS_FOR.get(state, ())


def next_of_order(number: str, state: OrderState) -> str:
    """Return what is to be done next on a work order; '' if nothing."""
    words = _NEXT_OF_ORDER.get(state)
    return f"Next, {words.format(number)}" if words else ""
