"""Which function makes which paper of the catalogue."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module
from pathlib import Path

from sqlalchemy.orm import Session

from app.making.wanted import Wanted
from reports.catalogue import Form, Paper
from supports.errors import BadInput
from supports.sentences import Sentence, joined

MAKERS: Mapping[str, str] = {
    "change-assessment": "changes:make_assessments",
    "load-change-summary": "known:make_summaries",
    "re-set-plan": "known:make_plans",
    "re-setting-pack": "known:make_packs",
    "hanging-tags": "supports_:make_hanging_tags",
    "support-data-sheet": "supports_:make_support_sheets",
    "line-screening": "known:make_screenings",
    "walkdown-package": "known:make_packages",
    "walkdown-close-out": "known:make_closeouts",
    "line-summary": "lines_:make_line_summaries",
    "turnaround-scope": "turnaround:make_turnarounds",
    "plant-status": "plant:make_plant_status",
    "rules-report": "plant:make_rules_report",
    "audit-record": "changes:make_audit_records",
    "verification-manual": "plant:make_verification_manual",
}
"""By paper, module of this package and function; each is imported only when it is asked for."""


def make(session: Session, paper: Paper, wanted: Wanted) -> list[Path]:
    """Make a paper; return the files.

    Raises
    ------
    BadInput
        The paper is not to be had in the form or the language asked for.
    """
    _require(paper, wanted)
    module, function = MAKERS[paper.name].split(":")
    maker: Callable[[Session, Wanted], list[Path]] = getattr(
        import_module(f"app.making.{module}"), function
    )
    return maker(session, wanted)


def _require(paper: Paper, wanted: Wanted) -> None:
    if wanted.language not in paper.languages:
        raise BadInput(
            Sentence("the paper '{name}' is not complete in this language", name=paper.name),
            found=wanted.language,
            expected=joined(paper.languages, ", "),
        )
    for form in wanted.forms:
        if form not in paper.forms:
            raise BadInput(
                Sentence("the paper '{name}' is not to be had in this form", name=paper.name),
                found=form,
                expected=joined(paper.forms, ", "),
            )


def forms_of(paper: Paper, said: list[str]) -> tuple[Form, ...]:
    """Return the forms asked for; all there are if none was named."""
    known = {str(form): form for form in Form}
    unknown = [one for one in said if one not in known]
    if unknown:
        raise BadInput("no such form", found=unknown[0], expected=joined(known, ", "))
    return tuple(dict.fromkeys(known[one] for one in said)) or paper.forms
