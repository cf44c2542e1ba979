"""Papers that have a command of their own, made by name as well."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from sqlalchemy.orm import Session

from app.line_papers import write_screening
from app.lines import chosen_aim, made_ready
from app.making.wanted import Wanted
from app.papers import write_pack, write_summary
from app.plan_papers import write_plan
from app.walkdown_papers import write_closeout, write_package
from supports.errors import BadInput
from supports.rules.line import screening


def make_summaries(session: Session, wanted: Wanted) -> list[Path]:
    """Write load-change summaries of changes."""
    return _each(
        wanted,
        "a change",
        lambda n: write_summary(session, n, wanted.into, wanted.made, wanted.language),
    )


def make_packs(session: Session, wanted: Wanted) -> list[Path]:
    """Write re-setting packs of work orders."""
    return _each(
        wanted,
        "a work order",
        lambda n: write_pack(
            session, n, wanted.into, wanted.made, letter=wanted.letter, copy=_copy(wanted),
            language=wanted.language,
        ),
    )  # fmt: skip


def _copy(wanted: Wanted) -> int:
    """Return the number of a copy that was given out; 0 for none.

    Raises
    ------
    BadInput
        It is no number.
    """
    if wanted.copy and not wanted.copy.isdecimal():
        raise BadInput("a copy given out has a number", found=wanted.copy)
    return int(wanted.copy or 0)


def make_plans(session: Session, wanted: Wanted) -> list[Path]:
    """Write the papers of re-set plans."""
    return _each(
        wanted,
        "a re-set plan",
        lambda n: write_plan(
            session, n, wanted.into, wanted.made, letter=wanted.letter, language=wanted.language
        ),
    )


def make_screenings(session: Session, wanted: Wanted) -> list[Path]:
    """Write the screening of lines as they stand."""

    def one(number: str) -> list[Path]:
        ready = made_ready(session, number)
        screened = screening.screen(ready, chosen_aim("", ready))
        return write_screening(
            session, (ready, screened), "", wanted.into, wanted.made, wanted.language
        )

    return _each(wanted, "a line", one)


def make_packages(session: Session, wanted: Wanted) -> list[Path]:
    """Write walkdown packages of campaigns."""
    return _each(
        wanted,
        "a campaign",
        lambda n: write_package(
            session,
            n,
            wanted.into,
            wanted.made,
            store=wanted.photos,
            letter=wanted.letter,
            language=wanted.language,
        ),
    )


def make_closeouts(session: Session, wanted: Wanted) -> list[Path]:
    """Write close-out reports of campaigns."""
    return _each(
        wanted,
        "a campaign",
        lambda n: [
            write_closeout(
                session, n, wanted.into, wanted.made, letter=wanted.letter, language=wanted.language
            )
        ],
    )


def _each(wanted: Wanted, what: str, make: Callable[[str], list[Path]]) -> list[Path]:
    """Make a paper for each thing named; files of forms not asked for are not kept."""
    made = [path for number in wanted.one_or_more(what) for path in make(number)]
    kept = [path for path in made if path.suffix.removeprefix(".") in wanted.forms]
    for path in set(made) - set(kept):
        path.unlink()
    return kept
