"""The end of a campaign: owners named, the engineer's verdict, signed off with nothing open."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import BadInput, NotReady
from supports.freezing import fingerprint, to_plain
from supports.model import Campaign, CampaignStep, FieldFinding, WalkCloseout
from supports.operations.acting import Deed, deed
from supports.operations.provisional_plates import run_out
from supports.operations.walkdowns.campaigns import move
from supports.operations.walkdowns.returns import contradictions
from supports.queries.walkdowns.lookups import (
    campaign_of,
    content_of_form,
    findings_of,
    form_of,
)
from supports.queries.walkdowns.record import campaign_record
from supports.queries.walkdowns.rows import people_of_returns, walked_rows
from supports.rules.workflow import require_other_person
from supports.sentences import Sentence


def owners_named(register: Register, number: str, *, acting: str, now: datetime) -> None:
    """Declare that every finding has an owner and a date.

    Raises
    ------
    NotReady
        The readings were not judged, or findings have no owner; all are named.
    """
    with deed(register, acting, now, action="owners named", subject=number) as act:
        campaign = campaign_of(act.session, number)
        blockers = _judging_blockers(act.session, campaign) + ownerless(act.session, campaign)
        if blockers:
            raise NotReady(
                Sentence("findings of {number} have no owners yet", number=number), blockers
            )
        move(act, campaign, "owners named")


def _judging_blockers(session: Session, campaign: Campaign) -> list[str]:
    query = select(CampaignStep.id).where(
        CampaignStep.campaign_id == campaign.id, CampaignStep.act == "judge"
    )
    judged = session.scalar(query.limit(1)) is not None
    return [] if judged else ["the readings are not judged"]


NO_OWNER = "{number} ({code}) has no owner"
NO_DATE = "{number} ({code}) has no date to be answered by"


def ownerless(session: Session, campaign: Campaign) -> list[str]:
    """Return findings without owner or date, by number."""
    return [
        Sentence(NO_OWNER, number=one.number, code=one.code)
        if not one.owner
        else Sentence(NO_DATE, number=one.number, code=one.code)
        for one in findings_of(session, [campaign.id])
        if not one.owner or not (one.due_on or one.accepted_until)
    ]


def give_verdict(
    register: Register, number: str, words: str, *, acting: str, now: datetime
) -> None:
    """Give the engineer's verdict on the readings; the words stand in the close-out report.

    Raises
    ------
    BadInput
        Nothing is said.
    NotAllowed
        The engineer walked or keyed in.
    """
    if not words.strip():
        raise BadInput("a verdict is given in words")
    with deed(register, acting, now, action="engineer's verdict", reason=words) as act:
        campaign = campaign_of(act.session, number)
        require_other_person(
            "judge the readings", act.person.name, people_of_returns(act.session, campaign),
            "they walked or keyed in",
        )  # fmt: skip
        move(act, campaign, "give verdict", words)
        covers = {"findings": _findings_mark(act.session, campaign)}
        act.sign(("campaign", campaign.id), "verdict", covers, reason=words)


def sign_off(register: Register, number: str, *, acting: str, now: datetime) -> None:
    """Sign a campaign off; its record is frozen, and provisional plates of units seen run out.

    Raises
    ------
    NotReady
        Rows are blank without a reason, readings contradict, or findings have no owner.
    """
    with deed(register, acting, now, action="sign a walkdown off", subject=number) as act:
        campaign = campaign_of(act.session, number)
        blockers = sign_off_blockers(act.session, campaign)
        if blockers:
            raise NotReady(Sentence("{number} cannot be signed off", number=number), blockers)
        move(act, campaign, "sign off")
        act.sign(("campaign", campaign.id), "signed off", {"record": _freeze(act, campaign)})
        run_out(act.session, _units_seen(act.session, campaign), f"walked in {number}")


def _units_seen(session: Session, campaign: Campaign) -> set[int]:
    return {
        row.item.unit_id
        for row in walked_rows(session, campaign)
        if row.item.unit_id is not None and row.found.is_seen
    }


def _freeze(act: Deed, campaign: Campaign) -> str:
    """Keep the record as it stands; return its fingerprint."""
    act.session.flush()
    content = to_plain(campaign_record(act.session, campaign, act.today))
    mark = fingerprint(content)
    act.session.add(
        WalkCloseout(
            campaign_id=campaign.id,
            frozen_at=act.now,
            frozen_by=act.person.name,
            content=content,
            fingerprint=mark,
        )
    )
    return mark


BLANK = "{tag} is blank: nothing was read, and nobody said why it was not seen"


def sign_off_blockers(session: Session, campaign: Campaign) -> list[str]:
    """Return everything that stands in the way of signing off, by name."""
    blank = unexplained(session, campaign)
    return [
        *(Sentence(BLANK, tag=tag) for tag in blank),
        *contradictions(session, campaign),
        *ownerless(session, campaign),
    ]


def unexplained(session: Session, campaign: Campaign) -> list[str]:
    """Return the tags of rows that were neither seen nor given a reason."""
    content = content_of_form(form_of(session, campaign))
    told = []
    for row in walked_rows(session, campaign):
        if not row.found.is_explained:
            issued = content.row(row.item.id)
            row_said = Sentence("row {row}", row=str(row.item.order_no))
            told.append(issued.tag if issued else row_said)
    return told


def _findings_mark(session: Session, campaign: Campaign) -> str:
    held: list[FieldFinding] = findings_of(session, [campaign.id])
    return fingerprint([[one.number, one.what, one.state, one.owner or ""] for one in held])
