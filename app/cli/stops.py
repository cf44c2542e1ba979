"""supports stops: travel stops in and out, how many are in, and whether that holds up start-up."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import ActingAs, Reason, RegisterAt, SupportTag, tag_and_position
from supports.vocabulary import counted

if TYPE_CHECKING:
    from supports.rules.workflow.start_up import StartUp

app = Noun()

_Pin = Annotated[str, typer.Argument(help="Number stamped on the pin.")]
_Witness = Annotated[str, typer.Option(help="Who saw it.")]
_Line = Annotated[str, typer.Option("--line", help="Only this line.")]


@app.command("in")
def put_in(
    tag: SupportTag, pin: _Pin, reason: Reason = "", witness: _Witness = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record a travel stop put in."""
    _move(tag, pin, "in", (reason, witness), ("", ""), acting, register)


@app.command("out")
def take_out(
    tag: SupportTag, pin: _Pin, reason: Reason = "", witness: _Witness = "",
    found: Annotated[str, typer.Option(help="Where it was found, if away from its unit.")] = "",
    freed_by: Annotated[str, typer.Option(help="Who saw that the unit is really free.")] = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record a travel stop taken out, or found away from its unit."""
    _move(tag, pin, "out", (reason, witness), (found, freed_by), acting, register)


def _move(
    tag: str, pin: str, direction: str, words: tuple[str, str], found: tuple[str, str],
    acting: str | None, register: str | None,
) -> None:  # fmt: skip
    from app.settings import acting_person, now, open_register
    from supports.operations.travel_stops import StopMove, move_stop

    support, position = tag_and_position(tag)
    move = StopMove(support, position, pin, direction, *words, *found)
    move_stop(open_register(register), move, acting=acting_person(acting), now=now())
    print(f"Travel stop {pin} of {tag} is {direction}. Count: supports stops count")


@app.command()
def count(line: _Line = "", register: RegisterAt = None) -> Answer:
    """List the travel stops that are in, with unit, person and reason, and count them by line."""
    from collections import Counter

    from app.settings import open_register
    from supports.queries.stops import pins_in

    with open_register(register).reading() as session:
        pins = [pin for pin in pins_in(session) if not line or line in pin.lines]
    by_line = sorted(Counter(number for pin in pins for number in pin.lines).items())
    lines = (
        *(f"  {pin} on {', '.join(pin.lines) or 'no line'}" for pin in pins),
        *(f"  {number}: {total}" for number, total in by_line),
        f"{len(pins)} travel stops are in.",
    )
    return Answer(tuple(pins), lines)


@app.command("start-up")
def start_up(
    line: _Line = "",
    every: Annotated[bool, typer.Option("--every", help="List all that is not known.")] = False,
    register: RegisterAt = None,
) -> Answer:
    """Answer 'may we start up?' as far as pipe supports are concerned: yes, no or not known."""
    from app.settings import now, open_register
    from app.shapes import StartUpAnswer
    from supports.queries.lookups import line_of
    from supports.queries.start_up import start_up_of

    with open_register(register).reading() as session:
        number = line_of(session, line).number if line else ""
        answer = start_up_of(session, now(), number)
    data = StartUpAnswer(str(answer.answer), answer)
    return Answer(data, tuple(start_up_lines(answer, every=every)))


def start_up_lines(answer: StartUp, *, every: bool) -> Iterator[str]:
    """Return the answer as lines: what forbids it, what is not known, and the counts."""
    yield f"May {answer.where} start up, as far as pipe supports are concerned? {answer.answer}"
    yield from (f"  no: {blocker}" for blocker in answer.blockers)
    shown = answer.missing if every else answer.missing[:10]
    yield from (f"  not known: {missing}" for missing in shown)
    if len(answer.missing) > len(shown):
        yield f"  and {len(answer.missing) - len(shown)} more not known; see them with --every"
    yield (
        f"{counted(answer.supports, 'support')}, {counted(answer.stops_in, 'travel stop')} "
        f"and {counted(answer.props_in, 'prop')} in, "
        f"{counted(len(answer.blockers), 'blocker')}, {len(answer.missing)} not known. "
        "Operations decide, by local procedure."
    )
