"""supports walkdown, looked at from above: coverage, trends, and how many to test."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from app.answers import Answer, files_written
from app.cli.noun import Noun
from app.cli.options import Into, RegisterAt, SupportTag, tag_and_position


def coverage(
    every: Annotated[bool, typer.Option("--all", help="Name every support overdue.")] = False,
    register: RegisterAt = None,
) -> Answer:
    """Count supports seen, never seen and overdue, area by area."""
    from app.settings import now, open_register
    from app.walkdown_tables import coverage_shown
    from supports.queries.plant_days import day_at

    with open_register(register).reading() as session:
        return coverage_shown(session, day_at(session, now()), every=every)


def trend(tag: SupportTag, into: Into = Path(), register: RegisterAt = None) -> Answer:
    """Draw pointer and load of a support against time, each plant state by its own sign."""
    from app.settings import now, open_register
    from app.walkdown_papers import write_trends
    from supports.queries.plant_days import day_at

    with open_register(register).reading() as session:
        return files_written(
            write_trends(session, tag_and_position(tag)[0], into, day_at(session, now()))
        )


def sample(
    population: Annotated[int, typer.Argument(help="How many shock arrestors there are.")],
    unacceptable: Annotated[int, typer.Option(help="Found unacceptable at the last look.")] = 0,
    months: Annotated[float, typer.Option(help="The interval just ended.")] = 18.0,
    good: Annotated[float, typer.Option(help="Share that must be good, in percent.")] = 90.0,
    confidence: Annotated[float, typer.Option(help="In percent.")] = 95.0,
) -> Answer:
    """Say when to look again at shock arrestors and how many to test; the site decides."""
    from app.walkdown_tables import sampling

    shares = (good / 100.0, confidence / 100.0)
    return sampling(population, unacceptable, months, *shares)


def add_to(app: Noun) -> None:
    """Add these commands to the noun."""
    for command in (coverage, trend, sample):
        app.command()(command)
