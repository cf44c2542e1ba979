"""Lines made ready for the commands: from the register to what can be screened."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sqlalchemy.orm import Session

from app.readings import quantity
from supports.calc.line.aims import Aim
from supports.errors import BadInput, NotFound
from supports.queries.change_views import change_view
from supports.queries.route_views import route_view
from supports.rules.line.screening import ReadyLine, ready_line
from supports.sentences import Sentence, joined
from supports.units import Kind


def made_ready(session: Session, number: str, change: str = "") -> ReadyLine:
    """Return a line with the weights of a change, if one is named.

    Raises
    ------
    BadInput
        The change does not touch the line.
    NotReady, CannotCalculate
        Something is missing; the message says what.
    """
    route = route_view(session, number)
    if not change:
        return ready_line(route)
    view = change_view(session, change)
    if number not in view.lines:
        raise BadInput(
            Sentence("change {change} does not touch line {number}", change=change, number=number),
            expected=joined(view.lines, ", "),
        )
    return ready_line(route, view.weights)


def chosen_aim(text: str, ready: ReadyLine) -> Aim:
    """Return the aim typed; where weight is added there is no default.

    Raises
    ------
    BadInput
        No aim was given, or one that is not on the list.
    """
    if not text and not ready.masses:
        return Aim.KEEP
    try:
        return Aim(text.strip().lower())
    except ValueError:
        raise BadInput(
            Sentence("the aim '{text}' is not known", text=text)
            if text
            else "the change adds weight and no aim is given",
            expected=Sentence("one of {names}", names=joined(Aim)),
            remedy="The aim decides the new loads: the engineer says it with --aim",
        ) from None


def setting_changes(texts: Sequence[str]) -> dict[str, float]:
    """Read 'PS-1024=+1.0kN' into changes of set load [N].

    Raises
    ------
    BadInput
        Not a tag, an equals sign and a load with its unit.
    """
    return dict(_changes(texts))


def _changes(texts: Sequence[str]) -> Iterator[tuple[str, float]]:
    for text in texts:
        tag, equals, load = text.partition("=")
        value = quantity(load, Kind.LOAD) if equals else None
        if not tag.strip() or value is None:
            raise BadInput(
                "a change of setting is not understood",
                found=f"'{text}'",
                expected="PS-1024=+1.0kN",
            )
        yield tag.strip(), value


def known_springs(changes: dict[str, float], springs: Sequence[str]) -> None:
    """Raise unless every change is at a spring of the line."""
    unknown = [tag for tag in changes if tag not in springs]
    if unknown:
        raise NotFound(
            "no such spring on the line",
            found=joined(unknown, ", "),
            expected=joined(springs, ", "),
        )
