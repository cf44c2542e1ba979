"""What the page of a campaign shows, gathered in one look at the register."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy.orm import Session

from app.web.visits import Visit
from reports.contents.walkdown_closeout import expected_words, found_words
from reports.languages import Texts
from supports.model import Campaign
from supports.operations.walkdowns.closing import sign_off_blockers
from supports.queries.walkdowns.findings import finding_views
from supports.queries.walkdowns.judged import judged_campaign
from supports.queries.walkdowns.lookups import newest_revision
from supports.queries.walkdowns.record import differing, steps_of
from supports.queries.walkdowns.rows import CopyOut, copies_out, forms_out
from supports.rules.walkdown.findings import FindingView
from supports.rules.walkdown.flow import CAMPAIGN_STEPS, CampaignState, open_steps
from supports.rules.walkdown.judgement import JudgedItem, counts
from supports.rules.walkdown.record import DifferingView, StepView


@dataclass(frozen=True, slots=True)
class ShownRow:
    """One row in words: where it stands, what was found and what was expected."""

    order: int
    tag: str
    support: str
    said: str
    found: str
    expected: str
    broken: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CampaignPage:
    """A campaign with its rows, copies, differences and findings.

    Parameters
    ----------
    may
        Steps that the visitor may take now.
    blockers
        All that stands in the way of signing off, by name.
    """

    campaign: Campaign
    revision: int | None
    may: tuple[str, ...]
    rows: tuple[ShownRow, ...]
    counted: dict[str, int]
    copies: tuple[CopyOut, ...]
    not_back: tuple[str, ...]
    differing: tuple[DifferingView, ...]
    findings: tuple[FindingView, ...]
    steps: tuple[StepView, ...]
    blockers: tuple[str, ...]

    @property
    def undecided(self) -> tuple[DifferingView, ...]:
        """Return the rows on which walkers differ and nobody has chosen."""
        return tuple(one for one in self.differing if not one.chosen)


def campaign_page(visit: Visit, session: Session, campaign: Campaign) -> CampaignPage:
    """Return what the page of a campaign shows to a visitor."""
    today, state = visit.today, CampaignState(campaign.state)
    judged = judged_campaign(session, campaign, today)
    revision = newest_revision(session, campaign)
    return CampaignPage(
        campaign=campaign,
        revision=revision,
        may=open_steps(CAMPAIGN_STEPS, state, visit.roles),
        rows=tuple(_row(item.order_no, one, visit.say) for item, one in judged),
        counted=counts(one for _, one in judged),
        copies=tuple(copies_out(session, campaign)),
        not_back=tuple(forms_out(session, campaign)),
        differing=tuple(differing(session, campaign)),
        findings=tuple(finding_views(session, campaign)),
        steps=tuple(steps_of(session, campaign)),
        blockers=_blockers(session, campaign, revision),
    )


def _row(order: int, one: JudgedItem, say: Texts) -> ShownRow:
    facts = one.facts
    seen = facts.found is not None and facts.found.is_seen
    return ShownRow(
        order=order,
        tag=facts.tag,
        support=facts.support.tag,
        said=one.said,
        found=found_words(facts, say) if facts.found and (seen or facts.found.why_not) else "",
        expected=expected_words(facts, one.expected, say) if seen else "",
        broken=tuple(answer.text for answer in one.failures) if seen else (),
    )


def _blockers(session: Session, campaign: Campaign, revision: int | None) -> tuple[str, ...]:
    if revision is None or campaign.state == CampaignState.SIGNED_OFF:
        return ()
    return tuple(sign_off_blockers(session, campaign))
