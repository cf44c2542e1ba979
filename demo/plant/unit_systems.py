"""The units that each area writes its sheets in, and what counts there as a round number."""

from __future__ import annotations

from dataclasses import dataclass

from supports.units import Kind, from_si, to_si

_METRIC = {
    Kind.LOAD: ("kN", 3),
    Kind.LENGTH: ("mm", 2),
    Kind.MASS: ("kg", 2),
    Kind.RATE: ("N/mm", 2),
    Kind.ROTATIONAL_STIFFNESS: ("kN·m/rad", 1),
    Kind.LOAD_PER_TURN: ("kN/turn", 4),
    Kind.MOMENT: ("kN·m", 2),
    Kind.MASS_PER_LENGTH: ("kg/m", 2),
    Kind.DENSITY: ("kg/m³", 0),
    Kind.STRESS: ("bar", 1),
    Kind.TEMPERATURE: ("°C", 0),
    Kind.FRACTION: ("%", 2),
    Kind.ANGLE: ("°", 2),
}
_CUSTOMARY = {
    Kind.LOAD: ("lbf", 1),
    Kind.LENGTH: ("in", 3),
    Kind.MASS: ("lb", 1),
    Kind.RATE: ("lbf/in", 1),
    Kind.ROTATIONAL_STIFFNESS: ("lbf·in/deg", 0),
    Kind.LOAD_PER_TURN: ("lbf/turn", 2),
    Kind.MOMENT: ("lbf·ft", 0),
    Kind.MASS_PER_LENGTH: ("lb/ft", 2),
    Kind.DENSITY: ("lb/ft³", 2),
    Kind.STRESS: ("psi", 0),
    Kind.TEMPERATURE: ("°F", 0),
    Kind.FRACTION: ("%", 2),
    Kind.ANGLE: ("°", 2),
}


@dataclass(frozen=True, slots=True)
class UnitSystem:
    """Units by kind of quantity, with the decimals that are written.

    Parameters
    ----------
    scale
        Step of the load scales, in the unit of load.
    rates
        Spring rates that are made, in the unit of rate.
    travels
        Total travels of constant units that are made, in the unit of length.
    strokes
        Working strokes of variable units that are made, in the unit of length.
    rods
        Rod sizes, smallest first.
    """

    units: dict[Kind, tuple[str, int]]
    scale: float
    rates: tuple[int, ...]
    travels: tuple[float, ...]
    strokes: tuple[float, ...]
    rods: tuple[str, ...]

    def symbol(self, kind: Kind) -> str:
        """Return the unit of a kind."""
        return self.units[kind][0]

    def si(self, value: float, kind: Kind) -> float:
        """Convert from this system to SI."""
        return to_si(value, self.symbol(kind), kind)

    def own(self, value: float, kind: Kind) -> float:
        """Convert from SI to this system."""
        return from_si(value, self.symbol(kind), kind)

    def rounded(self, value: float, kind: Kind, step: float) -> float:
        """Round an SI value to a step given in this system's unit; SI again."""
        return self.si(round(round(self.own(value, kind) / step) * step, 9), kind)

    def load(self, value: float) -> float:
        """Round a load [N] to the scale."""
        return self.rounded(value, Kind.LOAD, self.scale)


METRIC = UnitSystem(
    _METRIC,
    scale=0.1,
    rates=(5, 7, 10, 13, 20, 27, 40, 53, 80, 107, 160, 213, 320, 427, 640),
    travels=(60, 80, 100, 120, 150, 200, 250, 300, 350, 400),
    strokes=(50, 100, 200),
    rods=("M12", "M16", "M20", "M24", "M30", "M36", "M42", "M48", "M56", "M64"),
)
CUSTOMARY = UnitSystem(
    _CUSTOMARY,
    scale=25.0,
    rates=(30, 40, 60, 80, 120, 150, 240, 300, 450, 600, 900, 1200, 1800, 2400, 3600),
    travels=(2.5, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16),
    strokes=(2, 4, 8),
    rods=(
        "1/2-13", "5/8-11", "3/4-10", "7/8-9", "1-8", "1-1/4-7", "1-1/2-6", "1-3/4-5", "2-4.5",
        "2-1/2-4",
    ),
)  # fmt: skip
