"""Units as people write them beside numbers; what may mean two things is asked, not guessed."""

from __future__ import annotations

from functools import cache

from importers.faults import Fault
from supports import units
from supports.errors import QuantityUnreadable
from supports.sentences import Sentence, joined
from supports.units import Kind, Unit


@cache
def read_unit(text: str, kind: Kind) -> Unit | Fault:
    """Return the unit that a text stands for, or what is wrong with it.

    Under a load per turn a plain unit of load is taken: the column says 'per turn'.
    """
    spelled = text.strip()
    try:
        return units.unit(spelled, kind)
    except QuantityUnreadable as trouble:
        if kind is Kind.LOAD_PER_TURN and "turn" not in spelled and "rev" not in spelled:
            return _per_turn(spelled)
        return _fault(trouble, spelled, kind)


def _per_turn(spelled: str) -> Unit | Fault:
    of_load = read_unit(spelled, Kind.LOAD)
    if isinstance(of_load, Fault):
        return of_load
    return read_unit(f"{of_load.symbol}/turn", Kind.LOAD_PER_TURN)


def _fault(trouble: QuantityUnreadable, spelled: str, kind: Kind) -> Fault:
    if doubt := units.question(spelled.strip("[]()"), kind):
        return Fault(
            "unit-ambiguous",
            Sentence(
                "unit '{spelled}' of a {kind} could mean {doubt}",
                spelled=spelled,
                kind=kind,
                doubt=doubt,
            ),
            remedy="Write the unit out so that it can mean one thing only",
        )
    return Fault(
        "unit-unknown",
        Sentence("unit '{spelled}' of a {kind} is not known", spelled=spelled, kind=kind),
        trouble.expected,
    )


def not_stated(kind: Kind) -> Fault:
    """Return the fault of a number that has no unit anywhere."""
    return Fault(
        "unit-not-stated",
        Sentence("a {kind} has no unit, neither in the heading nor in the cell", kind=kind),
        Sentence(
            "a unit such as {names}",
            names=joined(list(dict.fromkeys(units.spellings(kind).values()))[:3], ", "),
        ),
        "Put the unit into the heading, as in 'Load [kN]'",
    )
