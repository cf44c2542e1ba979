"""What can be done with a change, from the sifting to the closing."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import TYPE_CHECKING
from urllib.parse import quote

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.web.acts.asking import Act, Ask, Said, Where, same_words
from app.words import word
from supports.errors import BadInput
from supports.freezing import fingerprint
from supports.model import Calculation, Line, RequiredLoad
from supports.operations import changes
from supports.operations.changes.deciding import Decision
from supports.operations.changes.sifting import DEPTHS
from supports.operations.closing import close_change
from supports.operations.seen import Seen
from supports.queries.change_record import change_record, superseded_by, unmet_changes
from supports.queries.change_views import change_view
from supports.queries.lookups import change_of
from supports.queries.proofs import items_wanting
from supports.rules.workflow.proofs import MAY_BE_PUT_OFF, Proof
from supports.rules.workflow.record import FIVE_ITEMS
from supports.vocabulary import Duration, Role

if TYPE_CHECKING:
    from app.web.visits import Visit

SEEN = "seen"
"""Field of a form that says which content it was given out with."""


def back_to(number: str) -> str:
    """Return the address of a change."""
    return f"/changes/{quote(number)}"


def seen_by(said: Said) -> Seen:
    """Return the parts of a change as they stood when the form was given out."""
    try:
        found = json.loads(said.text(SEEN) or "{}")
    except ValueError:
        found = None
    if not isinstance(found, dict):
        raise BadInput("the form does not say what it was given out with")
    return {str(name): str(mark) for name, mark in found.items()}


def _nothing(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    return ()


def _reason(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    return (Ask("reason", "Reason, in your own words", "long", needed=True),)


def _remark(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    hint = "The approver's conditions, if there are any."
    return (Ask("reason", "Remark or conditions", "long", hint=hint),)


# From the wish to the assessment


def _ask_sift(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    roles = same_words([*Role])
    return (
        Ask("depth", "How deep to look", "choice", options=same_words(DEPTHS)),
        Ask("stretch", "Which part of the line feels it", "long", needed=True),
        Ask("needs", "Whose word is asked for", "many", options=roles),
    )


def _sift(visit: Visit, where: Where, said: Said) -> str:
    needs = [word(Role, text) for text in said.many("needs")]
    sifting = changes.Sifting(said.text("depth"), said.text("stretch"), needs)
    changes.sift_change(visit.register, where[0], sifting, acting=visit.acting, now=visit.now)
    return back_to(where[0])


def _like_for_like(visit: Visit, where: Where, said: Said) -> str:
    changes.find_like_for_like(
        visit.register, where[0], acting=visit.acting, reason=said.text("reason"), now=visit.now
    )
    return back_to(where[0])


def _ask_describe(session: Session, where: Where, _: Visit) -> Sequence[Ask]:
    record = change_record(session, change_of(session, where[0]))
    asks = [Ask(name, words, "long", start=record.five[name]) for name, words in FIVE_ITEMS.items()]
    if record.duration == Duration.TEMPORARY:
        days = "" if record.watch_days is None else str(record.watch_days)
        ends = record.ends_on.isoformat() if record.ends_on else ""
        asks += [
            Ask("owner", "Who answers for it while it stands", start=record.owner),
            Ask("watch_days", "Days between two looks at it", "number", start=days),
            Ask("until", "End date", "date", start=ends),
        ]
    return asks


def _describe(visit: Visit, where: Where, said: Said) -> str:
    """Write only what this person changed, so that nobody's words are written over."""
    with visit.reading() as session:
        record = change_record(session, change_of(session, where[0]))
    seen = seen_by(said)
    five = {
        name: said.text(name)
        for name, words in FIVE_ITEMS.items()
        if name in said.form
        and fingerprint(said.text(name)) != seen.get(words)
        and said.text(name) != record.five[name].strip()
    }
    days, until, owner = said.whole("watch_days"), said.day("until"), said.text("owner")
    facts = changes.Facts(
        five,
        "" if owner == record.owner else owner,
        None if days == record.watch_days else days,
        None if until == record.ends_on else until,
    )
    changes.describe_change(
        visit.register, where[0], facts, acting=visit.acting, now=visit.now, seen=seen
    )
    return back_to(where[0])


def _ask_assess(session: Session, where: Where, _: Visit) -> Sequence[Ask]:
    hint = "In your own words; it is recorded and printed."
    return (
        Ask("calculation", "Calculation with the new loads", "choice",
            options=_bases(session, where)),
        Ask("aim", "What the new loads are to achieve", hint=hint, needed=True),
    )  # fmt: skip


def _bases(session: Session, where: Where) -> tuple[tuple[str, str], ...]:
    """Return the calculations with loads on the change's lines that nothing took the place of."""
    query = (
        select(Calculation)
        .join(RequiredLoad, RequiredLoad.calculation_id == Calculation.id)
        .join(Line, RequiredLoad.line_id == Line.id)
        .where(Line.number.in_(change_view(session, where[0]).lines))
        .distinct()
        .order_by(Calculation.id.desc())
    )
    return tuple(
        (f"{one.number}|{one.revision}", f"{one.number} rev. {one.revision}, {one.method}")
        for one in session.scalars(query)
        if not superseded_by(session, one)
    )


def _assess(visit: Visit, where: Where, said: Said) -> str:
    number, _, revision = said.text("calculation").partition("|")
    changes.assess_change(
        visit.register, where[0], (number, revision), aim=said.text("aim"), acting=visit.acting,
        now=visit.now,
    )  # fmt: skip
    return f"{back_to(where[0])}/supports"


# Words and signatures


def _decide(decision: Decision) -> Act:
    words = {
        Decision.CHECK: "Check",
        Decision.APPROVE: "Approve",
        Decision.SEND_BACK: "Send back",
        Decision.REFUSE: "Refuse",
    }[decision]

    def run(visit: Visit, where: Where, said: Said) -> str:
        changes.decide_change(
            visit.register, where[0], decision, acting=visit.acting, reason=said.text("reason"),
            now=visit.now, seen=seen_by(said),
        )  # fmt: skip
        return back_to(where[0])

    ends = decision in {Decision.SEND_BACK, Decision.REFUSE}
    return Act(decision, words, run, _reason if ends else _remark, SIGNING, signs=True, grave=ends)


SIGNING = (
    "Your signature holds for what the change says now. If a part is changed later, the signature "
    "is void and the part is named."
)


def _word_of_role(key: str, words: str, *, agrees: bool) -> Act:
    def run(visit: Visit, where: Where, said: Said) -> str:
        changes.say_as_assessor(
            visit.register, where[0], agrees=agrees, acting=visit.acting,
            reason=said.text("reason"), now=visit.now, seen=seen_by(said),
        )  # fmt: skip
        return back_to(where[0])

    return Act(key, words, run, _remark if agrees else _reason, SIGNING, signs=True)


def _ask_meet(session: Session, where: Where, _: Visit) -> Sequence[Ask]:
    others = [other.number for other in unmet_changes(session, change_of(session, where[0]))]
    return (
        Ask("other", "The other change on the stretch", "choice", options=same_words(others)),
        Ask("lead", "Which of the two leads", "choice", options=same_words([where[0], *others])),
        Ask("reason", "How the two go together", "long", needed=True),
    )


def _meet(visit: Visit, where: Where, said: Said) -> str:
    changes.meet_changes(
        visit.register, (where[0], said.text("other")), lead=said.text("lead"),
        note=said.text("reason"), acting=visit.acting, now=visit.now,
    )  # fmt: skip
    return back_to(where[0])


# After the work


def _ask_prove(session: Session, where: Where, visit: Visit) -> Sequence[Ask]:
    items = items_wanting(session, change_of(session, where[0]), visit.today)
    mine = [item.proof for item in items if item.roles & visit.roles]
    asks = [
        Ask("proof", "What is proved", "choice", options=same_words(mine)),
        Ask("note", "What was seen, or where it is", "long", needed=True),
    ]
    if MAY_BE_PUT_OFF & set(mine) and Role.STRESS_ENGINEER in visit.roles:
        hint = "Only a walk in operation can wait; leave it empty to prove it now."
        asks.append(Ask("put_off", "Put off until", "date", hint=hint))
    return asks


def _prove(visit: Visit, where: Where, said: Said) -> str:
    given = changes.ProofGiven(
        word(Proof, said.text("proof")), said.text("note"), said.day("put_off")
    )
    changes.give_proof(visit.register, where[0], given, acting=visit.acting, now=visit.now)
    return f"{back_to(where[0])}#proofs"


def _put_in_force(visit: Visit, where: Where, _: Said) -> str:
    changes.put_in_force(visit.register, where[0], acting=visit.acting, now=visit.now)
    return back_to(where[0])


def _ask_renewal(_: Session, __: Where, ___: Visit) -> Sequence[Ask]:
    return (
        Ask("until", "New end date", "date", needed=True),
        Ask("reason", "Reason, in your own words", "long", needed=True),
    )


def _renew(visit: Visit, where: Where, said: Said) -> str:
    until = said.day("until")
    if until is None:
        raise BadInput("a renewal has a new end date", found="a blank")
    changes.ask_renewal(
        visit.register, where[0], until=until, acting=visit.acting, reason=said.text("reason"),
        now=visit.now,
    )  # fmt: skip
    return back_to(where[0])


def _call_off(visit: Visit, where: Where, said: Said) -> str:
    changes.call_off(
        visit.register, where[0], acting=visit.acting, reason=said.text("reason"), now=visit.now
    )
    return back_to(where[0])


def _close(visit: Visit, where: Where, _: Said) -> str:
    close_change(visit.register, where[0], acting=visit.acting, now=visit.now)
    return back_to(where[0])


CHANGE_ACTS = (
    Act("sift", "Sift", _sift, _ask_sift),
    Act("find like for like", "Find like for like", _like_for_like, _reason,
        "Same load, rate, travel and length: nothing changes, the work is maintenance.",
        grave=True),
    Act("describe", "Write the record", _describe, _ask_describe,
        "Five items must be addressed before any approval; whatever is signed is signed anew."),
    Act("assess", "Assess every support", _assess, _ask_assess,
        "The result is frozen with all that it was judged on; units not begun go on hold."),
    _word_of_role("agree", "Agree", agrees=True),
    _word_of_role("object", "Object", agrees=False),
    _decide(Decision.CHECK),
    _decide(Decision.APPROVE),
    _decide(Decision.SEND_BACK),
    _decide(Decision.REFUSE),
    Act("put together", "Put together with another change", _meet, _ask_meet),
    Act("prove", "Prove", _prove, _ask_prove, signs=True),
    Act("put in force", "Put in force till its date", _put_in_force, _nothing),
    Act("ask for the renewal of", "Ask for the only renewal", _renew, _ask_renewal,
        "A fresh assessment and approval follow; the old date stands until then."),
    Act("call off", "Call off", _call_off, _reason,
        "Units already turned are to be put right before any heat-up; copies are recalled.",
        grave=True),
    Act("close", "Close", _close, _nothing,
        "Nothing of it is written to any more. It is refused while anything stands in the way."),
)  # fmt: skip
