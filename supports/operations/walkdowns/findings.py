"""Findings raised from readings and by walkers, and seen to their end."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import func, select

from supports.database import Register
from supports.errors import BadInput, NotAllowed
from supports.model import Campaign, CampaignItem, FieldFinding, FindingStep
from supports.operations.acting import Deed, deed
from supports.operations.walkdowns.campaigns import move
from supports.queries.lookups import person_of
from supports.queries.walkdowns.judged import judged_campaign
from supports.queries.walkdowns.lookups import campaign_of, finding_of, item_of
from supports.rules.answers import RuleAnswer
from supports.rules.walkdown.flow import FINDING_STEPS, FindingState, require
from supports.rules.walkdown.judgement import JudgedItem, how_soon
from supports.rules.walkdown.words import HowSoon
from supports.rules.workflow import require_other_person
from supports.sentences import Sentence


@dataclass(frozen=True, slots=True)
class SpokenFinding:
    """A finding that somebody tells, besides those that follow from readings."""

    tag: str
    position: str
    what: str
    how_soon: HowSoon
    told: str = ""


def raise_findings(register: Register, number: str, *, acting: str, now: datetime) -> list[str]:
    """Judge a reviewed campaign; return the numbers of the findings that are new.

    What was raised before is not raised again; what was found is never taken back.
    """
    with deed(register, acting, now, action="judge a walkdown", subject=number) as act:
        campaign = campaign_of(act.session, number)
        move(act, campaign, "judge")
        known = _known(act, campaign)
        return [
            _raise(act, campaign, item, judged, answer)
            for item, judged in judged_campaign(act.session, campaign, act.today)
            for answer in judged.to_be_answered
            if (item.id, answer.rule) not in known
        ]


def _known(act: Deed, campaign: Campaign) -> set[tuple[int | None, str]]:
    rows = act.session.execute(
        select(FieldFinding.item_id, FieldFinding.code).where(
            FieldFinding.campaign_id == campaign.id
        )
    )
    return {(item, code) for item, code in rows}


def _raise(
    act: Deed, campaign: Campaign, item: CampaignItem, judged: JudgedItem, answer: RuleAnswer
) -> str:
    found = judged.facts.found
    spoken = found.how_soon if found and answer.rule in {"condition-graded", "fault-seen"} else ""
    finding = FieldFinding(
        number=_next_number(act, campaign),
        campaign_id=campaign.id,
        item_id=item.id,
        point_id=item.point_id,
        code=answer.rule,
        severity=answer.severity,
        what=answer.text,
        how_soon=spoken or how_soon(answer.severity),
        told=(found.told or None) if found else None,
        found_on=(found.read_on if found else None) or act.today,
        found_by=", ".join(found.walkers) if found and found.walkers else act.person.name,
        state=FindingState.OPEN,
    )
    act.session.add(finding)
    act.session.flush()
    return finding.number


def _next_number(act: Deed, campaign: Campaign) -> str:
    count = act.session.scalar(
        select(func.count(FieldFinding.id)).where(FieldFinding.campaign_id == campaign.id)
    )
    return f"{campaign.number}-F{(count or 0) + 1:02d}"


def tell_finding(
    register: Register, number: str, spoken: SpokenFinding, *, acting: str, now: datetime
) -> str:
    """Take down a finding in somebody's own words; return its number."""
    with deed(register, acting, now, action="tell a finding", subject=number) as act:
        campaign = campaign_of(act.session, number)
        item = item_of(act.session, campaign, spoken.tag, spoken.position)
        finding = FieldFinding(
            number=_next_number(act, campaign),
            campaign_id=campaign.id,
            item_id=item.id,
            point_id=item.point_id,
            code="told-by-walker",
            severity="STOP" if spoken.how_soon is HowSoon.NOW else "ACT",
            what=spoken.what,
            how_soon=spoken.how_soon,
            told=spoken.told or None,
            found_on=act.today,
            found_by=act.person.name,
            state=FindingState.OPEN,
        )
        act.session.add(finding)
        act.session.flush()
        return finding.number


def name_owner(
    register: Register, number: str, owner: str, due_on: date, *, acting: str, now: datetime
) -> None:
    """Name who sees a finding to its end, and by when."""
    with deed(register, acting, now, action="name an owner", subject=number) as act:
        finding = finding_of(act.session, number)
        _step(act, finding, "name owner", f"{owner}, by {due_on}")
        finding.owner = person_of(act.session, owner).name
        finding.due_on = due_on
        finding.accepted_until = None


def answer(
    register: Register, number: str, words: str, reference: str, *, acting: str, now: datetime
) -> None:
    """Propose what is to be done, with the work order or change that does it.

    Raises
    ------
    BadInput
        Nothing is said.
    """
    if not words.strip():
        raise BadInput("an answer says what is to be done")
    with deed(register, acting, now, action="answer a finding", subject=number) as act:
        finding = finding_of(act.session, number)
        _step(act, finding, "answer", words)
        finding.answer, finding.reference = words, reference or None


def done(
    register: Register, number: str, words: str, done_on: date, *, acting: str, now: datetime
) -> None:
    """Record that the work was done, by the one who did it."""
    with deed(register, acting, now, action="finding mended", subject=number) as act:
        finding = finding_of(act.session, number)
        if done_on > act.today:
            raise BadInput("work cannot be done on a day to come", found=done_on.isoformat())
        _step(act, finding, "done", words)
        finding.done_by, finding.done_on = act.person.name, done_on


def verify(
    register: Register, number: str, words: str, *, acting: str, now: datetime, mended: bool = True
) -> None:
    """Record what an inspector saw in the field; never on paper, never by who did the work.

    Raises
    ------
    NotAllowed
        The inspector did the work, or owns the finding.
    BadInput
        Nothing is said of what was seen.
    """
    if not words.strip():
        raise BadInput("to verify, say what was seen in the field")
    with deed(register, acting, now, action="verify a finding", subject=number) as act:
        finding = finding_of(act.session, number)
        doers = {finding.done_by or "", finding.owner or ""}
        require_other_person(
            "verify it", act.person.name, doers, "they did the work or own the finding"
        )
        _step(act, finding, "verify" if mended else "not mended", words)
        finding.verified_by = act.person.name if mended else None


def close_finding(register: Register, number: str, *, acting: str, now: datetime) -> None:
    """Close a finding that was verified in the field."""
    with deed(register, acting, now, action="close a finding", subject=number) as act:
        _step(act, finding_of(act.session, number), "close", "")


def accept(
    register: Register, number: str, until: date, reason: str, *, acting: str, now: datetime
) -> None:
    """Accept a finding as it is until a date, by an engineer's written word.

    Raises
    ------
    BadInput
        The date is past, or no reason is given.
    """
    with deed(register, acting, now, action="accept a finding", reason=reason) as act:
        finding = finding_of(act.session, number)
        if until <= act.today or not reason.strip():
            raise BadInput(
                "accepted as it is until a day to come, for a reason",
                found=f"{until}, '{reason}'",
            )
        if finding.how_soon == HowSoon.NOW:
            raise NotAllowed(
                Sentence(
                    "{number} is to be answered now; it cannot be accepted as it is",
                    number=number,
                ),
                remedy="Make it safe first, then answer it",
            )
        _step(act, finding, "accept", f"until {until}: {reason}")
        finding.owner = finding.owner or act.person.name
        finding.accepted_until = until


def _step(act: Deed, finding: FieldFinding, word: str, words: str) -> None:
    state = FindingState(finding.state)
    step = require(
        FINDING_STEPS,
        word,
        state,
        act.person.roles,
        Sentence("finding {number}", number=finding.number),
    )
    finding.state = step.to
    act.session.add(
        FindingStep(
            finding_id=finding.id,
            act=word,
            came_from=state,
            went_to=step.to,
            done_by=act.person.name,
            done_at=act.now,
            words=words or None,
        )
    )
