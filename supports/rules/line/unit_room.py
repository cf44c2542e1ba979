"""What a spring unit would have to be set to, against what it can be set to."""

from __future__ import annotations

from dataclasses import dataclass

from supports.calc.elementwise import at_least, at_most
from supports.rules.constant_rules import adjusting_range
from supports.rules.line.holding import part_of, share_on
from supports.rules.variable_rules import present_hot
from supports.snapshots import NameplateView, SupportView, UnitView


@dataclass(frozen=True, slots=True)
class UnitRoom:
    """One unit: loads at the unit in operation, what hangs below it included [N].

    Parameters
    ----------
    present
        As it is set now.
    wanted
        As it would have to be set.
    low, high
        Adjusting range of a constant, working range of a variable; None where not known.
    missing
        What is not known, so that the unit cannot be judged.
    """

    position: str
    present: float | None
    wanted: float | None
    low: float | None
    high: float | None
    missing: tuple[str, ...] = ()

    @property
    def fits(self) -> bool | None:
        """Return whether it can be set so; None (cannot judge) where something is missing."""
        if self.missing or self.wanted is None or self.low is None or self.high is None:
            return None
        return bool(at_least(self.wanted, self.low) and at_most(self.wanted, self.high))


def rooms_of(view: SupportView, line: str, change: float) -> tuple[UnitRoom, ...]:
    """Return the units of a point when its load on the pipe changes.

    Parameters
    ----------
    change
        Of the load that the line asks of the point [N].
    """
    share = share_on(view, line)
    return tuple(_room(unit, change * part_of(view, unit) / share) for unit in view.units)


def _room(unit: UnitView, change: float) -> UnitRoom:
    plate = unit.nameplate or NameplateView()
    present = _present(unit, plate)
    low, high = _range(unit, plate)
    known = {"present setting": present, _range_words(unit): low if high is not None else None}
    return UnitRoom(
        unit.position,
        present,
        None if present is None else present + change,
        low,
        high,
        tuple(name for name, value in known.items() if value is None),
    )


def _present(unit: UnitView, plate: NameplateView) -> float | None:
    if unit.kind.is_variable:
        return present_hot(unit, plate.movement)
    return unit.setting.load if unit.setting else None


def _range(unit: UnitView, plate: NameplateView) -> tuple[float | None, float | None]:
    if unit.kind.is_variable:
        return plate.working_low, plate.working_high
    limited = adjusting_range(plate)
    return (None, None) if limited is None else (limited.low, limited.high)


def _range_words(unit: UnitView) -> str:
    return "working range" if unit.kind.is_variable else "adjusting range"
