"""Every line of a plant, or of an area, screened as it stands, in as many processes as asked."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from sqlalchemy import URL

from app.line_shapes import line_checked
from app.line_tables import STAMP, finding_lines
from app.processes import spread
from app.shapes_of_lines import LineChecked, LinesScreened
from supports.database import Register
from supports.errors import BadInput
from supports.findings import Severity
from supports.progress import Told, unheard
from supports.queries.audit_head import audit_head
from supports.queries.route_views import route_view, routed_lines, unrouted_lines
from supports.rules.line.overview import overview
from supports.vocabulary import counted

AT_ONCE = 20
"""Lines that a process is handed at once."""
WORTH_A_PROCESS = 250
"""A further process takes about as long to begin as this many lines."""
MOST_PROCESSES = 64


@dataclass(frozen=True, slots=True)
class Part:
    """Lines that are screened at once: where they stand, and how far their closure may be off."""

    url: URL
    lock_wait: float
    closure: float
    numbers: tuple[str, ...]


def processes_for(lines: int, asked: int | None) -> int:
    """Return how many processes to use: as asked, else as many as processors and lines are worth.

    Raises
    ------
    BadInput
        Less than one, or more than any one machine is good for.
    """
    if asked is None:
        return max(1, min(os.cpu_count() or 1, lines // WORTH_A_PROCESS))
    if not 1 <= asked <= MOST_PROCESSES:
        raise BadInput(
            "so many processes cannot be used",
            where="--processes",
            found=str(asked),
            expected=f"1 to {MOST_PROCESSES}",
        )
    return asked


def screen_plant(
    register: Register,
    closure: float,
    *,
    area: str = "",
    processes: int | None = None,
    lock_wait: float,
    told: Told = unheard,
) -> LinesScreened:
    """Return every line with a route as it stands, in natural order whoever was first.

    Parameters
    ----------
    closure
        How far loads and weight of a line may be apart [1].
    area
        Code of an area; '' is the whole plant.
    processes
        None lets the number of lines decide; the answer is the same with any number.
    lock_wait
        How long a reader waits for a database that is in use [s].
    """
    with register.reading() as session:
        numbers, without = routed_lines(session, area), unrouted_lines(session, area)
        begun = audit_head(session)
    parts = [
        Part(register.url, lock_wait, closure, numbers[first : first + AT_ONCE])
        for first in range(0, len(numbers), AT_ONCE)
    ]
    found: list[LineChecked] = []
    told("screening lines", 0, len(numbers))
    for some in spread(screened_part, parts, processes_for(len(numbers), processes)):
        found += some
        told("screening lines", len(found), len(numbers))
    with register.reading() as session:
        ended = audit_head(session)
    judged = sum(one.screened for one in found)
    return LinesScreened(
        lines=tuple(found),
        without_route=without,
        screened=judged,
        not_judged=len(found) - judged + len(without),
        written_meanwhile=begun != ended,
    )


def screened_part(part: Part) -> list[LineChecked]:
    """Return some lines as they stand; in whichever process it is called, it reads for itself."""
    out = []
    with _opened(part.url, part.lock_wait).reading() as session:
        for number in part.numbers:
            route = route_view(session, number)
            out.append(line_checked(number, route, overview(route, part.closure)))
    return out


@cache
def _opened(url: URL, lock_wait: float) -> Register:
    return Register(url, lock_wait=lock_wait)


# For a reader


def plant_lines(answer: LinesScreened) -> Iterator[str]:
    """Return the lines of a plant as a table, then what was found, then how many there are."""
    yield STAMP
    width = max((len(one.line) for one in answer.lines), default=4)
    yield (
        f"  {'line':<{width}} {'answer':<12} {'nozzle':<12} {'use':>6} {'closure':>8}"
        + "".join(f" {severity:>4}" for severity in Severity)
    )
    yield from (_row(one, width) for one in answer.lines)
    for one in answer.lines:
        if one.findings:
            yield one.verdict
            yield from finding_lines(one.findings)
    yield from (f"{one}: cannot judge (missing: its route)" for one in answer.without_route)
    if answer.written_meanwhile:
        yield "The register was written to meanwhile: a line may stand as before or after that."
    yield (
        f"{counted(answer.screened, 'line')} screened, {answer.not_judged} cannot be judged, "
        f"{len(answer.without_route)} of them without a route."
    )


def _row(one: LineChecked, width: int) -> str:
    counts = Counter(finding.severity for finding in one.findings)
    use = "-" if one.worst_use is None else f"{100.0 * one.worst_use:.0f} %"
    closure = "-" if one.closure is None else f"{100.0 * one.closure:+.1f} %"
    return (
        f"  {one.line:<{width}} {'screened' if one.screened else 'cannot judge':<12} "
        f"{one.worst_nozzle or '-':<12} {use:>6} {closure:>8}"
        + "".join(f" {counts[severity] or '-':>4}" for severity in Severity)
    )
