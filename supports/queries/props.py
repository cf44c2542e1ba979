"""Temporary props: which are in, and what a plan asks to hold the line and nobody put in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.model import Change, Line, PlanChoice, PropEvent
from supports.queries.change_views import lines_changed
from supports.queries.plans import chosen_plan, plans_of_order
from supports.queries.plant_days import clock_at
from supports.queries.stops import stops_put_in
from supports.rules.reset_planning.holds_named import PROP, prop_name
from supports.sentences import Sentence, Value


@dataclass(frozen=True, slots=True)
class PropIn:
    """A prop that is in."""

    number: str
    along: float
    line: str
    line_id: int
    since: datetime
    put_in_by: str
    reason: str

    @property
    def words(self) -> Sentence:
        """Return where it is in, since when and why."""
        return Sentence(
            "in at {along} m of {line}, put in by {person} on {day} ({reason})", **self._values
        )

    @property
    def in_words(self) -> Sentence:
        """Return the same as a sentence that names the prop."""
        return Sentence(
            "prop {number} is in at {along} m of {line}, put in by {person} on {day} ({reason})",
            number=self.number, **self._values,
        )  # fmt: skip

    @property
    def _values(self) -> dict[str, Value]:
        return {
            "along": f"{self.along:.2f}", "line": self.line, "person": self.put_in_by,
            "day": f"{self.since:%Y-%m-%d}", "reason": self.reason,
        }  # fmt: skip

    def __str__(self) -> str:
        return str(self.in_words)


def props_in(session: Session, line: str = "") -> list[PropIn]:
    """Return every prop that is in, of one line or of all, in the order in which they went in."""
    newest = select(func.max(PropEvent.id)).group_by(PropEvent.prop_number)
    query = (
        select(PropEvent, Line.number)
        .join(Line, PropEvent.line_id == Line.id)
        .where(PropEvent.id.in_(newest), PropEvent.direction == "in")
        .order_by(PropEvent.happened_at, PropEvent.id)
    )
    if line:
        query = query.where(Line.number == line)
    return [
        PropIn(
            event.prop_number, event.along, number, event.line_id,
            clock_at(session, event.happened_at), event.done_by, event.reason,
        )
        for event, number in session.execute(query)
    ]  # fmt: skip


def props_of_change(session: Session, change: Change) -> list[PropIn]:
    """Return the props that are in under the lines of a change."""
    lines = {line.id for line in lines_changed(session, change.id)}
    return [prop for prop in props_in(session) if prop.line_id in lines]


NO_PROP = (
    "{number} asks for a {prop} of {line}, and none is in: "
    "supports props in {line} NUMBER --at '{place}'"
)
NO_STOP = (
    "{number} asks for the travel stop of {unit} on {line}, and none is in: "
    "supports stops in {unit} PIN"
)


def holds_wanting(session: Session, order_id: int) -> Iterator[str]:
    """Name the props and travel stops that an order's plans ask for and nobody put in since.

    One that was put in and taken out again by the plan is no longer asked for.
    """
    for plan, choice in plans_of_order(session, order_id):
        props = _props_put_in(session, plan.line_id, choice)
        stops = stops_put_in(session, choice.chosen_at)
        line = session.get_one(Line, plan.line_id).number
        for hold in chosen_plan(plan, choice).alternative.holds:
            if hold.what == PROP and hold.name not in props:
                yield Sentence(
                    NO_PROP, number=plan.number, prop=hold.name, line=line, place=_place(hold.name)
                )
            elif hold.what != PROP and hold.name not in stops:
                yield Sentence(NO_STOP, number=plan.number, unit=hold.name, line=line)


def _place(name: str) -> str:
    """Return where the prop of a name stands."""
    return name.removeprefix(PROP).removeprefix(" at ")


def _props_put_in(session: Session, line_id: int, choice: PlanChoice) -> set[str]:
    """Return the props that are in, and those put in since a plan was chosen, by their names."""
    query = select(PropEvent.along).where(
        PropEvent.line_id == line_id,
        PropEvent.direction == "in",
        PropEvent.happened_at >= choice.chosen_at,
    )
    standing = {prop_name(prop.along) for prop in props_in(session) if prop.line_id == line_id}
    return standing | {prop_name(along) for along in session.scalars(query)}
