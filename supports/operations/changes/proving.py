"""Prove a change after the work: the pre-start review, the walks, the drawings."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from supports.database import Register
from supports.errors import BadInput, NotAllowed, NotReady
from supports.model import Change, ChangeProof
from supports.operations.acting import Deed, deed
from supports.queries.change_record import present_parts
from supports.queries.lookups import change_of
from supports.queries.proofs import proofs_of
from supports.queries.props import props_of_change
from supports.queries.stops import pins_of_change
from supports.rules.workflow import ChangeState, require_other_person, require_roles
from supports.rules.workflow.proofs import MAY_BE_PUT_OFF, Proof, item_of
from supports.sentences import Sentence
from supports.vocabulary import Role


@dataclass(frozen=True, slots=True)
class ProofGiven:
    """A proof and the words that go with it; one put off says until when."""

    proof: Proof
    note: str
    put_off_until: date | None = None


def give_proof(
    register: Register, number: str, given: ProofGiven, *, acting: str, now: datetime
) -> None:
    """Give one proof of a change that is done.

    Raises
    ------
    NotAllowed
        The person lacks the role, or put a proof off that cannot wait.
    NotReady
        The change is not done, or travel stops are in that were to be counted as out.
    """
    with deed(
        register, acting, now, action=f"prove: {given.proof}", reason=given.note, subject=number
    ) as act:
        if not given.note:
            raise BadInput("a proof says what was seen or where it is", found="a blank")
        change = change_of(act.session, number)
        _require_place(act, change, given)
        act.session.add(
            ChangeProof(
                change_id=change.id,
                item=given.proof,
                given_by=act.person.name,
                given_at=now,
                put_off_until=given.put_off_until,
                note=given.note,
            )
        )
        parts = present_parts(act.session, change)
        act.sign(("change", change.id), f"proved: {given.proof}", parts, reason=given.note)


PLACES = {ChangeState.TO_BE_PROVED, ChangeState.IN_FORCE, ChangeState.TO_BE_PUT_RIGHT}


def _require_place(act: Deed, change: Change, given: ProofGiven) -> None:
    require_roles(
        Sentence("prove '{proof}'", proof=given.proof), item_of(given.proof).roles, act.person.roles
    )
    if ChangeState(change.state) not in PLACES:
        raise NotReady(
            "only a change that is done can be proved",
            (Sentence("it stands at: {state}", state=change.state),),
        )
    if given.put_off_until is not None:
        _require_may_wait(act, given)
    if given.proof in {Proof.STOPS_BY_OPERATIONS, Proof.STOPS_BY_MAINTENANCE}:
        _require_none_in(act, change, given.proof)


def _require_may_wait(act: Deed, given: ProofGiven) -> None:
    if given.proof not in MAY_BE_PUT_OFF:
        raise NotAllowed(Sentence("'{proof}' cannot be put off", proof=given.proof))
    require_roles("put a walk off", {Role.STRESS_ENGINEER}, act.person.roles)


def _require_none_in(act: Deed, change: Change, proof: Proof) -> None:
    pins = [pin.in_short for pin in pins_of_change(act.session, change)]
    if pins:
        raise NotReady("travel stops are in", pins, remedy="Find them: supports stops count")
    props = [prop.in_words for prop in props_of_change(act.session, change)]
    if props:
        raise NotReady("props are in", props, remedy="Take them out: supports props out")
    other = {
        Proof.STOPS_BY_OPERATIONS: Proof.STOPS_BY_MAINTENANCE,
        Proof.STOPS_BY_MAINTENANCE: Proof.STOPS_BY_OPERATIONS,
    }[proof]
    counted = {p.given_by for p in proofs_of(act.session, change.id) if p.item == other}
    why = "operations and maintenance count each for themselves"
    require_other_person("count the travel stops twice", act.person.name, counted, why)
