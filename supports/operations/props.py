"""Temporary props in and out, by number; a prop is one thing and stands at one place at a time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from supports.database import Register
from supports.errors import BadInput, NotReady
from supports.model import PropEvent
from supports.operations.acting import Deed, deed
from supports.queries.lookups import line_of
from supports.queries.props import PropIn, props_in


@dataclass(frozen=True, slots=True)
class PropMove:
    """A prop put in or taken out under a line.

    Parameters
    ----------
    along
        Distance from the line's start point [m]; None for one taken out: where it was put in.
    """

    line: str
    number: str
    direction: str
    reason: str
    along: float | None = None
    witness: str = ""


def move_prop(register: Register, move: PropMove, *, acting: str, now: datetime) -> None:
    """Record a prop going in or out.

    Raises
    ------
    NotReady
        The prop is in already, here or elsewhere, or is not in.
    BadInput
        No number, place or reason.
    """
    _check(move)
    with deed(
        register, acting, now, action=f"prop {move.direction}", reason=move.reason,
        subject=move.line,
    ) as act:  # fmt: skip
        line = line_of(act.session, move.line)
        along = _place(act, move, line.number)
        act.session.add(
            PropEvent(
                line_id=line.id,
                prop_number=move.number,
                along=along,
                direction=move.direction,
                happened_at=now,
                done_by=act.person.name,
                witness=move.witness or None,
                reason=move.reason,
            )
        )


def _check(move: PropMove) -> None:
    if move.direction not in {"in", "out"}:
        raise BadInput("a prop goes 'in' or 'out'", found=move.direction)
    if not move.number.strip():
        raise BadInput("a prop has a number", found="a blank")
    if move.direction == "in" and not move.reason:
        raise BadInput("why the prop goes in is not said", remedy="Say it with --reason")
    if move.direction == "in" and (move.along is None or move.along < 0.0):
        raise BadInput(
            "where the prop stands is not said", expected="distance from the start of the line",
            remedy="Say it with --at, as the plan names it",
        )  # fmt: skip


def _place(act: Deed, move: PropMove, line: str) -> float:
    """Return where the prop stands [m], once it is sure that it may go in or out."""
    held: PropIn | None = next(
        (prop for prop in props_in(act.session) if prop.number == move.number), None
    )
    if move.direction == "in":
        if held is not None:
            raise NotReady(
                f"prop {move.number} is in already", (str(held),),
                remedy="Two props bear one number, or one event is missing: look at both",
            )  # fmt: skip
        assert move.along is not None  # noqa: S101  asked for before
        return move.along
    if held is None or held.line != line:
        where = () if held is None else (str(held),)
        raise NotReady(f"prop {move.number} is not in under {line}", where)
    return held.along
