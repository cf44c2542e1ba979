"""The paper of a re-set plan on disk: plan, choice and units' faces handed to the reports."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from reports.contents.common import PageSize, PaperHead, Signature
from reports.contents.faces_of_supports import faces_of
from reports.contents.plan_paper import Choice, PlanPaper
from reports.contents.plans_of_order import slack_of
from reports.pdf.plan_paper import plan_paper_pdf
from reports.xlsx.plan_paper import plan_paper_xlsx
from supports.freezing import short
from supports.rules.assessment import AssessmentContent
from supports.rules.reset_planning.content import PlanContent

ROLES = (
    "stress engineer, prepared",
    "stress engineer, checked by another",
    "responsible engineer, accepted",
)
"""Who signs a plan: whoever made it, another who did not, and who answers for it."""


def plan_paper(
    head: PaperHead,
    content: PlanContent,
    assessed: AssessmentContent,
    choice: Choice | None,
) -> PlanPaper:
    """Return the paper of a plan made on an assessment."""
    calculation = assessed.calculation
    return PlanPaper(
        head=head,
        content=content,
        faces=faces_of(assessed.supports),
        slack=slack_of(assessed.settings),
        choice=choice,
        basis=(("Calculation", f"{calculation.number}, revision {calculation.revision}"),),
        signatures=tuple(Signature(role) for role in ROLES),
    )


def plan_head(
    content: PlanContent, number: str, fingerprint: str, plant: str, made: datetime
) -> PaperHead:
    """Return the head of a plan's paper.

    Parameters
    ----------
    fingerprint
        Of the plan as it is kept.
    """
    return PaperHead(
        title="Re-set plan",
        number=number,
        about=f"line {content.line}, change {content.change}: {content.kind}",
        revision="1",
        made=made,
        fingerprint=short(fingerprint),
        valid_until="a newer plan, assessment or reading",
        plant=plant,
    )


def write_plan_paper(paper: PlanPaper, into: Path, *, letter: bool = False) -> list[Path]:
    """Write the paper of a plan, as PDF and as a workbook; return the files."""
    page = PageSize.LETTER if letter else PageSize.A4
    stem = f"{paper.head.number}-re-set-plan"
    into.mkdir(parents=True, exist_ok=True)
    files = {
        f"{stem}.pdf": plan_paper_pdf(paper, page),
        f"{stem}.xlsx": plan_paper_xlsx(paper, page),
    }
    for name, made in files.items():
        (into / name).write_bytes(made)
    return [into / name for name in files]
