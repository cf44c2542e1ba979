"""Every paper there is: what it is for, who holds it in hand, what it is about, its forms."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from supports.errors import NotFound
from supports.sentences import Sentence
from supports.tags import suggestions


class Form(StrEnum):
    """How a paper can be had."""

    PDF = "pdf"
    """To print."""
    HTML = "html"
    """To read on a screen: one file, no network."""
    XLSX = "xlsx"
    """To fill in or to sort."""
    ICS = "ics"
    """To bring into a calendar."""
    SVG = "svg"
    """Its drawings, each a file."""


class About(StrEnum):
    """What a paper is made about."""

    PLANT = "the plant"
    SUPPORTS = "supports, by tag; or --line"
    LINES = "lines, by number"
    CHANGES = "changes, by number"
    PLANS = "re-set plans, by number"
    ORDERS = "work orders, by number"
    CAMPAIGNS = "walkdown campaigns, by number"
    TURNAROUNDS = "turnarounds, by number"


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper of the catalogue.

    Parameters
    ----------
    name
        As it is typed.
    who
        Whose hands it is made for.
    languages
        In which every word of it is there. The verification manual is English alone: it quotes
        titles, places and values of publications as these print them, so that they can be found.
    """

    name: str
    title: str
    purpose: str
    who: str
    about: About
    forms: tuple[Form, ...]
    languages: tuple[str, ...] = ("en", "de")


READ = (Form.PDF, Form.HTML)
FILLED = (Form.PDF, Form.XLSX)

PAPERS = (
    Paper(
        "change-assessment", "Change assessment",
        "everything that a change does, number by number, to sign or send back",
        "stress engineer, checker, approver", About.CHANGES, READ,
    ),
    Paper(
        "load-change-summary", "Load-change summary",
        "the line before and after a change on few pages, with the support table to sort",
        "stress engineer, approver", About.CHANGES, FILLED,
    ),
    Paper(
        "re-set-plan", "Re-set plan",
        "plans side by side, the chosen one in full: order, rounds, readings, use of limits",
        "stress engineer, responsible engineer", About.PLANS, FILLED,
    ),
    Paper(
        "re-setting-pack", "Re-setting pack",
        "what to turn, how far, which way, and when to stop; comes back filled in",
        "technician, second reader, foreman", About.ORDERS, FILLED,
    ),
    Paper(
        "hanging-tags", "Tags to hang",
        "the present setting of each unit beside its scale, to cut out and wire on",
        "technician, inspector", About.SUPPORTS, (Form.PDF,),
    ),
    Paper(
        "support-data-sheet", "Support data sheet",
        "all that is known of a support, with its history and where each value was read",
        "inspector, stress engineer", About.SUPPORTS, READ,
    ),
    Paper(
        "line-summary", "Line summary",
        "a line in three axes and drawn straight, with a table of its supports",
        "stress engineer, planner, inspector", About.LINES, READ,
    ),
    Paper(
        "line-screening", "Line screening",
        "loads, movements and nozzle use of a line as it stands, by the screening calculation",
        "stress engineer", About.LINES, (Form.PDF, Form.SVG),
    ),
    Paper(
        "walkdown-package", "Walkdown package",
        "route, reading tables and cards to carry; comes back filled in",
        "inspector", About.CAMPAIGNS, FILLED,
    ),
    Paper(
        "walkdown-close-out", "Walkdown close-out",
        "what was seen, how it stands, and findings to their end",
        "inspector, responsible engineer", About.CAMPAIGNS, (Form.PDF,),
    ),
    Paper(
        "turnaround-scope", "Turnaround scope list",
        "every unit once with its reasons, hours by trade, scaffolds, materials, and what when",
        "planner, foreman, operations", About.TURNAROUNDS,
        (Form.PDF, Form.HTML, Form.XLSX, Form.ICS),
    ),
    Paper(
        "plant-status", "Plant status",
        "may the plant start up as far as its supports are concerned, and what is open",
        "responsible engineer, management", About.PLANT, READ,
    ),
    Paper(
        "rules-report", "Rules report",
        "what every rule finds: counts, the worst, all that cannot be judged",
        "responsible engineer, inspector", About.PLANT, READ,
    ),
    Paper(
        "verification-manual", "Verification manual",
        "every published value that the arithmetic is held against, with ours beside it",
        "purchaser, quality file, stress engineer", About.PLANT, READ, ("en",),
    ),
    Paper(
        "audit-record", "Audit record of a change",
        "who did what and when, each value before and after, chained",
        "auditor, change coordinator", About.CHANGES, READ,
    ),
)  # fmt: skip


def paper_of(name: str) -> Paper:
    """Return a paper by its name.

    Raises
    ------
    NotFound
        There is no such paper.
    """
    found = next((one for one in PAPERS if one.name == name), None)
    if found is None:
        near = suggestions(name, [one.name for one in PAPERS])
        raise NotFound(
            Sentence("there is no paper '{name}'", name=name),
            remedy=Sentence("Did you mean {near}?", near=near[0])
            if near
            else "See them with: supports paper list",
        )
    return found
