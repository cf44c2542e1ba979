"""Second and third pairs of eyes: assessors, the checker and the approver."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum

from supports.database import Register
from supports.errors import BadInput, NotAllowed, NotReady
from supports.model import Assessment, Change, ChangeTerm
from supports.operations.acting import Deed, deed
from supports.operations.seen import NOTHING_SEEN, Seen, require_as_seen
from supports.operations.work_orders.removal import write_removal_order
from supports.queries.change_record import (
    approval_blockers,
    change_record,
    hands_on,
    present_parts,
)
from supports.queries.change_views import content_of, latest_assessment
from supports.queries.lookups import change_of
from supports.queries.work_order_views import orders_of_change
from supports.rules.assessment import AssessmentContent
from supports.rules.workflow import (
    ChangeState,
    LineState,
    OrderKind,
    require_other_person,
    require_step,
)
from supports.sentences import Sentence, either, joined
from supports.vocabulary import Verdict

THREE_PEOPLE = "preparing, checking and approving take three different people"


class Decision(StrEnum):
    """What a second person says of an assessment."""

    CHECK = "check"
    APPROVE = "approve"
    SEND_BACK = "send back"
    REFUSE = "refuse"


_MEANINGS = {
    Decision.CHECK: "checked",
    Decision.APPROVE: "approved",
    Decision.SEND_BACK: "sent back",
    Decision.REFUSE: "refused",
}


def decide_change(
    register: Register, number: str, act: Decision, *, acting: str, reason: str, now: datetime,
    seen: Seen = NOTHING_SEEN,
) -> str:  # fmt: skip
    """Check, approve, send back or refuse the newest assessment; return the new state.

    Parameters
    ----------
    seen
        The parts as the signer looked at them; nobody signs what was changed since.

    Raises
    ------
    NotAllowed
        The person lacks the role, or prepared or checked it themself.
    NotReady
        The change stands elsewhere, or something is missing for the word asked for; it is named.
    """
    with deed(
        register, acting, now, action=f"{act} a change", reason=reason, subject=number
    ) as done:
        change = change_of(done.session, number)
        step = require_step(act, ChangeState(change.state), done.person.roles)
        require_as_seen(done.session, change, seen)
        assessment = latest_assessment(done.session, change.id)
        _four_eyes(done, assessment, act)
        _reasons(act, reason, content_of(assessment))
        if act is Decision.APPROVE:
            _require_ready(done, change)
            _require_no_turning_in_renewal(change, content_of(assessment))
        if act is Decision.REFUSE and change.asked_until is None:
            _require_untouched(done, change)
        parts = present_parts(done.session, change)
        done.sign(("assessment", assessment.id), _MEANINGS[act], parts, reason=reason)
        change.state = step.to
        if act is Decision.APPROVE:
            _follow_up(done, change, assessment)
        elif act is Decision.REFUSE and change.asked_until is not None:
            change.state, change.asked_until = ChangeState.IN_FORCE, None
        return change.state


def _four_eyes(act: Deed, assessment: Assessment, decision: Decision) -> None:
    if decision in {Decision.CHECK, Decision.APPROVE}:
        earlier = hands_on(act.session, assessment)
        act_words = Sentence("{act} it", act=decision)
        require_other_person(act_words, act.person.name, earlier, THREE_PEOPLE)


def _reasons(act: Decision, reason: str, content: AssessmentContent) -> None:
    if act in {Decision.SEND_BACK, Decision.REFUSE} and not reason:
        raise BadInput(
            Sentence("to {act} a change, give the reason", act=act), remedy="Say it with --reason"
        )
    if act is Decision.APPROVE and content.unresolved and not reason:
        raise NotReady(
            "some supports cannot be put right by a re-set; approving the rest wants written "
            "conditions",
            [
                Sentence("{tag}: {verdict}", tag=j.tag, verdict=j.verdict)
                for j in content.unresolved
            ],
            remedy="Say with --reason what is to be done about them",
        )


def _require_ready(act: Deed, change: Change) -> None:
    blockers = approval_blockers(act.session, change)
    if blockers:
        raise NotReady(
            Sentence("{change} is not ready for the approver's word", change=change.number),
            blockers,
            remedy="Write what is missing and let each role give its word: "
            "supports change describe, supports change agree",
        )


def _require_no_turning_in_renewal(change: Change, content: AssessmentContent) -> None:
    turned = [j.tag for j in content.judgements if j.verdict is Verdict.RE_SET]
    if change.asked_until is not None and turned:
        raise NotReady(
            "the fresh assessment asks for units to be turned; that is no renewal", turned,
            remedy="Refuse the renewal and note a change of its own",
        )  # fmt: skip


def _require_untouched(act: Deed, change: Change) -> None:
    touched = _touched(act, change)
    if touched:
        raise NotReady(
            Sentence(
                "{change} cannot simply be refused: units were turned under it",
                change=change.number,
            ),
            touched,
            remedy="Call it off: supports change call-off",
        )


def _touched(act: Deed, change: Change) -> list[str]:
    return [
        Sentence("{unit}: {state}", unit=f"{line.tag}/{line.position}", state=line.state)
        for order in orders_of_change(act.session, change.id)
        for line in order.lines
        if not LineState(line.state).is_untouched
    ]


def _follow_up(act: Deed, change: Change, assessment: Assessment) -> None:
    """Do what follows from an approval: the term of a temporary change and its removal order."""
    orders = orders_of_change(act.session, change.id)
    if change.asked_until is not None:
        change.state = ChangeState.IN_FORCE
    elif _touched(act, change):
        change.state = ChangeState.BEING_DONE
    if change.duration != "temporary":
        return
    change.ends_on, change.asked_until = change.asked_until or change.ends_on, None
    if change.ends_on is not None:
        act.session.add(
            ChangeTerm(
                change_id=change.id,
                assessment_id=assessment.id,
                ends_on=change.ends_on,
                approved_by=act.person.name,
                approved_at=act.now,
            )
        )
    if not any(o.kind == OrderKind.REMOVAL for o in orders):
        write_removal_order(act, change, assessment)


def say_as_assessor(
    register: Register, number: str, *, agrees: bool, acting: str, reason: str, now: datetime,
    seen: Seen = NOTHING_SEEN,
) -> tuple[str, ...]:  # fmt: skip
    """Give the word of a role that the sifting asked for; return the roles it was given in.

    Raises
    ------
    NotAllowed
        The person holds none of the roles asked.
    """
    action = "agree to a change" if agrees else "object to a change"
    with deed(register, acting, now, action=action, reason=reason, subject=number) as act:
        if not agrees and not reason:
            raise BadInput("an objection says why", remedy="Say it with --reason")
        change = change_of(act.session, number)
        if not ChangeState(change.state).is_being_prepared:
            raise NotReady(
                "a word comes before the approval",
                (Sentence("it stands at: {state}", state=change.state),),
            )
        needs = change_record(act.session, change).needs
        held = {str(role) for role in act.person.roles}
        given = tuple(role for role in needs if role in held)
        if not given:
            raise NotAllowed(
                "nobody asked for a word from this role",
                found=joined(sorted(held), ", ") or "no role",
                expected=either(needs) or "no word at all",
            )
        latest_assessment(act.session, change.id)
        require_as_seen(act.session, change, seen)
        parts = present_parts(act.session, change)
        act.sign(
            ("change", change.id), "agreed" if agrees else "objected", parts,
            reason=reason, role=", ".join(given),
        )  # fmt: skip
        return given
