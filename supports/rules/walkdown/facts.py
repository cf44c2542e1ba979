"""What is known of one row when its readings are judged."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from supports.calc.swing import swing_angle
from supports.rules.walkdown.expectation import (
    Expected,
    expected,
    movement_share,
    predicted_movement,
    upward,
)
from supports.rules.walkdown.limits import WalkLimits
from supports.rules.walkdown.reading import Found
from supports.rules.walkdown.trend import Point, Trend, trends
from supports.rules.walkdown.words import Half, half_of
from supports.snapshots import NameplateView, ReadingView, SupportView, UnitView
from supports.units import Kind, shown
from supports.vocabulary import PlantState, SupportKind


@dataclass(frozen=True, slots=True)
class ItemFacts:
    """One row with its history.

    Parameters
    ----------
    earlier
        Readings before this walk, oldest first.
    pair
        The reading of the other half of the cycle.
    operating_temperature
        Of the line [K].
    """

    tag: str
    support: SupportView
    unit: UnitView | None
    found: Found | None
    earlier: tuple[ReadingView, ...] = ()
    pair: ReadingView | None = None
    operating_temperature: float | None = None

    @property
    def plate(self) -> NameplateView:
        """Return the plate; an unread one is all blanks."""
        return (self.unit.nameplate if self.unit else None) or NameplateView()

    @property
    def kind(self) -> SupportKind:
        """Return the kind of the unit, else of the support."""
        return self.unit.kind if self.unit else self.support.kind

    @property
    def is_spring(self) -> bool:
        """Return whether there is a spring unit to read."""
        return self.unit is not None and self.unit.kind.is_spring

    @property
    def set_on(self) -> date | None:
        """Return the day of the last setting; what was read before it is another unit's story."""
        return self.unit.setting.happened_on if self.unit and self.unit.setting else None

    @property
    def movement(self) -> float | None:
        """Return the predicted movement from shut down to operating [m], up positive."""
        return predicted_movement(self.support, self.unit)

    def expected(self, limits: WalkLimits) -> Expected | None:
        """Return what the unit should have shown in the state it was found in."""
        if self.unit is None or self.found is None:
            return None
        return expected(
            self.support,
            self.unit,
            self.found.plant_state,
            limits,
            pipe=self.found.pipe_temperature,
            operating=self.operating_temperature,
        )

    def load_words(self, load: float | None) -> str:
        """Return a load in the unit of the scale."""
        return shown(load, self.plate.scale_unit or "kN", Kind.LOAD)

    def length_words(self, length: float | None) -> str:
        """Return a length in the unit of the pointer scale."""
        return shown(length, self.plate.pointer_unit or "mm", Kind.LENGTH)


def as_reading(found: Found) -> ReadingView | None:
    """Return what was found as one more reading of the history."""
    if found.read_on is None or not found.has_value:
        return None
    return ReadingView(
        found.read_on,
        found.plant_state,
        found.load,
        found.pointer,
        ", ".join(found.walkers),
        "walkdown",
    )


def movement_read(facts: ItemFacts) -> float | None:
    """Return the movement from shut down to operating as read on a pair [m], up positive."""
    found, pair = facts.found, facts.pair
    if found is None or pair is None:
        return None
    own, other = as_reading(found), pair
    if own is None or half_of(PlantState(other.plant_state)) in {None, found.half}:
        return None
    hot, cold = (own, other) if found.half is Half.OPERATING else (other, own)
    return movement_between(facts.plate, cold, hot, constant=_is_constant(facts))


def _is_constant(facts: ItemFacts) -> bool:
    return facts.unit is not None and facts.unit.kind.is_constant


def movement_between(
    plate: NameplateView, cold: ReadingView, hot: ReadingView, *, constant: bool
) -> float | None:
    """Return a movement [m], up positive, from two pointers, or from two loads on a variable."""
    if cold.pointer is not None and hot.pointer is not None:
        return upward(hot.pointer - cold.pointer, plate.zero_end)
    if constant or cold.scale_load is None or hot.scale_load is None or not plate.rate:
        return None
    return (cold.scale_load - hot.scale_load) / plate.rate


def rod_angle_expected(
    facts: ItemFacts, limits: WalkLimits
) -> tuple[float | None, tuple[str, ...]]:
    """Return how far a rod leans in the state found [rad], and what is missing if None.

    The pipe takes the rod's lower end along sideways; an offset built in takes part of it back.
    """
    support, share = facts.support, _share_of_movement(facts, limits)
    sideways = support.sideways
    known = {
        "rod length": support.rod_length,
        "sideways movement in operation": sideways,
        "what to expect in that plant state": share,
    }
    if support.rod_length is None or sideways is None or share is None:
        return None, tuple(name for name, value in known.items() if value is None)
    apart = abs(share * sideways - (support.rod_offset or 0.0))
    return float(swing_angle(min(apart, support.rod_length), support.rod_length)), ()


def _share_of_movement(facts: ItemFacts, limits: WalkLimits) -> float | None:
    found = facts.found
    if found is None:
        return None
    pipe, operating = found.pipe_temperature, facts.operating_temperature
    return movement_share(found.plant_state, pipe, operating, limits)[0]


def pointer_trends(facts: ItemFacts, limits: WalkLimits) -> tuple[Trend, ...]:
    """Return the pointer's trends [m per year] with this walk's reading in it."""
    return _trends(facts, limits, "pointer")


def load_trends(facts: ItemFacts, limits: WalkLimits) -> tuple[Trend, ...]:
    """Return the load's trends [N per year] with this walk's reading in it."""
    return _trends(facts, limits, "scale_load")


def history(facts: ItemFacts, limits: WalkLimits) -> tuple[ReadingView, ...]:
    """Return the readings with this walk's own, if its state may be compared."""
    own = as_reading(facts.found) if facts.found else None
    wanted = facts.expected(limits)
    joins = own is not None and (wanted is None or wanted.comparable)
    return (*facts.earlier, own) if own is not None and joins else facts.earlier


def _trends(facts: ItemFacts, limits: WalkLimits, name: str) -> tuple[Trend, ...]:
    points = [
        Point(one.read_on, PlantState(one.plant_state), getattr(one, name))
        for one in history(facts, limits)
        if getattr(one, name) is not None
    ]
    return trends(points, fewest=round(limits.trend_readings), since=facts.set_on)
