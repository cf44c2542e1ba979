"""Pipe: dimensions, section properties, masses per metre, free growth."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from supports.calc.tables import rows
from supports.errors import CannotCalculate
from supports.sentences import Sentence
from supports.units import FloatOrArray

STEEL_SCHEDULES = frozenset(
    "5 10 20 30 40 60 80 100 120 140 160 STD XS XXS 5S 10S 40S 80S".split()  # noqa: SIM905 - reads like the heading of the printed table
)


@dataclass(frozen=True, slots=True)
class Pipe:
    """A pipe by its `outside_diameter` and `wall` [m]; the rest follows.

    Raises
    ------
    CannotCalculate
        The wall is not above zero, or thicker than the radius.
    """

    outside_diameter: float
    wall: float

    def __post_init__(self) -> None:
        if not 0.0 < self.wall <= self.outside_diameter / 2.0:
            raise CannotCalculate(
                "these dimensions make no pipe",
                found=Sentence(
                    "outside diameter {outside_diameter} m, wall {wall} m",
                    outside_diameter=str(self.outside_diameter),
                    wall=str(self.wall),
                ),
                expected="0 < wall ≤ half the diameter",
            )

    @property
    def inside_diameter(self) -> float:
        """Inside diameter [m]."""
        return self.outside_diameter - 2.0 * self.wall

    @property
    def metal_area(self) -> float:
        """Area of the metal [m²]."""
        return ring_area(self.outside_diameter, self.wall)

    @property
    def bore_area(self) -> float:
        """Area of the bore [m²]."""
        return math.pi / 4.0 * self.inside_diameter**2

    @property
    def second_moment(self) -> float:
        """Second moment of area I [m⁴]."""
        return second_moment(self.outside_diameter, self.wall)

    @property
    def section_modulus(self) -> float:
        """Section modulus Z = 2 I / D [m³]."""
        return 2.0 * self.second_moment / self.outside_diameter


@dataclass(frozen=True, slots=True)
class LineMass:
    """Mass per metre of a line, part by part, all [kg/m]."""

    pipe: float
    content: float
    insulation: float
    cladding: float

    @property
    def total(self) -> float:
        """All parts together [kg/m]."""
        return math.fsum((self.pipe, self.content, self.insulation, self.cladding))


def ring_area(outside_diameter: FloatOrArray, thickness: FloatOrArray) -> FloatOrArray:
    """Return the area of a ring, of metal or of insulation.

    Parameters
    ----------
    outside_diameter
        Outside diameter D [m].
    thickness
        Thickness t [m].

    Returns
    -------
    FloatOrArray
        π (D − t) t [m²].

    Notes
    -----
    Source: geometry.
    """
    return (outside_diameter - thickness) * thickness * math.pi


def second_moment(outside_diameter: FloatOrArray, wall: FloatOrArray) -> FloatOrArray:
    """Return the second moment of area of a pipe.

    Parameters
    ----------
    outside_diameter
        Outside diameter D [m].
    wall
        Wall t [m].

    Returns
    -------
    FloatOrArray
        I = A (D² + d²) / 16 with A = π (D − t) t and d = D − 2 t [m⁴].

    Notes
    -----
    Source: geometry; the same as π (D⁴ − d⁴) / 64 without its loss of digits on thin walls.
    """
    inside = outside_diameter - wall * 2.0
    squares = outside_diameter * outside_diameter + inside * inside
    return ring_area(outside_diameter, wall) * squares / 16.0


def insulation_mass(
    pipe_diameter: FloatOrArray, thickness: FloatOrArray, density: FloatOrArray
) -> FloatOrArray:
    """Return the mass of insulation per metre of pipe.

    Parameters
    ----------
    pipe_diameter
        Outside diameter of the pipe D [m].
    thickness
        Thickness of the insulation t [m].
    density
        Density of the insulation ρ [kg/m³].

    Returns
    -------
    FloatOrArray
        π (D + t) t ρ [kg/m].

    Notes
    -----
    Source: geometry.
    """
    return ring_area(pipe_diameter + thickness * 2.0, thickness) * density


def cladding_mass(
    covered_diameter: FloatOrArray, sheet: FloatOrArray, density: FloatOrArray
) -> FloatOrArray:
    """Return the mass of sheet cladding per metre of pipe; laps and screws are not in it.

    Parameters
    ----------
    covered_diameter
        Diameter over the insulation D [m].
    sheet
        Thickness of the sheet t [m].
    density
        Density of the sheet ρ [kg/m³].

    Returns
    -------
    FloatOrArray
        π (D + t) t ρ [kg/m].

    Notes
    -----
    Source: geometry.
    """
    return ring_area(covered_diameter + sheet * 2.0, sheet) * density


def line_mass(
    pipe: Pipe,
    pipe_density: float,
    content_density: float = 0.0,
    insulation: tuple[float, float] = (0.0, 0.0),
    cladding: tuple[float, float] = (0.0, 0.0),
) -> LineMass:
    """Return the mass per metre of a line with its content and cover.

    Parameters
    ----------
    pipe
        Dimensions of the pipe.
    pipe_density
        Density of the metal [kg/m³].
    content_density
        Density of the content, 0 for gas neglected or an empty line [kg/m³].
    insulation
        Thickness [m] and density [kg/m³]; zeros for none.
    cladding
        Thickness of the sheet [m] and its density [kg/m³]; zeros for none.

    Returns
    -------
    LineMass
        Each part and their total [kg/m].

    Notes
    -----
    Equation: area times density for each part. Source: geometry.
    """
    covered = pipe.outside_diameter + 2.0 * insulation[0]
    return LineMass(
        pipe=pipe.metal_area * pipe_density,
        content=pipe.bore_area * content_density,
        insulation=insulation_mass(pipe.outside_diameter, *insulation),
        cladding=cladding_mass(covered, *cladding),
    )


def pipe_by_nps(nps: float, schedule: str) -> Pipe:
    """Return a steel pipe by nominal pipe size and schedule.

    Parameters
    ----------
    nps
        Nominal pipe size [1].
    schedule
        Such as '40', 'STD', '10S'.

    Returns
    -------
    Pipe
        Outside diameter and wall [m].

    Raises
    ------
    CannotCalculate
        The standard has no such size or schedule.

    Notes
    -----
    Source: ASME B36.10M and B36.19M as kept by the library fluids, metric columns.
    """
    from fluids.piping import nearest_pipe

    name = schedule.strip().upper().removeprefix("SCH").strip(" .")
    size: Any = float(nps)  # the library declares int and takes 2.5 as well
    try:
        if name not in STEEL_SCHEDULES:
            raise ValueError(name)  # noqa: TRY301 - one place answers for both kinds of absence
        _, _, outside, wall = nearest_pipe(NPS=size, schedule=name)
    except ValueError as fault:
        raise CannotCalculate(
            "pipe is not in the table",
            found=Sentence("NPS {nps}, schedule '{schedule}'", nps=f"{nps:g}", schedule=schedule),
            expected="a size of ASME B36.10M or B36.19M",
            remedy="Enter outside diameter and wall",
        ) from fault
    return Pipe(float(outside), float(wall))


def pipe_by_dn(dn: int, schedule: str) -> Pipe:
    """Return a steel pipe by metric nominal size and schedule.

    Parameters
    ----------
    dn
        Nominal diameter DN, a name and not a length.
    schedule
        Such as '40', 'STD', '10S'.

    Returns
    -------
    Pipe
        Outside diameter and wall [m].

    Raises
    ------
    CannotCalculate
        No nominal pipe size belongs to this DN, or it lacks the schedule.

    Notes
    -----
    Source: ASME B36.10M, pairs of DN and NPS.
    """
    for one in rows("nominal_sizes"):
        if one["dn"] == str(dn):
            return pipe_by_nps(float(one["nps"]), schedule)
    raise CannotCalculate(
        "no nominal pipe size belongs to this DN", found=Sentence("DN {dn}", dn=str(dn))
    )


def growth(expansion: FloatOrArray, length: FloatOrArray, warming: FloatOrArray) -> FloatOrArray:
    """Return the free thermal growth of a length of pipe.

    Parameters
    ----------
    expansion
        Mean coefficient α over the range of temperature [1/K].
    length
        Length when installed [m].
    warming
        Rise of temperature [K].

    Returns
    -------
    FloatOrArray
        α L ΔT [m].

    Notes
    -----
    Source: definition of the mean coefficient. A check on a calculation, no replacement for one.
    """
    return expansion * length * warming


def movement_between(
    at_start: FloatOrArray, at_end: FloatOrArray, length: FloatOrArray, position: FloatOrArray
) -> FloatOrArray:
    """Return the movement of a point on a straight run between two known movements.

    Parameters
    ----------
    at_start, at_end
        Movements at both ends, up positive [m].
    length
        Length of the run [m].
    position
        Distance of the point from the start [m].

    Returns
    -------
    FloatOrArray
        y_1 + (y_2 − y_1) x / L [m].

    Notes
    -----
    Source: geometry of a straight line; common practice as a check.
    """
    return at_start + (at_end - at_start) * position / length
