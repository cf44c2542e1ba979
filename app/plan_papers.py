"""The paper of a re-set plan on disk, and the plans that the pack of an order follows."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from sqlalchemy.orm import Session

from reports.contents.common import PageSize, PaperHead, Signature
from reports.contents.faces_of_supports import faces_of
from reports.contents.plan_paper import Choice, PlanPaper
from reports.contents.planned_rounds import stamp_of
from reports.contents.plans_of_order import FollowedPlan
from reports.languages import ENGLISH, texts
from reports.pdf.plan_paper import plan_paper_pdf
from reports.xlsx.plan_paper import plan_paper_xlsx
from supports.audit import head as chain_head
from supports.errors import NotReady
from supports.freezing import short
from supports.model import Assessment, Plan, PlanChoice
from supports.queries.change_views import content_of
from supports.queries.lookups import plan_of
from supports.queries.plans import (
    PlanOnRecord,
    chosen_plan,
    plan_on_record,
    plans_of_order,
    void_reasons,
)
from supports.queries.plant_days import clock_at
from supports.queries.props import props_in
from supports.queries.site import plant_name
from supports.rules.reset_planning.holds_named import prop_name
from supports.rules.reset_planning.round_windows import slack_of
from supports.sentences import Sentence
from supports.snapshots import WorkOrderView

ROLES = (
    "stress engineer, prepared",
    "stress engineer, checked by another",
    "responsible engineer, accepted",
)
"""Who signs a plan: whoever made it, another who did not, and who answers for it."""


def write_plan(
    session: Session, number: str, into: Path, made: datetime, *, letter: bool = False,
    language: str = ENGLISH,
) -> list[Path]:  # fmt: skip
    """Write the paper of a re-set plan, as PDF and as a workbook; return the files."""
    plan = plan_of(session, number)
    record = plan_on_record(session, plan)
    assessed = content_of(session.get_one(Assessment, plan.assessment_id))
    made_by, *others = ROLES
    paper = PlanPaper(
        head=_head(session, record, made),
        content=record.content,
        faces=faces_of(assessed.supports, texts(language)),
        slack=slack_of(assessed.settings),
        choice=_choice(record),
        basis=_basis(record),
        signatures=(
            Signature(made_by, f"{record.made_by}, in the register on {record.made_at:%Y-%m-%d}"),
            *(Signature(role) for role in others),
        ),
        void=record.void,
        props=props_hung(session, record.content.line),
    )
    page = PageSize.LETTER if letter else PageSize.A4
    stem = f"{number}-re-set-plan"
    files = {
        f"{stem}{'' if language == ENGLISH else f'-{language}'}.pdf": plan_paper_pdf(
            paper, page, language
        ),
        f"{stem}.xlsx": plan_paper_xlsx(paper, page),
    }
    into.mkdir(parents=True, exist_ok=True)
    for name, content in files.items():
        (into / name).write_bytes(content)
    return [into / name for name in files]


def _head(session: Session, record: PlanOnRecord, made: datetime) -> PaperHead:
    content = record.content
    return PaperHead(
        title="Re-set plan",
        number=record.number,
        about=f"line {content.line}, change {content.change}: {content.kind}",
        revision="1",
        made=clock_at(session, made),
        fingerprint=short(record.fingerprint),
        valid_until="a newer plan, assessment or reading",
        plant=plant_name(session),
        prepared_by=record.made_by,
        chain_head=short(chain_head(session)),
    )


def _choice(record: PlanOnRecord) -> Choice | None:
    chosen = record.chosen
    if chosen is None:
        return None
    return Choice(chosen.alternative, chosen.by, f"{chosen.at:%Y-%m-%d}", chosen.reason)


def _basis(record: PlanOnRecord) -> tuple[tuple[str, str], ...]:
    facts = (
        ("Assessment", f"revision {record.assessment_revision}"),
        ("Calculation", record.calculation),
        ("After plan", record.follows),
        ("Readings of", record.read_from),
        ("Followed by", ", ".join(record.orders)),
    )
    return tuple((name, value) for name, value in facts if value)


def plans_followed(session: Session, order: WorkOrderView) -> tuple[FollowedPlan, ...]:
    """Return the chosen plans that an order follows; none for one from the assessment."""
    return tuple(_followed(session, *pair) for pair in plans_of_order(session, order.id))


def _followed(session: Session, plan: Plan, choice: PlanChoice) -> FollowedPlan:
    chosen = chosen_plan(plan, choice)
    return FollowedPlan(
        number=chosen.number,
        content=chosen.content,
        alternative=chosen.alternative,
        chosen_by=f"{choice.chosen_by} on {choice.chosen_at:%Y-%m-%d}",
        void=tuple(void_reasons(session, plan)),
        props=props_hung(session, chosen.content.line),
    )


def props_hung(session: Session, line: str) -> dict[str, tuple[str, str]]:
    """Return the props that are in under a line, by the name a plan has for them."""
    return {
        prop_name(prop.along): (prop.number, f"{prop.put_in_by}, {prop.since:%Y-%m-%d}")
        for prop in props_in(session, line)
    }


def require_sound(number: str, plans: Sequence[FollowedPlan]) -> None:
    """Raise NotReady where nobody may work by a plan that a copy would be printed from."""
    stamps = ((plan.number, stamp_of(plan.alternative, plan.content, plan.void)) for plan in plans)
    blocked = [f"{name}: {stamp}" for name, stamp in stamps if stamp]
    if blocked:
        raise NotReady(
            Sentence("no copy of {number} is printed to work by", number=number),
            blocked,
            remedy="Plan again: supports plan again, or supports plan make",
        )
